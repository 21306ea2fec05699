"""Cases: which loads act at once, and how long each case stands."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from platekit.assembly.loads import DURATIONS, Load


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """What acts at once.

    Attributes:
        name: What findings call it: that of its loads.
        duration: How long it stands in all: as long as what stands the shortest of it.
        loads: What acts.
    """

    name: str
    duration: str
    loads: tuple[Load, ...]


def cases(loads: Iterable[Load]) -> tuple[Case, ...]:
    """Return the cases of use: loads of one name act together.

    Where some of them stand longer than others, those are a further case by themselves: wood bears
    less of what stands long, and a case stands as long as the shortest of it.

    Source:
        EN 1995-1-1:2004, 3.1.3(2) (from memory).
    """
    named: dict[str, list[Load]] = {}
    for one in loads:
        named.setdefault(one.name, []).append(one)
    return tuple(case for name, together in named.items() for case in _parts(name, together))


def _parts(name: str, loads: Sequence[Load]) -> list[Case]:
    found = []
    for duration in DURATIONS:
        if all(one.duration != duration for one in loads):
            continue
        rank = DURATIONS.index(duration)
        lasting = tuple(one for one in loads if DURATIONS.index(one.duration) <= rank)
        said = name if len(lasting) == len(loads) else f"{name} ({duration} part)"
        found.append(Case(name=said, duration=duration, loads=lasting))
    return found


def joined(loads: Sequence[Load], *, case: Case) -> Load:
    """Return several loads on one line as one: sums, as the worst case has them.

    Torques and forces of unknown direction add where they happen to point the same way.
    """
    return replace(
        loads[0],
        name=case.name,
        torque_nmm=sum(one.torque_nmm for one in loads),
        radial_n=sum(one.radial_n for one in loads),
        axial_n=sum(one.axial_n for one in loads),
        mass_kg=sum(one.mass_kg for one in loads),
        duration=case.duration,
    )
