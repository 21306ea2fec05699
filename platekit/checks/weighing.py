"""Weighing: a value held against its limit becomes a finding, passed or not."""

from __future__ import annotations

import math
from dataclasses import dataclass

from platekit.findings import Finding, Severity


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """From which margin on a finding is less grave.

    Attributes:
        stop: Below this margin it says stop; 0 for never.
        warn: Below this margin it warns.
    """

    stop: float = 1.0
    warn: float = 1.0


# A strength worked out by hand is worth no more than this: common practice, no source.
STRENGTH = Scale(stop=1.0, warn=1.2)
# What spoils a fit or the looks, and not the rig.
ADVICE = Scale(stop=0.0, warn=1.0)


def weighed(
    check: str,
    *,
    part: str,
    measure: str,
    value: float,
    unit: str,
    source: str,
    remedy: str,
    most: float | None = None,
    least: float | None = None,
    feature: str = "",
    formula: str = "",
    scale: Scale = STRENGTH,
) -> Finding:
    """Return what it comes to that `value` may be `most` at the most, or `least` at the least.

    Args:
        check: Name of the check: "hold.screws".
        part: What it is about; two names joined by " + " for what lies between.
        measure: What was measured, in workshop words.
        value: What was found.
        unit: Unit of value and limit.
        source: Where the limit comes from.
        remedy: What to do where it does not do.
        most: Greatest value that will do; or
        least: least value that will do. One of both.
        feature: The hole, joint or screw concerned.
        formula: How `value` was worked out, numbers put in.
        scale: How much it weighs, by margin.
    """
    limit = most if most is not None else least
    if limit is None or (most is not None and least is not None):
        raise ValueError("one limit: most or least")
    over, under = (limit, value) if most is not None else (value, limit)
    margin = math.inf if under <= 0.0 <= over else over / under if under else -math.inf
    return Finding(
        severity=severity_at(margin, scale),
        part=part,
        feature=feature,
        measure=measure,
        value=value,
        limit=limit,
        unit=unit,
        source=source,
        remedy=remedy,
        check=check,
        margin=margin if math.isfinite(margin) else None,
        formula=formula,
    )


def severity_at(margin: float, scale: Scale) -> Severity:
    """Return how grave a margin is."""
    if margin < scale.stop:
        return Severity.STOP
    return Severity.WARNING if margin < scale.warn else Severity.PASSED


def untold(
    check: str,
    *,
    part: str,
    measure: str,
    remedy: str,
    feature: str = "",
    severity: Severity = Severity.NOTE,
) -> Finding:
    """Return what says that something could not be weighed, and what is missing.

    A note; a warning where what is left out may well be what fails.
    """
    return Finding(
        severity=severity,
        part=part,
        feature=feature,
        measure=measure,
        remedy=remedy,
        check=check,
    )
