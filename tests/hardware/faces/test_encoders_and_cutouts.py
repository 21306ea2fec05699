"""Encoder faces, panel openings and cable glands."""

import pytest

from platekit.errors import UnknownNameError
from platekit.hardware.faces.cutouts import (
    cable_gland,
    known_cable_glands,
    known_panel_cutouts,
    panel_cutout,
)
from platekit.hardware.faces.encoders import encoder_body, known_encoder_bodies
from platekit.hardware.fasteners.screws import screw


# Encoder makers' common faces: pilot, holes, circle, screw. Common practice, from memory.
@pytest.mark.parametrize(
    ("name", "pilot", "count", "pcd", "thread"),
    [
        ("58 mm clamping flange", 36, 3, 48, "M3"),
        ("58 mm clamping flange M4", 36, 3, 48, "M4"),
        ("58 mm synchro flange", 50, 3, 42, "M4"),
    ],
)
def test_58_mm_encoders_have_the_common_faces(name, pilot, count, pcd, thread):
    """Three tapped holes 120 degrees apart."""
    body = encoder_body(name)
    assert (body.body_mm, body.pilot_diameter_mm, body.hole_count) == (58, pilot, count)
    assert (body.pcd_mm, body.screw) == (pcd, thread)


@pytest.mark.parametrize("name", known_encoder_bodies())
def test_encoder_screws_lie_on_the_face(name):
    """Within the body, clear of the shaft, mirrored about the vertical."""
    body = encoder_body(name)
    assert body.pcd_mm + screw(body.screw).nominal_mm < body.body_mm
    assert body.shaft_diameter_mm < body.pilot_diameter_mm < body.body_mm
    assert body.hole_points[0] == (0.0, body.pcd_mm / 2)
    assert body.doubt
    assert body.item().designation.startswith("encoder")


# IEC 60947-5-1, openings for one-hole devices: diameter, notch width, height over notch. Memory.
@pytest.mark.parametrize(
    ("name", "diameter", "notch", "height"),
    [
        ("push button 16 mm", 16.2, 1.7, 17.9),
        ("push button 22 mm", 22.3, 3.2, 24.1),
        ("emergency stop 22 mm", 22.3, 3.2, 24.1),
        ("push button 30 mm", 30.5, 4.8, 33.0),
    ],
)
def test_control_devices_have_the_openings_of_iec_60947_5_1(name, diameter, notch, height):
    """Round, with a notch that stands 1.7 to 2.5 mm out of the circle."""
    cut = panel_cutout(name)
    assert (cut.diameter_mm, cut.notch_width_mm, cut.notch_height_mm) == (diameter, notch, height)
    assert 1.5 < height - diameter < 2.6
    assert cut.screw_points == ()


def test_a_mains_inlet_is_a_rectangle_with_two_screws_40_mm_apart():
    """IEC 60320 C14 with a flange; opening common practice, from memory."""
    cut = panel_cutout("mains inlet C14")
    assert cut.diameter_mm is None
    assert cut.screw_points == ((-20.0, 0.0), (20.0, 0.0))
    assert cut.width_mm is not None
    assert cut.screw_spacing_mm is not None
    assert cut.width_mm < cut.screw_spacing_mm - screw(cut.screw).clearance_mm()
    assert "check the data sheet" in cut.doubt


@pytest.mark.parametrize("name", known_panel_cutouts())
def test_a_device_keeps_more_room_than_its_opening(name):
    """The front is larger than the hole, or it would fall through."""
    cut = panel_cutout(name)
    assert cut.room_mm > (cut.diameter_mm or cut.width_mm or 0.0) + 5
    assert cut.item().designation == cut.designation
    assert cut.source


@pytest.mark.parametrize("thread", known_cable_glands())
def test_a_gland_passes_its_hole_and_its_cable_passes_it(thread):
    """Hole is thread + 0.2 to 0.5 mm (common practice); cables are thinner than the thread."""
    gland = cable_gland(thread)
    size_mm = float(thread[1:])
    assert size_mm + 0.2 <= gland.hole_diameter_mm <= size_mm + 0.5
    assert 0 < gland.cable_least_mm < gland.cable_most_mm < size_mm
    assert gland.room_mm > size_mm * 1.3
    assert gland.item().designation == f"cable gland {thread}x1.5 with lock nut"


def test_glands_are_those_of_the_metric_series():
    """EN 60423: M12 M16 M20 M25 M32 (from memory), M20 found as "m 20"."""
    assert known_cable_glands() == ("M12", "M16", "M20", "M25", "M32")
    assert cable_gland("m 20").thread == "M20"


def test_unknown_devices_are_refused_by_name():
    """Nearest first."""
    with pytest.raises(UnknownNameError, match="did you mean 58 mm clamping flange"):
        encoder_body("58 mm clamp flange")
    with pytest.raises(UnknownNameError, match="emergency stop 22 mm"):
        panel_cutout("emergency stop 21 mm")
    with pytest.raises(UnknownNameError, match="known: M12, M16, M20, M25, M32"):
        cable_gland("M18")
