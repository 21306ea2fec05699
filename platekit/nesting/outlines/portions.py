"""Portions: what of a laying the solver understands, as a task of its own.

The solver knows whole sheets, rolls, and parts without wishes. Sheets of that kind are improved
together; those of odd shape, or with parts that keep company or lie on a stock of their own, stay
as they are.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace

from platekit.nesting.cells.poses import Kind
from platekit.nesting.groups import still_there
from platekit.nesting.laying import Laying, Lying, SheetLaying, Task, left_over, used_length_mm
from platekit.nesting.values import Roll, Stock


@dataclass(frozen=True, slots=True)
class Portion:
    """Some sheets of a laying, and what may be done with them whatever the others do.

    Attributes:
        whole: The task of which it is a portion.
        task: The copies on its sheets and those left over, and the stock that others leave them.
        laying: Its sheets, in terms of its own task.
        kinds: Number in the whole task of each of its kinds.
        stocks: The same of each of its stocks.
        others: The other sheets, in terms of the whole task.
        plain_last: Whether the last of all sheets is a plain one.
    """

    whole: Task
    task: Task
    laying: Laying
    kinds: tuple[int, ...]
    stocks: tuple[int, ...]
    others: Laying
    plain_last: bool

    def joined(self, laying: Laying) -> Laying:
        """Return a laying of the portion together with the other sheets.

        Where the last sheet was a plain one, the emptiest of the plain ones becomes the last.
        """
        mine = tuple(
            SheetLaying(
                self.stocks[sheet.stock],
                tuple(replace(one, kind=self.kinds[one.kind]) for one in sheet.lying),
            )
            for sheet in laying
        )
        if not self.plain_last:
            return (*mine, *self.others)
        sheets = [*self.others, *mine]
        plain = [k for k, sheet in enumerate(sheets) if is_plain(self.whole.stocks[sheet.stock])]
        # of equals the one that came last stays the last
        last = min(reversed(plain), key=lambda k: used_length_mm(self.whole, sheets[k]))
        return (*sheets[:last], *sheets[last + 1 :], sheets[last])


def is_plain(stock: Stock | Roll) -> bool:
    """Return whether stock is a whole sheet or a roll."""
    return isinstance(stock, Roll) or stock.shape is None


def is_whole(task: Task) -> bool:
    """Return whether all stock is plain and no part has a wish: the solver may have it all."""
    return all(map(is_plain, task.stocks)) and not any(map(_has_wish, task.kinds))


def may_have_portion(task: Task) -> bool:
    """Return whether layings of a task may have sheets that the solver understands."""
    return any(
        is_plain(stock) and any(_is_free(kind, stock) for kind in task.kinds)
        for stock in task.stocks
    )


def portion_of(task: Task, laying: Laying) -> Portion | None:
    """Return the sheets of a laying that can be improved by themselves; None without any.

    Prices count in the portion only where they do in the whole.
    """
    mine = [sheet for sheet in laying if _is_free_sheet(task, sheet)]
    if not mine:
        return None
    others = tuple(sheet for sheet in laying if not _is_free_sheet(task, sheet))
    copies = Counter(one.kind for sheet in mine for one in sheet.lying)
    for kind, count in left_over(task, laying).items():
        if not _has_wish(task.kinds[kind]):
            copies[kind] += count
    kinds = tuple(sorted(copies))
    there = still_there(task.stocks, Counter(sheet.stock for sheet in others))
    left = {
        number: _priced_as(task, stock)
        for number, stock in enumerate(there)
        if stock is not None and is_plain(stock)
    }
    stocks = tuple(left)
    return Portion(
        whole=task,
        task=Task(
            kinds=tuple(_so_many(task.kinds[kind], copies[kind]) for kind in kinds),
            stocks=tuple(left.values()),
            rooms=tuple(task.rooms[stock] for stock in stocks),
        ),
        laying=tuple(
            SheetLaying(
                stocks.index(sheet.stock),
                tuple(_renumbered(one, kinds) for one in sheet.lying),
            )
            for sheet in mine
        ),
        kinds=kinds,
        stocks=stocks,
        others=others,
        plain_last=is_plain(task.stocks[laying[-1].stock]),
    )


def _is_free_sheet(task: Task, sheet: SheetLaying) -> bool:
    stock = task.stocks[sheet.stock]
    return is_plain(stock) and all(_is_free(task.kinds[one.kind], stock) for one in sheet.lying)


def _is_free(kind: Kind, stock: Stock | Roll) -> bool:
    """Return whether a kind may go to any place on such stock; on a roll all lie together."""
    return isinstance(stock, Roll) or not _has_wish(kind)


def _has_wish(kind: Kind) -> bool:
    return bool(kind.part.together or kind.part.on)


def _so_many(kind: Kind, quantity: int) -> Kind:
    return replace(kind, part=replace(kind.part, quantity=quantity, together=""))


def _priced_as(task: Task, stock: Stock | Roll) -> Stock | Roll:
    if isinstance(stock, Roll) or task.priced:
        return stock
    return replace(stock, price=None)


def _renumbered(lying: Lying, kinds: tuple[int, ...]) -> Lying:
    return replace(lying, kind=kinds.index(lying.kind))
