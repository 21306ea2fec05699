"""Bearings, shafts, hubs and bushes as mounted, against the standards and closed forms."""

import math

import pytest

from platekit.errors import PartError
from platekit.hardware.devices.bearings import ball_bearing
from platekit.hardware.devices.hubs import hub
from platekit.hardware.devices.shafts import reducing_bush, shaft
from platekit.hardware.faces.bearings import bearing
from platekit.hardware.faces.hubs import known_hub_patterns
from platekit.panel.holes import bearing_seat


def _width(shape):
    box = shape.bounds
    return box.right - box.left


def _passage(device, name):
    return next(passage for passage in device.passages if passage.name == name)


def _block(device, name):
    return next(block for block in device.blocks if block.name == name)


# ISO 15 boundary dimensions, looked up: bore, outside, width. ISO 286-1, H7 at that outside
# diameter: lower 0, upper in micrometres (IT7: 25 above 30 to 50, 30 above 50 to 80 mm).
SEATS = {
    "6004": (20, 42, 12, 25),
    "6006": (30, 55, 13, 30),
    "6204": (20, 47, 14, 25),
    "6806": (30, 42, 7, 25),
    "608": (8, 22, 7, 21),
}


@pytest.mark.parametrize("name", SEATS)
def test_a_bearing_lies_in_the_plate_in_its_iso_seat(name):
    """Ring of ISO 15 below the face; seat in the middle of ISO 286-1's H7."""
    bore, outer, width, it7_um = SEATS[name]
    made = ball_bearing(name)
    ring = made.blocks[0]
    assert (ring.low_mm, ring.high_mm) == (-width, 0)
    assert ring.profile.area_mm2 == pytest.approx(math.pi / 4 * (outer**2 - bore**2))
    seat = _passage(made, "seat")
    assert _width(seat.hole) == pytest.approx(outer + it7_um / 2000, abs=1e-9)
    assert (seat.low_mm, seat.high_mm) == (-width, 0)


@pytest.mark.parametrize("fit", ["H7", "N7", "P7", "G7", "JS7"])
def test_a_mounted_bearing_and_a_seat_drawn_by_hand_are_cut_alike(fit):
    """One number, two ways to ask for it."""
    drawn = bearing_seat("6204", fit=fit).cuts[0]
    assert _passage(ball_bearing("6204", fit=fit), "seat").hole == drawn


def test_a_plate_beside_the_bearing_keeps_off_the_inner_ring():
    """Shoulder half-way between the rings, 0.5 mm beyond: 6006, (30 + 55) / 2."""
    shoulder = _passage(ball_bearing("6006"), "shoulder")
    assert _width(shoulder.hole) == pytest.approx(42.5)
    assert (shoulder.low_mm, shoulder.high_mm) == (-13.5, 0.5)
    assert shoulder.core == shoulder.hole


def test_seals_change_the_name_only():
    """6006-2RS sits where a 6006 does."""
    assert ball_bearing("6006-2RS") == ball_bearing("6006") == ball_bearing(bearing("6006"))


def test_a_shaft_stands_on_both_sides_of_the_face():
    """180 above, 40 below: 220 to buy; 2 mm play in plates (common practice)."""
    made = shaft(30, 180, below_mm=40)
    assert made.items[0].designation == "shaft 30 mm h6, 220 mm long"
    assert (made.shaft.low_mm, made.shaft.high_mm) == (-40, 180)
    assert _width(_passage(made, "shaft").hole) == 32
    assert shaft(30, 180).items[0].designation == "shaft 30 mm h6, 180 mm long"


def test_a_flat_takes_a_segment_off_the_shaft():
    """Area of a circle less its segment, r^2 acos(d/r) - d sqrt(r^2 - d^2), d = across - r."""
    made = shaft(10, 50, across_flat_mm=9)
    r, d = 5.0, 4.0
    segment = r * r * math.acos(d / r) - d * math.sqrt(r * r - d * d)
    assert made.blocks[0].profile.area_mm2 == pytest.approx(math.pi * r * r - segment)
    assert "flat, 9 mm" in made.items[0].designation


def test_a_key_comes_with_its_shaft():
    """DIN 6885-1, from memory: 14 mm shaft, key 5 x 5, keyway 3 mm deep."""
    made = shaft(14, 60, key_length_mm=25)
    assert made.items[1].designation == "parallel key DIN 6885-1 A 5x5x25"
    assert "keyway 5 mm wide, 3 mm deep" in made.items[0].designation
    with pytest.raises(PartError, match="not made 26 mm long"):
        shaft(14, 60, key_length_mm=26)


