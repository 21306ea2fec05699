"""Shares as findings: so many of a hundred fit, and so many should."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from platekit.checks.weighing import Scale, weighed
from platekit.findings import Finding, Severity

PRACTICE = "scatter.csv of the materials; common practice, no source"
# Of those that should go together not one in ten does: the sheet is wasted.
TOGETHER = Scale(stop=0.1, warn=1.0)
# What rattles is together at least.
STILL = Scale(stop=0.0, warn=1.0)
PERCENT = 100.0
# So many of those alike are named in one finding.
MOST_NAMED = 3


def share_found(
    check: str,
    *,
    part: str,
    feature: str,
    measure: str,
    share: float,
    wanted: float,
    remedy: str,
    formula: str,
    scale: Scale = TOGETHER,
) -> Finding:
    """Return what a share comes to that should be `wanted` at least, both told in percent."""
    return weighed(
        check,
        part=part,
        feature=feature,
        measure=measure,
        value=PERCENT * share,
        least=PERCENT * wanted,
        unit="%",
        source=PRACTICE,
        remedy=remedy,
        formula=formula,
        scale=scale,
    )


def as_note(finding: Finding) -> Finding:
    """Return a finding that is no graver than a note, and no link that could be the weakest."""
    return replace(finding, severity=min(finding.severity, Severity.NOTE), margin=None)


def named(words: str, others: Sequence[str]) -> str:
    """Return a feature in words, and where else its like is."""
    if not others:
        return words
    more = len(others) - MOST_NAMED
    beyond = f" and {more} more" if more > 0 else ""
    return f"{words}; as {', '.join(others[:MOST_NAMED])}{beyond}"
