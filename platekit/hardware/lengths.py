"""Lengths of bought parts, checked where a recipe gives them."""

from __future__ import annotations

import math

from platekit.errors import PartError
from platekit.handbook import LONGEST_MM


def require_part_mm(value: object, name: str, *, zero: bool = False) -> float:
    """Return `value` as a length of a bought part: above 0 (from 0, with `zero`), as tables hold.

    Raises:
        PartError: It is no such number; the message gives `name` and the value.
    """
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not math.isfinite(value):
        raise PartError(f"{name} is {value!r}", remedy="give a finite number of mm")
    if value < 0 or (value == 0 and not zero) or value > LONGEST_MM:
        least = "from 0" if zero else "above 0"
        raise PartError(
            f"{name} is {value:g} mm", remedy=f"give a length {least}, up to {LONGEST_MM:g} mm"
        )
    return float(value)
