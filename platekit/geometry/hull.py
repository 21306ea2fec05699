"""The least outline around a set of discs: arcs joined by their common tangents, exact.

Walks round by direction. Disc i reaches c.u + r in direction u; the hull shows the disc that
reaches furthest. Disc j overtakes disc i where (cj - ci).u = ri - rj, and there a straight line,
the common tangent, leads from one to the other.

Source: support functions of convex sets, e.g. de Berg et al., Computational Geometry, 3rd ed.
(2008), chapter 13 (from memory).
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from platekit.errors import GeometryError
from platekit.geometry.chains import Contour, circle
from platekit.geometry.curves import Arc, Line, Segment
from platekit.geometry.points import SAME_POINT_MM, Pair, Point, as_point, between

SAME_DIRECTION_RAD = 1e-12  # tangents nearer in direction than this are one straight edge


@dataclass(frozen=True, slots=True)
class _Disc:
    at: Point
    radius: float

    def rim(self, u: Point) -> Point:
        return Point(self.at.x + self.radius * u.x, self.at.y + self.radius * u.y)


def hull(discs: Iterable[tuple[Pair, float]], *, margin_mm: float = 0.0) -> Contour:
    """Return the least convex outline around discs.

    Args:
        discs: Centre and diameter of each; a diameter of 0 is a bare point.
        margin_mm: How much every disc is enlarged all round first, 0 or more: the material left
            around a set of holes.

    Raises:
        GeometryError: No discs, a diameter or margin below 0, or all of it in one line or point
            without any radius, so that nothing is enclosed.
    """
    if not (math.isfinite(margin_mm) and margin_mm >= 0):
        raise GeometryError(f"the margin is {margin_mm:g} mm", remedy="give 0 or more")
    given = []
    for at, diameter in discs:
        if not (math.isfinite(diameter) and diameter >= 0):
            raise GeometryError(f"a diameter is {diameter:g} mm", remedy="give 0 or more")
        given.append(_Disc(as_point(at), diameter / 2 + margin_mm))
    if not given:
        raise GeometryError("there is nothing to draw an outline around", remedy="give discs")
    discs_out = _outermost(given)
    changes = _changes(discs_out)
    if not changes:
        only = max(discs_out, key=lambda disc: disc.radius)
        return circle(only.at, diameter_mm=2 * only.radius)
    segments: list[Segment] = []
    for (u, before, after), (v, _, _) in zip(changes, changes[1:] + changes[:1], strict=True):
        segments.append(Line(before.rim(u), after.rim(u)))
        start, end = after.rim(u), after.rim(v)
        if after.radius > 0 and between(start, end) > SAME_POINT_MM:
            segments.append(Arc(start, end, after.at, after.radius, ccw=True))
    outline = Contour.of(segments)
    if outline.signed_area_mm2 <= SAME_POINT_MM**2:
        raise GeometryError(
            "the points lie in one line, so nothing is enclosed", remedy="give a margin above 0"
        )
    return outline


def _outermost(discs: list[_Disc]) -> list[_Disc]:
    """Return the discs that lie in no other; of equal ones, one."""
    kept: list[_Disc] = []
    for disc in sorted(discs, key=lambda one: -one.radius):
        if all(between(disc.at, big.at) + disc.radius > big.radius for big in kept):
            kept.append(disc)
    return kept


def _changes(discs: list[_Disc]) -> list[tuple[Point, _Disc, _Disc]]:
    """Return (direction, disc before, disc after) all round, counter-clockwise."""
    disc = max(discs, key=lambda one: (one.radius - one.at.y, one.at.x))  # lowest, then right
    angle = -math.pi / 2
    changes: list[tuple[Point, _Disc, _Disc]] = []
    while len(changes) <= 4 * len(discs):
        best: tuple[float, float, Point, _Disc] | None = None
        for other in discs:
            if other is disc:
                continue
            u, apart = _overtaking(disc, other)
            ahead = math.fmod(math.atan2(u.y, u.x) - angle, math.tau)
            if ahead < -SAME_DIRECTION_RAD:
                ahead += math.tau
            nearer = best is None or ahead < best[0] - SAME_DIRECTION_RAD
            further = best is not None and abs(ahead - best[0]) <= SAME_DIRECTION_RAD
            if nearer or (further and best is not None and apart > best[1]):
                best = (ahead, apart, u, other)
        if best is None:
            break
        if changes and (disc, best[3]) == changes[0][1:]:  # two discs change so only once a round
            break
        angle += best[0]
        changes.append((best[2], disc, best[3]))
        disc = best[3]
    return changes


def _overtaking(disc: _Disc, other: _Disc) -> tuple[Point, float]:
    """Return the direction in which `other` begins to reach further, and how far apart they are."""
    dx, dy = other.at.x - disc.at.x, other.at.y - disc.at.y
    apart = math.hypot(dx, dy)
    cosine = (disc.radius - other.radius) / apart
    sine = math.sqrt(max((1 - cosine) * (1 + cosine), 0.0))
    u = Point((dx * cosine + dy * sine) / apart, (dy * cosine - dx * sine) / apart)
    return u, apart
