"""Drawings: what is cut, and in which order."""

from __future__ import annotations

import math
import random
from itertools import pairwise

import pytest

from platekit.cutting.doubles import double_cuts
from platekit.cutting.drawing import (
    Drawing,
    Entry,
    Layer,
    Note,
    Piece,
    part_drawing,
    sheet_drawing,
)
from platekit.cutting.order import nearest_first, part_order
from platekit.geometry.chains import Contour, circle, polyline
from platekit.geometry.curves import Arc, Line
from platekit.geometry.motion import Motion
from platekit.geometry.points import Point
from platekit.geometry.profile import Profile
from platekit.panel.part import Mark
from tests.geometry.offset_shapes import rectangle

RING = Profile(rectangle(0, 0, 40, 40), (rectangle(10, 10, 30, 30),))
SMALL = Profile(rectangle(0, 0, 10, 10), (circle((5, 5), diameter_mm=4),))
TINY = Profile(rectangle(0, 0, 2, 2))


def layers(drawing: Drawing) -> list[Layer]:
    """Return the layer of every entry in cut order."""
    return [entry.layer for entry in drawing.entries]


class TestPartDrawing:
    """One part, one file."""

    def test_the_lower_left_corner_is_the_origin(self) -> None:
        """A part drawn anywhere comes out with its bounds at the origin, to the last bit."""
        path = Profile(rectangle(-7.3, 12.1, 32.7, 20.6), (circle((0, 15), diameter_mm=3),))
        drawing = part_drawing("base", path)
        assert (drawing.width_mm, drawing.height_mm) == pytest.approx((40, 8.5))
        box = drawing.entries[-1].shape.bounds
        assert (box.left, box.bottom) == (0.0, 0.0)

    def test_scores_then_holes_then_the_outside(self) -> None:
        """What is cut loose is cut last."""
        marks = (Mark(polyline([(1, 1), (5, 1)])), Mark(polyline([(1, 2), (5, 2)]), "note"))
        drawing = part_drawing("base", SMALL, marks=marks)
        assert layers(drawing) == [Layer.SCORE, Layer.NOTE, Layer.INSIDE_CUT, Layer.OUTSIDE_CUT]
        assert {entry.part for entry in drawing.entries} == {"base"}

    def test_marks_and_notes_move_along(self) -> None:
        """A mark keeps its place on the part."""
        path = Profile(rectangle(10, 20, 30, 40))
        drawing = part_drawing(
            "base",
            path,
            marks=[Mark(polyline([(12, 25), (15, 25)]))],
            notes=[Note("up", Point(11, 21), 3.0)],
        )
        assert drawing.entries[0].shape.start == Point(2, 5)
        assert drawing.notes == (Note("up", Point(1, 1), 3.0),)

    def test_holes_go_by_the_nearest_next(self) -> None:
        """A row of holes is cut along the row, whatever order it was drawn in."""
        places = [40.0, 10.0, 30.0, 20.0, 50.0]
        holes = tuple(circle((x, 10), diameter_mm=4) for x in places)
        drawing = part_drawing("base", Profile(rectangle(0, 0, 60, 20), holes))
        centres = [entry.shape.bounds.centre.x for entry in drawing.entries[:-1]]
        assert centres == pytest.approx(sorted(places))


