"""Wishes: parts that must lie on one stock, or together; whether these can be met at all."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from platekit.errors import NestingError
from platekit.nesting.groups import Group
from platekit.nesting.values import NestPart, Roll, Stock


def require_stock_named(parts: Iterable[NestPart], stocks: Iterable[Stock | Roll]) -> None:
    """Check that every stock that a part must lie on is known.

    Raises:
        NestingError: One is not.
    """
    known = {one.name: None for one in stocks if isinstance(one, Stock) and one.name}
    for part in parts:
        if part.on and part.on not in known:
            there = ", ".join(map(repr, known)) or "no stock with a name"
            raise NestingError(
                f"on is {part.on!r}, which no stock is called",
                part=part.name,
                remedy=f"there is {there}",
            )


def require_one_sheet_possible(groups: Sequence[Group]) -> None:
    """Check that parts that must lie together are cut from the same, and ask for one stock.

    Raises:
        NestingError: They are not, or do not.
    """
    first: dict[str, tuple[NestPart, Group]] = {}
    on: dict[str, NestPart] = {}
    for group in groups:
        for part in group.parts:
            if not part.together:
                continue
            other, others = first.setdefault(part.together, (part, group))
            if others is not group:
                raise NestingError(
                    f"must lie together with {other.name!r} as {part.together!r}, but is cut "
                    f"from {group}, that one from {others}",
                    part=part.name,
                    remedy="let only parts of one material and thickness lie together",
                )
            if part.on and on.setdefault(part.together, part).on != part.on:
                one = on[part.together]
                raise NestingError(
                    f"must lie together with {one.name!r} as {part.together!r}, but on "
                    f"{part.on!r}, that one on {one.on!r}",
                    part=part.name,
                    remedy="let parts that lie together name one stock",
                )
