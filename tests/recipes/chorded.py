"""Polygons of exact shapes for plain shapely, chorded here and not by the package."""

from __future__ import annotations

import math
from collections.abc import Iterator

import shapely

from platekit.geometry.chains import Contour
from platekit.geometry.curves import Arc, Segment
from platekit.geometry.points import Point
from platekit.geometry.profile import Profile

SAGITTA_MM = 1e-3


def ring_points(ring: Contour, *, sagitta_mm: float = SAGITTA_MM) -> list[tuple[float, float]]:
    """Return points of a ring: its corners, and points on its arcs close enough together."""
    return [point for segment in ring.segments for point in _points(segment, sagitta_mm)]


def polygon(profile: Profile, *, sagitta_mm: float = SAGITTA_MM) -> shapely.Polygon:
    """Return a profile as a polygon with its corners on the true edge."""
    shell, *holes = (ring_points(ring, sagitta_mm=sagitta_mm) for ring in profile.rings)
    return shapely.Polygon(shell, holes)


def _points(segment: Segment, sagitta_mm: float) -> Iterator[tuple[float, float]]:
    yield segment.start.x, segment.start.y
    if isinstance(segment, Arc):
        sweep = math.radians(segment.sweep_deg)
        # Sagitta of a chord: r (1 - cos(step / 2)).
        step = 2.0 * math.acos(1.0 - sagitta_mm / segment.radius_mm)
        count = max(math.ceil(abs(sweep) / step), 3)
        foot = math.atan2(segment.start.y - segment.centre.y, segment.start.x - segment.centre.x)
        for k in range(1, count):
            angle = foot + sweep * k / count
            yield (
                segment.centre.x + segment.radius_mm * math.cos(angle),
                segment.centre.y + segment.radius_mm * math.sin(angle),
            )


def inside_corners(profile: Profile) -> list[tuple[Point, float]]:
    """Return the corners where the material turns inwards, and the open angle at each, degrees.

    The material is on the left of every ring, so the path turns right there.
    """
    found = []
    for ring in profile.rings:
        segments = ring.segments
        for k, segment in enumerate(segments):
            before = segments[k - 1]
            (ax, ay), (bx, by) = _heading(before, at_end=True), _heading(segment, at_end=False)
            turn = math.degrees(math.atan2(ax * by - ay * bx, ax * bx + ay * by))
            if turn < -1e-3:
                found.append((segment.start, 180.0 + turn))
    return found


def _heading(segment: Segment, *, at_end: bool) -> tuple[float, float]:
    if not isinstance(segment, Arc):
        return segment.end.x - segment.start.x, segment.end.y - segment.start.y
    at = segment.end if at_end else segment.start
    x, y = at.x - segment.centre.x, at.y - segment.centre.y
    return (-y, x) if segment.ccw else (y, -x)
