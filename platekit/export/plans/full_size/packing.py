"""Packing: rectangles onto as few pages as a simple rule finds, tried in several orders.

Every page keeps its free room as the largest rectangles that fit in it, which may overlap; a cell
goes where its far edge lies nearest to the head of the page. Paper is cheap and the rest of the
rack is cut by a saw: nothing cleverer is wanted here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

from platekit.errors import PlatekitError

# What two figures may differ by and still be the same.
SAME_MM = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """Room that one thing asks for, as it lies and after a quarter turn, mm."""

    size_mm: tuple[float, float]
    turned_mm: tuple[float, float]

    def lying(self, *, turned: bool) -> tuple[float, float]:
        """Return its width and height as it lies."""
        return self.turned_mm if turned else self.size_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """Where a cell lies: its left upper corner, from the head of the page down, mm.

    Attributes:
        cell: Number of the cell.
        left_mm: From the left side of the page's room.
        down_mm: From its head.
        turned: Whether it lies turned by a quarter.
    """

    cell: int
    left_mm: float
    down_mm: float
    turned: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Packed:
    """One page: its room and what lies in it."""

    width_mm: float
    height_mm: float
    spots: tuple[Spot, ...]


@dataclass(slots=True)
class _Page:
    width_mm: float
    height_mm: float
    free: list[tuple[float, float, float, float]]
    spots: list[Spot] = field(default_factory=list)


def fits(cell: Cell, windows: Sequence[tuple[float, float]]) -> bool:
    """Return whether a cell fits any window, turned or not."""
    return any(
        size[0] <= width + SAME_MM and size[1] <= height + SAME_MM
        for size in (cell.size_mm, cell.turned_mm)
        for width, height in windows
    )


def packed(
    cells: Sequence[Cell], *, windows: Sequence[tuple[float, float]], gap_mm: float
) -> tuple[Packed, ...]:
    """Return pages with every cell on one of them.

    Args:
        cells: What to lay.
        windows: Room of a page for each way it may lie; the first that will do is taken.
        gap_mm: Air between two cells.

    Raises:
        PlatekitError: A cell fits no window.
    """
    tries = [
        _filled(cells, order, ways, gap_mm)
        for ways in dict.fromkeys((tuple(windows), tuple(reversed(windows))))
        for order in _orders(cells)
    ]
    return min(tries, key=lambda pages: (len(pages), sum(_depth(cells, page) for page in pages)))


def _depth(cells: Sequence[Cell], page: Packed) -> float:
    return max(spot.down_mm + cells[spot.cell].lying(turned=spot.turned)[1] for spot in page.spots)


def _orders(cells: Sequence[Cell]) -> Iterator[list[int]]:
    """Yield orders to lay cells in: by the longer side, by area, by height, by width."""
    ranks: tuple[Callable[[tuple[float, float]], tuple[float, float]], ...] = (
        lambda size: (max(size), min(size)),
        lambda size: (size[0] * size[1], max(size)),
        lambda size: (size[1], size[0]),
        lambda size: size,
    )
    for rank in ranks:
        yield sorted(range(len(cells)), key=lambda k: (rank(cells[k].size_mm), -k), reverse=True)


def _filled(
    cells: Sequence[Cell],
    order: Sequence[int],
    windows: Sequence[tuple[float, float]],
    gap_mm: float,
) -> tuple[Packed, ...]:
    """Return cells on pages, each on the first that has room for it."""
    pages: list[_Page] = []
    for number in order:
        if any(_laid(page, cells[number], number, gap_mm) for page in pages):
            continue
        for width, height in windows:
            page = _Page(width, height, [(0.0, 0.0, width + gap_mm, height + gap_mm)])
            if _laid(page, cells[number], number, gap_mm):
                pages.append(page)
                break
        else:
            width, height = cells[number].size_mm
            raise PlatekitError(
                f"{width:g} x {height:g} mm fit no page", remedy="give larger paper"
            )
    return tuple(
        Packed(width_mm=page.width_mm, height_mm=page.height_mm, spots=tuple(page.spots))
        for page in pages
    )


def _laid(page: _Page, cell: Cell, number: int, gap_mm: float) -> bool:
    """Lay a cell on a page if there is room; the free room reaches a gap over its edges."""
    best: tuple[float, float, float, bool] | None = None
    for turned, (width, height) in enumerate((cell.size_mm, cell.turned_mm)):
        w, h = width + gap_mm, height + gap_mm
        for x, y, free_w, free_h in page.free:
            if w > free_w + SAME_MM or h > free_h + SAME_MM:
                continue
            found = (y + h, x, y, bool(turned))
            if best is None or found < best:
                best = found
    if best is None:
        return False
    _, x, y, was_turned = best
    width, height = cell.lying(turned=was_turned)
    page.spots.append(Spot(cell=number, left_mm=x, down_mm=y, turned=was_turned))
    page.free = _left_over(page.free, (x, y, width + gap_mm, height + gap_mm))
    return True


def _left_over(
    free: Sequence[tuple[float, float, float, float]], taken: tuple[float, float, float, float]
) -> list[tuple[float, float, float, float]]:
    """Return the largest free rectangles once one is taken."""
    tx, ty, tw, th = taken
    pieces: list[tuple[float, float, float, float]] = []
    for x, y, w, h in free:
        if (
            tx >= x + w - SAME_MM
            or tx + tw <= x + SAME_MM
            or ty >= y + h - SAME_MM
            or ty + th <= y + SAME_MM
        ):
            pieces.append((x, y, w, h))
            continue
        pieces += [
            piece
            for piece in (
                (x, y, tx - x, h),
                (tx + tw, y, x + w - tx - tw, h),
                (x, y, w, ty - y),
                (x, ty + th, w, y + h - ty - th),
            )
            if piece[2] > SAME_MM and piece[3] > SAME_MM
        ]
    kept: list[tuple[float, float, float, float]] = []
    for piece in sorted(set(pieces), key=lambda one: (-one[2] * one[3], one)):
        if not any(_inside(piece, other) for other in kept):
            kept.append(piece)
    return kept


def _inside(
    one: tuple[float, float, float, float], other: tuple[float, float, float, float]
) -> bool:
    return (
        one[0] >= other[0] - SAME_MM
        and one[1] >= other[1] - SAME_MM
        and one[0] + one[2] <= other[0] + other[2] + SAME_MM
        and one[1] + one[3] <= other[1] + other[3] + SAME_MM
    )
