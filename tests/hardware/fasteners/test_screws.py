"""Screws, nuts, washers and their holes against the standards."""

import math

import pytest

from platekit.errors import PartError, UnknownNameError
from platekit.hardware.fasteners.clearance import (
    ClearanceFit,
    clearance_hole_mm,
    known_clearance_threads,
)
from platekit.hardware.fasteners.screws import known_screws, screw

# ISO 273:1979, fine / medium / coarse, mm. From memory of the standard's table, typed
# independently of the package's own.
ISO_273 = {
    "M2": (2.2, 2.4, 2.6),
    "M2.5": (2.7, 2.9, 3.1),
    "M3": (3.2, 3.4, 3.6),
    "M4": (4.3, 4.5, 4.8),
    "M5": (5.3, 5.5, 5.8),
    "M6": (6.4, 6.6, 7.0),
    "M8": (8.4, 9.0, 10.0),
    "M10": (10.5, 11.0, 12.0),
    "M12": (13.0, 13.5, 14.5),
    "M16": (17.0, 17.5, 18.5),
}
# ISO 4032 width across flats and height, ISO 7089 bore and outside, ISO 261 pitch. From memory.
NUT_WASHER_PITCH = {
    "M3": (5.5, 2.4, 3.2, 7.0, 0.5),
    "M4": (7.0, 3.2, 4.3, 9.0, 0.7),
    "M5": (8.0, 4.7, 5.3, 10.0, 0.8),
    "M6": (10.0, 5.2, 6.4, 12.0, 1.0),
    "M8": (13.0, 6.8, 8.4, 16.0, 1.25),
    "M10": (16.0, 8.4, 10.5, 20.0, 1.5),
    "M12": (18.0, 10.8, 13.0, 24.0, 1.75),
}


@pytest.mark.parametrize("thread", ISO_273)
def test_clearance_holes_are_those_of_iso_273(thread):
    """All three series, by name, by enum and through the screw."""
    asked = tuple(clearance_hole_mm(thread, fit=fit) for fit in ClearanceFit)
    assert asked == ISO_273[thread]
    assert tuple(screw(thread).clearance_mm(f) for f in ("fine", " Medium", "COARSE")) == asked
    assert clearance_hole_mm(thread) == asked[1]


def test_a_hole_is_always_wider_than_its_screw_and_grows_with_the_series():
    """Fine < medium < coarse, all above the thread."""
    for thread in known_clearance_threads():
        fine, medium, coarse = (clearance_hole_mm(thread, fit=fit) for fit in ClearanceFit)
        assert float(thread[1:]) < fine < medium < coarse


def test_an_unknown_fit_or_thread_says_what_is_known():
    """Names the nearest."""
    with pytest.raises(UnknownNameError, match="medium"):
        clearance_hole_mm("M5", fit="meduim")
    with pytest.raises(UnknownNameError, match=r"unknown thread 'M5.5'.*M5"):
        clearance_hole_mm("M5.5")


@pytest.mark.parametrize("thread", known_screws())
def test_a_cap_head_is_as_high_as_its_thread_is_thick(thread):
    """ISO 4762: k = d. Washers sit between nut and hole, keys within heads."""
    one = screw(thread)
    assert one.head_height_mm == one.nominal_mm == float(thread[1:])
    assert one.hex_key_mm < one.head_diameter_mm < 2.1 * one.nominal_mm
    assert one.washer_inner_mm > one.nominal_mm
    assert one.washer_outer_mm > one.clearance_mm("coarse") + 1.0
    assert one.source


@pytest.mark.parametrize("thread", known_screws())
def test_a_nut_is_a_hexagon(thread):
    """ISO 4032: least across corners is 1.13 times the least across flats, a little under 2/sqrt 3.

    The least across flats lies up to 5 % under the nominal.
    """
    one = screw(thread)
    across = one.nut_across_corners_mm / one.nut_across_flats_mm
    assert 1.13 * 0.95 < across < 2 / math.sqrt(3)


@pytest.mark.parametrize("thread", NUT_WASHER_PITCH)
def test_nuts_washers_and_pitches_are_those_of_their_standards(thread):
    """ISO 4032, ISO 7089, ISO 261."""
    one = screw(thread)
    assert NUT_WASHER_PITCH[thread] == (
        one.nut_across_flats_mm,
        one.nut_height_mm,
        one.washer_inner_mm,
        one.washer_outer_mm,
        one.pitch_mm,
    )


# ISO 888 preferred lengths, from memory.
ISO_888 = {
    2, 2.5, 3, 4, 5, 6, 8, 10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 80, 90, 100,
    110, 120, 130, 140, 150, 160,
}  # fmt: skip


@pytest.mark.parametrize("thread", known_screws())
def test_lengths_are_preferred_ones(thread):
    """ISO 888, with no gap between shortest and longest."""
    lengths = screw(thread).lengths_mm
    between = {n for n in ISO_888 if lengths[0] <= n <= lengths[-1]}
    assert set(lengths) == between


def test_the_length_follows_what_the_screw_grips():
    """M5 through 6 mm, two 1 mm washers, a 4.7 mm nut, two pitches of 0.8: 14.3, so 16."""
    m5 = screw("M5")
    assert m5.nutted_length_mm(grip_mm=6.0) == 16.0
    assert m5.nutted_length_mm(grip_mm=9.0) == 20.0
    assert m5.nutted_length_mm(grip_mm=6.0, washers=0) == 16.0
    assert m5.nutted_length_mm(grip_mm=3.0, washers=0) == 10.0


def test_a_tapped_hole_asks_for_a_length_within_a_range():
    """Long enough to hold, short enough not to reach the bottom; else it says what is made."""
    assert screw("M5").length_mm(least_mm=12.5, most_mm=17.0) == 16.0
    with pytest.raises(PartError, match=r"no ISO 4762 M5 screw is 12.5 to 15 mm.*made: 8, 10, 12"):
        screw("M5").length_mm(least_mm=12.5, most_mm=15.0)
    with pytest.raises(PartError, match=r"50\.5 mm or longer"):
        screw("M5").length_mm(least_mm=50.5)


@pytest.mark.parametrize("grip", [0.0, -6.0, math.nan, math.inf])
def test_a_grip_that_is_none_is_refused(grip):
    """Zero, negative, NaN, infinite."""
    with pytest.raises(PartError, match="grip"):
        screw("M5").nutted_length_mm(grip_mm=grip)


def test_fasteners_put_themselves_on_the_bill():
    """By standard, thread and length."""
    m5 = screw("m 5")
    assert m5.item(length_mm=16, quantity=4).designation == "screw ISO 4762 M5x16 8.8"
    assert m5.nut_item(quantity=4).designation == "nut ISO 4032 M5 8"
    assert m5.washer_item(quantity=8).quantity == 8
    with pytest.raises(PartError, match="no ISO 4762 M5 screw"):
        m5.item(length_mm=17)


def test_an_unknown_screw_says_which_are_known():
    """Nothing is guessed."""
    with pytest.raises(UnknownNameError, match=r"unknown screw 'M5.3'.*known: M10, M12"):
        screw("M5.3")
