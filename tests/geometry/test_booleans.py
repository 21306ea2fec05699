"""Booleans: exact coordinates, checked against closed forms and fine shapely overlays."""

from __future__ import annotations

import math
import warnings
from collections.abc import Sequence

import pytest
import shapely
from hypothesis import HealthCheck, given, settings, strategies as st

from platekit.errors import ApproximationWarning, GeometryError
from platekit.geometry.booleans import (
    difference,
    difference_all,
    intersection,
    single,
    union,
    union_all,
)
from platekit.geometry.chains import Contour, circle
from platekit.geometry.chords import to_polygon
from platekit.geometry.curves import Arc, Line
from platekit.geometry.faults import find_faults
from platekit.geometry.profile import Profile
from tests.geometry.awkward import d_ring, profiles, rectangle_ring, slot_ring
from tests.geometry.offset_shapes import random_profiles, seeded

CALM = settings(
    max_examples=150, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck)
)
OPERATIONS = {"union": union, "difference": difference, "intersection": intersection}


def fine(operation: str, operands: Sequence[Profile]) -> shapely.Geometry:
    """Return shapely's own answer on chords of 0.01 um."""
    first, *rest = (to_polygon(p, tolerance_mm=1e-5) for p in operands)
    if operation == "union":
        return shapely.union_all([first, *rest])
    if operation == "difference":
        return first.difference(shapely.union_all(rest))
    for other in rest:
        first = first.intersection(other)
    return first


def require_like_shapely(operation: str, operands: Sequence[Profile]) -> None:
    """Compare area, soundness and the curves themselves; a warned polyline counts as a failure."""
    result = OPERATIONS[operation](*operands)
    wanted = fine(operation, operands)
    area = sum(piece.area_mm2 for piece in result)
    assert abs(area - wanted.area) <= 5e-5 * max(wanted.length, 1.0)
    radii = {
        segment.radius_mm
        for p in operands
        for s in p.rings
        for segment in s.segments
        if isinstance(segment, Arc)
    }
    for piece in result:
        for ring in piece.rings:
            Contour(ring.table)  # raises when it does not join up
            for segment in ring.segments:
                # A radius survives every operation to the last bit: it is never fitted.
                assert isinstance(segment, Line) or segment.radius_mm in radii


@CALM
@given(st.sampled_from(sorted(OPERATIONS)), st.lists(profiles(), min_size=2, max_size=5))
def test_random_designs_agree_with_a_fine_overlay(operation: str, operands: list[Profile]) -> None:
    """Random circles, slots, rectangles and D's: area within 0.05 um times the edge length."""
    require_like_shapely(operation, operands)


@CALM
@given(
    st.sampled_from(sorted(OPERATIONS)),
    st.sampled_from([0.5, 1.0, 2.0]).flatmap(
        lambda grid: st.lists(profiles(grid), min_size=2, max_size=5)
    ),
)
def test_designs_on_a_grid_agree_with_a_fine_overlay(
    operation: str, operands: list[Profile]
) -> None:
    """On a coarse grid edges coincide and circles touch: the same bound holds."""
    with warnings.catch_warnings():
        # Shapes that touch in single points have no one right ring count; a warned polyline is
        # allowed here, and counted in the stress test of the benchmarks.
        warnings.simplefilter("ignore", ApproximationWarning)
        result = OPERATIONS[operation](*operands)
    wanted = fine(operation, operands)
    area = sum(piece.area_mm2 for piece in result)
    assert abs(area - wanted.area) <= 5e-5 * max(wanted.length, 1.0)


def test_lens_of_two_circles_has_its_textbook_area() -> None:
    """Two unit-like circles: area 2 r^2 acos(d/2r) - d/2 sqrt(4 r^2 - d^2) (closed form)."""
    r, d = 5.0, 6.0
    lens = intersection(
        Profile(circle((0, 0), diameter_mm=2 * r)), Profile(circle((d, 0), diameter_mm=2 * r))
    )
    closed = 2 * r * r * math.acos(d / (2 * r)) - d / 2 * math.sqrt(4 * r * r - d * d)
    assert single(lens, after="intersecting").area_mm2 == pytest.approx(closed, abs=1e-12)


def test_two_hundred_holes_stay_circles() -> None:
    """Holes cut from a plate pass through to the last bit: circles, not polylines."""
    plate = Profile(rectangle_ring(0, 0, 300, 190))
    holes = [
        Profile(circle((14 + 14 * i, 14 + 17 * j), diameter_mm=2 + 0.5 * ((i * 7 + j * 3) % 13)))
        for i in range(20)
        for j in range(10)
    ]
    drilled = single(difference(plate, *holes), after="drilling")
    assert drilled.outer == plate.outer
    assert {ring.reversed() for ring in drilled.inners} == {hole.outer for hole in holes}


def test_holes_nobody_touched_survive_a_cut_at_the_edge() -> None:
    """A notch at the edge leaves far holes bit for bit as they were."""
    hole = circle((20, 20), diameter_mm=6.6)
    plate = Profile(rectangle_ring(0, 0, 100, 60), (hole,))
    notched = single(difference(plate, Profile(rectangle_ring(90, 20, 20, 10))), after="notching")
    assert notched.inners == plate.inners
    assert len(notched.outer.segments) == 8


