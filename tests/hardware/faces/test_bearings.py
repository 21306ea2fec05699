"""Bearings against ISO 15 and the rules of their designations."""

import pytest

from platekit.errors import UnknownNameError
from platekit.hardware.faces.bearings import bearing, known_bearings

# ISO 15: bore x outside x width, mm. From memory, typed apart from the table.
ISO_15 = {
    "608": (8, 22, 7),
    "625": (5, 16, 5),
    "6000": (10, 26, 8),
    "6001": (12, 28, 8),
    "6002": (15, 32, 9),
    "6003": (17, 35, 10),
    "6004": (20, 42, 12),
    "6005": (25, 47, 12),
    "6006": (30, 55, 13),
    "6007": (35, 62, 14),
    "6008": (40, 68, 15),
    "6200": (10, 30, 9),
    "6202": (15, 35, 11),
    "6204": (20, 47, 14),
    "6206": (30, 62, 16),
    "6804": (20, 32, 7),
    "6806": (30, 42, 7),
    "6904": (20, 37, 9),
    "6906": (30, 47, 9),
}
SERIES = {"60": "10", "62": "02", "68": "18", "69": "19"}


@pytest.mark.parametrize("name", ISO_15)
def test_boundary_dimensions_are_those_of_iso_15(name):
    """Bore, outside, width."""
    one = bearing(name)
    assert (one.bore_mm, one.outer_mm, one.width_mm) == ISO_15[name]


@pytest.mark.parametrize("name", known_bearings())
def test_the_designation_tells_bore_and_series(name):
    """Last two digits: 00 10, 01 12, 02 15, 03 17, from 04 five times; one digit is the bore.

    The rule of ISO 15 designations as every catalogue prints it, from memory.
    """
    one = bearing(name)
    code = name[2:]
    coded = {"00": 10, "01": 12, "02": 15, "03": 17}
    expected = int(code) if len(code) == 1 else coded.get(code, 5 * int(code))
    assert one.bore_mm == expected
    assert one.series == SERIES[name[:2]]
    assert one.bore_mm < one.outer_mm
    assert one.width_mm < one.outer_mm / 2
    assert 0 < 2 * one.chamfer_mm < one.width_mm


@pytest.mark.parametrize("bore", ["00", "01", "02", "03", "04", "05", "06"])
def test_series_grow_from_thin_to_light(bore):
    """For one bore: 68 < 69 < 60 < 62 in outside and in width (60 may equal)."""
    sizes = [bearing(series + bore) for series in ("68", "69", "60", "62")]
    outsides = [one.outer_mm for one in sizes]
    widths = [one.width_mm for one in sizes]
    assert outsides == sorted(set(outsides))
    assert widths == sorted(widths)


@pytest.mark.parametrize(
    "said",
    [
        "6004-2RS",
        "6004 2RS1",
        "6004ZZ",
        "6004-2Z",
        "6004-2RS C3",
        "6004/C3",
        "6004 DDU",
        " 6004 ",
        6004,
    ],
)
def test_seals_and_clearance_change_nothing_outside(said):
    """A suffix is passed over."""
    assert bearing(said) is bearing("6004")


@pytest.mark.parametrize("said", ["62002RS", "608ZZ", "626-2RS", "6202ZZ", "6000-2Z", "6002RS"])
def test_a_suffix_takes_no_digit_from_the_number(said):
    """6200 2RS is no 620."""
    expected = {
        "62002RS": "6200",
        "608ZZ": "608",
        "626-2RS": "626",
        "6202ZZ": "6202",
        "6002RS": "6002",
    }
    assert bearing(said).designation == expected.get(said, "6000")


def test_other_names_find_the_same_bearing():
    """ISO says 61804 where the trade says 6804."""
    assert bearing("61804") is bearing("6804")


@pytest.mark.parametrize("said", ["6099", "6004X9", "", "C3", "bearing"])
def test_an_unknown_bearing_is_refused(said):
    """Says which are known."""
    with pytest.raises(UnknownNameError, match=r"known: 6000"):
        bearing(said)


def test_a_bearing_puts_itself_on_the_bill():
    """By designation."""
    assert bearing("6004-2RS").item(quantity=2).designation == "deep-groove ball bearing 6004"
