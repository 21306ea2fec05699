"""Shares as findings: so many of a hundred fit, and so many should."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from platekit.checks.weighing import Scale, weighed
from platekit.findings import Finding, Severity

PRACTICE = "scatter.csv of the materials; common practice, no source"
# Of those that should go together not one in ten does, whatever is done: the sheet is wasted.
TOGETHER = Scale(stop=0.1, warn=1.0)
# What rattles is together at least, and what is a hair too tight is eased.
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
    draws: int,
    remedy: str,
    formula: str,
    scale: Scale = STILL,
) -> Finding:
    """Return what a share comes to that should be `wanted` at least, both told in percent.

    Its margin is how many times over failures might grow: those allowed over those there are.

    Args:
        check: Name of the check.
        part: What it is about.
        feature: The joint or hole.
        measure: What it is a share of.
        share: The share, 0..1.
        wanted: What it should be.
        draws: How many were drawn: fewer failures than one of them are not told apart.
        remedy: What to do where it does not do.
        formula: How it was drawn.
        scale: How much it weighs.
    """
    found = weighed(
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
    margin = (1.0 - wanted) / max(1.0 - share, 1.0 / draws)
    return replace(found, margin=max(margin, 1.0) if share >= wanted else margin)


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
