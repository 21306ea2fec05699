"""Requests: what a nesting is asked for, checked before any work."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace

from platekit.errors import NestingError
from platekit.geometry.faults import find_faults
from platekit.geometry.packing_ground import is_lost
from platekit.geometry.profile import Profile
from platekit.nesting.fields import require_number, require_whole
from platekit.nesting.values import NestPart, Roll, Stock


def checked_parts(parts: Iterable[NestPart]) -> tuple[NestPart, ...]:
    """Return the parts.

    Raises:
        NestingError: There are none, or two share a name.
    """
    wanted = tuple(parts)
    if not wanted:
        raise NestingError("there are no parts", remedy="give at least one")
    for name, count in Counter(part.name for part in wanted).items():
        if count > 1:
            raise NestingError(
                f"the name is used {count} times", part=name, remedy="give every part its own name"
            )
    return wanted


def checked_stock(stock: Stock | Roll | Sequence[Stock]) -> tuple[Stock | Roll, ...]:
    """Return the stock of which there is any; the same one given twice is counted together.

    Raises:
        NestingError: There is none.
    """
    stocks = (stock,) if isinstance(stock, Stock | Roll) else tuple(stock)
    there: dict[Stock | Roll, int] = Counter(
        one for one in stocks if isinstance(one, Roll) or one.count != 0
    )
    if not there:
        raise NestingError("there is no stock", remedy="give at least one sheet size")
    return tuple(
        one
        if times == 1 or isinstance(one, Roll) or one.count is None
        else replace(one, count=times * one.count)
        for one, times in there.items()
    )


def require_numbers(*, gap_mm: float, margin_mm: float, seconds: float | None, seed: int) -> None:
    """Check gap and margin (mm, 0 or more), the time (s, above 0, or None) and the seed.

    Raises:
        NestingError: One is no number or out of range.
    """
    require_number("gap", gap_mm, unit=" mm", least=0)
    require_number("margin", margin_mm, unit=" mm", least=0)
    if seconds is not None:
        require_number("seconds", seconds)
    require_whole("seed", seed, least=0)


def require_gap_within(stocks: Iterable[Stock | Roll], gap_mm: float) -> None:
    """Check that the gap lies within some sheet: else no sheet ever holds two parts.

    Raises:
        NestingError: It does not.
    """
    across = [
        math.inf if isinstance(one, Roll) else math.hypot(one.width_mm, one.height_mm)
        for one in stocks
    ]
    if gap_mm > max(across):
        raise NestingError(
            f"gap is {gap_mm:g} mm, more than any sheet from corner to corner",
            remedy=f"give a gap far below {max(across):.6g} mm",
        )


def require_room(stocks: Iterable[Stock | Roll], margin_mm: float) -> None:
    """Check that the margin leaves something of every sheet, and that offcuts' shapes are sound.

    Raises:
        NestingError: It does not, or one is not.
    """
    for one in stocks:
        if isinstance(one, Stock) and one.shape is not None:
            _require_sound(one, one.shape)
        sides = [one.height_mm] if isinstance(one, Roll) else [one.width_mm, one.height_mm]
        if min(sides) <= 2 * margin_mm:
            raise NestingError(
                f"a margin of {margin_mm:g} mm leaves nothing of stock {one}",
                remedy=f"give a margin below {min(sides) / 2:g} mm",
            )
        if isinstance(one, Stock) and one.shape is not None and is_lost(one.shape, margin_mm):
            raise NestingError(
                f"a margin of {margin_mm:g} mm leaves nothing of stock {one}",
                remedy="give a smaller margin, or leave that offcut out",
            )


def _require_sound(stock: Stock, shape: Profile) -> None:
    faults = find_faults(shape)
    if faults:
        raise NestingError(f"stock {stock}: {faults[0]}", remedy="give an outline without faults")
