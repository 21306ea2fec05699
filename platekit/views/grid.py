"""A grid over the picture: which of many segments and triangles share a cell of it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from platekit.geometry.tables import Floats, Ints

# Cells to the side of the grid: more find fewer pairs, but take longer to fill.
CELLS = 144


@dataclass(frozen=True, slots=True)
class Grid:
    """A square grid.

    Attributes:
        left: Its least x, mm.
        bottom: Its least y, mm.
        cell_mm: Side of a cell.
        across: Cells in a row.
    """

    left: float
    bottom: float
    cell_mm: float
    across: int

    def middles(self, cells: Ints) -> Floats:
        """Return the middle of each cell, shape (n, 2)."""
        spot = np.stack([cells % self.across, cells // self.across], axis=1) + 0.5
        return np.asarray(spot * self.cell_mm + [self.left, self.bottom])


def grid_over(points: Floats) -> Grid:
    """Return a grid that covers points, shape (n, 2) or more columns."""
    low, high = points[:, :2].min(axis=0), points[:, :2].max(axis=0)
    cell = max(float((high - low).max()) / CELLS, 1e-6)
    return Grid(float(low[0]) - cell, float(low[1]) - cell, cell, CELLS + 3)


def cells_of(grid: Grid, rings: Floats) -> tuple[Ints, Ints]:
    """Return which cells convex shapes reach, a pair of index and cell for each meeting.

    Args:
        grid: The grid.
        rings: Corners of each shape in order, shape (n, corners, 2): two for a segment. What
            lies beside the grid reaches no cell.

    Returns:
        Index of the shape and number of the cell, each of shape (k,).
    """
    at = (rings - [grid.left, grid.bottom]) / grid.cell_mm
    low = np.floor(at[:, :, 1].min(axis=1)).astype(np.intp)
    high = np.floor(at[:, :, 1].max(axis=1)).astype(np.intp)
    which, row = counted(low, high)
    left = np.full(len(which), np.inf)
    right = np.full(len(which), -np.inf)
    corners = at.shape[1]
    for k in range(corners if corners > 2 else 1):
        a, b = at[which, k], at[which, (k + 1) % corners]
        down, up = row.astype(float), row + 1.0
        rise = b[:, 1] - a[:, 1]
        steep = np.where(rise == 0.0, 1.0, rise)
        s0 = np.clip(np.where(rise == 0.0, 0.0, (down - a[:, 1]) / steep), 0.0, 1.0)
        s1 = np.clip(np.where(rise == 0.0, 1.0, (up - a[:, 1]) / steep), 0.0, 1.0)
        there = (np.minimum(a[:, 1], b[:, 1]) <= up) & (np.maximum(a[:, 1], b[:, 1]) >= down)
        x0, x1 = (a[:, 0] + s * (b[:, 0] - a[:, 0]) for s in (s0, s1))
        left = np.where(there, np.minimum(left, np.minimum(x0, x1)), left)
        right = np.where(there, np.maximum(right, np.maximum(x0, x1)), right)
    place, column = counted(
        np.floor(left - 1e-6).astype(np.intp), np.floor(right + 1e-6).astype(np.intp)
    )
    inside = (column >= 0) & (column < grid.across)
    inside &= (row[place] >= 0) & (row[place] < grid.across)
    place, column = place[inside], column[inside]
    return which[place], row[place] * grid.across + column


def counted(low: Ints, high: Ints) -> tuple[Ints, Ints]:
    """Return every whole number from low to high, and which pair each is from."""
    count = high - low + 1
    which = np.repeat(np.arange(len(low)), count)
    start = np.cumsum(count) - count
    return which, np.arange(len(which)) - start[which] + low[which]


def pairs(first: Ints, second: Ints) -> tuple[Ints, Ints]:
    """Return every pair of places in two lists that hold the same number."""
    order = np.argsort(second, kind="stable")
    ranked = second[order]
    low = np.searchsorted(ranked, first, side="left")
    high = np.searchsorted(ranked, first, side="right")
    which, place = counted(low, high - 1)
    return which, order[place]