def test_forty_chained_operations_lose_nothing() -> None:
    """Cutting and refilling forty times drifts neither area nor radius (design notes: 1e-9)."""
    shape = Profile(slot_ring(0, 0, 60, 20))
    start = shape.area_mm2
    for k in range(20):
        bite = Profile(circle((-20 + 2 * k, 10), diameter_mm=7))
        shape = single(difference(shape, bite), after="biting")
        shape = single(union(shape, bite), after="refilling")
        shape = single(intersection(shape, Profile(slot_ring(0, 0, 60, 20))), after="trimming")
    assert shape.area_mm2 == pytest.approx(start, abs=1e-9)
    radii = {s.radius_mm for s in shape.outer.segments if isinstance(s, Arc)}
    assert radii == {10.0}


@pytest.mark.parametrize("operation", ["union", "intersection"])
def test_the_order_of_operands_does_not_matter(operation: str) -> None:
    """Union and intersection commute: the same corners within a picometre's thousandth."""
    a, b = Profile(d_ring(0, 0, 8, 3)), Profile(slot_ring(4, 2, 18, 5, 30))
    one, two = OPERATIONS[operation](a, b), OPERATIONS[operation](b, a)
    for p, q in zip(one, two, strict=True):
        assert p.outer.table == pytest.approx(q.outer.table, abs=1e-9)


def test_edges_in_common_leave_no_seam() -> None:
    """Two rectangles side by side join to one of four sides; a shared circle stays one circle."""
    left, right = Profile(rectangle_ring(0, 0, 10, 5)), Profile(rectangle_ring(10, 0, 10, 5))
    assert union(left, right) == (Profile(rectangle_ring(0, 0, 20, 5)),)
    disc = Profile(circle((0, 0), diameter_mm=10))
    assert intersection(disc, disc) == (disc,)
    assert difference(disc, disc) == ()


def test_a_ring_cutter_leaves_an_island() -> None:
    """A cutter with a hole leaves the hole's inside standing as a piece of its own."""
    plate = Profile(rectangle_ring(-20, -20, 40, 40))
    groove = Profile(circle((0, 0), diameter_mm=20), (circle((0, 0), diameter_mm=10),))
    pieces = difference(plate, groove)
    assert len(pieces) == 2
    island = min(pieces, key=lambda piece: piece.area_mm2)
    assert island.outer.is_circle
    assert island.area_mm2 == pytest.approx(math.pi * 25, abs=1e-12)


def test_circles_that_touch_from_inside_leave_the_larger_whole() -> None:
    """Inner tangency in one point changes nothing (a chord-wide sliver must not survive)."""
    big, small = Profile(circle((18, -4), diameter_mm=24)), Profile(circle((18, 6), diameter_mm=4))
    assert union(big, small) == (big,)
    assert difference(small, big) == ()


def test_shallow_crossings_are_exact() -> None:
    """Two circles that overlap by 15 um cross where the radical line says (closed form)."""
    r, d = 30.0, 59.985
    joined = single(
        union(
            Profile(circle((0, 0), diameter_mm=2 * r)), Profile(circle((d, 0), diameter_mm=2 * r))
        ),
        after="joining",
    )
    height = math.sqrt(r * r - d * d / 4)
    corners = sorted(segment.start for segment in joined.outer.segments)
    assert corners[0] == pytest.approx((d / 2, -height), abs=1e-9)
    assert corners[1] == pytest.approx((d / 2, height), abs=1e-9)


def test_many_subjects_and_cutters_at_once() -> None:
    """`union_all` and `difference_all` take any number; far ones pass through untouched."""
    discs = [Profile(circle((10.0 * k, 0), diameter_mm=12)) for k in range(5)]
    apart = Profile(circle((500, 0), diameter_mm=12))
    chain = union_all([*discs, apart])
    assert len(chain) == 2
    assert apart in chain
    cut = difference_all(chain, [Profile(rectangle_ring(-10, -1, 70, 2))])
    assert len(cut) == 3


def test_what_cannot_be_is_said() -> None:
    """A shape that falls apart, vanishes or was never given is an error with a remedy."""
    plate = Profile(rectangle_ring(0, 0, 10, 10))
    with pytest.raises(GeometryError, match="falls into 2 pieces after sawing; move or shrink"):
        single(difference(plate, Profile(rectangle_ring(4, -1, 2, 12))), after="sawing")
    with pytest.raises(GeometryError, match="nothing is left after sawing"):
        single(difference(plate, Profile(rectangle_ring(-1, -1, 12, 12))), after="sawing")
    with pytest.raises(GeometryError, match="intersection of nothing"):
        intersection()


def test_a_wedge_between_arcs_that_all_but_touch_ends_at_the_right_meeting() -> None:
    """Two arcs that overlap by a tenth of a micron over 20 um: the ring must not cross itself.

    Found by random search; the wrong one of the two meetings left a loop of 1e-9 mm2.
    """
    for piece in random_profiles(seeded(50686)):
        assert find_faults(piece) == ()


def test_outlines_and_results_serve_as_operands() -> None:
    """A contour, a profile and what a boolean gave back may all be joined, cut and intersected."""
    left, right = rectangle_ring(0, 0, 10, 5), rectangle_ring(8, 0, 10, 5)
    joined = union(left, Profile(right))
    assert joined == (Profile(rectangle_ring(0, 0, 18, 5)),)
    assert difference(joined, right) == (Profile(rectangle_ring(0, 0, 8, 5)),)
    assert intersection(joined, rectangle_ring(-5, -5, 9, 20)) == (
        Profile(rectangle_ring(0, 0, 4, 5)),
    )
