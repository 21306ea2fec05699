"""Clashes: two things that claim one place."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import numpy as np

from platekit.assembly.proof.overlaps import RUB_MM, SHRED_MM, Overlap, overlap
from platekit.assembly.proof.slabs import all_clear
from platekit.assembly.proof.things import Thing, ThingKind
from platekit.findings import Finding, Severity

# A belt lies on its pulleys, and its teeth in theirs.
_MESHING = ({ThingKind.BELT, ThingKind.PULLEY},)


def clash_findings(things: Sequence[Thing]) -> tuple[Finding, ...]:
    """Return a stop for every two things that overlap by more than rounding or their fit."""
    return told(clashes(things))


def told(found: Iterable[tuple[Thing, Thing, Overlap]]) -> tuple[Finding, ...]:
    """Return a stop for each of these clashes."""
    return tuple(_clash(a, b, shared) for a, b, shared in found)


def clashes(things: Sequence[Thing]) -> Iterator[tuple[Thing, Thing, Overlap]]:
    """Yield every two things that overlap, and by how much."""
    for a, others in near(things):
        for b in others:
            if all_clear(a.slabs, a.coats, b.slabs, b.coats):
                continue
            over = RUB_MM if {a.kind, b.kind} == {ThingKind.PLATE} else SHRED_MM
            found = overlap(a.near(b.box), b.near(a.box), over_mm=over)
            if found is not None:
                yield a, b, found


def near(things: Sequence[Thing]) -> Iterator[tuple[Thing, list[Thing]]]:
    """Yield every thing with those after it whose boxes share a volume with its own."""
    boxes = np.array([thing.box for thing in things])
    for i, thing in enumerate(things):
        low, high = boxes[i]
        met = np.all(boxes[i + 1 :, 0] < high, axis=1) & np.all(boxes[i + 1 :, 1] > low, axis=1)
        others = [things[i + 1 + int(k)] for k in np.flatnonzero(met)]
        yield thing, [other for other in others if not _meant(thing, other)]


def _meant(a: Thing, b: Thing) -> bool:
    """Return whether two share a place on purpose, or elsewhere than here it is judged.

    How thick a plate a button or gland clamps is said where its hole is cut.
    """
    return {a.kind, b.kind} in _MESHING or a.rides_on == b.name or b.rides_on == a.name


def _clash(a: Thing, b: Thing, found: Overlap) -> Finding:
    x, y, z = (round(c, 1) + 0.0 for c in found.at)  # no -0
    return Finding(
        severity=Severity.STOP,
        part=f"{a.name} + {b.name}",
        feature=f"at x {x:g}, y {y:g}, z {z:g} mm",
        measure="they overlap by",
        value=round(found.volume_mm3, 1),
        unit="mm3",
        source="bodies as simple solids, by an independent kernel",
        remedy=_remedy(a, b),
    )


def _remedy(a: Thing, b: Thing) -> str:
    plates = [one for one in (a, b) if one.kind is ThingKind.PLATE]
    others = [one for one in (a, b) if one.kind is not ThingKind.PLATE]
    if len(plates) == 1 and others[0].kind is ThingKind.DEVICE:
        return (
            f"move {others[0].name} or {plates[0].name}, cut an opening, or let the device pass "
            f"with through=({plates[0].name!r},)"
        )
    if any(one.kind is ThingKind.FASTENER for one in others):
        return "move one of them, use a shorter screw or grip fewer layers"
    if not plates:
        return "move one of them, or give one the bore in which the other sits"
    return "move one of them, or join them"
