"""Fillets and chamfers: tangent on both sides, exact radii, refused where they do not fit."""

import math

import pytest
from hypothesis import given, reject, settings, strategies as st

from platekit.errors import GeometryError
from platekit.geometry.chains import Contour, circle, closed_polyline
from platekit.geometry.corners import chamfer, corner_near, corner_points, fillet
from platekit.geometry.curves import Arc, Line
from platekit.geometry.faults import find_faults
from platekit.geometry.points import Point, between
from platekit.geometry.shapes import d_shape, keyed_circle, rectangle
from platekit.geometry.tables import tangents
from platekit.geometry.trace import trace_from


def smooth_at(contour: Contour, arc: Arc) -> bool:
    """Whether the contour runs smoothly into and out of `arc`."""
    k = contour.segments.index(arc)
    leave, arrive = tangents(contour.table, at_end=False), tangents(contour.table, at_end=True)
    n = len(contour.table)
    return all(
        abs(arrive[a] @ leave[b] - 1) < 1e-9 for a, b in [((k - 1) % n, k), (k, (k + 1) % n)]
    )


@st.composite
def star_polygons(draw):
    """Simple polygons, convex and hollow corners both: points by angle around a middle."""
    n = draw(st.integers(3, 9))
    radii = [draw(st.floats(10, 60)) for _ in range(n)]
    return [
        (r * math.cos(2 * math.pi * k / n), r * math.sin(2 * math.pi * k / n))
        for k, r in enumerate(radii)
    ]


@settings(derandomize=True, max_examples=150, deadline=None)
@given(points=star_polygons(), radius=st.floats(0.2, 6))
def test_fillets_of_polygons_match_the_closed_form(points, radius):
    """Each corner of turn w loses r^2 (tan(w/2) - w/2) outside or gains it inside."""
    sharp = closed_polyline(points)
    try:
        made = fillet(sharp, radius_mm=radius)
    except GeometryError:
        reject()
    expected = sharp.area_mm2
    n = len(points)
    for k, _ in corner_points(sharp):
        a, b, c = points[k - 1], points[k], points[(k + 1) % n]
        u, v = (b[0] - a[0], b[1] - a[1]), (c[0] - b[0], c[1] - b[1])
        w = math.atan2(u[0] * v[1] - u[1] * v[0], u[0] * v[0] + u[1] * v[1])
        size = radius**2 * (math.tan(abs(w) / 2) - abs(w) / 2)
        expected -= math.copysign(size, w)
    assert made.area_mm2 == pytest.approx(expected, rel=1e-9)
    arcs = [s for s in made.segments if isinstance(s, Arc)]
    assert {arc.radius_mm for arc in arcs} == {radius}
    assert all(smooth_at(made, arc) for arc in arcs)


@settings(derandomize=True, max_examples=100, deadline=None)
@given(
    bore=st.floats(10, 40),
    b=st.floats(0.2, 0.8),
    depth=st.floats(1, 6),
    radius=st.floats(0.05, 0.9),
)
def test_fillets_between_line_and_arc_touch_both(bore, b, depth, radius):
    """In a keyed bore line meets arc: every fillet is smooth, of its radius, and simple."""
    keyed = keyed_circle(bore, key_width_mm=b * bore, key_depth_mm=depth)
    try:
        made = fillet(keyed, radius_mm=radius)
    except GeometryError:
        reject()
    rounds = [s for s in made.segments if isinstance(s, Arc) and s.radius_mm == radius]
    assert len(rounds) == 4
    assert all(smooth_at(made, arc) for arc in rounds)
    assert find_faults(made) == ()


def lens(radius: float, apart: float) -> Contour:
    """Two equal arcs that meet in two points: corners between arcs."""
    half = math.sqrt(radius**2 - (apart / 2) ** 2)
    low, high = Point(0.0, -half), Point(0.0, half)
    return Contour.of(
        [
            Arc(low, high, Point(-apart / 2, 0.0), radius, ccw=True),
            Arc(high, low, Point(apart / 2, 0.0), radius, ccw=True),
        ]
    )


@settings(derandomize=True, max_examples=60, deadline=None)
@given(radius=st.floats(10, 50), share=st.floats(0.3, 1.7), small=st.floats(0.1, 2))
def test_fillets_between_arcs_touch_both(radius, share, small):
    """In a lens arc meets arc: the fillet's centre lies R - r from both (inner tangency)."""
    shape = lens(radius, share * radius)
    try:
        made = fillet(shape, radius_mm=small)
    except GeometryError:
        reject()
    rounds = [s for s in made.segments if isinstance(s, Arc) and s.radius_mm == small]
    assert len(rounds) == 2
    for arc in rounds:
        assert smooth_at(made, arc)
        for side in (-1, 1):
            gap = between(arc.centre, (side * share * radius / 2, 0))
            assert gap == pytest.approx(radius - small, abs=1e-9)


