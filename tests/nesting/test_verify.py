"""Verification finds every way in which a nesting can be wrong."""

from __future__ import annotations

from dataclasses import replace

import pytest

from platekit.geometry.motion import Motion
from platekit.nesting import Nest, NestedSheet, NestPart, Placement, Stock, Unplaced, verify
from tests.nesting.shapes import angle_piece, disc, polygon, rectangle, ring

PARTS = [
    NestPart("ring", ring(60, 40).profile, 1, (0.0,)),
    NestPart("disc", disc(20).profile, 2, (0.0, 90.0)),
]


def laid(*places, stock=None, unplaced=(), gap=2.0, margin=5.0, sheets=1) -> Nest:
    """Return a nesting with everything at the given places on one sheet."""
    placements = tuple(
        Placement(part=part, copy=copy, x_mm=x, y_mm=y, rotation_deg=turn)
        for part, copy, x, y, turn in places
    )
    sheet = NestedSheet(
        stock=stock or Stock(100, 100),
        width_mm=100,
        height_mm=100,
        placements=placements,
        used_length_mm=100,
        utilisation=0.5,
    )
    empty = replace(sheet, placements=())
    return Nest(
        sheets=(sheet, *[empty] * (sheets - 1)), unplaced=unplaced, gap_mm=gap, margin_mm=margin
    )


RING = ("ring", 1, 35, 35, 0.0)
INSIDE = ("disc", 1, 35, 35, 0.0)
CORNER = ("disc", 2, 85, 85, 90.0)


def test_a_sound_nesting_passes():
    """A disc in the ring's hole and one in the corner, 5 mm from the edges: nothing to say."""
    assert verify(laid(RING, INSIDE, CORNER), PARTS) == ()


def face_down(name) -> Nest:
    """Return the sound nesting with a part mirrored."""
    nest = laid(RING, INSIDE, CORNER)
    (sheet,) = nest.sheets
    placements = tuple(replace(p, mirrored=p.part == name) for p in sheet.placements)
    return replace(nest, sheets=(replace(sheet, placements=placements),))


def test_a_part_that_may_lies_face_down():
    """The ring mirrored is sound once it says that it may be."""
    parts = [replace(PARTS[0], mirror=True), PARTS[1]]
    assert verify(face_down("ring"), parts) == ()


@pytest.mark.parametrize(
    ("nest", "says"),
    [
        pytest.param(laid(RING, INSIDE), "disc #2: is missing", id="lost"),
        pytest.param(laid(RING, INSIDE, CORNER, CORNER), "disc #2: appears 2 times", id="twice"),
        pytest.param(
            laid(RING, INSIDE, CORNER, unplaced=(Unplaced(part="disc", copy=2, reason="full"),)),
            "disc #2: appears 2 times",
            id="placed and unplaced",
        ),
        pytest.param(
            laid(RING, INSIDE, CORNER, ("disc", 3, 85, 15, 0.0)), "disc #3: was never", id="extra"
        ),
        pytest.param(
            laid(("ring", 1, 35, 35, 45.0), INSIDE, CORNER), "turned 45 degrees", id="turned"
        ),
        pytest.param(face_down("disc"), "disc #1: lies face down", id="face down"),
        pytest.param(
            laid(RING, INSIDE, ("disc", 2, 86, 85, 0.0)), "4.000000 mm from", id="in the margin"
        ),
        pytest.param(
            laid(RING, ("disc", 1, 44, 35, 0.0), CORNER), "1.000000 mm apart", id="gap in the hole"
        ),
        pytest.param(laid(RING, ("disc", 1, 60, 35, 0.0), CORNER), "0.000000 mm", id="across"),
        pytest.param(laid(RING, CORNER, ("disc", 1, 85, 85, 0.0)), "0.000000 mm", id="on top"),
        pytest.param(
            laid(RING, CORNER, ("disc", 1, 85, 84, 0.0), gap=0), "0.000000 mm", id="no gap asked"
        ),
        pytest.param(
            laid(RING, INSIDE, CORNER, stock=Stock(100, 100, 1), sheets=2),
            "2 sheets used, there are 1",
            id="too many sheets",
        ),
    ],
)
def test_every_fault_is_found(nest, says):
    """Each fault is told with the part and the measured value (by hand from the places above)."""
    assert any(says in str(violation) for violation in verify(nest, PARTS))


def test_a_part_inside_another_is_an_overlap():
    """A disc wholly on a plate's material crosses no edge, and is found all the same."""
    parts = [NestPart("plate", rectangle(80, 80).profile), NestPart("disc", disc(10).profile)]
    nest = laid(("plate", 1, 10, 10, 0.0), ("disc", 1, 50, 50, 0.0), gap=0)
    assert [v.problem for v in verify(nest, parts)] == ["0.000000 mm apart"]


