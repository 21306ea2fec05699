"""Distances: exact, checked against closed forms and very fine shapely polygons."""

from __future__ import annotations

import math

import pytest
from hypothesis import HealthCheck, given, settings

from platekit.geometry.chains import circle, polyline
from platekit.geometry.chords import to_polygon
from platekit.geometry.distance import distance
from platekit.geometry.points import Point
from platekit.geometry.profile import Profile
from tests.geometry.awkward import profiles, rectangle_ring, slot_ring

CALM = settings(
    max_examples=200, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck)
)


@CALM
@given(profiles(), profiles())
def test_agrees_with_fine_polygons(a: Profile, b: Profile) -> None:
    """Within the chord tolerance of both polygons (shapely, 0.001 um chords)."""
    fine = to_polygon(a, tolerance_mm=1e-6).distance(to_polygon(b, tolerance_mm=1e-6))
    assert distance(a, b) == pytest.approx(fine, abs=2.1e-6)
    assert distance(a, b) == distance(b, a)


def test_closed_forms() -> None:
    """Circle to circle, circle to edge, point to arc: elementary geometry."""
    a = Profile(circle((0, 0), diameter_mm=10))
    b = Profile(circle((30, 40), diameter_mm=20))
    assert distance(a, b) == pytest.approx(50 - 5 - 10, abs=1e-12)
    wall = Profile(rectangle_ring(7.5, -50, 10, 100))
    assert distance(a, wall) == pytest.approx(2.5, abs=1e-12)
    assert distance(a, Point(6, 8)) == pytest.approx(5, abs=1e-12)
    assert distance(polyline([(0, 20), (10, 20)]), a) == pytest.approx(15, abs=1e-12)


def test_slots_side_by_side() -> None:
    """Two tilted slots of the same tilt: spacing across less one width."""
    a, b = slot_ring(0, 0, 20, 4, 30), slot_ring(-5, 5 * math.sqrt(3), 20, 4, 30)
    assert distance(Profile(a), Profile(b)) == pytest.approx(10 - 4, abs=1e-12)


def test_material_counts_and_holes_do_not() -> None:
    """A part in another's hole is apart from it; a part on its material is not."""
    frame = Profile(rectangle_ring(0, 0, 100, 100), (rectangle_ring(20, 20, 60, 60),))
    disc = Profile(circle((50, 50), diameter_mm=20))
    assert distance(frame, disc) == pytest.approx(20, abs=1e-12)
    assert distance(frame, Profile(circle((10, 10), diameter_mm=4))) == 0.0
    assert distance(frame, Point(10, 10)) == 0.0
    assert distance(frame, Point(50, 50)) == pytest.approx(30, abs=1e-12)


def test_touching_and_concentric() -> None:
    """Touching is zero; concentric arcs keep the difference of their radii."""
    a = Profile(circle((0, 0), diameter_mm=10))
    assert distance(a, Profile(circle((10, 0), diameter_mm=10))) == pytest.approx(0, abs=1e-9)
    ring = Profile(circle((0, 0), diameter_mm=40), (circle((0, 0), diameter_mm=20),))
    assert distance(ring, a) == pytest.approx(5, abs=1e-12)


def test_through_the_middle_of_a_circle() -> None:
    """A point or a line in a circle's very middle is a radius off, less what reaches out of it."""
    ring = circle((3, 4), diameter_mm=10)
    assert distance(ring, Point(3, 4)) == pytest.approx(5, abs=1e-12)
    for half in (1.0, 2.5):
        line = polyline([(3 - half, 4), (3 + half, 4)])
        assert distance(ring, line) == pytest.approx(5 - half, abs=1e-12)
        assert distance(line, ring) == pytest.approx(5 - half, abs=1e-12)
    assert distance(ring, polyline([(-9, 4), (3, 4)])) == 0.0
