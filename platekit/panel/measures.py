"""Sizes a workshop can make: checks on numbers where they enter."""

from __future__ import annotations

import math

from platekit.errors import PartError

# Ten times the longest sheet anyone lays in a cutter: beyond it a digit or a unit has slipped.
LARGEST_LENGTH_MM = 1e5
LARGEST_COUNT = 10_000


def _number(value: object, name: str, unit: str) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        kind = type(value).__name__
        raise PartError(f"{name} is {value!r} ({kind})", remedy=f"give a number{unit}")
    try:
        number = float(value)
    except OverflowError:  # a whole number of hundreds of digits
        number = math.inf
    if not math.isfinite(number):
        raise PartError(f"{name} is {number}", remedy=f"give a finite number{unit}")
    return number


def require_length(value: float, name: str, *, zero: bool = False) -> float:
    """Return `value` as a length above 0 (or from 0, with `zero`) and at most 100000 mm.

    Raises:
        PartError: It is not; the message gives `name` and the value.
    """
    number = _number(value, name, " of mm")
    if number < 0 or (number == 0 and not zero):
        bound = "0 or more" if zero else "a length above 0"
        raise PartError(f"{name} is {number:g} mm", remedy=f"give {bound}")
    if number > LARGEST_LENGTH_MM:
        raise PartError(
            f"{name} is {number:g} mm",
            remedy=f"give at most {LARGEST_LENGTH_MM:g} mm, and check the unit",
        )
    return number


def require_shift(value: float, name: str) -> float:
    """Return `value` as a finite distance of either sign, at most 100000 mm.

    Raises:
        PartError: It is not.
    """
    number = _number(value, name, " of mm")
    if abs(number) > LARGEST_LENGTH_MM:
        raise PartError(
            f"{name} is {number:g} mm",
            remedy=f"give at most {LARGEST_LENGTH_MM:g} mm, and check the unit",
        )
    return number


def require_angle(value: float, name: str) -> float:
    """Return `value` as a finite angle within ten turns, degrees.

    Raises:
        PartError: It is not.
    """
    number = _number(value, name, " of degrees")
    if abs(number) > 3600:
        raise PartError(f"{name} is {number:g} degrees", remedy="give an angle within 360 degrees")
    return number


def is_whole(value: object) -> bool:
    """Return whether `value` is a whole number; True and False are not."""
    return isinstance(value, int) and not isinstance(value, bool)


def require_count(value: int, name: str, *, least: int = 1) -> int:
    """Return `value` as a whole number from `least` to 10000.

    Raises:
        PartError: It is not.
    """
    if not is_whole(value) or not least <= value <= LARGEST_COUNT:
        raise PartError(
            f"{name} is {value!r}", remedy=f"give a whole number from {least} to {LARGEST_COUNT}"
        )
    return value
