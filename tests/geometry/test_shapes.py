"""Stock shapes against closed forms and what the trade measures on them."""

import math
from itertools import pairwise

import pytest
import shapely
from hypothesis import given, settings, strategies as st

from platekit.errors import GeometryError
from platekit.geometry.chains import circle, closed_polyline
from platekit.geometry.chords import to_polygon
from platekit.geometry.curves import Arc, Line
from platekit.geometry.faults import find_faults
from platekit.geometry.hull import hull
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import (
    arc_slot,
    d_shape,
    double_d,
    keyed_circle,
    polygon,
    rectangle,
    regular_polygon,
    ring,
    slot,
    slot_between,
)
from platekit.geometry.trace import trace_from

PI = math.pi


def _segment_area(r: float, height: float) -> float:
    """Area of a circular segment, any table of plane figures: r^2 acos(1-h/r) - (r-h) sqrt(...)."""
    return r * r * math.acos(1 - height / r) - (r - height) * math.sqrt(2 * r * height - height**2)


CLOSED_FORMS = [
    pytest.param(rectangle(140, 110), 140 * 110, 500, id="rectangle"),
    pytest.param(
        rectangle(140, 110, fillet_mm=8),
        140 * 110 - (4 - PI) * 64,
        500 - 64 + 2 * PI * 8,
        id="filleted rectangle: each corner loses (1 - pi/4) r^2",
    ),
    pytest.param(
        rectangle(140, 110, chamfer_mm=8),
        140 * 110 - 4 * 32,
        500 - 64 + 4 * 8 * math.sqrt(2),
        id="chamfered rectangle: each corner loses c^2 / 2",
    ),
    pytest.param(
        rectangle(30, 10, fillet_mm=5), 200 + 25 * PI, 40 + 10 * PI, id="fillets meet: a slot"
    ),
    pytest.param(slot(30, 10), 200 + 25 * PI, 40 + 10 * PI, id="slot by overall length"),
    pytest.param(
        slot_between((0, 0), (12, 16), width_mm=10),
        200 + 25 * PI,
        40 + 10 * PI,
        id="slot by ends, a 3-4-5 triangle apart",
    ),
    pytest.param(
        arc_slot(radius_mm=20, sweep_deg=90, width_mm=6),
        20 * PI / 2 * 6 + 9 * PI,
        20 * PI + 6 * PI,
        id="arc slot: width times centre line, plus two half discs",
    ),
    pytest.param(
        regular_polygon(6, across_flats_mm=10),
        math.sqrt(3) / 2 * 100,
        60 / math.sqrt(3),
        id="hexagon across flats: sqrt(3)/2 s^2",
    ),
    pytest.param(
        regular_polygon(4, circle_mm=10), 50, 4 * 10 / math.sqrt(2), id="square in a circle"
    ),
    pytest.param(
        d_shape(10, 8),
        PI * 25 - _segment_area(5, 2),
        None,
        id="D: disc less a segment",
    ),
    pytest.param(
        d_shape(10, 5), PI * 12.5, 5 * PI + 10, id="D cut through the middle: half a disc"
    ),
    pytest.param(
        double_d(10, 8), PI * 25 - 2 * _segment_area(5, 1), None, id="double D: less two segments"
    ),
]


@pytest.mark.parametrize(("shape", "area_mm2", "length_mm"), CLOSED_FORMS)
def test_shapes_have_the_area_and_length_of_their_closed_forms(shape, area_mm2, length_mm):
    """Area and length agree with plane geometry to rounding; the contour is sound and ccw."""
    assert shape.signed_area_mm2 == pytest.approx(area_mm2, rel=1e-13)
    if length_mm is not None:
        assert shape.length_mm == pytest.approx(length_mm, rel=1e-13)
    assert find_faults(shape) == ()


