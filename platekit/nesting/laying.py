"""Layings: what is to be laid on what, and where everything lies, whichever search found it."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from platekit.geometry.chains import Bounds
from platekit.geometry.motion import Motion
from platekit.nesting.cells.poses import Kind
from platekit.nesting.cells.rooms import Room
from platekit.nesting.values import Roll, Stock

# Smaller is better: area of the parts left over, what the stock costs, its area, its number of
# sheets, the length used of the last.
Score = tuple[float, float, float, int, float]


@dataclass(frozen=True, slots=True)
class Task:
    """Parts of one material and thickness, and the stock they may go on.

    Attributes:
        kinds: The parts, each with its turns.
        stocks: The stock.
        rooms: What of each stock may be filled.
    """

    kinds: tuple[Kind, ...]
    stocks: tuple[Stock | Roll, ...]
    rooms: tuple[Room, ...]

    @property
    def parts_mm2(self) -> float:
        """Area of all copies of all parts, mm2."""
        return sum(kind.part.profile.area_mm2 * kind.part.quantity for kind in self.kinds)

    @property
    def priced(self) -> bool:
        """Whether all stock has a price; only then are prices compared."""
        return all_priced(self.stocks)

    def limit(self, stock: int) -> float:
        """Return how many sheets of a stock there are, infinite where no count says."""
        one = self.stocks[stock]
        count = 1 if isinstance(one, Roll) else one.count
        return math.inf if count is None else count


@dataclass(frozen=True, slots=True)
class Lying:
    """Where one copy lies.

    Attributes:
        kind: Number of the part in the task.
        x_mm: Move along x, after turning.
        y_mm: Move along y, after turning.
        rotation_deg: Turn counter-clockwise about the part's own origin.
        mirrored: Whether it was mirrored first.
    """

    kind: int
    x_mm: float
    y_mm: float
    rotation_deg: float
    mirrored: bool = False

    @property
    def motion(self) -> Motion:
        """The motion from the part as given to its place."""
        return Motion(
            dx_mm=self.x_mm, dy_mm=self.y_mm, turn_deg=self.rotation_deg, mirrored=self.mirrored
        )


@dataclass(frozen=True, slots=True)
class SheetLaying:
    """One sheet and what lies on it.

    Attributes:
        stock: Number of the stock in the task.
        lying: The copies.
    """

    stock: int
    lying: tuple[Lying, ...]


Laying = tuple[SheetLaying, ...]


def all_priced(stocks: Iterable[Stock | Roll]) -> bool:
    """Return whether every stock has a price; a roll has none."""
    return all(isinstance(one, Stock) and one.price is not None for one in stocks)


def score(task: Task, laying: Laying) -> Score:
    """Return what makes a laying worse; of two the smaller is better."""
    return (
        left_mm2(task, laying),
        sum(cost(task, sheet) for sheet in laying),
        sum(area_mm2(task, sheet) for sheet in laying),
        len(laying),
        used_length_mm(task, laying[-1]) if laying else 0.0,
    )


def left_mm2(task: Task, laying: Laying) -> float:
    """Return the area of the copies that found no sheet, mm2."""
    left = left_over(task, laying)
    return sum(task.kinds[kind].part.profile.area_mm2 * count for kind, count in left.items())


def left_over(task: Task, laying: Sequence[SheetLaying]) -> dict[int, int]:
    """Return how many copies of each kind lie on no sheet; kinds with none are left out."""
    laid = Counter(lying.kind for sheet in laying for lying in sheet.lying)
    return {
        number: kind.part.quantity - laid[number]
        for number, kind in enumerate(task.kinds)
        if kind.part.quantity > laid[number]
    }


def cost(task: Task, sheet: SheetLaying) -> float:
    """Return what a sheet costs: its price where all stock has one, else its area, mm2."""
    stock = task.stocks[sheet.stock]
    if task.priced and isinstance(stock, Stock) and stock.price is not None:
        return stock.price
    return area_mm2(task, sheet)


def used_length_mm(task: Task, sheet: SheetLaying) -> float:
    """Return how far from the left edge parts reach, margin included."""
    right = max(bounds_of(task, lying).right for lying in sheet.lying)
    return right + task.rooms[sheet.stock].margin_mm


def bounds_of(task: Task, lying: Lying) -> Bounds:
    """Return the exact bounds of a copy in its place."""
    profile = task.kinds[lying.kind].part.profile
    return profile.outer.moved(lying.motion).bounds


def area_mm2(task: Task, sheet: SheetLaying) -> float:
    """Return the area of a sheet, mm2; of a roll, of what is cut off."""
    stock = task.stocks[sheet.stock]
    if isinstance(stock, Roll):
        return used_length_mm(task, sheet) * stock.height_mm
    return stock.area_mm2


def in_words(task: Task, laying: Laying) -> str:
    """Return ``3 sheets, 81.2 % filled, last used to 412 mm``."""
    if not laying:
        return "nothing lies yet"
    count = len(laying)
    parts = sum(parts_on_mm2(task, sheet) for sheet in laying)
    fill = parts / sum(area_mm2(task, sheet) for sheet in laying)
    length = used_length_mm(task, laying[-1])
    sheets = f"{count} sheet{'' if count == 1 else 's'}"
    return f"{sheets}, {100 * fill:.1f} % filled, last used to {length:.0f} mm"


def parts_on_mm2(task: Task, sheet: SheetLaying) -> float:
    """Return the area of the parts on a sheet, mm2."""
    return sum(task.kinds[lying.kind].part.profile.area_mm2 for lying in sheet.lying)
