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

    So are bought parts of one shape whose names differ in their number alone: "foot 1", "foot 2".
    A nut in a pocket belongs to its screw and has no entry of its own.
    """
    labels = _row_names(scene)
    labels |= {one.name: one.designation for one in scene.fastenings}
    screws = {one.name for one in scene.fastenings}
    kinds: dict[tuple[int, str], list[str]] = {}
    for one in scene.things:
        if one.kind is ThingKind.CAPTIVE and one.name.removesuffix(" nut") in screws:
            continue
        label = labels.get(one.name, one.name)
        kinds.setdefault((ORDER.index(one.kind), label), []).append(one.name)
    ranked = sorted(kinds.items(), key=lambda item: item[0][0])
    return tuple(
        Entry(number=number, label=label, things=tuple(things), kind=ORDER[rank])
        for number, ((rank, label), things) in enumerate(ranked, start=1)
    )


def _row_names(scene: Scene) -> dict[str, str]:
    """Return what bought parts that stand in a row are called together, by name."""
    rows: dict[tuple[str, int, int], list[str]] = {}
    for one in scene.things:
        name = one.name.rstrip("0123456789")
        if one.kind is ThingKind.DEVICE and name != one.name and name.endswith(" "):
            rows.setdefault((name.strip(), len(one.corners), len(one.triangles)), []).append(
                one.name
            )
    return {name: row for (row, _, _), names in rows.items() if len(names) > 1 for name in names}
