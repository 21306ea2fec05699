"""Curves: shapes drawn into a PDF path, in which every arc is a few cubics."""

from __future__ import annotations

import math
from typing import Any

from platekit.geometry.points import Point, polar

# A cubic over a quarter circle misses it by so much of the radius, and less with the sixth power of
# the angle (Dokken and others, Good approximation of circles by curvature-continuous Bezier curves,
# 1990; figure from memory, and measured in the tests). None misses by more than a micron.
QUARTER_MISS, MOST_MISS_MM = 2.73e-4, 0.001


class PathSink:
    """Draws shapes into a path; arcs become cubics."""

    def __init__(self, path: Any) -> None:  # noqa: ANN401  reportlab has no types
        self._path = path
        self._at = Point(0.0, 0.0)

    def begin(self, start: Point) -> None:
        """Start a chain."""
        self._path.moveTo(*start)
        self._at = start

    def line(self, end: Point) -> None:
        """Draw a straight line."""
        self._path.lineTo(*end)
        self._at = end

    def arc(self, end: Point, *, centre: Point, radius_mm: float, ccw: bool) -> None:
        """Draw an arc as cubics."""
        start_deg = math.degrees(math.atan2(self._at.y - centre.y, self._at.x - centre.x))
        end_deg = math.degrees(math.atan2(end.y - centre.y, end.x - centre.x))
        sweep = (end_deg - start_deg) % 360.0 if ccw else -((start_deg - end_deg) % 360.0)
        self._cubics(centre, radius_mm, start_deg, sweep, end)

    def close(self) -> None:
        """Close the chain."""
        self._path.close()

    def end(self) -> None:
        """Leave the chain open."""

    def circle(self, *, centre: Point, radius_mm: float, ccw: bool) -> None:
        """Draw a whole circle."""
        self.begin(Point(centre.x + radius_mm, centre.y))
        self._cubics(centre, radius_mm, 0.0, 360.0 if ccw else -360.0, self._at)
        self._path.close()

    def _cubics(
        self, centre: Point, radius_mm: float, start_deg: float, sweep_deg: float, end: Point
    ) -> None:
        """Draw an arc; a control point lies 4/3 tan(a/4) radii along the tangent."""
        each_deg = 90.0 * min(1.0, (MOST_MISS_MM / (QUARTER_MISS * radius_mm)) ** (1 / 6))
        count = max(1, math.ceil(abs(sweep_deg) / each_deg - 1e-9))
        step = sweep_deg / count
        reach = 4.0 / 3.0 * math.tan(math.radians(step) / 4.0) * radius_mm
        for k in range(count):
            a, b = start_deg + k * step, start_deg + (k + 1) * step
            last = k == count - 1
            to = end if last else polar(centre, radius_mm=radius_mm, angle_deg=b)
            sin_a, cos_a = math.sin(math.radians(a)), math.cos(math.radians(a))
            sin_b, cos_b = math.sin(math.radians(b)), math.cos(math.radians(b))
            self._path.curveTo(
                self._at.x - reach * sin_a,
                self._at.y + reach * cos_a,
                to.x + reach * sin_b,
                to.y - reach * cos_b,
                to.x,
                to.y,
            )
            self._at = to
