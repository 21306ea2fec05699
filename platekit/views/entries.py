"""Entries of a parts list: what is one kind in a rig, numbered as balloons on a picture have it."""

from __future__ import annotations

from dataclasses import dataclass

from platekit.assembly.proof.things import ThingKind
from platekit.views.scene import Scene

# Plates first, then what is bought; screws last, as parts lists of the trade go.
ORDER = (
    ThingKind.PLATE,
    ThingKind.DEVICE,
    ThingKind.PULLEY,
    ThingKind.BELT,
    ThingKind.FASTENER,
    ThingKind.CAPTIVE,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One line of the list.

    Attributes:
        number: Its number, from 1.
        label: What it is: a name, or the designation of a screw.
        things: Names of the things it stands for.
        kind: What kind of things those are.
    """

    number: int
    label: str
    things: tuple[str, ...]
    kind: ThingKind

    @property
    def count(self) -> int:
        """How many there are."""
        return len(self.things)


def entries_of(scene: Scene) -> tuple[Entry, ...]:
    """Return the parts list of a rig: screws of one designation are one entry.

    A nut in a pocket belongs to its screw and has no entry of its own.
    """
    designations = {one.name: one.designation for one in scene.fastenings}
    kinds: dict[tuple[int, str], list[str]] = {}
    for one in scene.things:
        if one.kind is ThingKind.CAPTIVE and one.name.removesuffix(" nut") in designations:
            continue
        label = designations.get(one.name, one.name)
        kinds.setdefault((ORDER.index(one.kind), label), []).append(one.name)
    ranked = sorted(kinds.items(), key=lambda item: item[0][0])
    return tuple(
        Entry(number=number, label=label, things=tuple(things), kind=ORDER[rank])
        for number, ((rank, label), things) in enumerate(ranked, start=1)
    )
