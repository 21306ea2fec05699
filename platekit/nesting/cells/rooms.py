"""Rooms: what of a sheet may be filled, what fits an empty one, how fine its cells are."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from platekit.geometry.packing_ground import Ground

# A part may be larger than its room by this rounding.
FIT_MM = 1e-7


# Cells in the stretch of a sheet that its parts will need: so many as a rule, more when parts
# are small against the sheet, never beyond the most; an offcut's stretch is then all of it.
# Effort grows with the cells of the sheet times those of a part's side; a part is slid home
# exactly after a place is found, so that coarse cells cost little but parts that must fit a gap
# nearly as wide as themselves.
@dataclass(frozen=True, slots=True)
class Fineness:
    """How fine cells are: so many to the stretch that is needed, so many across small parts."""

    usual_cells: int
    across_a_part: int


COARSE = Fineness(50_000, 6)
FINE = Fineness(200_000, 12)
MOST_CELLS = 2_000_000

# Laid end to end, the widest turn of every copy, the parts cannot need more cells than this: a
# sheet is then 2 MB of cells at worst, whatever the stock, the gap and the parts.
LIMIT_CELLS = 16_000_000

# Part of a sheet that parts leave empty between them, against their boxes, is made up for by
# parts lying in each other's boxes; a little more room than the boxes is a fair guess.
SPREAD = 1.2


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """What of a sheet may be filled.

    Attributes:
        width_mm: Extent of the sheet along x; None where it is open.
        height_mm: Extent along y.
        margin_mm: Kept free along every edge.
        gap_mm: Kept free between parts, above 0.
        ground: What an offcut's shape forbids; None for a whole sheet or a roll.
    """

    width_mm: float | None
    height_mm: float
    margin_mm: float
    gap_mm: float
    ground: Ground | None = None

    @property
    def inner_width_mm(self) -> float:
        """Extent along x inside the margin; infinite where it is open."""
        return math.inf if self.width_mm is None else self.width_mm - 2 * self.margin_mm

    @property
    def inner_height_mm(self) -> float:
        """Extent along y inside the margin."""
        return self.height_mm - 2 * self.margin_mm

    @property
    def area_mm2(self) -> float:
        """Area that may be filled, mm2: half a gap may hang over the margin all round."""
        if self.ground is not None:
            return self.ground.room_mm2(gap_mm=self.gap_mm)
        return (self.inner_width_mm + self.gap_mm) * (self.inner_height_mm + self.gap_mm)

    def admits(self, *, width_mm: float, height_mm: float) -> bool:
        """Return whether a part of this size fits the empty room."""
        return (
            height_mm <= self.inner_height_mm + FIT_MM and width_mm <= self.inner_width_mm + FIT_MM
        )


@dataclass(frozen=True, slots=True)
class Sizes:
    """One kind of part as far as it fits a room: its turns' extents, and how many copies."""

    turns: tuple[tuple[float, float], ...]
    quantity: int


def cell_mm(room: Room, sizes: Sequence[Sizes], *, fineness: Fineness) -> float:
    """Return the size of a cell: a round number, so that parts of whole millimetres fit cells.

    It follows from the room and from what fits it, so that the cells stay few: a part that fits
    no sheet, a huge sheet or a gap far wider than the sheet must not cost memory.

    Args:
        room: The room to be filled.
        sizes: The parts that fit it, only with the turns that fit; at least one.
        fineness: How fine they are to be.
    """
    gap = room.gap_mm
    high = room.inner_height_mm + gap
    widths = [max(width for width, _ in one.turns) + gap for one in sizes]
    boxes = [min((width + gap) * (height + gap) for width, height in one.turns) for one in sizes]
    boxed = sum(box * one.quantity for box, one in zip(boxes, sizes, strict=True))
    lined_up = sum(width * one.quantity for width, one in zip(widths, sizes, strict=True))
    # No wider than the room, in which the outermost half gaps may hang over the margin.
    widest = room.inner_width_mm + gap
    usual = min(widest, max(*widths, SPREAD * boxed / high)) * high
    # What is outside an offcut's shape is told for all of it, however little of it is needed.
    whole = 0.0 if room.ground is None else widest * high
    most = max(min(widest, lined_up) * high, whole)
    sides = sorted(min(min(size) for size in one.turns) for one in sizes)
    small = sides[len(sides) // 4]
    cell = min(math.sqrt(usual / fineness.usual_cells), small / fineness.across_a_part)
    cell = max(cell, math.sqrt(max(usual, whole) / MOST_CELLS))
    return max(_rounded(cell, up=False), _rounded(math.sqrt(most / LIMIT_CELLS), up=True))


def _rounded(size: float, *, up: bool) -> float:
    """Return the next round number up or down."""
    power = 10.0 ** math.floor(math.log10(size))
    steps = [step * power for step in (1.0, 2.0, 2.5, 5.0, 10.0)]
    if up:
        return min(step for step in steps if step >= size * (1 - 1e-9))
    return max(step for step in steps if step <= size * (1 + 1e-9))
