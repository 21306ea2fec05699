"""Mixes: which sheets to take instead of those taken so far, because they cost less."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import combinations_with_replacement, islice

from platekit.nesting.cells.layout import Rack
from platekit.nesting.cells.poses import Kind
from platekit.nesting.values import Roll, Stock

# A mix: indices of stocks, the largest sheet first.
Mix = tuple[int, ...]

# So many sheets at most are given back, so many taken for them; further changes come about by
# several such steps, each cheaper than the last. With many sizes not all of them are looked at.
MOST_RETURNED = 4
MOST_TAKEN = 4
MOST_LOOKED_AT = 20_000


def mix_cost(rack: Rack, mix: Sequence[int]) -> tuple[float, float, int]:
    """Return what a mix costs: its price, its area, mm2, and then its number of sheets.

    Where not all stock has a price the area stands for it.
    """
    area = sum(area_mm2(rack, index) for index in mix)
    prices = [stock.price for stock in rack.stocks if isinstance(stock, Stock)]
    price = sum(prices[index] or 0.0 for index in mix) if rack.priced else area
    return price, area, len(mix)


def area_mm2(rack: Rack, index: int) -> float:
    """Return the area of a sheet, mm2; infinite for a roll."""
    stock = rack.stocks[index]
    return math.inf if isinstance(stock, Roll) else stock.area_mm2


def ordered(rack: Rack, mix: Sequence[int]) -> Mix:
    """Return the sheets of a mix, the largest first."""
    return tuple(sorted(mix, key=lambda index: (-area_mm2(rack, index), index)))


def cheaper_mixes(rack: Rack, mix: Sequence[int], least_mm2: float) -> tuple[Mix, ...]:
    """Return mixes that cost less than `mix`, by changing a few of its sheets; cheapest first.

    Args:
        rack: The stock; its counts are kept.
        mix: What is taken so far. None is cheaper than a roll, which is cut where its parts end.
        least_mm2: Less room than this, as `room_mm2` counts it, cannot hold the parts.
    """
    if any(isinstance(stock, Roll) for stock in rack.stocks):
        return ()
    cost = mix_cost(rack, mix)
    found = {
        ordered(rack, changed)
        for changed in islice(_changed(rack, mix), MOST_LOOKED_AT)
        if mix_cost(rack, changed) < cost
        and sum(room_mm2(rack, index) for index in changed) >= least_mm2
    }
    return tuple(sorted(found, key=lambda mix: (mix_cost(rack, mix), mix)))


def room_mm2(rack: Rack, index: int) -> float:
    """Return the room of a sheet, mm2: half a gap may hang over the margin all round."""
    return rack.areas[index].room.area_mm2


def needed_mm2(kind: Kind, *, gap_mm: float) -> float:
    """Return the least area that one copy takes up with half the gap around it, mm2.

    Source:
        Brunn-Minkowski inequality in the plane: the sum of two sets has at least the area
        (sqrt(A) + sqrt(B))^2; here the part and a disc of radius gap / 2.
    """
    return (math.sqrt(kind.part.profile.area_mm2) + math.sqrt(math.pi) * gap_mm / 2) ** 2


def _changed(rack: Rack, mix: Sequence[int]) -> Iterator[tuple[int, ...]]:
    """Yield mixes with some sheets given back and others taken, small changes first."""
    stocks = range(len(rack.stocks))
    have = Counter(mix)
    for size in range(1, MOST_RETURNED + MOST_TAKEN + 1):
        for returned in range(max(1, size - MOST_TAKEN), min(size, MOST_RETURNED, len(mix)) + 1):
            for less in combinations_with_replacement(sorted(have), returned):
                kept = have - Counter(less)
                if kept.total() != have.total() - returned:
                    continue
                for more in combinations_with_replacement(stocks, size - returned):
                    changed = kept + Counter(more)
                    if changed and all(n <= rack.limit(index) for index, n in changed.items()):
                        yield tuple(changed.elements())
