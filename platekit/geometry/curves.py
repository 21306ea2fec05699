"""Lines and arcs: the two segments every outline is made of.

A segment is a frozen value; chains keep the same facts as rows of a table (see `tables`) and
make these values when they are asked for.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from platekit.geometry.points import Point, between, cos_sin


@dataclass(frozen=True, slots=True)
class Line:
    """A straight segment from `start` to `end`, mm."""

    start: Point
    end: Point

    @property
    def length_mm(self) -> float:
        """Length, mm."""
        return between(self.start, self.end)

    def at(self, fraction: float) -> Point:
        """Return the point at `fraction` (0 start, 1 end) of the length."""
        return Point(
            self.start.x + fraction * (self.end.x - self.start.x),
            self.start.y + fraction * (self.end.y - self.start.y),
        )

    def reversed(self) -> Line:
        """Return the same segment run backwards."""
        return Line(self.end, self.start)


@dataclass(frozen=True, slots=True)
class Arc:
    """A circular arc from `start` to `end` about `centre`, mm.

    `start` equal to `end` is the whole circle. The radius is kept, not measured from an end
    point, so that a 3.3 mm radius is 3.3 exactly after any number of operations.
    """

    start: Point
    end: Point
    centre: Point
    radius_mm: float
    ccw: bool

    @property
    def is_circle(self) -> bool:
        """Whether the arc is a whole circle."""
        return self.start == self.end

    @property
    def sweep_deg(self) -> float:
        """Angle swept, degrees: in (0, 360] counter-clockwise, in [-360, 0) clockwise."""
        if self.is_circle:
            return 360.0 if self.ccw else -360.0
        ax, ay = self.start.x - self.centre.x, self.start.y - self.centre.y
        bx, by = self.end.x - self.centre.x, self.end.y - self.centre.y
        sweep = math.degrees(math.atan2(ax * by - ay * bx, ax * bx + ay * by))
        if self.ccw:
            return sweep if sweep > 0 else sweep + 360.0
        return sweep if sweep < 0 else sweep - 360.0

    @property
    def length_mm(self) -> float:
        """Length along the arc, mm."""
        return self.radius_mm * math.radians(abs(self.sweep_deg))

    def at(self, fraction: float) -> Point:
        """Return the point at `fraction` (0 start, 1 end) of the length."""
        if fraction <= 0.0:
            return self.start
        if fraction >= 1.0:
            return self.end
        c, s = cos_sin(fraction * self.sweep_deg)
        dx, dy = self.start.x - self.centre.x, self.start.y - self.centre.y
        return Point(self.centre.x + dx * c - dy * s, self.centre.y + dx * s + dy * c)

    def reversed(self) -> Arc:
        """Return the same arc run backwards."""
        return Arc(self.end, self.start, self.centre, self.radius_mm, not self.ccw)


Segment = Line | Arc