def test_filleted_rectangle_keeps_round_numbers():
    """A 140 x 110 plate with 8 mm corners has its tangent points at 8, 102 and 132 exactly."""
    table = rectangle(140, 110, fillet_mm=8).table
    assert set(table[:, [0, 1, 2, 3]].ravel()) == {0.0, 8.0, 102.0, 110.0, 132.0, 140.0}
    assert set(table[table[:, 7] != 0][:, 6]) == {8.0}


def test_ring_is_a_disc_less_a_disc():
    """A 40/24 ring has area pi (20^2 - 12^2) and two circles as its edges."""
    washer = ring(outside_mm=40, inside_mm=24, centre=(3, 4))
    assert washer.area_mm2 == pytest.approx(PI * (400 - 144), rel=1e-13)
    assert [edge.is_circle for edge in washer.rings] == [True, True]


# DIN 6885-1 hub keyways (from memory): bore, b, t2 and the depth d + t2 an inspector measures.
@pytest.mark.parametrize(
    ("bore", "width", "depth", "measured"),
    [(16, 5, 2.3, 18.3), (12, 4, 1.8, 13.8), (20, 6, 2.8, 22.8)],
)
def test_keyway_is_as_deep_as_hub_drawings_state(bore, width, depth, measured):
    """From the far side of the bore to the keyway's floor it measures d + t2."""
    bored = keyed_circle(bore, key_width_mm=width, key_depth_mm=depth)
    assert bored.bounds.height_mm == pytest.approx(measured, abs=1e-12)
    lines = [s for s in bored.segments if isinstance(s, Line)]
    floor = max(lines, key=lambda line: line.start.y + line.end.y)
    assert floor.length_mm == pytest.approx(width, abs=1e-12)
    # Disc, plus the keyway, less the piece of keyway that lies in the disc: exact by integration.
    r, h = bore / 2, width / 2
    under_arc = h * math.sqrt(r * r - h * h) + r * r * math.asin(h / r)
    assert bored.area_mm2 == pytest.approx(PI * r * r + width * (r + depth) - under_arc, rel=1e-12)


def test_d_measures_across_its_flat():
    """A caliper across the flat of a 10/8.5 D reads 8.5, whatever its centre."""
    shaft = d_shape(10, 8.5, centre=(30, -7))
    assert shaft.bounds.height_mm == pytest.approx(8.5, abs=1e-12)
    assert shaft.bounds.width_mm == pytest.approx(10, abs=1e-12)


@pytest.mark.parametrize("sides", [3, 4, 5, 6, 8, 12])
def test_polygons_touch_their_inner_circle(sides):
    """Every side of a polygon sized across flats is tangent to that circle (definition)."""
    made = regular_polygon(sides, across_flats_mm=13, centre=(5, 5), start_deg=7)
    for side in made.segments:
        middle = side.at(0.5)
        assert math.hypot(middle.x - 5, middle.y - 5) == pytest.approx(6.5, abs=1e-12)


def test_polygon_takes_a_radius_for_each_corner():
    """Radii 0, 2, 0 and 3 on a square cut (1 - pi/4) r^2 from two corners only."""
    made = polygon([(0, 0), (20, 0), (20, 20), (0, 20)], fillet_mm=[0, 2, 0, 3])
    assert made.area_mm2 == pytest.approx(400 - (1 - PI / 4) * (4 + 9), rel=1e-13)
    assert sorted(s.radius_mm for s in made.segments if isinstance(s, Arc)) == [2, 3]


