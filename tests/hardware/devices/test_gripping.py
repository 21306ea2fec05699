"""How hubs, shafts, couplings and bushes take hold, and what bearings bear, as recipes say it."""

import pytest

from platekit.errors import PartError, UnknownNameError
from platekit.handbook import TableError, read
from platekit.hardware.devices.bearings import ball_bearing
from platekit.hardware.devices.hubs import hub
from platekit.hardware.devices.shafts import coupling, reducing_bush, shaft
from platekit.hardware.faces.bearings import (
    BEARING_COLUMNS,
    RATING_COLUMNS,
    bearing,
    known_bearings,
    own_bearings,
)
from platekit.hardware.solids import solid

HUB = "six-bolt 70 mm M5"


def _hub(**changed):
    given = {"bore_mm": 14, "thickness_mm": 10, "collar_mm": 30, "length_mm": 40}
    return hub(HUB, **{**given, **changed})


def test_a_hub_grips_along_its_whole_bore():
    """From the face, or its spigot's end, to the collar's far end."""
    (grip,) = _hub(hold="clamp", hold_thread="M5", hold_screws=2).grips
    assert (grip.low_mm, grip.high_mm, grip.outer_mm) == (0, 40, 30)
    assert (grip.hold, grip.thread, grip.screws) == ("clamp", "M5", 2)
    (plain,) = hub("ISO 9409-1-80-6-M8", bore_mm=30, thickness_mm=18, hold="key").grips
    # The spigot of that flange stands out by 5 mm, ISO 9409-1.
    assert (plain.low_mm, plain.high_mm, plain.outer_mm, plain.key_mm) == (-5, 18, 100, 0)


def test_a_key_that_is_said_is_ordered_in_that_length():
    """DIN 6885-1: 5x5 on 14 mm, in preferred lengths (from memory)."""
    made = _hub(hold="key", key_length_mm=28)
    assert made.grips[0].key_mm == 28
    assert made.items[1].designation == "parallel key DIN 6885-1 A 5x5x28"
    with pytest.raises(PartError, match="not made 27 mm long"):
        _hub(hold="key", key_length_mm=27)


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"hold": "clamp", "hold_thread": "M5"}, "half said"),
        ({"hold": "key", "hold_thread": "M5", "hold_screws": 2}, "screws that hold"),
        ({"hold": "clamp", "key_length_mm": 28}, "a key's length"),
        ({"hold": "clamp", "hold_thread": "M5", "hold_screws": 99}, "99 screws"),
        ({"hold": "flat", "across_flat_mm": 14}, "measure from the flat"),
        ({"hold": "flat", "across_flat_mm": 6}, "measure from the flat"),
        ({"hold": "press", "interference_mm": 20}, "no press"),
        ({"hold": "key", "interference_mm": 0.02}, "interference_mm"),
    ],
)
def test_a_grip_that_cannot_be_says_why(changed, said):
    """What does not belong together is refused where it is written."""
    with pytest.raises(PartError, match=said):
        _hub(**changed)


def test_materials_are_looked_up_at_once():
    """By name, or the usual one of the metal its threads are cut in."""
    assert _hub().made_of == "aluminium 6082-T6"
    assert _hub(metal="steel").made_of == "steel C45"
    assert _hub(made_of="PLA").made_of == "PLA printed"
    assert shaft(14, 100).made_of == "steel C45"
    for make in (
        lambda: _hub(made_of="cheese"),
        lambda: shaft(14, 100, made_of="cheese"),
        lambda: coupling(14, 14, outer_mm=40, length_mm=50, made_of="cheese"),
        lambda: reducing_bush(20, 14, length_mm=20, made_of="cheese"),
    ):
        with pytest.raises(UnknownNameError, match="cheese"):
            make()


def test_a_socket_a_coupling_and_a_bush_grip_too():
    """Each in its own place along the axis."""
    (socket,) = shaft(
        30, 180, below_mm=10, socket_mm=16, socket_depth_mm=40, socket_key_mm=25
    ).grips
    assert (socket.low_mm, socket.high_mm, socket.outer_mm) == (-10, 30, 30)
    assert (socket.hold, socket.bore_mm, socket.key_mm) == ("key", 16, 25)
    lower, upper = coupling(
        12, 16, outer_mm=40, length_mm=50, hold_thread="M5", hold_screws=2
    ).grips
    assert (lower.bore_mm, lower.low_mm, lower.high_mm) == (12, 0, 25)
    assert (upper.bore_mm, upper.low_mm, upper.high_mm) == (16, 25, 50)
    plain, slit = (reducing_bush(20, 14, length_mm=20, hold=hold) for hold in ("slip", "clamp"))
    assert plain.grips[0].hold == "slip"
    assert "slit" in slit.designation
    assert slit.shaft.diameter_mm == 20


