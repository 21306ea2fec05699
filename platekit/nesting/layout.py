"""A layout: sheets filled one after another until nothing is left over."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import Enum

from platekit.nesting.filling import Area, Ask, Filled, fill
from platekit.nesting.poses import Kind
from platekit.nesting.values import Roll, Stock


class Taste(Enum):
    """Which of several stock sizes is taken for the next sheet."""

    FULLEST = "fullest"  # the one that ends up fullest
    LARGEST = "largest"  # the largest that holds anything


@dataclass(frozen=True, slots=True)
class Rack:
    """What sheets there are, each with the area that may be filled."""

    stocks: tuple[Stock | Roll, ...]
    areas: tuple[Area, ...]


@dataclass(frozen=True, slots=True)
class Plan:
    """One way of doing it.

    Attributes:
        order: The copies, in the order they are laid.
        taste: Which stock is taken next.
        stocks: Index of the stock for the first sheets, as far as it goes and they last; after
            that the taste decides.
    """

    order: tuple[Ask, ...]
    taste: Taste
    stocks: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Layout:
    """Sheets with what was laid on them, and the kinds left over.

    Attributes:
        sheets: Index of the stock and what was laid, in the order they were filled.
        left: The copies that found no sheet.
        work: Effort it took, in bytes shifted.
    """

    sheets: tuple[tuple[int, Filled], ...]
    left: tuple[Ask, ...]
    work: int


def lay_out(
    rack: Rack, kinds: Sequence[Kind], plan: Plan, *, is_over: Callable[[], bool]
) -> Layout | None:
    """Carry out `plan`; None when `is_over` said to give up."""
    sheets: list[tuple[int, Filled]] = []
    used: Counter[int] = Counter()
    left = list(plan.order)
    work = 0
    while left:
        tries: list[tuple[int, Filled]] = []
        there = _available(rack, used)
        if len(sheets) < len(plan.stocks) and plan.stocks[len(sheets)] in there:
            there = [plan.stocks[len(sheets)]]
        for index in there:
            filled = fill(rack.areas[index], kinds, left, is_over=is_over)
            if filled is None:
                return None
            work += filled.work
            if filled.laid:
                tries.append((index, filled))
        if not tries:
            break
        index, filled = _chosen(rack, kinds, tries, plan.taste)
        sheets.append((index, filled))
        used[index] += 1
        left = filled.left
    return Layout(tuple(sheets), tuple(left), work)


def part_area_mm2(filled: Filled, kinds: Sequence[Kind]) -> float:
    """Return the area of the parts laid on one sheet, mm2."""
    return sum(kinds[laid.kind].part.profile.area_mm2 for laid in filled.laid)


def sheet_area_mm2(stock: Stock | Roll, filled: Filled, *, margin_mm: float) -> float:
    """Return the area a sheet costs, mm2: of a roll, what is cut off."""
    if isinstance(stock, Roll):
        return used_length_mm(filled, margin_mm=margin_mm) * stock.height_mm
    return stock.width_mm * stock.height_mm


def used_length_mm(filled: Filled, *, margin_mm: float) -> float:
    """Return how far from the left edge parts reach, margin included."""
    return max(laid.right_mm for laid in filled.laid) + margin_mm


def _available(rack: Rack, used: Counter[int]) -> list[int]:
    found = []
    for index, stock in enumerate(rack.stocks):
        count = 1 if isinstance(stock, Roll) else stock.count
        if count is None or used[index] < count:
            found.append(index)
    return found


def _chosen(
    rack: Rack, kinds: Sequence[Kind], tries: list[tuple[int, Filled]], taste: Taste
) -> tuple[int, Filled]:
    """Return the sheet to keep: the smallest that takes all, else the one to the taste."""

    def size(entry: tuple[int, Filled]) -> float:
        index, filled = entry
        area = rack.areas[index]
        return sheet_area_mm2(rack.stocks[index], filled, margin_mm=area.margin_mm)

    complete = [entry for entry in tries if not entry[1].left]
    if complete:
        return min(complete, key=lambda entry: (size(entry), entry[0]))
    if taste is Taste.LARGEST:
        return max(tries, key=lambda entry: (size(entry), -entry[0]))
    return max(tries, key=lambda e: (part_area_mm2(e[1], kinds) / size(e), size(e), -e[0]))