BAD_SHAPES = [
    (lambda: rectangle(0, 10), "width is 0 mm"),
    (lambda: rectangle(10, -2), "height is -2 mm"),
    (lambda: rectangle(math.nan, 10), "width is nan mm"),
    (lambda: rectangle(10, math.inf), "height is inf mm"),
    (lambda: rectangle("10", 10), "width is 10 mm"),
    (lambda: rectangle(10, 4, fillet_mm=3), "give at most 2 mm"),
    (lambda: rectangle(10, 4, chamfer_mm=2.5), "give at most 2 mm"),
    (lambda: rectangle(10, 4, fillet_mm=1, chamfer_mm=1), "both a fillet and a chamfer"),
    (lambda: slot(5, 6), "5 mm long and 6 mm wide"),
    (lambda: slot_between((1, 1), (1, 1), width_mm=2), "begins and ends at (1, 1)"),
    (lambda: arc_slot(radius_mm=3, sweep_deg=90, width_mm=6), "below 6 mm"),
    (lambda: arc_slot(radius_mm=20, sweep_deg=350, width_mm=10), "its ends meet"),
    (lambda: arc_slot(radius_mm=20, sweep_deg=0, width_mm=10), "sweep is 0"),
    (lambda: regular_polygon(2, circle_mm=5), "has 2 sides"),
    (lambda: regular_polygon(6), "no single size"),
    (lambda: regular_polygon(6, circle_mm=5, across_flats_mm=4), "no single size"),
    (lambda: polygon([(0, 0), (1, 0)]), "has 2 corners"),
    (lambda: polygon([(0, 0), (9, 0), (9, 9)], fillet_mm=[1, 1]), "2 radii are given for 3"),
    (lambda: polygon([(0, 0), (9, 0), (9, 9)], fillet_mm=[0, 9.5, 0]), "corner 1 at (9, 0)"),
    (lambda: ring(outside_mm=10, inside_mm=10), "10 mm outside and 10 mm inside"),
    (lambda: d_shape(10, 10), "less than 10 mm across the flat"),
    (lambda: double_d(10, 11), "less than 10 mm across the flats"),
    (lambda: keyed_circle(10, key_width_mm=10, key_depth_mm=1), "width below 10 mm"),
    (lambda: hull([]), "nothing to draw an outline around"),
    (lambda: hull([((0, 0), -1)]), "a diameter is -1 mm"),
    (lambda: hull([((0, 0), 4)], margin_mm=-1), "the margin is -1 mm"),
    (lambda: hull([((0, 0), 0), ((5, 5), 0)]), "lie in one line"),
    (lambda: trace_from((0, 0)).line_to((0, 0)).close(), "a contour of one segment is open"),
    (lambda: trace_from((0, 0)).close(), "nothing was drawn"),
    (lambda: trace_from((0, 0)).arc_to((9, 0), radius_mm=4), "at least 4.5 mm"),
    (lambda: trace_from((0, 0)).arc_to((9, 0)), "give exactly one"),
    (lambda: trace_from((0, 0)).arc_to((0, 0), radius_mm=4), "ends where it begins"),
    (lambda: trace_from((0, 0)).arc_to((9, 0), through=(4, 0)), "in line with the ends"),
    (lambda: trace_from((0, 0)).arc_to((9, 0), centre=(4, 0)).close(), "misses its ends"),
    (lambda: trace_from((0, 0)).smooth_arc_to((9, 0)), "nothing to run on from"),
    (lambda: trace_from((0, 0)).line_to((5, 0)).smooth_arc_to((9, 0)), "straight ahead"),
]


@pytest.mark.parametrize(("make", "says"), BAD_SHAPES)
def test_bad_sizes_are_refused_by_value(make, says):
    """A size that cannot be is refused with a message that gives it or the remedy."""
    with pytest.raises(GeometryError) as caught:
        make()
    assert says in str(caught.value)


def test_trace_closes_a_rounded_plate():
    """Two lines and a half circle of radius 20 close to 60 x 40 plus half a disc."""
    made = trace_from((0, 0)).line_to((60, 0)).arc_to((60, 40), radius_mm=20).line_to((0, 40))
    assert made.close().area_mm2 == pytest.approx(2400 + PI * 200, rel=1e-13)
    assert made.path().length_mm == pytest.approx(120 + 20 * PI, rel=1e-13)