# Ratings C and C0 in N of a maker's catalogue, looked up; the same figures stand in the lists of
# others within some per cent.
LISTED = {
    "6000": (4550, 1960),
    "6200": (5100, 2390),
    "6204": (12800, 6600),
    "6206": (19500, 11300),
    "6800": (1830, 925),
    "6901": (2890, 1460),
}


@pytest.mark.parametrize("name", LISTED)
def test_bearings_bear_what_a_maker_lists(name):
    """A list of a maker, looked up."""
    rating = ball_bearing(name).rating
    assert (rating.dynamic_n, rating.static_n) == LISTED[name]


def test_ratings_grow_with_the_ring_within_a_series():
    """Physics of a family: a larger bore of one series bears more; f0 lies between 12 and 17.

    ISO 76 tabulates f0 from 14.7 down, by way of a peak near 16.5, with ball over pitch diameter
    (from memory). C lies above C0 in single-row deep groove bearings of these sizes.
    """
    by_series = {}
    for name in known_bearings():
        one = bearing(name)
        if one.rating is not None:
            assert 12 <= one.rating.f0 <= 17
            assert one.rating.static_n < one.rating.dynamic_n < 3 * one.rating.static_n
            assert one.rating.source
            by_series.setdefault(one.series, []).append((one.bore_mm, one.outer_mm, one.rating))
    for rows in by_series.values():
        rows.sort(key=lambda row: row[:2])
        dynamic, static = ([getattr(row[2], key) for row in rows] for key in RATING_COLUMNS[:2])
        assert dynamic == sorted(dynamic)
        assert static == sorted(static)


def test_every_rating_says_how_it_is_known():
    """All four cells or none."""
    for row in read("platekit.hardware", "tables/bearings.csv"):
        cells = [row.cells[column] for column in RATING_COLUMNS]
        assert all(cells) or not any(cells)
        assert not cells[3] or "memory" in cells[3] or "looked up" in cells[3]


OWN = ("odd one", "none", "", "9", "23", "6", "0.3", "measured", "the bearing in hand")


def _own(folder, columns, cells):
    path = folder / "own.csv"
    lines = ((*BEARING_COLUMNS, *columns), (*OWN, *cells))
    path.write_text("\n".join(map(",".join, lines)) + "\n", encoding="utf-8")
    return path


def test_a_bearing_of_ones_own_may_leave_its_ratings_out(tmp_path):
    """Without the columns, with them empty, with them filled, half filled."""
    assert own_bearings(_own(tmp_path, (), ()))["odd one"].rating is None
    assert own_bearings(_own(tmp_path, RATING_COLUMNS, [""] * 4))["odd one"].rating is None
    full = own_bearings(_own(tmp_path, RATING_COLUMNS, ("4000", "1900", "13", "its list")))[
        "odd one"
    ]
    assert (full.rating.dynamic_n, full.rating.source) == (4000, "its list")
    with pytest.raises(TableError, match="static_n"):
        own_bearings(_own(tmp_path, RATING_COLUMNS, ("4000", "", "13", "its list")))


def test_tempered_steel_stands_more_than_normalised():
    """EN ISO 683-1 C45 over 16 to 40 mm, from memory: 430 hardened and tempered, 340 above 16."""
    assert solid("steel C45+QT").yield_mpa > solid("steel C45").yield_mpa


@pytest.mark.parametrize(
    ("given", "cut_in"),
    [
        ({}, "aluminium"),
        ({"made_of": "PLA printed"}, "plastic"),
        ({"made_of": "steel C45"}, "steel"),
        ({"made_of": "brass"}, "brass"),
        ({"made_of": "stainless steel 1.4301"}, "steel"),
        ({"made_of": "PLA printed", "metal": "brass"}, "brass"),
    ],
)
def test_threads_are_cut_in_what_a_hub_is_made_of(given, cut_in):
    """A printed hub's threads are no aluminium ones, unless inserts are said."""
    assert _hub(**given).fixing.metal == cut_in
