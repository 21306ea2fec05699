"""Faults: every one is found at its place, and sound shapes have none."""

import math

import pytest
import shapely
from hypothesis import given, settings, strategies as st

from platekit.errors import GeometryError
from platekit.geometry.chains import Contour, circle, closed_polyline
from platekit.geometry.curves import Arc, Line
from platekit.geometry.faults import Rule, find_crossed, find_faults, require_sound
from platekit.geometry.points import Point
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import rectangle, slot


def arched(rise: float) -> Contour:
    """A 20 x 10 bar whose lower side bulges up by `rise`: through the top above 10."""
    r = (rise**2 + 100) / (2 * rise)
    return Contour.of(
        [
            Arc(Point(0.0, 0.0), Point(20.0, 0.0), Point(10.0, rise - r), r, ccw=False),
            Line(Point(20.0, 0.0), Point(20.0, 10.0)),
            Line(Point(20.0, 10.0), Point(0.0, 10.0)),
            Line(Point(0.0, 10.0), Point(0.0, 0.0)),
        ]
    )


SELF = [
    pytest.param(
        closed_polyline([(0, 0), (10, 10), (10, 0), (0, 12)]), (60 / 11, 60 / 11), id="bow-tie"
    ),
    pytest.param(closed_polyline([(0, 0), (9, 0), (9, 9), (9, 0), (0, 5)]), (9, 0), id="spike"),
    pytest.param(
        closed_polyline([(0, 0), (20, 0), (20, 10), (10, 0), (0, 10)]),
        (10, 0),
        id="corner on a side",
    ),
    pytest.param(
        closed_polyline([(0, 0), (20, 0), (20, 10), (15, 10), (15, 0), (5, 0), (5, 10), (0, 10)]),
        None,
        id="two sides on one line",
    ),
    pytest.param(arched(9.9999), (10, 10), id="arc a tenth of a micron too high"),
]


@pytest.mark.parametrize(("shape", "at"), SELF[:4])
def test_self_crossings_are_found_where_they_are(shape, at):
    """A ring that crosses or touches itself is reported once, at the place."""
    faults = [f for f in find_faults(shape) if f.rule is Rule.SELF]
    assert len(faults) == 1
    if at is not None:
        assert faults[0].at == pytest.approx(at, abs=1e-6)
    assert f"crosses or touches itself at ({faults[0].at.x:.6g}" in str(faults[0])


@pytest.mark.parametrize(
    ("rise", "sound"),
    [(9.99, True), (9.99999, True), (10.0, False), (10.00001, False), (11, False)],
)
def test_arcs_are_judged_exactly(rise, sound):
    """A bulge 0.01 um short of the far side is sound; one that touches or passes it is not."""
    assert (find_faults(arched(rise)) == ()) == sound


def test_neighbours_that_cross_again_are_found():
    """A line back across the arc it leaves meets it twice: at their corner and beyond."""
    shape = Contour.of(
        [
            Arc(Point(10.0, 0.0), Point(-10.0, 0.0), Point(0.0, 0.0), 10.0, ccw=True),
            Line(Point(-10.0, 0.0), Point(8.0, 9.0)),
            Line(Point(8.0, 9.0), Point(12.0, 9.0)),
            Line(Point(12.0, 9.0), Point(10.0, 0.0)),
        ]
    )
    assert [f.rule for f in find_faults(shape)] == [Rule.SELF]


def plate(*holes: Contour) -> Profile:
    """A 50 mm square with holes."""
    return Profile(rectangle(50, 50), holes)


BETWEEN = [
    pytest.param(plate(circle((48, 10), diameter_mm=5)), Rule.APART, 1, 0, id="across the edge"),
    pytest.param(plate(circle((47.5, 10), diameter_mm=5)), Rule.APART, 1, 0, id="touches edge"),
    pytest.param(plate(circle((80, 10), diameter_mm=5)), Rule.INSIDE, 1, None, id="off the plate"),
    pytest.param(
        plate(circle((10, 10), diameter_mm=5), circle((12, 10), diameter_mm=5)), Rule.APART, 2, 1,
        id="two holes overlap",
    ),
    pytest.param(
        plate(circle((10, 10), diameter_mm=5), circle((15, 10), diameter_mm=5)), Rule.APART, 2, 1,
        id="two holes touch",
    ),
    pytest.param(
        plate(circle((30, 30), diameter_mm=15), circle((30, 30), diameter_mm=5)), Rule.NESTED, 2, 1,
        id="hole in a hole",
    ),
    pytest.param(
        plate(rectangle(90, 90, centre=(25, 25))), Rule.INSIDE, 1, None, id="hole around the plate"
    ),
]  # fmt: skip


@pytest.mark.parametrize(("shape", "rule", "ring", "other"), BETWEEN)
def test_rings_astray_are_found_by_number(shape, rule, ring, other):
    """The fault names the rule, the ring and the other ring."""
    assert [(f.rule, f.ring, f.other) for f in find_faults(shape)] == [(rule, ring, other)]


def test_sound_shapes_have_no_fault():
    """Two hundred holes a micron's thousandth clear of nothing: no fault, quickly enough."""
    holes = [circle((6 + 8 * i, 6 + 8 * j), diameter_mm=6) for i in range(20) for j in range(10)]
    assert find_faults(Profile(rectangle(180, 100), tuple(holes))) == ()


def test_require_sound_counts_the_rest():
    """The error gives the first fault and how many more there are."""
    shape = plate(circle((48, 10), diameter_mm=5), circle((80, 10), diameter_mm=5))
    with pytest.raises(GeometryError, match=r"hole 1 crosses.*\(the outline\).*and 1 more"):
        require_sound(shape)
    require_sound(plate(circle((10, 10), diameter_mm=5)))


def test_crossed_rings_are_told_from_overlapping_ones():
    """Rings judged each by itself may overlap each other."""
    bow = closed_polyline([(0, 0), (10, 10), (10, 0), (0, 12)])
    assert [f.ring for f in find_crossed([slot(20, 5), slot(20, 6), bow])] == [2]


@settings(derandomize=True, max_examples=200, deadline=None)
@given(points=st.lists(st.tuples(st.integers(0, 12), st.integers(0, 12)), min_size=3, max_size=8))
def test_polygons_are_judged_as_shapely_judges_them(points):
    """On grid polygons, touching and overlapping included, shapely.is_valid agrees."""
    if any(a == b for a, b in zip(points, points[1:] + points[:1], strict=True)):
        return
    contour = closed_polyline(points)
    if abs(contour.signed_area_mm2) < 1e-6:
        return
    assert (find_faults(contour) == ()) == shapely.Polygon(points).is_valid


# To a thousandth of a micron, as drawings state sizes.
PLACE = st.integers(-10_000_000, 60_000_000).map(lambda n: n / 1e6)
DISC = st.tuples(PLACE, PLACE, st.floats(0.5, 30))


@settings(derandomize=True, max_examples=150, deadline=None)
@given(one=DISC, other=DISC)
def test_holes_are_judged_by_plane_geometry(one, other):
    """A square with two round holes is sound exactly when all clearances are above 0."""
    shape = plate(*(circle((x, y), diameter_mm=d) for x, y, d in (one, other)))
    clear = [min(x, y, 50 - x, 50 - y) - d / 2 for x, y, d in (one, other)]
    clear.append(math.dist(one[:2], other[:2]) - (one[2] + other[2]) / 2)
    if all(abs(c) > 1e-5 for c in clear):
        assert (find_faults(shape) == ()) == all(c > 0 for c in clear)
