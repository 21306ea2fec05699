"""Cells a shape touches: the coarse, never too small picture in which places are sought.

Cells are unit squares; shapes come scaled to them. A mask is a boolean array of shape
(columns, rows): column i lies over x in [i, i + 1], row j over y in [j, j + 1].
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Mask = NDArray[np.bool_]

# An edge this close to a cell's border, in cells, does not touch the cell beyond it: parts of
# whole millimetres must fit side by side. It may make the raster that much too hopeful, which
# the exact test of every place then catches.
TOUCH_CELLS = 2e-5

# Edges are worked off in portions that span so many columns: a comb with ten thousand teeth
# must not need more memory than its cells.
MOST_SPANNED = 500_000


@dataclass(frozen=True, slots=True)
class Block:
    """Equal runs of cells in neighbouring columns: a rectangle of a mask."""

    column: int
    row: int
    columns: int
    rows: int


def cells_touched(rings: Sequence[Floats], *, columns: int, rows: int) -> Mask:
    """Return the mask of the cells that the inside of closed `rings` touches.

    Either an edge runs through a cell, or the cell lies wholly inside or wholly outside and
    its middle decides, by even-odd counting. Cells off the grid are left out.
    """
    start = np.concatenate([ring[:-1] for ring in rings])
    end = np.concatenate([ring[1:] for ring in rings])
    swap = start[:, 0] > end[:, 0]
    start[swap], end[swap] = end[swap], start[swap].copy()
    edges = np.zeros((columns, rows + 1), dtype=np.intp)
    turns = np.zeros((columns, rows + 1), dtype=np.intp)
    for part in _portions(np.ceil(end[:, 0] - start[:, 0]) + 1):
        edges += _edge_steps(start[part], end[part], columns, rows)
        turns += _turns(start[part], end[part], columns, rows)
    touched: Mask = np.cumsum(edges, axis=1)[:, :rows] > 0
    touched |= np.cumsum(turns, axis=1)[:, :rows] % 2 == 1
    return touched


def blocks(mask: Mask) -> tuple[Block, ...]:
    """Return rectangles that together are exactly `mask`, the largest first."""
    columns, rows = mask.shape
    framed = np.zeros((columns, rows + 2), dtype=np.int8)
    framed[:, 1:-1] = mask
    step = np.diff(framed, axis=1)
    at, first = np.nonzero(step == 1)
    past = np.nonzero(step == -1)[1]
    found: list[Block] = []
    growing: dict[tuple[int, int], Block] = {}
    for column, low, high in zip(at.tolist(), first.tolist(), past.tolist(), strict=True):
        block = growing.get((low, high))
        if block is not None and block.column + block.columns == column:
            growing[low, high] = Block(block.column, low, block.columns + 1, high - low)
            continue
        if block is not None:
            found.append(block)
        growing[low, high] = Block(column, low, 1, high - low)
    found.extend(growing.values())
    return tuple(sorted(found, key=lambda b: (-b.columns * b.rows, b.column, b.row)))


def _portions(spans: Floats) -> Iterator[slice]:
    """Yield runs of edges that together span a bounded number of columns."""
    reached = np.cumsum(spans)
    first = 0
    while first < len(spans):
        before = reached[first - 1] if first else 0.0
        past = max(int(np.searchsorted(reached, before + MOST_SPANNED)), first + 1)
        yield slice(first, past)
        first = past


def _edge_steps(start: Floats, end: Floats, columns: int, rows: int) -> NDArray[np.intp]:
    """Return how many more edges run through each cell than through the one below it.

    Edges run left to right.
    """
    first = np.floor(start[:, 0] + TOUCH_CELLS).astype(np.intp)
    last = np.ceil(end[:, 0] - TOUCH_CELLS).astype(np.intp)  # one past
    counts = np.maximum(last - first, 0)
    edge = np.repeat(np.arange(len(start)), counts)
    column = np.arange(len(edge)) - np.repeat(np.cumsum(counts) - counts, counts) + first[edge]
    x0, y0 = start[edge, 0], start[edge, 1]
    width = end[edge, 0] - x0
    slope = np.divide(end[edge, 1] - y0, width, out=np.zeros_like(width), where=width > 0)
    steep = width <= 2 * TOUCH_CELLS  # as good as upright: the whole height lies in one column
    ya = np.where(steep, y0, y0 + slope * (np.maximum(column, x0) - x0))
    yb = np.where(steep, end[edge, 1], y0 + slope * (np.minimum(column + 1, end[edge, 0]) - x0))
    low = np.floor(np.minimum(ya, yb) + TOUCH_CELLS).astype(np.intp)
    high = np.ceil(np.maximum(ya, yb) - TOUCH_CELLS).astype(np.intp)
    kept = (column >= 0) & (column < columns) & (high > low)
    begin = _counted(column[kept], low[kept], columns, rows)
    past = _counted(column[kept], high[kept], columns, rows)
    return begin - past


def _turns(start: Floats, end: Floats, columns: int, rows: int) -> NDArray[np.intp]:
    """Return how often an edge is crossed going up to each cell's middle from the one below.

    Edges run left to right.
    """
    first = np.ceil(start[:, 0] - 0.5).astype(np.intp)  # first column middle at or right of it
    last = np.ceil(end[:, 0] - 0.5).astype(np.intp)
    counts = np.maximum(last - first, 0)
    edge = np.repeat(np.arange(len(start)), counts)
    column = np.arange(len(edge)) - np.repeat(np.cumsum(counts) - counts, counts) + first[edge]
    part = (column + 0.5 - start[edge, 0]) / (end[edge, 0] - start[edge, 0])
    height = start[edge, 1] + part * (end[edge, 1] - start[edge, 1])
    above = np.ceil(height - 0.5).astype(np.intp)
    kept = (column >= 0) & (column < columns)
    return _counted(column[kept], above[kept], columns, rows)


def _counted(
    column: NDArray[np.intp], row: NDArray[np.intp], columns: int, rows: int
) -> NDArray[np.intp]:
    """Return how often each cell is named, rows kept to the grid and one above it."""
    flat = column * (rows + 1) + np.clip(row, 0, rows)
    counts: NDArray[np.intp] = np.bincount(flat, minlength=columns * (rows + 1))
    return counts.reshape(columns, rows + 1)
