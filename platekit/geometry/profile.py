"""Profiles: the exact shape of one flat piece."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from platekit.geometry.chains import Bounds, Contour
from platekit.geometry.motion import Motion
from platekit.geometry.points import Point
from platekit.geometry.sinks import Sink
from platekit.geometry.tables import Bools, Floats, Table, first_moments


@dataclass(frozen=True)
class Profile:
    """One outer contour and the holes in it, exact.

    The outer contour runs counter-clockwise and the inner ones clockwise: the material is always
    on the left. Rings given the other way round are turned. That rings do not cross is the
    promise of whoever makes one: the engines keep it, and `platekit.geometry.faults` checks
    shapes that come from outside.

    Attributes:
        outer: Edge of the piece.
        inners: Edges of its holes.
    """

    outer: Contour
    inners: tuple[Contour, ...] = ()

    def __post_init__(self) -> None:
        if not self.outer.is_ccw:
            object.__setattr__(self, "outer", self.outer.reversed())
        inners = tuple(ring.reversed() if ring.is_ccw else ring for ring in self.inners)
        object.__setattr__(self, "inners", inners)

    @classmethod
    def trusted(cls, outer: Contour, inners: Iterable[Contour]) -> Profile:
        """Return a profile whose rings already run the right way: the engines' own results."""
        profile = object.__new__(cls)
        object.__setattr__(profile, "outer", outer)
        object.__setattr__(profile, "inners", tuple(inners))
        return profile

    @property
    def rings(self) -> tuple[Contour, ...]:
        """The outer contour, then the inner ones."""
        return (self.outer, *self.inners)

    @cached_property
    def table(self) -> Table:
        """Every ring's rows in one table, shape (n, 8)."""
        return np.concatenate([ring.table for ring in self.rings])

    @cached_property
    def area_mm2(self) -> float:
        """Area of the material, mm2."""
        return sum(ring.signed_area_mm2 for ring in self.rings)

    @cached_property
    def length_mm(self) -> float:
        """Length of every edge together, mm: what a laser cuts."""
        return sum(ring.length_mm for ring in self.rings)

    @cached_property
    def centroid(self) -> Point:
        """Centroid of the material."""
        sums = np.sum([first_moments(ring.table) for ring in self.rings], axis=0)
        return Point(float(sums[1] / sums[0]), float(sums[2] / sums[0]))

    @property
    def bounds(self) -> Bounds:
        """Exact bounds."""
        return self.outer.bounds

    def contains(self, point: Point | tuple[float, float]) -> bool:
        """Return whether `point` lies in the material (on its very edge: either answer)."""
        return self.outer.encloses(point) and not any(ring.encloses(point) for ring in self.inners)

    def contains_each(self, points: Floats) -> Bools:
        """Return which of `points`, shape (k, 2), lie in the material."""
        inside = self.outer.encloses_each(points)
        for ring in self.inners:
            if not inside.any():
                break
            inside[inside] = ~ring.encloses_each(points[inside])
        return inside

    def moved(self, motion: Motion) -> Profile:
        """Return the profile after `motion`."""
        rings = [ring.moved(motion) for ring in self.rings]
        if motion.mirrored:
            rings = [ring.reversed() for ring in rings]
        return Profile.trusted(rings[0], rings[1:])

    def with_holes(self, holes: Iterable[Contour]) -> Profile:
        """Return the profile with further holes, which must lie inside and apart from all else."""
        added = tuple(ring.reversed() if ring.is_ccw else ring for ring in holes)
        return Profile.trusted(self.outer, (*self.inners, *added))

    def draw(self, sink: Sink) -> None:
        """Draw the inner contours, then the outer one: holes are cut before the part is free."""
        for ring in self.inners:
            ring.draw(sink)
        self.outer.draw(sink)
