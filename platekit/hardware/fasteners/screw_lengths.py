"""Preferred lengths of screws, and the shortest that will do."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cache

from platekit.errors import PartError
from platekit.handbook import read


@cache
def preferred_lengths_mm() -> tuple[float, ...]:
    """Return the series of ISO 888, mm, rising."""
    rows = read("platekit.hardware", "tables/screw_lengths.csv")
    return tuple(row.length_mm("length_mm") for row in rows)


def lengths_from_to_mm(shortest_mm: float, longest_mm: float) -> tuple[float, ...]:
    """Return the preferred lengths, mm, from the shortest to the longest, both among them."""
    return tuple(n for n in preferred_lengths_mm() if shortest_mm <= n <= longest_mm)


def length_between(
    lengths_mm: Sequence[float], *, what: str, least_mm: float, most_mm: float = math.inf
) -> float:
    """Return the shortest of `lengths_mm` from `least_mm` to `most_mm`.

    Args:
        lengths_mm: Lengths made, mm, rising.
        what: What is so long, for messages: "M5 screw".
        least_mm: Shortest that will do.
        most_mm: Longest that will do.

    Raises:
        PartError: No length lies there, or none can be asked so; lists those made.
    """
    if not (math.isfinite(least_mm) and least_mm > 0) or math.isnan(most_mm):
        raise PartError(
            f"length of the {what} is asked from {least_mm} to {most_mm} mm",
            remedy="give lengths above 0",
        )
    fitting = [length for length in lengths_mm if least_mm <= length <= most_mm]
    if fitting:
        return fitting[0]
    asked = (
        f"{least_mm:.4g} mm or longer"
        if math.isinf(most_mm)
        else (f"{least_mm:.4g} to {most_mm:.4g} mm")
    )
    listed = ", ".join(f"{length:g}" for length in lengths_mm)
    raise PartError(
        f"no {what} is {asked}",
        remedy=f"change what it grips or add washers; lengths made: {listed} mm",
    )
