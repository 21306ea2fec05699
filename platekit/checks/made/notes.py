"""Notes: what is only worth knowing, however far past its limit."""

from __future__ import annotations

from dataclasses import replace

from platekit.findings import Finding, Severity


def as_note(finding: Finding) -> Finding:
    """Return the finding as a note where it would be more."""
    return replace(finding, severity=min(finding.severity, Severity.NOTE))
