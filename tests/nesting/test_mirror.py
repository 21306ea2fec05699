"""Mirror: parts that may lie face down do so where that helps, and others never."""

from __future__ import annotations

import pytest
from hypothesis import given, settings, strategies as st

from platekit.nesting import NestPart, Stock, report
from platekit.nesting.cells.poses import kinds_of, poses_in
from platekit.nesting.cells.rooms import Room
from tests.amounts import examples
from tests.nesting.shapes import laid, polygon, rectangle

# A right triangle whose mirror image no turn makes of it.
WEDGE = polygon([(10, 5), (130, 5), (10, 65)])
ROOM = Room(width_mm=500, height_mm=500, margin_mm=0, gap_mm=1e-6)


def test_face_down_saves_a_sheet():
    """A wedge and its image make one rectangle only where one of them may lie face down.

    Long sides fall one way on the wedge and the other way on its image, also turned by half;
    turned by a quarter neither fits the sheet. Together they have its area but for 1.5 %.
    """
    image = polygon([(0, 0), (120, 60), (0, 60)])
    sheet = Stock(121, 61)
    for mirror, sheets in ((False, 2), (True, 1)):
        wanted = [
            (NestPart("wedge", WEDGE.profile), WEDGE),
            (NestPart("image", image.profile, mirror=mirror), image),
        ]
        done = laid(wanted, sheet)
        assert len(done.sheets) == sheets
        face_down = [p.part for s in done.sheets for p in s.placements if p.mirrored]
        assert face_down == (["image"] if mirror else [])


def test_the_report_says_so_only_where_it_is_so():
    """A mirrored copy says "mirrored": true; the others do not have the word."""
    image = polygon([(0, 0), (120, 60), (0, 60)])
    wanted = [
        (NestPart("wedge", WEDGE.profile), WEDGE),
        (NestPart("image", image.profile, mirror=True), image),
    ]
    (sheet,) = report(laid(wanted, Stock(121, 61)), seconds=0)["sheets"]
    said = {place["part"]: place.get("mirrored") for place in sheet["placements"]}
    assert said == {"wedge": None, "image": True}


def test_an_image_that_looks_the_same_is_not_tried_twice():
    """A rectangle has two looks with or without a mirror, the wedge four without and eight with."""

    def looks(shape, *, mirror):
        kinds = kinds_of([NestPart("p", shape.profile, mirror=mirror)])
        return len(poses_in(kinds, [(ROOM, 1.0)])[0][0])

    assert [looks(rectangle(50, 20), mirror=mirror) for mirror in (False, True)] == [2, 2]
    assert [looks(WEDGE, mirror=mirror) for mirror in (False, True)] == [4, 8]


def test_any_turn_lays_the_image_flat_too():
    """Free to turn, each image lies on its longest sides: some turn is as low as the height.

    The height of a right triangle over its hypotenuse is 120 * 60 / sqrt(120^2 + 60^2).
    """
    (kind,) = kinds_of([NestPart("w", WEDGE.profile, 1, None, mirror=True)])
    for mirrored in (False, True):
        lowest = min(turn.height_mm for turn in kind.turns if turn.mirrored is mirrored)
        assert lowest == pytest.approx(120 * 60 / (120**2 + 60**2) ** 0.5, abs=1e-9)


sides = st.integers(8, 60)
wedges = st.builds(
    lambda w, h, x, y: polygon([(x, y), (x + w, y), (x + w / 3, y + h), (x, y + h)]),
    sides, sides, st.integers(-50, 50), st.integers(-50, 50),
)  # fmt: skip


@settings(max_examples=examples(10, thorough=25), deadline=None, derandomize=True)
@given(
    drawn=st.lists(
        st.tuples(
            wedges,
            st.integers(1, 4),
            st.booleans(),
            st.sampled_from([(0.0,), (0.0, 180.0), (0.0, 90.0, 180.0, 270.0), (33.0,), None]),
        ),
        min_size=1,
        max_size=5,
    ),
    gap=st.sampled_from([0.0, 2.0]),
)
def test_only_those_that_may_lie_face_down(drawn, gap):
    """Whatever the parts: nothing lost, the gap kept, mirrored only with leave."""
    wanted = [
        (NestPart(f"{k}", shape.profile, quantity, turns, mirror=mirror), shape)
        for k, (shape, quantity, mirror, turns) in enumerate(drawn)
    ]
    laid(wanted, Stock(150, 110), gap_mm=gap, margin_mm=2)