class TestSheetDrawing:
    """Several parts on one sheet."""

    def test_part_after_part(self) -> None:
        """Each part is finished before the next begins; the nearest comes next."""
        pieces = [
            Piece(name="c", path=SMALL, motion=Motion(dx_mm=60)),
            Piece(name="a", path=SMALL, motion=Motion(dx_mm=1)),
            Piece(name="b", path=SMALL, motion=Motion(dx_mm=30, turn_deg=90)),
        ]
        drawing = sheet_drawing(pieces, width_mm=100, height_mm=50)
        assert [entry.part for entry in drawing.entries] == list("aabbcc")
        assert layers(drawing) == [Layer.INSIDE_CUT, Layer.OUTSIDE_CUT] * 3

    def test_a_part_in_a_hole_comes_before_the_hole(self) -> None:
        """Three deep: the innermost first, and no part after the hole that frees it."""
        pieces = [
            Piece(name="ring", path=RING),
            Piece(name="small", path=SMALL, motion=Motion(dx_mm=15, dy_mm=15)),
            Piece(name="tiny", path=TINY, motion=Motion(dx_mm=19, dy_mm=19)),
        ]
        for order in (pieces, pieces[::-1]):
            drawing = sheet_drawing(order, width_mm=50, height_mm=50)
            parts = list(dict.fromkeys(entry.part for entry in drawing.entries))
            assert parts == ["tiny", "small", "ring"]

    def test_a_part_beside_a_hole_is_free(self) -> None:
        """A part in a bay of the bounds, but in no hole, waits for nobody."""
        assert part_order([RING, SMALL.moved(Motion(dx_mm=45))], begin=Point(0, 0)) == [0, 1]

    def test_marks_move_with_their_copy(self) -> None:
        """A mark on a turned copy turns with it."""
        mark = Mark(polyline([(1, 0), (3, 0)]))
        piece = Piece(
            name="a", path=SMALL, marks=(mark,), motion=Motion(dx_mm=20, dy_mm=5, turn_deg=90)
        )
        drawing = sheet_drawing([piece], width_mm=50, height_mm=50)
        assert drawing.entries[0].shape.start == Point(20, 6)
        assert drawing.entries[0].shape.end == Point(20, 8)

    def test_an_empty_sheet_has_no_entries(self) -> None:
        """No parts, no cuts."""
        assert sheet_drawing([], width_mm=9, height_mm=9) == Drawing(9, 9, ())

    def test_the_order_is_complete_and_short(self) -> None:
        """Every contour once; the way over 80 random holes is under a third of the drawn one."""
        rng = random.Random(4)  # noqa: S311  places, not secrets
        at = [Point(rng.uniform(0, 300), rng.uniform(0, 200)) for _ in range(80)]
        order = nearest_first(at, begin=Point(0, 0))
        assert sorted(order) == list(range(80))

        def way(points: list[Point]) -> float:
            return sum(math.dist(a, b) for a, b in pairwise(points))

        assert way([at[k] for k in order]) < way(at) / 3


class TestDoubleCuts:
    """Lines the beam would run along twice."""

    def test_a_hole_drawn_twice_is_found(self) -> None:
        """Once for the pair, with its whole circumference."""
        hole = circle((5, 5), diameter_mm=4)
        drawing = part_drawing("base", Profile(rectangle(0, 0, 10, 10), (hole, hole)))
        (finding,) = double_cuts(drawing)
        assert finding.value == pytest.approx(4 * math.pi, abs=1e-3)
        assert finding.part == "base"

    def test_parts_that_share_an_edge_are_found(self) -> None:
        """Two plates pushed together share 10 mm; both are named."""
        pieces = [
            Piece(name="a", path=TINY),
            Piece(name="b", path=Profile(rectangle(2, 1, 9, 6))),
        ]
        (finding,) = double_cuts(sheet_drawing(pieces, width_mm=20, height_mm=20))
        assert (finding.part, finding.value) == ("a + b", pytest.approx(1.0))

    @pytest.mark.parametrize(
        ("shape", "overlap"),
        [
            pytest.param(rectangle(10.01, 0, 20, 10), 0.0, id="a hundredth apart"),
            pytest.param(rectangle(10.0005, 0, 20, 10), 10.0, id="half a micron apart"),
            pytest.param(rectangle(10, 10, 20, 20), 0.0, id="corner to corner"),
            pytest.param(rectangle(-5, 10, 15, 20), 10.0, id="a longer edge along a shorter"),
        ],
    )
    def test_only_shared_stretches_count(self, shape: Contour, overlap: float) -> None:
        """Neighbours are no double cut, coincidence is."""
        drawing = Drawing(
            30,
            30,
            (
                Entry(Layer.OUTSIDE_CUT, rectangle(0, 0, 10, 10), "a"),
                Entry(Layer.OUTSIDE_CUT, shape, "b"),
            ),
        )
        found = sum(f.value or 0.0 for f in double_cuts(drawing))
        assert found == pytest.approx(overlap, abs=1e-3)

    def test_arcs_that_run_along_each_other_are_found(self) -> None:
        """Two half discs of one circle overlap by a quarter of it, whichever way they run."""

        def half(turn_deg: float) -> Contour:
            a, b = Point(5, 0), Point(-5, 0)
            ring = Contour.of([Arc(a, b, Point(0, 0), 5, ccw=True), Line(b, a)])
            return ring.moved(Motion(turn_deg=turn_deg))

        drawing = Drawing(
            30,
            30,
            (
                Entry(Layer.OUTSIDE_CUT, half(0), "a"),
                Entry(Layer.OUTSIDE_CUT, half(90).reversed(), "b"),
            ),
        )
        (finding,) = double_cuts(drawing)
        assert finding.value == pytest.approx(5 * math.pi / 2, abs=1e-3)

    def test_scores_may_cross_cuts(self) -> None:
        """Only what cuts through counts."""
        drawing = Drawing(
            10,
            10,
            (
                Entry(Layer.SCORE, rectangle(0, 0, 10, 10), "a"),
                Entry(Layer.OUTSIDE_CUT, rectangle(0, 0, 10, 10), "a"),
            ),
        )
        assert double_cuts(drawing) == ()
