"""Screws by standard: heads, drives, lengths, what they fill and how they are ordered."""

import math

import pytest

from platekit.errors import PartError, UnknownNameError
from platekit.hardware.fasteners.nuts import nut
from platekit.hardware.fasteners.screw_kinds import (
    known_screw_standards,
    known_threads_of,
    screw_by,
)

ALL = [(std, name) for std in known_screw_standards() for name in known_threads_of(std)]
# ISO 4762: largest plain head, key. ISO 4017: width across flats, nominal height. Looked up in two
# open part libraries that agree; M16 from memory.
CAP = {
    "M2": (3.8, 1.5), "M2.5": (4.5, 2), "M3": (5.5, 2.5), "M4": (7, 3), "M5": (8.5, 4),
    "M6": (10, 5), "M8": (13, 6), "M10": (16, 8), "M12": (18, 10), "M16": (24, 14),
}  # fmt: skip
HEXAGON = {
    "M2": (4, 1.4), "M2.5": (5, 1.7), "M3": (5.5, 2), "M4": (7, 2.8), "M5": (8, 3.5),
    "M6": (10, 4), "M8": (13, 5.3), "M10": (16, 6.4), "M12": (18, 7.5), "M16": (24, 10),
}  # fmt: skip
# ISO 7380-1: largest head, key, from memory of the standard.
BUTTON = {
    "M3": (5.7, 2), "M4": (7.6, 2.5), "M5": (9.5, 3), "M6": (10.5, 4), "M8": (14, 5),
    "M10": (17.5, 6), "M12": (21, 8), "M16": (28, 10),
}  # fmt: skip


@pytest.mark.parametrize("name", CAP)
def test_cap_heads_are_those_of_iso_4762(name):
    """Head, key; the head is as high as the thread is thick."""
    one = screw_by("ISO 4762", name)
    assert (one.head_diameter_mm, one.drive_mm) == CAP[name]
    assert one.head_height_mm == one.nominal_mm == float(name[1:])


@pytest.mark.parametrize("name", BUTTON)
def test_button_heads_are_those_of_iso_7380(name):
    """Head, key; every height of the standard's table is 0.55 of the thread."""
    one = screw_by("ISO 7380-1", name)
    assert (one.head_diameter_mm, one.drive_mm) == BUTTON[name]
    assert one.head_height_mm == pytest.approx(0.55 * float(name[1:]), abs=1e-9)


@pytest.mark.parametrize("name", known_threads_of("ISO 10642"))
def test_countersunk_heads_are_cones_of_90_degrees(name):
    """ISO 10642: from thread to sharp edge at 45 degrees, so height is half the difference."""
    one = screw_by("ISO 10642", name)
    cone_mm = (one.head_diameter_mm - float(name[1:])) / 2
    assert one.head_height_mm == pytest.approx(cone_mm, abs=1e-9)
    assert one.drive_mm == screw_by("ISO 7380-1", name).drive_mm  # both standards share the socket


@pytest.mark.parametrize("standard", ["ISO 4014", "ISO 4017"])
@pytest.mark.parametrize("name", HEXAGON)
def test_hexagon_heads_are_those_of_iso_4017(standard, name):
    """One head for both; as wide as the nut, ISO 272; over the corners 2 / sqrt 3 of that."""
    one = screw_by(standard, name)
    assert (one.drive_mm, one.head_height_mm) == HEXAGON[name]
    assert one.drive_mm == nut("ISO 4032", name).across_flats_mm
    assert one.head_diameter_mm / one.drive_mm == pytest.approx(1 / math.cos(math.pi / 6))


# Shortest and longest of each standard's table for M6 and M8, from memory.
RANGES = {
    ("ISO 4762", "M6"): (10, 60),
    ("ISO 4762", "M8"): (12, 80),
    ("ISO 10642", "M6"): (8, 60),
    ("ISO 10642", "M8"): (10, 80),
    ("ISO 4017", "M6"): (12, 60),
    ("ISO 4017", "M8"): (16, 80),
    ("ISO 4014", "M6"): (30, 60),
    ("ISO 4014", "M8"): (40, 80),
}


