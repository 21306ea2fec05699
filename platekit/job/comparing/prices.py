"""What two builds cost, where their bills say."""

from __future__ import annotations

from collections.abc import Iterable

from platekit.export.bill import SUM_NAMES, BillLine, bill_prices
from platekit.job.comparing.values import Change, changes_between


def changed_prices(old: Iterable[BillLine], new: Iterable[BillLine]) -> tuple[Change, ...]:
    """Return how the sums of two bills differ: for sheets, for hardware, for the rig.

    Sums leave out what has no price, as those on the bill do. A bill without any price has no
    sums: those of the other one are new, or gone.
    """
    return tuple(changes_between(_sums(old), _sums(new)))


def _sums(lines: Iterable[BillLine]) -> dict[str, float]:
    prices = bill_prices(lines)
    if prices is None:
        return {}
    sums = {SUM_NAMES[kind]: float(total) for kind, total in prices.of_kind.items()}
    return {**sums, "rig": float(prices.rig)}
