"""Flats: polygons laid over each other, to see whether they share more than an edge."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cached_property

import shapely

from platekit.geometry.tables import Floats


class Flat:
    """A polygon with holes, ready to be laid over others.

    Args:
        rings: The corners of each ring, the outer one first, shape (n, 2), the first not repeated.
    """

    def __init__(self, rings: Sequence[Floats]) -> None:
        self.rings = tuple(rings)

    @cached_property
    def _polygon(self) -> shapely.Polygon:
        polygon = shapely.Polygon(self.rings[0], self.rings[1:])
        shapely.prepare(polygon)
        return polygon

    @cached_property
    def sound(self) -> bool:
        """Whether its rings cross nowhere: drawn with chords, two holes close together may."""
        return bool(shapely.is_valid(self._polygon))

    def shared_mm2(self, other: Flat, *, axes: Floats, at: Floats) -> float:
        """Return the area it shares with another; infinity where one of them is not sound.

        Args:
            other: The other.
            axes: The other's x and y as seen here, a row each, shape (2, 2).
            at: Where the other's (0, 0) lies, shape (2,).
        """
        if not (self.sound and other.sound):
            return math.inf
        if len(other.rings) > len(self.rings):
            # The one with more holes stays where it is: it has been laid out already.
            return other.shared_mm2(self, axes=axes.T, at=-(at @ axes.T))
        # A polygon turned over runs the wrong way round, which shapely does not mind.
        outer, *inners = (ring @ axes + at for ring in other.rings)
        laid = shapely.Polygon(outer, inners)
        if not shapely.intersects(self._polygon, laid):
            return 0.0
        return float(shapely.area(shapely.intersection(self._polygon, laid)))
