"""Proving: whether a rig goes together, and in which order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from platekit.assembly.proof.blocking import Blocking
from platekit.assembly.proof.clashes import clashes, told
from platekit.assembly.proof.order import Order, Step, order_of
from platekit.assembly.proof.removal import Removal, removal_findings
from platekit.assembly.proof.things import Thing, as_carried
from platekit.findings import Finding, Severity


@dataclass(frozen=True, slots=True)
class Proof:
    """What the proof says.

    Attributes:
        findings: Clashes, what cannot come out, what cannot be brought in.
        steps: The order of assembly, the first step first.
    """

    findings: tuple[Finding, ...]
    steps: tuple[Step, ...]


def prove(things: Sequence[Thing], removals: Sequence[Removal] = ()) -> Proof:
    """Return whether a rig goes together: nothing overlaps, everything can be brought in.

    Raises:
        UnknownNameError: A removal names what is not there.
    """
    if not things:
        return Proof((), ())
    carried = as_carried(things)
    met = tuple(clashes(things))
    # One fault is said once: what overlaps would block each other whichever way they came.
    blocking = Blocking(carried, [(a.name, b.name) for a, b, _ in met])
    order = order_of(carried, blocking)
    findings = (
        *told(met),
        *removal_findings(removals, carried, blocking),
        *_stuck(order),
    )
    return Proof(findings, order.steps)


def _stuck(order: Order) -> tuple[Finding, ...]:
    return tuple(
        Finding(
            severity=Severity.STOP,
            part=name,
            measure=f"it cannot be brought in: {why}",
            source="every order of straight moves along x, y, z and its own axes was tried",
            remedy="let what is in the way come off (screwed, butted), let the tool through with "
            "access=, or change the joint that locks it",
        )
        for name, why in zip(order.stuck, order.why, strict=True)
    )
