"""Fields: single values of parts, stock and requests, checked where they enter."""

from __future__ import annotations

import math

from platekit.errors import NestingError


def require_number(
    field: str,
    value: object,
    *,
    part: str = "",
    of: str = "",
    unit: str = "",
    least: float | None = None,
) -> None:
    """Check that a value is a finite number: not below the least, without one above 0.

    Raises:
        NestingError: It is not.
    """
    number = _number(value)
    if math.isfinite(number) and (number > 0 if least is None else number >= least):
        return
    range_said = "above 0" if least is None else f"of {least:g} or more"
    plain = isinstance(value, int | float) and not isinstance(value, bool)
    said = f"{value:g}{unit}" if plain else repr(value)
    raise _error(field, said, part, of, f"give a {field} {range_said}")


def require_finite(field: str, value: object, *, part: str = "", of: str = "") -> None:
    """Check that a value is a finite number.

    Raises:
        NestingError: It is not.
    """
    if not math.isfinite(_number(value)):
        raise _error(field, repr(value), part, of, "give a finite number")


def require_whole(field: str, value: object, *, part: str = "", of: str = "", least: int) -> None:
    """Check that a value is a whole number, not below the least.

    Raises:
        NestingError: It is not.
    """
    if isinstance(value, bool) or not isinstance(value, int):
        raise _error(field, repr(value), part, of, "give a whole number")
    if value < least:
        raise _error(field, repr(value), part, of, f"give at least {least}")


def require_text(field: str, value: object, *, part: str = "", of: str = "") -> None:
    """Check that a value is a text; it may be empty.

    Raises:
        NestingError: It is not.
    """
    if not isinstance(value, str):
        raise _error(field, repr(value), part, of, "give a text, empty for none")


def require_flag(field: str, value: object, *, part: str = "", of: str = "") -> None:
    """Check that a value is True or False.

    Raises:
        NestingError: It is not.
    """
    if not isinstance(value, bool):
        raise _error(field, repr(value), part, of, "give True or False")


def _number(value: object) -> float:
    """Return the value; what is no number is not a number."""
    return value if isinstance(value, int | float) and not isinstance(value, bool) else math.nan


def _error(field: str, said: str, part: str, of: str, remedy: str) -> NestingError:
    return NestingError(f"{f'{of}: ' if of else ''}{field} is {said}", part=part, remedy=remedy)
