"""Findings: what a check has to say, as data."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import IntEnum

LENGTH_DECIMALS = 2  # no workshop measures finer than 0.01 mm
DIGITS = 3
MOST_DECIMALS = 15  # finer than that two figures are the same


class Severity(IntEnum):
    """How much a finding weighs; the greatest sorts last."""

    PASSED = 0  # held against its limit, and within it
    NOTE = 1  # worth knowing
    WARNING = 2  # look at it before cutting
    STOP = 3  # would waste the sheet: cut files are withheld


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One thing a check found.

    Attributes:
        severity: How much it weighs.
        part: The part concerned; both names joined by " + " when it lies between two.
        feature: The hole, joint or slot concerned; empty when it is the part as a whole.
        measure: What was measured, in workshop words: "finger width".
        value: What was found, in `unit`; None where no number says it.
        limit: What it was held against, in `unit`; None where there is no number.
        unit: "mm", "N", "MPa", "deg", or "" for a plain count.
        source: Where the limit comes from: a standard, a table, "common practice, no source".
        remedy: What to do about it.
        check: The check that says so: "hold.screws"; empty where none of its own does.
        margin: How many times over it holds: what it could bear over what it must; 1 is just so.
            None where no number says it.
        formula: What `value` was worked out with, numbers put in: "T / (n R) = 35000 / (4 x 40)".
    """

    severity: Severity
    part: str
    measure: str
    remedy: str
    feature: str = ""
    value: float | None = None
    limit: float | None = None
    unit: str = ""
    source: str = ""
    check: str = ""
    margin: float | None = None
    formula: str = ""

    def __str__(self) -> str:
        """Return the finding as one line: ``lid / slot 3: width 2.8 mm (limit 3 mm); ...``.

        Lengths are given to 0.01 mm and other figures to three digits, finer where value and
        limit would otherwise look alike or the wrong way round.
        """
        where = " / ".join(name for name in (self.part, self.feature) if name)
        return f"{where}: {figures_of(self)}; {self.remedy}"


def figures_of(finding: Finding) -> str:
    """Return what was measured against what: ``width 2.8 mm (limit 3 mm)``."""
    unit = f" {finding.unit}" if finding.unit else ""
    said = finding.measure
    figures = [number for number in (finding.value, finding.limit) if number is not None]
    decimals = _decimals(figures, unit=finding.unit)
    if finding.value is not None:
        said += f" {_figure(finding.value, decimals)}{unit}"
    if finding.limit is not None:
        said += f" (limit {_figure(finding.limit, decimals)}{unit})"
    return said


def _decimals(figures: Sequence[float], *, unit: str) -> int:
    """Return how many decimals say enough: as few as keep different figures apart, in order."""
    finite = [abs(number) for number in figures if math.isfinite(number)]
    if unit == "mm":
        decimals = LENGTH_DECIMALS
    else:
        least = min((number for number in finite if number > 0), default=1.0)
        decimals = min(max(DIGITS - 1 - math.floor(math.log10(least)), 0), MOST_DECIMALS)
    while len({round(number, decimals) for number in finite}) < len(set(finite)):
        if decimals == MOST_DECIMALS:
            break
        decimals += 1
    return decimals


def _figure(number: float, decimals: int) -> str:
    """Return a figure without needless zeros."""
    said = f"{number:.{decimals}f}"
    if "." in said:
        said = said.rstrip("0").rstrip(".")
    return "0" if said == "-0" else said
