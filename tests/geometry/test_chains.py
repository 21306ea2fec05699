"""Chains, profiles, motions: closed forms, and what is refused."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import HealthCheck, given, settings, strategies as st

from platekit.errors import GeometryError
from platekit.geometry.chains import Contour, Path, circle, closed_polyline, polyline
from platekit.geometry.chords import Side, to_polygon
from platekit.geometry.curves import Arc, Line
from platekit.geometry.motion import Motion, mirror_in_horizontal, mirror_in_vertical, turn_about
from platekit.geometry.points import Point, cos_sin, polar
from platekit.geometry.profile import Profile
from platekit.geometry.sinks import MovedSink, RecordingSink
from tests.geometry.awkward import d_ring, profiles, rectangle_ring, slot_ring

CALM = settings(
    max_examples=150, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck)
)
motions = st.builds(
    Motion,
    dx_mm=st.floats(-500, 500),
    dy_mm=st.floats(-500, 500),
    turn_deg=st.floats(-720, 720) | st.sampled_from([0.0, 90.0, 180.0, 270.0]),
    mirrored=st.booleans(),
)


def test_areas_and_centroids_in_closed_form() -> None:
    """Half disc, slot and ring: area, centroid and length as in any handbook (closed forms)."""
    half = d_ring(1, 2, 3, 0)
    assert half.area_mm2 == pytest.approx(math.pi * 9 / 2, abs=1e-12)
    assert half.centroid == pytest.approx((1, 2 - 4 * 3 / (3 * math.pi)), abs=1e-12)
    assert half.length_mm == pytest.approx(math.pi * 3 + 6, abs=1e-12)
    slot = slot_ring(0, 0, 20, 4, 37)
    assert slot.area_mm2 == pytest.approx(16 * 4 + math.pi * 4, abs=1e-12)
    assert slot.length_mm == pytest.approx(2 * 16 + math.pi * 4, abs=1e-12)
    ring = Profile(circle((5, 5), diameter_mm=10), (circle((5, 5), diameter_mm=6),))
    assert ring.area_mm2 == pytest.approx(math.pi * (25 - 9), abs=1e-12)
    assert ring.centroid == pytest.approx((5, 5), abs=1e-12)


def test_far_from_the_origin_nothing_is_lost() -> None:
    """A 4 mm hole 100 m away keeps area and centroid to ten digits."""
    ring = circle((1e5, -1e5), diameter_mm=4)
    assert ring.area_mm2 == pytest.approx(math.pi * 4, rel=1e-9)
    assert ring.centroid == pytest.approx((1e5, -1e5), abs=1e-6)


def test_bounds_include_the_bulge_of_arcs() -> None:
    """A tilted slot's bounds reach its ends' circles (closed form)."""
    b = slot_ring(0, 0, 20, 4, 30).bounds
    reach_x, reach_y = 8 * math.cos(math.radians(30)) + 2, 8 * math.sin(math.radians(30)) + 2
    assert (b.left, b.bottom, b.right, b.top) == pytest.approx(
        (-reach_x, -reach_y, reach_x, reach_y), abs=1e-12
    )


def test_quarter_turns_are_exact() -> None:
    """Cosine and sine of every multiple of 90 degrees are whole numbers to the last bit."""
    assert [cos_sin(90.0 * k) for k in range(-4, 5)] == [
        (1, 0), (0, 1), (-1, 0), (0, -1), (1, 0), (0, 1), (-1, 0), (0, -1), (1, 0),
    ]  # fmt: skip
    ring = rectangle_ring(0.1, 0.7, 3.3, 1.1)
    back = ring.moved(Motion(turn_deg=90)).moved(Motion(turn_deg=270))
    assert back == ring


@CALM
@given(profiles(), motions, motions)
def test_motions_keep_shape_and_compose(profile: Profile, one: Motion, two: Motion) -> None:
    """Area and length do not change, holes stay holes, two motions equal their product."""
    moved = profile.moved(one)
    assert moved.area_mm2 == pytest.approx(profile.area_mm2, rel=1e-9)
    assert moved.length_mm == pytest.approx(profile.length_mm, rel=1e-9)
    assert moved.outer.is_ccw
    there = moved.moved(two)
    straight = profile.moved(one.then(two))
    assert there.outer.table == pytest.approx(straight.outer.table, abs=1e-9)
    assert two.apply(one.apply((3, 4))) == pytest.approx(one.then(two).apply((3, 4)), abs=1e-9)


def test_mirrors_and_turns_about_a_point() -> None:
    """The named motions put a point where a drawing would."""
    assert mirror_in_vertical(x_mm=10).apply((3, 4)) == (17, 4)
    assert mirror_in_horizontal(y_mm=10).apply((3, 4)) == pytest.approx((3, 16))
    assert turn_about((10, 10), angle_deg=90).apply((12, 10)) == (10, 12)
    assert polar((1, 1), radius_mm=5, angle_deg=180) == (-4, 1)


@CALM
@given(profiles(), st.floats(-25, 25), st.floats(-25, 25))
def test_contains_agrees_with_polygons(profile: Profile, x: float, y: float) -> None:
    """Inside or out as shapely says of a fine polygon, wherever the edge is not within 0.01 um."""
    polygon = to_polygon(profile, tolerance_mm=1e-6)
    point = to_polygon(Profile(circle((x, y), diameter_mm=1e-5))).centroid
    if polygon.exterior.distance(point) > 1e-5:
        assert profile.contains((x, y)) == polygon.contains(point)


@CALM
@given(profiles(1.0), st.floats(-90, 90))
def test_rays_along_corners_and_arc_tops_count_once(profile: Profile, turn_deg: float) -> None:
    """Points level with every corner and every arc's highest and lowest: as shapely says."""
    for motion in (Motion(), Motion(turn_deg=turn_deg)):
        ring = profile.outer.moved(motion)
        polygon = to_polygon(Profile(ring), tolerance_mm=1e-4)
        tops = [y for row in ring.table for y in (row[5] - row[6], row[5] + row[6])]
        levels = sorted({*ring.table[:, 1].tolist(), *map(float, tops)})
        box = ring.bounds
        points = np.array(
            [(x, y) for y in levels for x in np.linspace(box.left - 3, box.right + 3, 7)]
        )
        spots = shapely.points(points)
        clear = shapely.distance(polygon.exterior, spots) > 1e-3
        wanted = shapely.contains(polygon, spots)
        assert np.array_equal(ring.encloses_each(points)[clear], wanted[clear])


