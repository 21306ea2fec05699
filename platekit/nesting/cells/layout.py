"""A layout: sheets filled one after another until nothing is left over."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import Enum

from platekit.nesting.cells.filling import Area, Ask, Filled, fill
from platekit.nesting.cells.poses import Kind
from platekit.nesting.laying import all_priced
from platekit.nesting.values import Roll, Stock

# Fillings are remembered until their orders together are so long.
MOST_KNOWN_ASKS = 100_000


class Taste(Enum):
    """Which of several stock sizes is taken for the next sheet."""

    FULLEST = "fullest"  # the one that ends up fullest; by price, with most parts for the money
    LARGEST = "largest"  # the largest that holds anything


@dataclass(frozen=True, slots=True)
class Rack:
    """What sheets there are, each with the area that may be filled; something fits each.

    Attributes:
        stocks: The sheets.
        numbers: The number of each in the task.
        areas: The area of each.
        kinds: What is to be laid on them.
    """

    stocks: tuple[Stock | Roll, ...]
    numbers: tuple[int, ...]
    areas: tuple[Area, ...]
    kinds: tuple[Kind, ...]

    @property
    def priced(self) -> bool:
        """Whether all of the stock has a price; only then are prices compared."""
        return all_priced(self.stocks)

    def limit(self, index: int) -> float:
        """Return how many sheets of a stock there are, infinite where no count says."""
        stock = self.stocks[index]
        count = 1 if isinstance(stock, Roll) else stock.count
        return math.inf if count is None else count

    def paid(self, index: int, filled: Filled) -> tuple[float, float]:
        """Return what a sheet costs: its price, where all stock has one, and its area, mm2.

        Where not, the area stands for the price; of a roll it is what is cut off.
        """
        stock = self.stocks[index]
        if isinstance(stock, Roll):
            margin = self.areas[index].room.margin_mm
            area = used_length_mm(filled, margin_mm=margin) * stock.height_mm
            return area, area
        price = stock.price if self.priced else None
        return stock.area_mm2 if price is None else price, stock.area_mm2


@dataclass(frozen=True, slots=True)
class Plan:
    """One way of doing it.

    Attributes:
        order: The copies, in the order they are laid.
        taste: Which stock is taken next.
        stocks: Index of the stock for each sheet, in the order they are filled. Where there are
            none the taste decides, and sheets are taken as long as they hold anything.
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


class Bench:
    """Fills sheets, and remembers what it filled: many plans begin alike.

    Args:
        rack: The sheets to fill.
    """

    __slots__ = ("_known", "_known_asks", "rack")

    def __init__(self, rack: Rack) -> None:
        self.rack = rack
        self._known: dict[tuple[int, tuple[Ask, ...]], Filled] = {}
        self._known_asks = 0

    def lay_out(self, plan: Plan, *, is_over: Callable[[], bool]) -> Layout | None:
        """Carry out `plan`; None when `is_over` said to give up."""
        sheets: list[tuple[int, Filled]] = []
        used: Counter[int] = Counter()
        left = plan.order
        work = 0
        while left and not (plan.stocks and len(sheets) == len(plan.stocks)):
            there = [plan.stocks[len(sheets)]] if plan.stocks else self._available(used)
            tries: list[tuple[int, Filled]] = []
            for index in there:
                known = self._known.get((index, left))
                filled = known or fill(self.rack.areas[index], left, is_over=is_over)
                if filled is None:
                    return None
                if known is None:
                    work += filled.work
                    self._remember(index, left, filled)
                tries.append((index, filled))
            tries = [entry for entry in tries if entry[1].laid or plan.stocks]
            if not tries:
                break
            index, filled = self._chosen(tries, plan.taste)
            sheets.append((index, filled))
            used[index] += 1
            left = filled.left
        return Layout(tuple(entry for entry in sheets if entry[1].laid), left, work)

    def _available(self, used: Counter[int]) -> list[int]:
        rack = self.rack
        return [index for index in range(len(rack.stocks)) if used[index] < rack.limit(index)]

    def _remember(self, index: int, asks: tuple[Ask, ...], filled: Filled) -> None:
        self._known_asks += len(asks)
        if self._known_asks > MOST_KNOWN_ASKS:
            self._known.clear()
            self._known_asks = len(asks)
        self._known[index, asks] = filled

    def _chosen(self, tries: list[tuple[int, Filled]], taste: Taste) -> tuple[int, Filled]:
        """Return the sheet to keep: the cheapest that takes all, else the one to the taste."""
        complete = [entry for entry in tries if not entry[1].left]
        if complete:
            return min(complete, key=lambda entry: (self.rack.paid(*entry), entry[0]))

        def worth(entry: tuple[int, Filled]) -> tuple[float, ...]:
            (price, area), held = self.rack.paid(*entry), part_area_mm2(entry[1], self.rack.kinds)
            if taste is Taste.LARGEST or len(tries) == 1:
                return (area,)
            return (held / price if price else math.inf, held / area, area)

        return max(tries, key=lambda entry: (worth(entry), -entry[0]))


def part_area_mm2(filled: Filled, kinds: Sequence[Kind]) -> float:
    """Return the area of the parts laid on one sheet, mm2."""
    return sum(kinds[laid.kind].part.profile.area_mm2 for laid in filled.laid)


def used_length_mm(filled: Filled, *, margin_mm: float) -> float:
    """Return how far from the left edge parts reach, margin included."""
    return max(laid.right_mm for laid in filled.laid) + margin_mm