def test_a_shaft_bored_for_a_gearbox_keeps_a_wall_beside_the_keyway():
    """DIN 6885-1, from memory: 14 mm bore, key 5 x 5, keyway 2.3 mm into the hub.

    Volume of shaft less bore; a 20 mm shaft would keep (20 - 14) / 2 - 2.3 = 0.7 mm, one of 19 mm
    0.2 mm.
    """
    made = shaft(30, 100, below_mm=20, socket_mm=14, socket_depth_mm=35)
    volume = sum(block.profile.area_mm2 * block.height_mm for block in made.blocks)
    assert volume == pytest.approx(math.pi / 4 * (30**2 * 120 - 14**2 * 35))
    assert made.blocks[0].low_mm == -20
    assert "bored 14 mm, 35 mm deep" in made.items[0].designation
    assert "5x5 key" in made.items[0].designation
    assert shaft(20, 100, socket_mm=14, socket_depth_mm=30).shaft.high_mm == 100
    with pytest.raises(PartError, match=r"wall of 0\.2 mm"):
        shaft(19, 100, socket_mm=14, socket_depth_mm=30)
    with pytest.raises(PartError, match="120 mm deep in 100"):
        shaft(30, 100, socket_mm=14, socket_depth_mm=120)


@pytest.mark.parametrize("pattern", known_hub_patterns())
def test_every_pattern_makes_a_hub(pattern):
    """Screws lie on the flange, and the bore inside them."""
    made = hub(pattern, bore_mm=10, thickness_mm=8, pilot_height_mm=3)
    reach_mm = max(math.hypot(*point) for point in made.fixing.points)
    assert reach_mm < _width(_block(made, "flange").profile) / 2
    assert made.fixing.depth_mm == 8


def test_a_robot_flange_centres_itself_in_the_plate():
    """ISO 9409-1:2004 table 1 (looked up): 50-4-M6 has a 31.5 mm pilot, 3.5 deep."""
    made = hub("ISO 9409-1-50-4-M6", bore_mm=14, thickness_mm=8)
    pilot = _passage(made, "spigot")
    assert _width(pilot.core) == pytest.approx(31.5)
    assert pilot.low_mm == -3.5
    assert len(made.fixing.points) == 4
    assert made.fixing.thread == "M6"


def test_a_hub_with_a_collar_and_screws_through_it():
    """Volume of flange, its holes (ISO 273 medium, M5: 5.5 mm) and collar."""
    made = hub(
        "six-bolt 70 mm M5",
        bore_mm=12,
        thickness_mm=6,
        outer_mm=86,
        collar_mm=30,
        length_mm=26,
        tapped=False,
        hold="clamp",
    )
    volume = sum(block.profile.area_mm2 * block.height_mm for block in made.blocks)
    flange = math.pi / 4 * (86**2 - 12**2 - 6 * 5.5**2) * 6
    collar = math.pi / 4 * (30**2 - 12**2) * 20
    assert volume == pytest.approx(flange + collar)
    assert (made.fixing.flange_mm, made.fixing.depth_mm) == (6, None)
    assert made.items[0].designation.endswith("bore 12 mm, clamping")


@pytest.mark.parametrize(
    ("sizes", "said"),
    [
        ({"bore_mm": 70}, "leaves nothing inside its screws"),
        ({"outer_mm": 74}, "ends inside its screws"),
        ({"collar_mm": 30}, "half said"),
        ({"collar_mm": 30, "length_mm": 5}, "far end of the collar"),
        ({"collar_mm": 8, "length_mm": 20}, "more than the bore"),
        ({"hold": "glue"}, "set screws, clamp, key, flat, press"),
        ({"thickness_mm": -1}, "thickness_mm"),
    ],
)
def test_a_hub_that_cannot_be_says_why(sizes, said):
    """Pattern and value in the message."""
    usual = {"bore_mm": 10, "thickness_mm": 6}
    with pytest.raises(PartError, match=said) as caught:
        hub("six-bolt 70 mm M5", **{**usual, **sizes})
    assert "six-bolt 70 mm M5" in str(caught.value)


def test_a_pilot_of_unknown_height_is_asked_for():
    """ISO 9409-1-100-6-M8: the source gives no depth."""
    with pytest.raises(PartError, match="pilot_height_mm"):
        hub("ISO 9409-1-100-6-M8", bore_mm=20, thickness_mm=10)


def test_a_reducing_bush_keeps_a_wall():
    """Wall = (outer - inner) / 2: 10 to 8 mm leaves 1 mm; under 0.5 mm is refused."""
    made = reducing_bush(10, 8, length_mm=20)
    assert made.items[0].note == "wall 1 mm"
    assert made.blocks[0].profile.area_mm2 == pytest.approx(math.pi / 4 * (10**2 - 8**2))
    with pytest.raises(PartError, match=r"its wall is 0\.45 mm"):
        reducing_bush(10, 9.1, length_mm=20)
    with pytest.raises(PartError, match="its wall is -1 mm"):
        reducing_bush(8, 10, length_mm=20)
