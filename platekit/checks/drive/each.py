"""Weighing drive by drive, whatever figures a recipe gives."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from platekit.checks.drive.driven import Driven, drives_in
from platekit.checks.subject import Subject
from platekit.checks.weighing import Scale, untold
from platekit.errors import PlatekitError
from platekit.findings import Finding

# Where the load factor is in already and the limit is a sheet's or a definition: no further room.
PLAIN = Scale(stop=1.0, warn=1.0)
CHECK = "check the figures of the drive and of the motor's rating"


def each(
    name: str, weigh: Callable[[Driven], Iterable[Finding]]
) -> Callable[[Subject], Iterator[Finding]]:
    """Return a check that puts `weigh` to every drive of a job.

    Where the figures given are too odd for a formula the check says so and goes on.

    Args:
        name: Name of the check.
        weigh: What it asks of one drive.
    """

    def run(subject: Subject) -> Iterator[Finding]:
        for driven in drives_in(subject):
            try:
                yield from tuple(weigh(driven))
            except PlatekitError as err:
                yield untold(
                    name,
                    part=driven.name,
                    measure=f"cannot be worked out: {err.problem}",
                    remedy=err.remedy or CHECK,
                )
            except ArithmeticError:
                yield untold(
                    name,
                    part=driven.name,
                    measure="cannot be worked out: a figure is 0 or far too great",
                    remedy=CHECK,
                )

    return run
