"""Companies: parts that lie together on one sheet, or on none."""

from __future__ import annotations

from collections.abc import Sequence

from platekit.nesting.cells.poses import Kind
from platekit.nesting.laying import Task
from platekit.nesting.outcome import StockRooms, fits_any


def fitting_kinds(task: Task) -> list[int]:
    """Return the kinds that fit some stock: of a company all of them the same one, or none."""
    stock_rooms = tuple(zip(task.stocks, task.rooms, strict=True))
    return [
        number
        for number, kind in enumerate(task.kinds)
        if _fit_together(company_of(kind, task.kinds), stock_rooms)
    ]


def company_of(kind: Kind, kinds: Sequence[Kind]) -> list[Kind]:
    """Return the kinds that must lie with this one, itself among them."""
    word = kind.part.together
    return [other for other in kinds if other.part.together == word] if word else [kind]


def _fit_together(company: Sequence[Kind], stock_rooms: StockRooms) -> bool:
    return any(all(fits_any(kind, [pair]) for kind in company) for pair in stock_rooms)