@pytest.mark.parametrize(("standard", "name"), RANGES)
def test_lengths_run_from_shortest_to_longest(standard, name):
    """Rising, ends as the standard has them; 20 mm is a preferred length, 22 is not."""
    lengths = screw_by(standard, name).lengths_mm
    assert (lengths[0], lengths[-1]) == RANGES[standard, name]
    assert list(lengths) == sorted(set(lengths))
    assert 22 not in lengths


@pytest.mark.parametrize(("standard", "name"), ALL)
def test_a_screw_fills_head_and_shank_and_no_more(standard, name):
    """Volumes in closed form; the two touch and do not overlap; lengths as the standard counts."""
    one = screw_by(standard, name)
    length_mm = one.lengths_mm[-1]
    head, shank = one.blocks(length_mm)
    d_mm = float(name[1:])
    if one.drive == "hexagon":
        area = math.sqrt(3) / 2 * one.drive_mm**2
    else:
        area = math.pi / 4 * one.head_diameter_mm**2
    assert head.profile.area_mm2 == pytest.approx(area)
    assert shank.profile.area_mm2 == pytest.approx(math.pi / 4 * d_mm**2)
    assert head.height_mm == pytest.approx(one.head_height_mm)
    assert head.low_mm == shank.high_mm
    assert shank.low_mm == -length_mm
    assert (head.high_mm == 0.0) == (standard == "ISO 10642")  # only it counts its head


@pytest.mark.parametrize(("standard", "name"), ALL)
def test_the_key_goes_into_the_head(standard, name):
    """The socket's corners lie well within the head."""
    one = screw_by(standard, name)
    if one.drive == "hex socket":
        assert 1.3 * one.drive_mm * 2 / math.sqrt(3) < one.head_diameter_mm
    assert one.source


def test_screws_are_ordered_by_standard_size_and_class():
    """ISO 8991: standard, thread x length, property class."""
    assert screw_by("ISO 4762", "M5").designation(20) == "ISO 4762 M5x20 8.8"
    assert screw_by("iso 4762", "m5").designation(20, property_class="A2-70").endswith("A2-70")
    assert screw_by("ISO 7380-1", "M5").designation(16) == "ISO 7380-1 M5x16 010.9"
    line = screw_by("ISO 4017", "M2.5").item(10, quantity=4, note="lid", property_class="10.9")
    assert (line.designation, line.quantity, line.note) == ("screw ISO 4017 M2.5x10 10.9", 4, "lid")


def test_the_shortest_length_that_will_do():
    """ISO 4762 M5: 16 lies from 12.5 to 17; none from 17 to 19."""
    assert screw_by("ISO 4762", "M5").length_mm(least_mm=12.5, most_mm=17) == 16
    with pytest.raises(PartError, match=r"no ISO 4762 M5 screw is 17 to 19 mm.*lengths made: 8,"):
        screw_by("ISO 4762", "M5").length_mm(least_mm=17, most_mm=19)


@pytest.mark.parametrize("length", [17, 0, -5, math.nan, math.inf])
def test_a_length_that_is_not_made_is_refused(length):
    """In the bill and in space alike."""
    one = screw_by("ISO 4762", "M5")
    with pytest.raises(PartError, match="M5 screw"):
        one.designation(length)
    with pytest.raises(PartError, match="M5 screw"):
        one.blocks(length)


def test_what_is_unknown_offers_the_nearest():
    """Standard, thread, class."""
    with pytest.raises(UnknownNameError, match=r"unknown standard of a screw.*mean ISO 7380-1"):
        screw_by("ISO 7380", "M5")
    with pytest.raises(UnknownNameError, match=r"unknown ISO 7380-1 screw 'M2'"):
        screw_by("ISO 7380-1", "M2")
    with pytest.raises(UnknownNameError, match=r"unknown property class of a screw '8'.*8\.8"):
        screw_by("ISO 4762", "M5").designation(20, property_class="8")
