"""Findings: what a check has to say, as data."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum


class Severity(IntEnum):
    """How much a finding weighs; the greatest sorts last."""

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

    def __str__(self) -> str:
        """Return the finding as one line: ``lid / slot 3: width 2.8 mm (limit 3 mm); ...``."""
        where = " / ".join(name for name in (self.part, self.feature) if name)
        unit = f" {self.unit}" if self.unit else ""
        said = self.measure
        if self.value is not None:
            said += f" {self.value:.6g}{unit}"
        if self.limit is not None:
            said += f" (limit {self.limit:.6g}{unit})"
        return f"{where}: {said}; {self.remedy}"
