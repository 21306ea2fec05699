"""Which cells of a sheet are taken, and where a shape's blocks are free of them.

A sheet's cells are the bits of one long whole number: cell (i, j) is bit ``i * rows + j``, so
the lowest free bit is the leftmost place, and the lowest of those. Whether a run of n cells is
free at every place at once is log2(n) shifts of the whole sheet.
"""

from __future__ import annotations

import numpy as np

from platekit.nesting.raster import Block, Mask

# Settling, rastering and laying one part takes about as long as shifting so many bytes.
LAYING_WORK = 3_000_000


class Occupancy:
    """The taken cells of one sheet. It only ever grows.

    Args:
        rows: Cells along y; along x there is no end.
    """

    __slots__ = ("_runs", "_taken", "_windows", "rows", "work")

    def __init__(self, *, rows: int) -> None:
        self.rows = rows
        self.work = 0  # bytes shifted so far: the effort spent, the same on every machine
        self._taken = 0
        self._runs: dict[int, int] = {}
        self._windows: dict[int, tuple[int, int]] = {}

    def take(self, mask: Mask, *, column: int, row: int) -> None:
        """Mark the cells of a mask whose first cell lies at (`column`, `row`)."""
        framed = np.zeros((len(mask), self.rows), dtype=np.bool_)
        inside = mask[:, : self.rows - row]
        framed[:, row : row + inside.shape[1]] = inside
        self._taken |= _bits(framed) << (column * self.rows)
        self.work += LAYING_WORK + framed.size
        self._runs = {}

    def free_places(self, shape: tuple[Block, ...], *, columns: int, rows: int) -> int:
        """Return the places where `shape` meets no taken cell, as bits.

        Args:
            shape: The blocks of the shape.
            columns: Places along x to look at: 0 up to this, itself left out.
            rows: The same along y.
        """
        window = self._window(columns, rows)
        length = columns * self.rows + self._taken.bit_length()
        blocked = 0
        for count, block in enumerate(shape):
            run = self._run(block.rows)
            self.work += block.columns.bit_length() * length >> 3
            blocked |= self._across(run, block.columns) >> (block.column * self.rows + block.row)
            if count % 8 == 7 and not window & ~blocked:
                return 0
        return window & ~blocked

    def _run(self, length: int) -> int:
        """Return where a run of `length` cells upwards would meet a taken one."""
        known = self._runs.get(length)
        if known is None:
            half = (length + 1) // 2
            known = (
                self._taken if length == 1 else self._run(half) | self._run(half) >> (length - half)
            )
            self._runs[length] = known
        return known

    def _across(self, run: int, columns: int) -> int:
        """Return where `columns` such runs side by side would meet a taken cell."""
        done = 1
        while done < columns:
            more = min(done, columns - done)
            run |= run >> (more * self.rows)
            done += more
        return run

    def _window(self, columns: int, rows: int) -> int:
        """Return every place with its column below `columns` and its row below `rows`."""
        built, window = self._windows.get(rows, (0, 0))
        if built < columns:
            built = 2 * columns
            mask = np.zeros((built, self.rows), dtype=np.bool_)
            mask[:, :rows] = True
            window = _bits(mask)
            self._windows[rows] = (built, window)
        return window & ((1 << columns * self.rows) - 1)


def _bits(mask: Mask) -> int:
    return int.from_bytes(np.packbits(mask.ravel(), bitorder="little").tobytes(), "little")