def test_trace_knows_one_arc_by_radius_centre_and_third_point():
    """The quarter circle (10, 0) to (0, 10) about the origin comes out the same in four ways."""
    begun = trace_from((0, 0)).line_to((10, 0))
    root = 10 / math.sqrt(2)
    ways = [
        begun.arc_to((0, 10), radius_mm=10),
        begun.arc_to((0, 10), centre=(0, 0)),
        begun.arc_to((0, 10), through=(root, root)),
        trace_from((0, 0)).line_to((10, 0)).line_by(0, 0.5).smooth_arc_to((-10, 0.5)),
    ]
    for way in ways[:3]:
        assert way.close().area_mm2 == pytest.approx(25 * PI, rel=1e-12)
    last = ways[3].segments[-1]
    assert last.radius_mm == pytest.approx(10)
    assert last.centre == pytest.approx((0, 0.5))


def test_trace_takes_the_far_way_round_when_asked():
    """The long arc over a 90 degree chord sweeps 270 degrees."""
    made = trace_from((10, 0)).arc_to((0, 10), radius_mm=10, far_round=True)
    assert made.segments[0].sweep_deg == pytest.approx(270)


DISCS = st.lists(
    st.tuples(
        st.tuples(st.integers(-40, 40), st.integers(-40, 40)),
        st.sampled_from([0, 1, 2, 5, 8, 20, 33.3]),
    ),
    min_size=1,
    max_size=9,
)


@settings(derandomize=True, max_examples=80, deadline=None)
@given(discs=DISCS, margin=st.sampled_from([0.5, 3]))
def test_hull_agrees_with_shapely(discs, margin):
    """The exact hull of discs is that of their fine polygons (shapely.convex_hull), and smooth."""
    made = hull(discs, margin_mm=margin)
    fine = shapely.union_all(
        [shapely.Point(at).buffer(d / 2 + margin, quad_segs=96) for at, d in discs]
    ).convex_hull
    drawn = to_polygon(Profile(made), tolerance_mm=1e-4)
    assert shapely.hausdorff_distance(drawn, fine) < 2e-3
    assert find_faults(made) == ()
    for before, after in pairwise((*made.segments, made.segments[0])):
        if isinstance(before, Line) and isinstance(after, Arc):  # tangents, not mere contacts
            ux, uy = (before.end.x - before.start.x), (before.end.y - before.start.y)
            rx, ry = after.start.x - after.centre.x, after.start.y - after.centre.y
            assert abs(ux * rx + uy * ry) <= 1e-9 * before.length_mm * after.radius_mm


def test_hull_around_four_bosses_is_a_rounded_rectangle():
    """Closed form w h + 2 (w + h) r + pi r^2 around 40 x 30; the fifth disc lies inside."""
    bosses = [((0, 0), 10), ((40, 0), 10), ((40, 30), 10), ((0, 30), 10), ((20, 15), 3)]
    made = hull(bosses, margin_mm=2)
    assert made.area_mm2 == pytest.approx(1200 + 140 * 7 + 49 * PI, rel=1e-13)
    assert len(made.segments) == 8


def test_hull_of_points_in_a_row_keeps_no_corner_between():
    """Three equal discs in line give one slot: points on a side are no corners."""
    assert hull([((0, 0), 6), ((10, 0), 6), ((20, 0), 6)]).area_mm2 == pytest.approx(120 + 9 * PI)
    assert len(hull([((0, 0), 6), ((10, 0), 6), ((20, 0), 6)]).segments) == 4


def test_hull_of_one_disc_is_that_disc():
    """A disc that covers the rest stays a whole circle."""
    assert hull([((0, 0), 20), ((2, 0), 6)]) == circle((0, 0), diameter_mm=20)
    corners = [(0, 0), (9, 0), (9, 9), (0, 9)]
    bare = hull([(corner, 0) for corner in corners])
    assert bare.area_mm2 == pytest.approx(closed_polyline(corners).area_mm2)
