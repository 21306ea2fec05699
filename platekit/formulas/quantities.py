"""Numbers as they enter a formula: finite, not below nothing, within what it holds for."""

from __future__ import annotations

import math

from platekit.errors import PartError


def require_finite(value: float, name: str, unit: str = "") -> float:
    """Return `value` as a finite number of either sign.

    Raises:
        PartError: It is none; the message gives `name`, the value and the `unit` wanted.
    """
    wanted = f" in {unit}" if unit else ""
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        kind = type(value).__name__
        raise PartError(f"{name} is {value!r} ({kind})", remedy=f"give a number{wanted}")
    try:
        number = float(value)
    except OverflowError:  # a whole number of hundreds of digits
        number = math.inf
    if not math.isfinite(number):
        raise PartError(f"{name} is {number}", remedy=f"give a finite number{wanted}")
    return number


def require_positive(value: float, name: str, unit: str = "") -> float:
    """Return `value` as a finite number above 0.

    Raises:
        PartError: It is not.
    """
    number = require_finite(value, name, unit)
    if number <= 0:
        raise PartError(_said(name, number, unit), remedy=f"give a {name} above 0")
    return number


def require_zero_up(value: float, name: str, unit: str = "") -> float:
    """Return `value` as a finite number of 0 or more.

    Raises:
        PartError: It is not.
    """
    number = require_finite(value, name, unit)
    if number < 0:
        raise PartError(_said(name, number, unit), remedy=f"give a {name} of 0 or more")
    return number


def require_between(value: float, name: str, low: float, high: float, unit: str = "") -> float:
    """Return `value` as a number from `low` to `high`, both allowed.

    Raises:
        PartError: It lies outside.
    """
    number = require_finite(value, name, unit)
    if not low <= number <= high:
        raise PartError(_said(name, number, unit), remedy=f"give a {name} from {low:g} to {high:g}")
    return number


def require_whole(value: object, name: str, *, least: int = 1) -> int:
    """Return `value` as a whole number of `least` or more.

    Raises:
        PartError: It is not.
    """
    if isinstance(value, bool) or not isinstance(value, int) or value < least:
        raise PartError(f"{name} is {value!r}", remedy=f"give a whole number of {least} or more")
    return value


def _said(name: str, number: float, unit: str) -> str:
    return f"{name} is {number:g} {unit}".rstrip()
