"""Pins, magnets and rails as mounted, against their standards."""

from itertools import pairwise

import pytest

from platekit.errors import PartError, UnknownNameError
from platekit.hardware.devices.pressed import dowel_pin, known_pins, magnet, parallel_pin
from platekit.hardware.devices.rails import din_rail


def _width(shape):
    box = shape.bounds
    return box.right - box.left


# ISO 8734:1997 and ISO 2338:1997 table 1, from memory, typed apart from the table: lengths made.
MADE = {
    ("ISO 8734", 4): (10, 40),
    ("ISO 8734", 6): (14, 60),
    ("ISO 8734", 10): (22, 100),
    ("ISO 2338", 4): (8, 40),
    ("ISO 2338", 6): (12, 60),
    ("ISO 2338", 10): (18, 95),
}


@pytest.mark.parametrize(("standard", "diameter"), MADE)
def test_pins_are_made_in_the_lengths_of_their_standard(standard, diameter):
    """Shortest and longest, and nothing between the preferred ones."""
    pin = parallel_pin(diameter, standard=standard)
    assert (pin.lengths_mm[0], pin.lengths_mm[-1]) == MADE[standard, diameter]
    assert 17 not in pin.lengths_mm


@pytest.mark.parametrize("pin", known_pins(), ids=lambda p: f"{p.standard} {p.diameter_mm:g}")
def test_pins_grow_longer_with_their_diameter(pin):
    """In every standard of pins a thicker one is made at least as long, and 2 d is made."""
    thinner = [
        other
        for other in known_pins()
        if other.standard == pin.standard and other.diameter_mm < pin.diameter_mm
    ]
    assert all(other.longest_mm <= pin.longest_mm for other in thinner)
    assert all(other.shortest_mm <= pin.shortest_mm for other in thinner)
    assert pin.shortest_mm <= 4 * pin.diameter_mm <= pin.longest_mm


def test_a_pin_is_pressed_into_the_middle_of_its_fit():
    """ISO 286-1: 6 H7 is 0 to +12 um, 6 P7 is -20 to -8 um; m6 shaft 4 to 12 um over."""
    made = dowel_pin(6, 20, proud_mm=8)
    assert _width(made.passages[0].hole) == pytest.approx(6.006)
    tight = dowel_pin(6, 20, proud_mm=8, fit="P7")
    assert _width(tight.passages[0].hole) == pytest.approx(6 - 0.014)
    assert (made.blocks[0].low_mm, made.blocks[0].high_mm) == (-12, 8)
    assert made.passages[0].high_mm == 0
    assert made.items[0].designation == "parallel pin ISO 8734 6 m6 x 20"


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ((6, 19), r"not made 19 mm long; take one of 14, 16"),
        ((7, 20), r"7 mm thick; take one of 1, 1\.5"),
        ((6, 200), "not made 200"),
    ],
)
def test_a_pin_that_is_not_made_is_refused_with_those_that_are(arguments, said):
    """A drawing must not ask for what nobody sells."""
    with pytest.raises(PartError, match=said):
        dowel_pin(*arguments)


def test_a_pin_needs_the_plate_and_a_standard():
    """Proud all its length it holds nothing."""
    with pytest.raises(PartError, match="leave some of it"):
        dowel_pin(6, 20, proud_mm=20)
    with pytest.raises(UnknownNameError, match="ISO 2338"):
        dowel_pin(6, 20, standard="ISO 2339")


def test_a_magnet_lies_flush_in_its_pocket():
    """0 play to press, more to glue."""
    made = magnet(10, 5)
    assert (made.blocks[0].low_mm, made.blocks[0].high_mm) == (-5, 0)
    assert _width(made.passages[0].hole) == 10
    assert _width(magnet(10, 5, play_mm=0.2).passages[0].hole) == pytest.approx(10.2)
    assert "pinch" in made.doubt
    with pytest.raises(PartError, match="diameter_mm is -10"):
        magnet(-10, 5)


@pytest.mark.parametrize("length", [61, 100, 250, 400, 999, 2000])
def test_a_rail_is_35_mm_wide_and_screwed_down_all_along(length):
    """EN 60715, TH 35-7.5: 35 x 7.5 x 1 mm (looked up on a public page of the rail's section).

    Screws no more than about 200 mm apart, slots 25 mm apart: common practice, no source.
    """
    made = din_rail(length)
    boxes = [block.profile.bounds for block in made.blocks]
    assert max(b.top for b in boxes) - min(b.bottom for b in boxes) == 35
    assert max(block.high_mm for block in made.blocks) == 7.5
    assert made.fixing.flange_mm == 1
    xs = [point.x for point in made.fixing.points]
    assert len(xs) >= 2
    gaps = [b - a for a, b in pairwise(xs)]
    assert all(0 < gap <= 225 and gap % 25 == 0 for gap in gaps)
    assert xs[0] == -xs[-1]
    assert 10 <= length / 2 - xs[-1] <= 35


def test_a_rail_too_short_for_two_screws_is_refused():
    """One screw lets it turn."""
    with pytest.raises(PartError, match="61 mm or more"):
        din_rail(60)
