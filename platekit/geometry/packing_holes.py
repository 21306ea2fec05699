"""Holes of parts as rooms for smaller parts."""

from __future__ import annotations

import numpy as np
import shapely

from platekit.geometry.chains import Contour
from platekit.geometry.chords import Side, to_polygon
from platekit.geometry.packing_covers import COVER_TOLERANCE_MM, Cover
from platekit.geometry.profile import Profile

# Places tried along either side of a hole.
PLACES = 24

# Corners of what is kept free are round; their chords cut in by less than this share of the gap.
_ROUND_SHARE = 1e-3
_CORNER_CHORDS = 16


class HoleRoom:
    """A hole and what lies in it already.

    Args:
        hole: The hole's edge.
        gap_mm: Kept free to the edge and between parts.
    """

    __slots__ = ("_free", "_gap_mm")

    def __init__(self, hole: Contour, *, gap_mm: float) -> None:
        self._gap_mm = gap_mm * (1.0 + _ROUND_SHARE)
        inside = to_polygon(Profile(hole), tolerance_mm=COVER_TOLERANCE_MM, side=Side.INSIDE)
        self._free: shapely.Geometry = shapely.buffer(
            inside, -self._gap_mm, quad_segs=_CORNER_CHORDS
        )

    @property
    def area_mm2(self) -> float:
        """Area still free."""
        return float(shapely.area(self._free))

    def is_too_small(self, width_mm: float, height_mm: float) -> bool:
        """Return whether a part of this size cannot fit what is free."""
        left, bottom, right, top = shapely.bounds(self._free)
        return not (width_mm <= right - left and height_mm <= top - bottom)

    def lay(self, covered: Cover) -> tuple[float, float] | None:
        """Lay a part in the lowest, leftmost place found; return its move, or None."""
        part = shapely.Polygon(covered.polygon.exterior)
        left, bottom, right, top = shapely.bounds(part)
        room = shapely.bounds(self._free)
        spare_x, spare_y = room[2] - room[0] - (right - left), room[3] - room[1] - (top - bottom)
        if not (spare_x >= 0.0 and spare_y >= 0.0 and part.area <= self.area_mm2):
            return None
        shapely.prepare(self._free)
        across = np.linspace(0.0, spare_x, PLACES) + room[0] - left
        for up in np.linspace(0.0, spare_y, PLACES) + room[1] - bottom:
            moved = [_moved(part, dx, up) for dx in across]
            fits = np.flatnonzero(shapely.contains(self._free, moved))
            if len(fits):
                at = int(fits[0])
                taken = shapely.buffer(moved[at], self._gap_mm, quad_segs=_CORNER_CHORDS)
                self._free = shapely.difference(self._free, taken)
                return float(across[at]), float(up)
        return None


def _moved(part: shapely.Polygon, dx: float, dy: float) -> shapely.Polygon:
    move = np.array([dx, dy])
    moved: shapely.Polygon = shapely.transform(part, lambda points: points + move)
    return moved
