"""Requests: what a nesting is asked for, checked before any work."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence

from platekit.errors import NestingError
from platekit.geometry.faults import find_faults
from platekit.geometry.packing_ground import is_lost
from platekit.geometry.profile import Profile
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
    """Return the stock of which there is any.

    Raises:
        NestingError: There is none.
    """
    stocks = (stock,) if isinstance(stock, Stock | Roll) else tuple(stock)
    there = tuple(one for one in stocks if isinstance(one, Roll) or one.count != 0)
    if not there:
        raise NestingError("there is no stock", remedy="give at least one sheet size")
    return there


def require_numbers(*, gap_mm: float, margin_mm: float, seconds: float | None) -> None:
    """Check gap and margin (mm, 0 or more) and the time (s, above 0, or None).

    Raises:
        NestingError: One is no number or out of range.
    """
    for name, value in (("gap", gap_mm), ("margin", margin_mm)):
        if not (math.isfinite(value) and value >= 0):
            raise NestingError(f"{name} is {value:g} mm", remedy=f"give a {name} of 0 or more")
    if seconds is not None and not seconds > 0:
        raise NestingError(f"seconds is {seconds:g}", remedy="give a time above 0, or none")


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
