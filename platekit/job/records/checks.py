"""Findings, and what the checks weighed, read back from the record of a run."""

from __future__ import annotations

from platekit.export.build_checks import ChecksRecord, FamilyRecord, WeakestRecord
from platekit.findings import Finding, Severity
from platekit.job.records.fields import (
    entries_of,
    inner_of,
    maybe,
    number_of,
    signed_of,
    text_of,
    texts_of,
)
from platekit.nesting.json_entry import Entry, short


def finding_of(entry: Entry) -> Finding:
    """Return a finding.

    Raises:
        NestingError: It says something that no finding says.
    """
    said = text_of(entry, "severity")
    severities = {one.name.lower(): one for one in Severity}
    if said not in severities:
        entry.fail("severity", f"is {short(said)}", f"give one of {', '.join(severities)}")
    return Finding(
        severity=severities[said],
        part=text_of(entry, "part"),
        feature=text_of(entry, "feature"),
        measure=text_of(entry, "measure"),
        value=maybe(entry, "value", signed_of),
        limit=maybe(entry, "limit", signed_of),
        unit=text_of(entry, "unit"),
        source=text_of(entry, "source"),
        remedy=text_of(entry, "remedy"),
        check=maybe(entry, "check", text_of) or "",
        margin=maybe(entry, "margin", signed_of),
        formula=maybe(entry, "formula", text_of) or "",
    )


def checks_of(entry: Entry, field: str) -> ChecksRecord:
    """Return what the checks weighed.

    Raises:
        NestingError: It says something that no record of a build says.
    """
    inner = inner_of(entry, field)
    return ChecksRecord(
        families=tuple(map(_family, entries_of(inner, "families"))),
        skipped=texts_of(inner, "skipped"),
        passed=tuple(map(finding_of, entries_of(inner, "passed"))),
    )


def _family(entry: Entry) -> FamilyRecord:
    return FamilyRecord(
        name=text_of(entry, "name"),
        asks=text_of(entry, "asks"),
        weighed=number_of(entry, "weighed"),
        passed=number_of(entry, "passed"),
        weakest=maybe(entry, "weakest", _weakest),
    )


def _weakest(entry: Entry, field: str) -> WeakestRecord:
    inner = inner_of(entry, field)
    return WeakestRecord(
        check=text_of(inner, "check"),
        part=text_of(inner, "part"),
        feature=text_of(inner, "feature"),
        measure=text_of(inner, "measure"),
        margin=signed_of(inner, "margin"),
    )
