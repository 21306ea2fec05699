"""Putting every check to a job."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable
from dataclasses import dataclass

from platekit.checks import drive, fit, hold, made
from platekit.checks.check import FAMILIES, Check
from platekit.checks.subject import Subject
from platekit.errors import UnknownNameError
from platekit.findings import Finding, Severity

CHECKS: tuple[Check, ...] = (*made.CHECKS, *fit.CHECKS, *hold.CHECKS, *drive.CHECKS)


@dataclass(frozen=True, kw_only=True)
class Report:
    """What the checks have to say.

    Attributes:
        weighed: A finding for everything that was weighed, passed or not, by check.
        skipped: Names of the checks that were switched off.
    """

    weighed: tuple[Finding, ...] = ()
    skipped: tuple[str, ...] = ()

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What is worth telling: all but what passed."""
        return tuple(one for one in self.weighed if one.severity is not Severity.PASSED)

    @property
    def passed(self) -> tuple[Finding, ...]:
        """What is within its limit."""
        return tuple(one for one in self.weighed if one.severity is Severity.PASSED)

    def of(self, family: str) -> tuple[Finding, ...]:
        """Return all that a family weighed."""
        return tuple(one for one in self.weighed if one.check.partition(".")[0] == family)

    def weakest(self, family: str) -> Finding | None:
        """Return what has the least margin of a family; None where nothing has one."""
        return min(
            (one for one in self.of(family) if one.margin is not None),
            key=lambda one: math.inf if one.margin is None else one.margin,
            default=None,
        )


def examine(subject: Subject, *, skip: Iterable[str] = ()) -> Report:
    """Return what every check says of `subject` but those switched off.

    Args:
        subject: The job.
        skip: Names of checks, or of whole families, to leave out.

    Raises:
        UnknownNameError: There is no such check.
    """
    off = checks_named(skip)
    return Report(
        weighed=tuple(
            finding for check in CHECKS if check.name not in off for finding in check.run(subject)
        ),
        skipped=tuple(check.name for check in CHECKS if check.name in off),
    )


def checks_named(names: Iterable[str]) -> Collection[str]:
    """Return the names of checks that `names` stand for: checks, or whole families.

    Raises:
        UnknownNameError: One is neither.
    """
    known = {check.name for check in CHECKS}
    found: set[str] = set()
    for name in names:
        if name in FAMILIES:
            found |= {check for check in known if check.partition(".")[0] == name}
        elif name in known:
            found.add(name)
        else:
            raise UnknownNameError.among("check", name, [*FAMILIES, *sorted(known)])
    return found
