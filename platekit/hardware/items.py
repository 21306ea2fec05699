"""Lines of the bill of materials."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from platekit.errors import PartError


@dataclass(frozen=True, slots=True)
class Item:
    """A bought part and how many of it.

    Attributes:
        designation: What to order: "screw ISO 4762 M5x20".
        quantity: How many, from 1 up.
        note: What it is for, or what to watch; may be empty.

    Raises:
        PartError: The designation is empty or the quantity no whole number from 1 up.
    """

    designation: str
    quantity: int
    note: str = ""

    def __post_init__(self) -> None:
        if not self.designation.strip():
            raise PartError("an item has no designation", remedy="say what to order")
        if type(self.quantity) is not int or self.quantity < 1:
            raise PartError(
                f"quantity of {self.designation} is {self.quantity!r}",
                remedy="give a whole number from 1 up",
            )

    def times(self, count: int) -> Item:
        """Return the item for `count` copies of what it belongs to."""
        return replace(self, quantity=self.quantity * count)


def purchased(items: Iterable[Item]) -> tuple[Item, ...]:
    """Return one item for each designation, the whole quantity, in order of designation.

    Where it goes to several places the note says how many to each: ``4 motor; 2 base to lid``.
    """
    places: dict[str, list[Item]] = {}
    for item in gathered(items):
        places.setdefault(item.designation, []).append(item)
    return tuple(
        Item(what, sum(item.quantity for item in uses), _uses(uses))
        for what, uses in sorted(places.items())
    )


def _uses(uses: list[Item]) -> str:
    if len(uses) == 1:
        return uses[0].note
    return "; ".join(f"{item.quantity} {item.note or 'without a note'}" for item in uses)


def gathered(items: Iterable[Item]) -> tuple[Item, ...]:
    """Return one item for each designation and note, quantities added, in order of designation."""
    sums: dict[tuple[str, str], int] = {}
    for item in items:
        key = (item.designation, item.note)
        sums[key] = sums.get(key, 0) + item.quantity
    return tuple(Item(what, count, note) for (what, note), count in sorted(sums.items()))