def test_hollow_corner_between_line_and_arc():
    """Outer tangency: a fillet in the nook of a bump has its centre R + r from the bump's."""
    bump = (
        trace_from((-30, 0)).line_to((-10, 0)).arc_to((10, 0), radius_mm=10, ccw=False)
        .line_to((30, 0)).line_to((30, -20)).line_to((-30, -20)).close()
    )  # fmt: skip
    nooks = [corner_near(bump, (-10, 0)), corner_near(bump, (10, 0))]
    made = fillet(bump, radius_mm=3, corners=nooks)
    rounds = [s for s in made.segments if isinstance(s, Arc) and s.radius_mm == 3]
    assert len(rounds) == 2
    for arc in rounds:
        assert between(arc.centre, (0, 0)) == pytest.approx(13, abs=1e-9)
        assert abs(arc.centre.y) == pytest.approx(3, abs=1e-9)
        assert smooth_at(made, arc)


def test_fillet_that_uses_up_a_side_leaves_no_stump():
    """Radius 2 on a 10 x 4 bar: the short sides are gone, four arcs and two lines stay."""
    made = fillet(rectangle(10, 4), radius_mm=2)
    assert len(made.segments) == 6
    assert made.area_mm2 == pytest.approx(24 + 4 * math.pi, rel=1e-13)


def test_full_radius_of_a_square_is_a_circle_of_four_arcs():
    """Radius 5 on a 10 mm square: area of the disc."""
    assert fillet(rectangle(10, 10), radius_mm=5).area_mm2 == pytest.approx(25 * math.pi)


def test_chamfer_of_chosen_corners_only():
    """A 3 mm chamfer at one corner takes 4.5 mm2 and leaves three corners sharp."""
    made = chamfer(rectangle(20, 10), setback_mm=3, corners=[2])
    assert made.area_mm2 == pytest.approx(200 - 4.5)
    assert len(made.segments) == 5


def test_chamfer_on_an_arc_is_measured_along_it():
    """On a D the cut begins 2 mm along the flat and 2 mm of arc away from the corner."""
    made = chamfer(d_shape(20, 15), setback_mm=2)
    arc = next(s for s in made.segments if isinstance(s, Arc))
    whole = next(s for s in d_shape(20, 15).segments if isinstance(s, Arc))
    assert arc.length_mm == pytest.approx(whole.length_mm - 4, abs=1e-9)
    assert sum(isinstance(s, Line) for s in made.segments) == 3


def test_smooth_joins_are_no_corners():
    """A filleted rectangle has no corner left to round; a circle has none at all."""
    assert corner_points(rectangle(20, 10, fillet_mm=2)) == ()
    assert fillet(rectangle(20, 10, fillet_mm=2), radius_mm=1) == rectangle(20, 10, fillet_mm=2)
    assert corner_points(circle((0, 0), diameter_mm=3)) == ()


BAD_CORNERS = [
    (lambda: fillet(rectangle(20, 10), radius_mm=6), "corner 1 at (20, 0); give at most 5 mm"),
    (lambda: fillet(rectangle(20, 10), radius_mm=[11, 1], corners=[2, 0]), "corner 2 at (20, 10)"),
    (lambda: fillet(rectangle(20, 10), radius_mm=-1), "radius is -1 mm"),
    (lambda: fillet(rectangle(20, 10), radius_mm=math.nan), "radius is nan mm"),
    (lambda: fillet(rectangle(20, 10), radius_mm=1, corners=[7]), "no corner 7; corners are: 0, 1"),
    (lambda: fillet(rectangle(20, 10), radius_mm=1, corners=[1, 1]), "named twice"),
    (lambda: fillet(rectangle(20, 10), radius_mm=[1, 2], corners=[1]), "2 sizes are given for 1"),
    (lambda: chamfer(rectangle(20, 10), setback_mm=11), "corner 0 at (0, 0); give at most 5 mm"),
    (lambda: chamfer(rectangle(20, 10), setback_mm=0), "setback is 0 mm"),
    (lambda: fillet(lens(20, 10), radius_mm=30), "does not fit corner 0"),
    (lambda: corner_near(circle((0, 0), diameter_mm=3), (1, 1)), "has no corners"),
]


@pytest.mark.parametrize(("make", "says"), BAD_CORNERS)
def test_sizes_that_do_not_fit_name_the_corner(make, says):
    """The message gives the corner, its place and the largest size that fits."""
    with pytest.raises(GeometryError) as caught:
        make()
    assert says in str(caught.value)


@pytest.mark.parametrize("shape", [rectangle(20, 10), d_shape(20, 15), lens(20, 12)])
def test_the_offered_size_does_fit(shape):
    """Taking the message at its word works: the largest size it offers is accepted."""
    with pytest.raises(GeometryError) as caught:
        fillet(shape, radius_mm=500)
    offered = float(caught.value.remedy.split()[3])
    assert find_faults(fillet(shape, radius_mm=offered)) == ()
    with pytest.raises(GeometryError):
        fillet(shape, radius_mm=offered + 0.002)
