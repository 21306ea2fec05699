"""Words for what became of a value."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence

from platekit.export.figures import DECIMALS, format_mm
from platekit.job.comparing.values import BillChange, Change

LEAST_DECIMALS = 2  # finer only where two figures would look alike


def told_bought(change: BillChange) -> str:
    """Return what became of a bought thing: ``4 -> 6 of screw M5x20``, ``gone: 2 of ...``."""
    if change.replaced_by:
        return f"{change.old} of {change.name} replaced by {change.new} of {change.replaced_by}"
    if not change.old:
        return f"new: {change.new} of {change.name}"
    if not change.new:
        return f"gone: {change.old} of {change.name}"
    return f"{change.old} -> {change.new} of {change.name}"


def told_change(change: Change, *, exact: bool = False) -> str:
    """Return what became of a value: ``6 -> 5.8 mm``, ``new: 3``, ``gone, was 3``.

    Args:
        change: What changed.
        exact: Whether figures are given in full, as for what somebody typed in.
    """
    decimals = DECIMALS if exact else decimals_apart(_figures(change.old), _figures(change.new))
    old, new = (_text(one, decimals) for one in (change.old, change.new))
    unit = f" {change.unit}" if change.unit else ""
    said = {"new": f"new: {new}", "gone": f"gone, was {old}", "changed": f"{old} -> {new}"}
    return f"{said[change.fate]}{unit}"


def _figures(value: object) -> list[float]:
    if isinstance(value, list):
        return [figure for one in value for figure in _figures(one)]
    return [value] if isinstance(value, float) else []


def decimals_apart(old: Sequence[float], new: Sequence[float]) -> int:
    """Return how many decimals keep figures apart that differ."""
    pairs = list(zip(old, new, strict=False))
    for decimals in range(LEAST_DECIMALS, DECIMALS):
        if all(a == b or round(a, decimals) != round(b, decimals) for a, b in pairs):
            return decimals
    return DECIMALS


def _text(value: object, decimals: int) -> str:
    if isinstance(value, float):
        return format_mm(value, decimals=decimals)
    if isinstance(value, list) and value:
        pair = len(value) == len(_figures(value)) == 2
        return (" x " if pair else ", ").join(_text(one, decimals) for one in value)
    if isinstance(value, Mapping | list):
        return json.dumps(value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    return "none" if value is None else str(value) or "nothing"
