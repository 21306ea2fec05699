"""Findings of two builds: no longer there, new, worse, better."""

from __future__ import annotations

from collections.abc import Sequence

from platekit.findings import Finding
from platekit.job.comparing.values import FindingChange, trend_of

Sorted = tuple[tuple[Finding, ...], tuple[Finding, ...], tuple[FindingChange, ...]]


def changed_findings(old: Sequence[Finding], new: Sequence[Finding]) -> Sorted:
    """Return the findings that are gone, those that are new, and those that say otherwise.

    Two are about one thing when they concern the same part and feature and measure the same.
    """
    gone, added = list(old), list(new)
    for finding in old:  # the same to the letter first, so that they pair with nothing else
        if finding in added:
            added.remove(finding)
            gone.remove(finding)
    changed = []
    for finding in tuple(gone):
        match = next((one for one in added if _about(one) == _about(finding)), None)
        if match is not None:
            added.remove(match)
            gone.remove(finding)
            changed.append(FindingChange(old=finding, new=match, trend=trend_of(finding, match)))
    return tuple(gone), tuple(added), tuple(changed)


def _about(finding: Finding) -> tuple[str, str, str]:
    return finding.part, finding.feature, finding.measure
