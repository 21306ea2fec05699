"""Independent measures for offset tests: plain Python and shapely, nothing of the engines'.

Distances to lines and arcs are school geometry, written out once more on purpose: a test that
measured with the engine's own ruler would prove nothing.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import shapely

from platekit.geometry.chains import Contour
from platekit.geometry.curves import Arc, Line, Segment
from platekit.geometry.points import Point


def distance_to_segment(segment: Segment, x: float, y: float) -> float:
    """Return the distance from (x, y) to a line or an arc."""
    ends = min(
        math.hypot(x - segment.start.x, y - segment.start.y),
        math.hypot(x - segment.end.x, y - segment.end.y),
    )
    if isinstance(segment, Line):
        dx, dy = segment.end.x - segment.start.x, segment.end.y - segment.start.y
        size = math.hypot(dx, dy)
        along = ((x - segment.start.x) * dx + (y - segment.start.y) * dy) / size
        if not 0 <= along <= size:
            return ends
        return abs((x - segment.start.x) * dy - (y - segment.start.y) * dx) / size
    away = math.hypot(x - segment.centre.x, y - segment.centre.y)
    if segment.is_circle:
        return abs(away - segment.radius_mm)
    here = math.atan2(y - segment.centre.y, x - segment.centre.x)
    start = math.atan2(segment.start.y - segment.centre.y, segment.start.x - segment.centre.x)
    ahead = (here - start) if segment.ccw else (start - here)
    if math.fmod(ahead + 4 * math.pi, 2 * math.pi) <= math.radians(abs(segment.sweep_deg)):
        return min(ends, abs(away - segment.radius_mm))
    return ends


def distance_to_ring(ring: Contour, x: float, y: float) -> float:
    """Return the distance from (x, y) to a ring of lines and arcs."""
    return min(distance_to_segment(segment, x, y) for segment in ring.segments)


def samples(ring: Contour, fractions: Sequence[float] = (0.0, 0.17, 0.5, 0.83)) -> list[Point]:
    """Return points along every segment."""
    return [segment.at(t) for segment in ring.segments for t in fractions]


def worst_deviation(source: Contour, made: Iterable[Contour], distance_mm: float) -> float:
    """Return max |distance to the source - d| over points of the offset, mm."""
    return max(
        (
            abs(distance_to_ring(source, p.x, p.y) - distance_mm)
            for ring in made
            for p in samples(ring)
        ),
        default=0.0,
    )


def polygon(ring: Contour, *, sag_mm: float) -> shapely.Polygon:
    """Return the ring as a polygon whose chords sag at most `sag_mm`."""
    points: list[tuple[float, float]] = []
    for segment in ring.segments:
        count = 1
        if isinstance(segment, Arc):
            step = 2 * math.acos(max(1 - sag_mm / segment.radius_mm, 0.0))
            count = max(2, math.ceil(math.radians(abs(segment.sweep_deg)) / min(step, 1.5)))
        points += [segment.at(k / count) for k in range(count)]
    return shapely.Polygon([(round(x, 9), round(y, 9)) for x, y in points])


def buffered(ring: Contour, growth_mm: float, *, sag_mm: float) -> shapely.Geometry:
    """Return shapely's buffer of the ring's material side grown by `growth_mm`."""
    by = growth_mm if ring.is_ccw else -growth_mm
    step = math.acos(max(1 - sag_mm / abs(growth_mm), 0.0))
    return polygon(ring, sag_mm=sag_mm).buffer(by, quad_segs=max(2, math.ceil(math.pi / 4 / step)))


def rings_of(shape: shapely.Geometry) -> list[shapely.LinearRing]:
    """Return every ring of a polygonal shape."""
    return [
        ring
        for part in shapely.get_parts(shape)
        if part.geom_type == "Polygon" and not part.is_empty
        for ring in (part.exterior, *part.interiors)
    ]


def worst_miss(expected: shapely.Geometry, made: Iterable[Contour]) -> float:
    """Return how far corners of the buffer lie from the offset's rings at most, mm."""
    lines = shapely.union_all([polygon(ring, sag_mm=2e-4).exterior for ring in made])
    corners = shapely.points(shapely.get_coordinates(expected))
    shapely.prepare(lines)
    return float(shapely.distance(lines, corners).max()) if len(corners) else 0.0
