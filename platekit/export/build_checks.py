"""Findings in the record of a run, and what the checks weighed."""

from __future__ import annotations

from dataclasses import dataclass

from platekit.checks.check import FAMILIES
from platekit.checks.examine import Report
from platekit.export.plain_json import Json, plain_mapping
from platekit.findings import Finding, Severity


@dataclass(frozen=True, slots=True, kw_only=True)
class WeakestRecord:
    """What has the least margin of a family."""

    check: str
    part: str
    feature: str
    measure: str
    margin: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FamilyRecord:
    """A family of checks: its name, its question, how much it weighed, how much of it passed."""

    name: str
    asks: str
    weighed: int
    passed: int
    weakest: WeakestRecord | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ChecksRecord:
    """What the checks weighed.

    Attributes:
        families: The families in their order.
        skipped: Names of the checks that were switched off.
        passed: What was weighed and is within its limit.
    """

    families: tuple[FamilyRecord, ...]
    skipped: tuple[str, ...]
    passed: tuple[Finding, ...]


def checks_record(report: Report) -> ChecksRecord:
    """Return what a report comes to in the record of a run."""
    return ChecksRecord(
        families=tuple(_family(report, name, asks) for name, asks in FAMILIES.items()),
        skipped=report.skipped,
        passed=report.passed,
    )


def _family(report: Report, name: str, asks: str) -> FamilyRecord:
    weighed, weakest = report.of(name), report.weakest(name)
    return FamilyRecord(
        name=name,
        asks=asks,
        weighed=len(weighed),
        passed=sum(one.severity is Severity.PASSED for one in weighed),
        weakest=None
        if weakest is None or weakest.margin is None
        else WeakestRecord(
            check=weakest.check,
            part=weakest.part,
            feature=weakest.feature,
            measure=weakest.measure,
            margin=weakest.margin,
        ),
    )


def finding_json(finding: Finding) -> dict[str, Json]:
    """Return a finding in the words of ``build.json``; check, margin, formula where it has them."""
    said: dict[str, object] = {
        "severity": finding.severity.name.lower(),
        "part": finding.part,
        "feature": finding.feature,
        "measure": finding.measure,
        "value": finding.value,
        "limit": finding.limit,
        "unit": finding.unit,
        "source": finding.source,
        "remedy": finding.remedy,
    }
    if finding.check:
        said["check"] = finding.check
    if finding.margin is not None:
        said["margin"] = finding.margin
    if finding.formula:
        said["formula"] = finding.formula
    return plain_mapping(said)


def checks_json(checks: ChecksRecord) -> dict[str, Json]:
    """Return what the checks weighed in the words of ``build.json``."""
    return plain_mapping(
        {
            "families": [_family_json(one) for one in checks.families],
            "skipped": list(checks.skipped),
            "passed": [finding_json(one) for one in checks.passed],
        }
    )


def _family_json(family: FamilyRecord) -> dict[str, object]:
    said: dict[str, object] = {
        "name": family.name,
        "asks": family.asks,
        "weighed": family.weighed,
        "passed": family.passed,
    }
    if family.weakest is not None:
        weakest = family.weakest
        said["weakest"] = {
            "check": weakest.check,
            "part": weakest.part,
            "feature": weakest.feature,
            "measure": weakest.measure,
            "margin": weakest.margin,
        }
    return said
