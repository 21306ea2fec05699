"""Outlines traced step by step: lines and arcs, each from where the last one ended."""

from __future__ import annotations

import math
from dataclasses import dataclass

from platekit.errors import GeometryError
from platekit.geometry.chains import Contour, Path
from platekit.geometry.curves import Arc, Line, Segment
from platekit.geometry.points import SAME_POINT_MM, Pair, Point, as_point, between


@dataclass(frozen=True, slots=True)
class Trace:
    """A chain being drawn; every step gives a new, longer one.

    ``trace_from((0, 0)).line_to((60, 0)).arc_to((60, 40), radius_mm=20).line_to((0, 40)).close()``

    Attributes:
        start: Where it began.
        segments: What was drawn so far.
    """

    start: Point
    segments: tuple[Segment, ...] = ()

    @property
    def end(self) -> Point:
        """Where the next step begins."""
        return self.segments[-1].end if self.segments else self.start

    def line_to(self, end: Pair) -> Trace:
        """Draw a straight line to `end`."""
        return self._with(Line(self.end, as_point(end)))

    def line_by(self, dx_mm: float = 0.0, dy_mm: float = 0.0) -> Trace:
        """Draw a straight line by so much along x and y."""
        return self.line_to((self.end.x + dx_mm, self.end.y + dy_mm))

    def arc_to(
        self,
        end: Pair,
        *,
        radius_mm: float | None = None,
        centre: Pair | None = None,
        through: Pair | None = None,
        ccw: bool = True,
        far_round: bool = False,
    ) -> Trace:
        """Draw an arc to `end`, known by its radius, its centre or a point on the way.

        Args:
            end: Where it ends.
            radius_mm: Its radius, at least half the distance to `end`.
            centre: Its centre, as far from here as from `end`.
            through: A point on the way, which also says which way it turns.
            ccw: Whether it turns counter-clockwise; not read with `through`.
            far_round: With a radius: take the arc of more than half a turn.

        Raises:
            GeometryError: Not exactly one of the three is given, or no such arc exists.
        """
        if sum(given is not None for given in (radius_mm, centre, through)) != 1:
            raise GeometryError(
                "an arc is given by none or several of radius_mm, centre, through",
                remedy="give exactly one",
            )
        a, b = self.end, as_point(end)
        if between(a, b) <= SAME_POINT_MM:
            raise GeometryError(
                f"an arc ends where it begins, at ({a.x:g}, {a.y:g})",
                remedy="make a whole circle a contour of its own",
            )
        if radius_mm is not None:
            middle = _centre_by_radius(a, b, radius_mm, left=ccw != far_round)
            return self._with(Arc(a, b, middle, float(radius_mm), ccw))
        if centre is not None:
            middle = as_point(centre)
            return self._with(Arc(a, b, middle, between(middle, a), ccw))
        via = as_point(through or a)
        middle = _centre_of_three(a, via, b)
        turns_left = (via.x - a.x) * (b.y - a.y) - (via.y - a.y) * (b.x - a.x) > 0
        return self._with(Arc(a, b, middle, between(middle, a), turns_left))

    def smooth_arc_to(self, end: Pair) -> Trace:
        """Draw the arc to `end` that runs on smoothly from the segment before.

        Raises:
            GeometryError: There is no segment before, or `end` lies straight ahead.
        """
        if not self.segments:
            raise GeometryError("there is nothing to run on from", remedy="draw a line first")
        a, b = self.end, as_point(end)
        tx, ty = _end_direction(self.segments[-1])
        dx, dy = b.x - a.x, b.y - a.y
        aside = tx * dy - ty * dx
        if abs(aside) <= SAME_POINT_MM:
            raise GeometryError(
                f"({b.x:g}, {b.y:g}) lies straight ahead", remedy="draw a line to it"
            )
        left = (dx * dx + dy * dy) / (2 * aside)  # signed radius: power of the end point
        middle = Point(a.x - ty * left, a.y + tx * left)
        return self._with(Arc(a, b, middle, abs(left), ccw=left > 0))

    def close(self) -> Contour:
        """Return the closed contour, a straight line added where the end is not the start.

        Raises:
            GeometryError: It encloses nothing.
        """
        segments = self.segments
        if between(self.end, self.start) > SAME_POINT_MM:
            segments = (*segments, Line(self.end, self.start))
        if not segments:
            raise GeometryError("nothing was drawn", remedy="draw lines and arcs, then close")
        return Contour.of(segments)

    def path(self) -> Path:
        """Return what was drawn as an open path."""
        return Path.of(self.segments)

    def _with(self, segment: Segment) -> Trace:
        return Trace(self.start, (*self.segments, segment))


def trace_from(start: Pair) -> Trace:
    """Return an empty trace that begins at `start`."""
    return Trace(as_point(start))


def _centre_by_radius(a: Point, b: Point, radius_mm: float, *, left: bool) -> Point:
    chord = between(a, b)
    half = chord / 2
    if not (math.isfinite(radius_mm) and radius_mm >= half - SAME_POINT_MM):
        raise GeometryError(
            f"an arc of radius {radius_mm:g} mm cannot span {chord:.6g} mm",
            remedy=f"give a radius of at least {half:.6g} mm",
        )
    aside = math.sqrt(max((radius_mm - half) * (radius_mm + half), 0.0))
    if not left:
        aside = -aside
    ux, uy = (b.x - a.x) / chord, (b.y - a.y) / chord
    return Point((a.x + b.x) / 2 - aside * uy, (a.y + b.y) / 2 + aside * ux)


def _centre_of_three(a: Point, b: Point, c: Point) -> Point:
    bx, by, cx, cy = b.x - a.x, b.y - a.y, c.x - a.x, c.y - a.y
    twice = 2 * (bx * cy - by * cx)
    if abs(twice) <= SAME_POINT_MM * max(between(a, b), between(a, c), between(b, c)):
        raise GeometryError(
            f"the point ({b.x:g}, {b.y:g}) on the way lies in line with the ends",
            remedy="draw a line, or move the point aside",
        )
    b2, c2 = bx * bx + by * by, cx * cx + cy * cy
    return Point(a.x + (cy * b2 - by * c2) / twice, a.y + (bx * c2 - cx * b2) / twice)


def _end_direction(segment: Segment) -> tuple[float, float]:
    if isinstance(segment, Line):
        n = segment.length_mm
        return (segment.end.x - segment.start.x) / n, (segment.end.y - segment.start.y) / n
    turn = 1.0 if segment.ccw else -1.0
    return (
        -turn * (segment.end.y - segment.centre.y) / segment.radius_mm,
        turn * (segment.end.x - segment.centre.x) / segment.radius_mm,
    )
