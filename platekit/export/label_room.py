"""Where on a piece a name can be printed: on the material, clear of edges, holes and marks."""

from __future__ import annotations

import math
from collections.abc import Iterable

import numpy as np

from platekit.geometry.chains import Bounds, Chain
from platekit.geometry.chords import polyline_points
from platekit.geometry.points import Point
from platekit.geometry.profile import Profile
from platekit.nesting.cells.raster import Floats, Mask, cells_touched

# Fine enough that a name settles near the middle, coarse enough to cost nothing.
CELL_PX = 3.0

# Cells begin this share of one before the piece does: a mark on round measures would else run
# along the border between two cells and block neither. No round measure is so many cells long.
OFFSET = (math.sqrt(5) - 1) / 2


class LabelRoom:
    """The free cells of one piece as it lies on the picture.

    Args:
        profile: The piece where it lies, mm.
        marks: Lines on its face, in the same coordinates.
        scale: Pixels to the millimetre.
    """

    __slots__ = ("_blocked", "_bounds", "_cell_mm", "_corner")

    def __init__(self, profile: Profile, *, marks: Iterable[Chain], scale: float) -> None:
        self._bounds = profile.bounds
        self._cell_mm = CELL_PX / scale
        self._corner = Point(
            self._bounds.left - OFFSET * self._cell_mm, self._bounds.bottom - OFFSET * self._cell_mm
        )
        blocked = _blocked(
            profile, marks, bounds=self._bounds, corner=self._corner, cell_mm=self._cell_mm
        )
        # How many cells are blocked left of and below each corner: any window is four look-ups.
        self._blocked = np.zeros((blocked.shape[0] + 1, blocked.shape[1] + 1), dtype=np.int64)
        self._blocked[1:, 1:] = np.cumsum(np.cumsum(blocked, axis=0), axis=1)

    def spot(self, *, width_px: float, height_px: float) -> Point | None:
        """Return the middle of the free window nearest the piece's middle, mm, or None.

        Args:
            width_px: Width of the window.
            height_px: Its height.
        """
        wide, high = math.ceil(width_px / CELL_PX), math.ceil(height_px / CELL_PX)
        sums = self._blocked
        if wide >= sums.shape[0] or high >= sums.shape[1]:
            return None
        inside = (
            sums[wide:, high:] - sums[:-wide, high:] - sums[wide:, :-high] + sums[:-wide, :-high]
        )
        columns, rows = np.nonzero(inside == 0)
        if len(columns) == 0:
            return None
        x = columns + wide / 2 - (sums.shape[0] - 1) / 2
        y = rows + high / 2 - (sums.shape[1] - 1) / 2
        best = int(np.argmin(x * x + y * y))
        return Point(
            self._corner.x + (float(columns[best]) + wide / 2) * self._cell_mm,
            self._corner.y + (float(rows[best]) + high / 2) * self._cell_mm,
        )


def _blocked(
    profile: Profile, marks: Iterable[Chain], *, bounds: Bounds, corner: Point, cell_mm: float
) -> Mask:
    """Return the cells that are not wholly bare material."""
    columns = math.ceil((bounds.right - corner.x) / cell_mm)
    rows = math.ceil((bounds.top - corner.y) / cell_mm)

    def in_cells(chain: Chain) -> Floats:
        points: Floats = (
            polyline_points(chain, tolerance_mm=cell_mm / 8) - np.array(corner)
        ) / cell_mm
        return points

    # A frame around the piece turns even-odd counting over: what is touched is what is not free.
    frame = np.array(
        [(-1, -1), (columns + 1, -1), (columns + 1, rows + 1), (-1, rows + 1), (-1, -1)]
    )
    around = [frame.astype(np.float64), *(in_cells(ring) for ring in profile.rings)]
    # There and back again, a line is a ring with nothing in it.
    lines = [np.vstack([line, line[::-1]]) for line in map(in_cells, marks)]
    return cells_touched([*around, *lines], columns=columns, rows=rows)
