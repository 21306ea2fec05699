"""Groups: parts of one material and thickness are nested by themselves, on stock of the same."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from platekit.nesting.values import NestPart, Roll, Stock

# Sheets as thick as each other to a millionth of a millimetre are one thickness.
THICKNESS_MM = 1e-6

UNSTATED = "unstated material"


@dataclass(frozen=True, slots=True)
class Group:
    """Parts that are cut from the same.

    Attributes:
        material: What it is, as the first part says it; empty where nobody says.
        thickness_mm: How thick it is; None where nobody says.
        parts: The parts.
    """

    material: str
    thickness_mm: float | None
    parts: tuple[NestPart, ...]

    @property
    def area_mm2(self) -> float:
        """Area of all copies of the parts, mm2."""
        return sum(part.profile.area_mm2 * part.quantity for part in self.parts)

    def may_use(self, stock: Stock | Roll) -> bool:
        """Return whether a stock is of this material and thickness, or states neither."""
        if isinstance(stock, Roll):
            return True
        if stock.material and not same_material(stock.material, self.material):
            return False
        return stock.thickness_mm is None or same_thickness(stock.thickness_mm, self.thickness_mm)

    def __str__(self) -> str:
        """Return ``birch plywood, 6 mm``."""
        thick = "" if self.thickness_mm is None else f"{self.thickness_mm:g} mm"
        return ", ".join(word for word in (self.material, thick) if word) or UNSTATED


def groups_of(parts: Iterable[NestPart]) -> tuple[Group, ...]:
    """Return the parts in groups, each where its first part was."""
    groups: list[Group] = []
    for part in parts:
        for number, group in enumerate(groups):
            if same_material(part.material, group.material) and same_thickness(
                part.thickness_mm, group.thickness_mm
            ):
                groups[number] = replace(group, parts=(*group.parts, part))
                break
        else:
            groups.append(Group(part.material, part.thickness_mm, (part,)))
    return tuple(groups)


def still_there(stocks: Sequence[Stock | Roll], used: Counter[int]) -> list[Stock | Roll | None]:
    """Return the stock with what was used taken off its counts; None where none is left.

    A roll is as long as anybody needs: it is always there.
    """
    left: list[Stock | Roll | None] = []
    for number, stock in enumerate(stocks):
        if isinstance(stock, Roll) or stock.count is None:
            left.append(stock)
        elif stock.count > used[number]:
            left.append(replace(stock, count=stock.count - used[number]))
        else:
            left.append(None)
    return left


def same_material(one: str, other: str) -> bool:
    """Return whether two names mean one material: capitals and spaces do not matter."""
    return _plain(one) == _plain(other)


def same_thickness(one: float | None, other: float | None) -> bool:
    """Return whether two thicknesses are one; said by nobody is only like said by nobody."""
    if one is None or other is None:
        return one is other
    return math.isclose(one, other, rel_tol=0.0, abs_tol=THICKNESS_MM)


def _plain(name: str) -> str:
    return "".join(name.split()).casefold()
