"""What is put through a panel, against the openings and flanges of its standards."""

import math

import pytest

from platekit.errors import PartError, UnknownNameError
from platekit.hardware.devices.panel_devices import gland, panel_device
from platekit.hardware.faces.cutouts import known_cable_glands, known_panel_cutouts, panel_cutout
from platekit.panel import faces


def _size(shape):
    box = shape.bounds
    return box.right - box.left, box.top - box.bottom


def _block(device, name):
    return next(block for block in device.blocks if block.name == name)


# IEC 60947-5-1, round openings with notch: diameter, notch from the far side; from memory.
CONTROL = {
    "push button 16 mm": (16.2, 17.9),
    "push button 22 mm": (22.3, 24.1),
    "push button 30 mm": (30.5, 33.0),
    "emergency stop 22 mm": (22.3, 24.1),
}


@pytest.mark.parametrize("name", CONTROL)
def test_a_button_passes_its_opening_with_the_notch(name):
    """Width is the circle, height runs from its far side to the notch's floor."""
    diameter, notch = CONTROL[name]
    made = panel_device(name)
    assert _size(made.passages[0].hole) == pytest.approx((diameter, notch))
    assert made.most_panel_mm == 6
    assert made.passages[0].low_mm == -6
    assert _block(made, "front").low_mm == 0
    assert _block(made, "behind").high_mm == -6
    assert made.fixing is None


@pytest.mark.parametrize("name", known_panel_cutouts())
def test_what_is_mounted_and_what_is_drawn_by_hand_are_cut_alike(name):
    """One number, two ways to ask for it."""
    made = panel_device(name)
    feature = faces.panel_cutout(name)
    assert made.passages[0].hole == feature.cuts[0]
    assert made.room_mm == panel_cutout(name).room_mm
    # All of it lies about one axis: left as far as right; a notch only reaches up.
    for shape in (made.passages[0].hole, *(block.profile for block in made.blocks)):
        box = shape.bounds
        assert box.left == pytest.approx(-box.right)
        assert box.bottom >= -box.top - 1e-9
    # The front covers its opening, or the device would fall through.
    covers = made.blocks[0].profile.outer
    assert all(a >= b for a, b in zip(_size(covers), _size(feature.cuts[0]), strict=True))
    # Whoever stands beside it keeps off its front.
    assert max(_size(covers)) <= made.room_mm


def test_a_d_flange_connector_has_its_screws_on_the_diagonal():
    """26 x 31 mm flange, holes 19 x 24 mm apart, 24 mm opening: common practice, no source."""
    made = panel_device("D-flange connector 24 mm")
    (left, right) = made.fixing.points
    assert (right.x - left.x, left.y - right.y) == (19, 24)
    assert left.y > 0
    assert _size(_block(made, "flange").profile) == pytest.approx((26, 31))
    assert _size(made.passages[0].hole) == pytest.approx((24, 24))
    # The washer of an M3 screw, 7 mm (ISO 7089), lies clear of what hangs behind.
    behind_mm = _size(_block(made, "neck").profile)[0]
    assert math.hypot(*left) - behind_mm / 2 > 7 / 2
    # M3 screws keep metal or wood between them and the opening.
    assert math.hypot(*left) - 24 / 2 - 3.4 / 2 > 1.5


def test_reaches_are_the_recipes_own_where_it_says_them():
    """The table's are usual ones only."""
    made = panel_device("push button 22 mm", front_mm=9, behind_mm=33)
    assert _block(made, "front").high_mm == 9
    assert _block(made, "behind").low_mm == -33
    with pytest.raises(PartError, match=r"push button 22 mm: behind_mm is -1"):
        panel_device("push button 22 mm", behind_mm=-1)
    with pytest.raises(UnknownNameError, match="push button 22 mm"):
        panel_device("push button 23 mm")


def test_an_emergency_stop_says_what_it_must_do():
    """ISO 13850: it stops by itself; the caution goes with the device."""
    assert "ISO 13850" in panel_device("emergency stop 22 mm").doubt


@pytest.mark.parametrize("thread", known_cable_glands())
def test_a_gland_clamps_a_plate_between_head_and_lock_nut(thread):
    """Metric thread (EN 62444) passes its hole; plate and lock nut share the thread."""
    made = gland(thread)
    nominal_mm = float(thread[1:])
    assert nominal_mm < _size(made.passages[0].hole)[0] <= nominal_mm + 0.5
    nut = _block(made, "behind")
    assert made.most_panel_mm + nut.height_mm == 10
    assert _size(nut.profile)[0] > nominal_mm * 1.2


def test_a_gland_with_a_long_thread_takes_a_thicker_plate():
    """15 mm less a nut of 5; a thread shorter than the nut holds nothing."""
    assert gland("M20", thread_length_mm=15).most_panel_mm == 10
    with pytest.raises(PartError, match=r"M20.*shorter than its lock nut"):
        gland("M20", thread_length_mm=4)
