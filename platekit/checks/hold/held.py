"""Held: whether it is said where the rig is held from outside."""

from __future__ import annotations

from collections.abc import Iterator

from platekit.checks.check import Check
from platekit.checks.subject import Subject
from platekit.checks.weighing import untold
from platekit.findings import Finding

NAME = "hold.held"


def held(subject: Subject) -> Iterator[Finding]:
    """Tell once that a loaded rig is held nowhere: its base is not weighed then."""
    if subject.whole is None:
        return
    assembly = subject.whole[0]
    if assembly.use.loads and not assembly.use.held:
        yield untold(
            NAME,
            part=assembly.name,
            measure="where the rig is held is not said: base and mounting are not weighed",
            remedy='name the device or panel that holds it from outside: with_loads(held="flange")',
        )


CHECK = Check(
    name=NAME,
    asks="Is it said where the rig is held?",
    by="All that acts on a rig leaves it where it is held from outside: by the screws of a flange, "
    "by a base that is clamped down. with_loads(held=...) names that; the screws, plate and joints "
    "there are weighed by hold.screws, hold.plate and hold.joints with a whole case at once.",
    run=held,
)