def test_a_placement_is_a_motion():
    """Turn first, then move: (1, 0) turned by 90 degrees and moved by (10, 20) is (10, 21)."""
    place = Placement(part="x", copy=1, x_mm=10, y_mm=20, rotation_deg=90)
    assert place.motion == Motion(dx_mm=10, dy_mm=20, turn_deg=90)
    assert place.motion.apply((1, 0)) == (10, 21)


def on_offcut(shape, *places, margin) -> tuple[str, ...]:
    """Return what verification says of discs of 20 mm at places on an offcut."""
    parts = [NestPart("disc", disc(20).profile, len(places), (0.0,))]
    laid_there = [("disc", k, x, y, 0.0) for k, (x, y) in enumerate(places, 1)]
    nest = laid(*laid_there, stock=Stock.of_shape(shape.profile), margin=margin)
    return tuple(map(str, verify(nest, parts)))


HOLED = polygon(
    [(0, 0), (100, 0), (100, 100), (0, 100)], [[(40, 40), (60, 40), (60, 60), (40, 60)]]
)
WIDE_HOLE = polygon(
    [(0, 0), (100, 0), (100, 100), (0, 100)], [[(20, 20), (80, 20), (80, 80), (20, 80)]]
)


@pytest.mark.parametrize("margin", [0.0, 5.0])
def test_places_within_an_odd_offcut_pass(margin):
    """Discs that keep just the margin to the arms of an L and to a hole are sound."""
    away = 10 + margin
    corner = angle_piece(100, 100, 40)
    assert on_offcut(corner, (80, away), (50, 40 - away), (away, 80), margin=margin) == ()
    spots = [(40 - away, 50), (60 + away, 50), (50, 60 + away)]
    assert on_offcut(HOLED, *spots, margin=margin) == ()


@pytest.mark.parametrize(
    ("shape", "place", "margin", "says"),
    [
        (angle_piece(100, 100, 40), (80, 25.01), 5.0, "4.990000 mm from the offcut's edge"),
        (angle_piece(100, 100, 40), (80, 30.00001), 0.0, "reaches over the edge of the offcut"),
        (angle_piece(100, 100, 40), (80, 38), 1.0, "0.000000 mm from the offcut's edge"),
        (angle_piece(100, 100, 40), (70, 70), 5.0, "lies off the offcut"),
        (angle_piece(100, 100, 40), (70, 70), 0.0, "reaches over the edge of the offcut"),
        (HOLED, (25.01, 50), 5.0, "4.990000 mm from the offcut's edge"),
        (HOLED, (30.00001, 50), 0.0, "reaches over the edge of the offcut"),
        (WIDE_HOLE, (50, 50), 5.0, "lies off the offcut"),
    ],
)
def test_a_part_off_an_odd_offcut_is_found(shape, place, margin, says):
    """Too near an edge by a hundredth, over it by ten nanometres, in the bay or in a hole."""
    (said,) = on_offcut(shape, place, margin=margin)
    assert said == f"sheet 1: disc #1: {says}"


def test_a_hole_of_the_offcut_under_a_part_is_found():
    """A disc laid right over a small hole meets none of its edges and is still no good."""
    pinhole = polygon([(0, 0), (100, 0), (100, 100), (0, 100)], [[(49, 49), (51, 49), (50, 51)]])
    assert on_offcut(pinhole, (50, 50), margin=5.0) == ("sheet 1: disc #1: lies off the offcut",)
    assert on_offcut(pinhole, (80, 80), margin=5.0) == ()


def test_a_part_on_another_stock_than_it_names_is_found():
    """The disc asks for the good face and lies on a sheet without a name."""
    parts = [PARTS[0], replace(PARTS[1], on="good face")]
    nest = laid(RING, INSIDE, CORNER)
    said = [str(violation) for violation in verify(nest, parts)]
    assert said == [f"sheet 1: disc #{k}: lies on 100 x 100 mm, not on 'good face'" for k in (1, 2)]
    nest = laid(RING, INSIDE, CORNER, stock=Stock(100, 100, name="good face"))
    assert verify(nest, parts) == ()


def test_a_parted_company_is_found():
    """Ring and discs belong together: on one sheet or on none, but not here and there."""
    parts = [replace(part, together="set") for part in PARTS]
    whole = laid(RING, INSIDE, CORNER)
    (sheet,) = whole.sheets
    assert verify(whole, parts) == ()
    first, last = sheet.placements[:2], sheet.placements[2:]
    parted = replace(whole, sheets=tuple(replace(sheet, placements=p) for p in (first, last)))
    assert [str(violation) for violation in verify(parted, parts)] == [
        "ring and disc: belong together as 'set', lie on sheets 1, 2"
    ]
    left = (Unplaced(part="disc", copy=2, reason="full"),)
    assert [str(v) for v in verify(laid(RING, INSIDE, unplaced=left), parts)] == [
        "ring and disc: belong together as 'set', lie on sheets none, 1"
    ]
