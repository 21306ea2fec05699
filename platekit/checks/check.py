"""A check: a question put to a whole job, with a name of its own."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from platekit.checks.subject import Subject
from platekit.findings import Finding

FAMILIES = {
    "made": "can it be made",
    "fit": "will it fit",
    "hold": "will it hold",
    "drive": "will it drive",
}


def nothing(_: Subject) -> tuple[Finding, ...]:
    """Ask nothing: for checks whose findings come up where a part or a joint is drawn."""
    return ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """A question put to a whole job.

    Attributes:
        name: Family and word: "hold.screws". What it is switched off by, and what its findings
            say they come from.
        asks: What it asks, in one line.
        by: How it is worked out and after whom, in a few lines: the formula and its source.
        run: The check itself; gives a finding for everything it weighed, passed or not.
    """

    name: str
    asks: str
    by: str
    run: Callable[[Subject], Iterable[Finding]] = nothing

    @property
    def family(self) -> str:
        """Its family: "made", "fit", "hold" or "drive"."""
        return self.name.partition(".")[0]
