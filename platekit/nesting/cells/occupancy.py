"""Which cells of a sheet are taken, and where a shape's blocks are free of them.

A sheet's cells are the bits of one long whole number: cell (i, j) is bit ``i * rows + j``, so
the lowest free bit is the leftmost place, and the lowest of those. Whether a run of n cells is
free at every place at once is log2(n) shifts of the whole sheet. The largest block is tried so;
the others only where that one is free, strip by strip from the left.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np

from platekit.nesting.cells.raster import Block, Mask

# Settling, rastering and laying one part takes about as long as shifting so many bytes.
LAYING_WORK = 3_000_000

# Columns in which the further blocks are tried at once: wide enough to be worth a call, narrow
# enough that most strips are refused after a few blocks.
STRIP = 32

# Runs remembered until the next part is laid; beyond so many bytes they are worked out again.
MOST_RUNS_BYTES = 200_000_000


class Occupancy:
    """The taken cells of one sheet. It only grows, or goes back to what it was.

    Args:
        rows: Cells along y; along x there is no end.
    """

    __slots__ = ("_known_runs", "_taken", "rows", "work")

    def __init__(self, *, rows: int) -> None:
        self.rows = rows
        self.work = 0  # bytes shifted so far: the effort spent, the same on every machine
        self._taken = 0
        self._known_runs: dict[int, int] = {}

    @property
    def taken(self) -> int:
        """The taken cells, as bits."""
        return self._taken

    def back_to(self, taken: int) -> None:
        """Give back every cell that was taken since these were; the effort is spent."""
        self._taken = taken
        self._known_runs = {}

    def take(self, mask: Mask, *, column: int, row: int) -> None:
        """Mark the cells of a mask whose first cell lies at (`column`, `row`)."""
        framed = np.zeros((len(mask), self.rows), dtype=np.bool_)
        inside = mask[:, : self.rows - row]
        framed[:, row : row + inside.shape[1]] = inside
        self._taken |= _bits(framed) << (column * self.rows)
        self.work += LAYING_WORK + framed.size
        self._known_runs = {}

    def free_strips(
        self, shape: tuple[Block, ...], *, columns: int, rows: int
    ) -> Iterator[tuple[int, int]]:
        """Yield the places where `shape` meets no taken cell, from the left, strip by strip.

        Args:
            shape: The blocks of the shape, the largest first.
            columns: Places along x to look at: 0 up to this, itself left out.
            rows: The same along y.

        Yields:
            A column and the free places right of it, as bits; never none.
        """
        largest, *others = shape
        whole = self._runs(self._taken, self._known_runs)
        free = _without(self._window(columns, rows), self._met(largest, whole))
        span = STRIP + max(block.column + block.columns for block in shape)
        column = 0
        while free:
            skipped = lowest(free) // self.rows
            column += skipped
            free >>= skipped * self.rows
            strip = free & self._first(STRIP)
            near = self._taken >> (column * self.rows) & self._first(span)
            runs = self._runs(near, {})
            for block in others:
                strip = _without(strip, self._met(block, runs))
                if not strip:
                    break
            if strip:
                yield column, strip
            column += STRIP
            free >>= STRIP * self.rows

    def _met(self, block: Block, runs: Callable[[int], int]) -> int:
        """Return at which places a block would meet a taken cell."""
        met = runs(block.rows) >> (block.column * self.rows + block.row)
        self.work += (met.bit_length() >> 3) * (1 + block.columns.bit_length())
        done = 1
        while done < block.columns:
            more = min(done, block.columns - done)
            met |= met >> (more * self.rows)
            done += more
        return met

    def _runs(self, taken: int, known: dict[int, int]) -> Callable[[int], int]:
        """Return a function: where would a run of so many cells upwards meet a taken one."""
        size = taken.bit_length() >> 3

        def run(length: int) -> int:
            found = known.get(length)
            if found is None:
                if length == 1:
                    found = taken
                else:
                    half = run((length + 1) // 2)
                    found = half | half >> (length // 2)
                self.work += size
                if size * len(known) > MOST_RUNS_BYTES:
                    known.clear()
                known[length] = found
            return found

        return run

    def _window(self, columns: int, rows: int) -> int:
        """Return every place with its column below `columns` and its row below `rows`."""
        window = (1 << rows) - 1
        done = 1
        while done < columns:
            more = min(done, columns - done)
            window |= window << (more * self.rows)
            done += more
        return window

    def _first(self, columns: int) -> int:
        """Return every cell of the first columns."""
        return (1 << columns * self.rows) - 1


def lowest(bits: int) -> int:
    """Return the number of the lowest bit set."""
    return (bits & -bits).bit_length() - 1


def _without(places: int, blocked: int) -> int:
    return places ^ (places & blocked)


def _bits(mask: Mask) -> int:
    return int.from_bytes(np.packbits(mask.ravel(), bitorder="little").tobytes(), "little")