@CALM
@given(profiles(), st.sampled_from([0.5, 0.05, 0.002]))
def test_a_polygon_lies_on_the_side_it_promises(profile: Profile, tolerance_mm: float) -> None:
    """OUTSIDE covers the shape, INSIDE is covered by it, both within the tolerance."""
    framed = Profile(rectangle_ring(-60, -60, 120, 120), (profile.outer,))
    for shape in (profile, framed):
        true = to_polygon(shape, tolerance_mm=1e-6)
        outside = to_polygon(shape, tolerance_mm=tolerance_mm, side=Side.OUTSIDE)
        inside = to_polygon(shape, tolerance_mm=tolerance_mm, side=Side.INSIDE)
        slack = 1e-5 * true.length
        assert true.difference(outside).area <= slack
        assert inside.difference(true).area <= slack
        assert outside.area - true.area <= 1.5 * tolerance_mm * true.length
        assert true.area - inside.area <= 1.5 * tolerance_mm * true.length


def test_drawing_speaks_the_protocol() -> None:
    """Holes first, then the outside; arcs with centre and sense; a mirror turns the sense."""
    plate = Profile(d_ring(0, 0, 5, 3), (circle((0, -1), diameter_mm=2),))
    plate.draw(recorder := RecordingSink())
    assert [call[0] for call in recorder.calls] == ["circle", "begin", "arc", "line", "close"]
    assert recorder.calls[2] == ("arc", (4, 3), (0, 0), 5.0, True)
    plate.draw(MovedSink(mirrored := RecordingSink(), mirror_in_vertical(x_mm=1)))
    assert mirrored.calls[2] == ("arc", (-2, 3), (2, 0), 5.0, False)
    polyline([(0, 0), (1, 0)]).draw(open_path := RecordingSink())
    assert open_path.calls[-1] == ("end",)


def test_equal_means_the_same_bits() -> None:
    """Equal chains hash alike; a nanometre makes them different."""
    assert circle((1, 2), diameter_mm=3) == circle((1, 2), diameter_mm=3)
    assert hash(circle((1, 2), diameter_mm=3)) == hash(circle((1, 2), diameter_mm=3))
    assert circle((1, 2), diameter_mm=3) != circle((1, 2), diameter_mm=3.000001)
    assert len({polyline([(0, 0), (1, 1)]), polyline([(0, 0), (1, 1)])}) == 1


P = Point


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: circle((0, 0), diameter_mm=0), "diameter is 0 mm; give a diameter above 0"),
        (lambda: circle((0, 0), diameter_mm=-3), "diameter is -3 mm"),
        (lambda: circle((0, 0), diameter_mm=math.nan), "diameter is nan mm"),
        (lambda: circle((math.inf, 0), diameter_mm=3), "is no point; give two finite numbers"),
        (lambda: closed_polyline([(0, 0), (1, 1)]), "a polygon has 2 corners"),
        (lambda: closed_polyline([(0, 0), (1, 1), (1, 1)]), "no length; leave out doubled points"),
        (lambda: closed_polyline([(0, 0), (2e6, 0), (0, 1)]), "a coordinate is 2e"),
        (lambda: Contour.of([]), "a chain has no segments"),
        (
            lambda: Contour.of([Line(P(0, 0), P(1, 0)), Line(P(1, 0), P(1, 1))]),
            "the contour is open at",
        ),
        (lambda: Contour.of([Line(P(0, 0), P(1, 0))]), "one segment is open"),
        (
            lambda: Path.of([Line(P(0, 0), P(1, 0)), Line(P(2, 0), P(3, 0))]),
            "the path is broken at",
        ),
        (
            lambda: Path.of([Arc(P(1, 0), P(0, 2), P(0, 0), 1.0, ccw=True)]),
            "an arc about .0, 0. of radius 1 mm misses its ends",
        ),
        (
            lambda: Path.of([Arc(P(1, 0), P(1, 0), P(0, 0), 1.0, ccw=True)]),
            "a whole circle is joined to other segments",
        ),
    ],
)
def test_what_cannot_be_is_refused(make: object, says: str) -> None:
    """Every broken chain is a GeometryError that names the place, the value and a remedy."""
    assert callable(make)
    with pytest.raises(GeometryError, match=says):
        make()
