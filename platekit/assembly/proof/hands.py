"""Hands: whether a screw and its nut can be brought to where they are turned.

Out of its hole, or off its thread, each must have a straight way out of the rig, if need be after
it has been drawn out of the recess it lies in. Else a bolt could be driven in a closed case.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

import numpy as np

from platekit.assembly.frames import Vector
from platekit.assembly.proof.rooms import FREE_MM, Move, Room, furthest, unscrewing
from platekit.assembly.proof.standing import Occupied, Standing
from platekit.assembly.proof.things import Prism, Thing, ThingKind

# The ways of a hand to a screw's head or to its nut.
_Paths = list[Occupied]


class Hands:
    """Which screws and nuts hands can bring.

    Args:
        standing: Everything in the rig.
        reach_mm: Further than the rig is wide.
    """

    def __init__(self, standing: Standing, reach_mm: float) -> None:
        self._standing, self._things = standing, standing.things
        self._reach = reach_mm
        self._plates = {plate: thing for thing in self._things.values() for plate in thing.plates}
        self._known: dict[str, list[_Paths]] = {}

    def bring(self, name: str, ways: Iterable[Vector], among: Iterable[str]) -> bool:
        """Return whether the screw `name` and its nut come in past all of `among`.

        Args:
            name: The screw.
            ways: Unit vectors along which they may go out, besides the screw's own axis.
            among: Names of what stands.
        """
        others = [other for other in among if other != name]
        return all(
            any(not path.holds_any(others) for path in paths) for paths in self._of(name, ways)
        )

    def blockers(self, name: str, ways: Iterable[Vector], among: Iterable[str]) -> tuple[str, ...]:
        """Return what shuts in the screw `name` or its nut; nothing where both can be brought."""
        others = [other for other in among if other != name]
        for paths in self._of(name, ways):
            shut = [tuple(filter(path.holds, others)) for path in paths]
            fewest = min(shut, key=len)
            if fewest:
                return fewest
        return ()

    def _of(self, name: str, ways: Iterable[Vector]) -> list[_Paths]:
        """Return the paths to try, for the head's side and for the nut's."""
        if name not in self._known:
            thing = self._things[name]
            moves = [] if thing.fastening is None else unscrewing(thing)
            self._known[name] = [self._paths(thing, move, tuple(ways)) for move in moves]
        return self._known[name]

    def _paths(self, screw: Thing, move: Move, ways: Sequence[Vector]) -> _Paths:
        off = _moved(move.prisms, move.way, move.length_mm)
        paths: list[tuple[Move, ...]]
        paths = [(Move(off, way, self._reach),) for way in dict.fromkeys((move.way, *ways))]
        more = self._out_of_recess(screw, off, move.way)
        if more > FREE_MM:
            clear = _moved(off, move.way, more)
            paths += [(Move(off, move.way, more), Move(clear, way, self._reach)) for way in ways]
        return [Occupied(Room(moves), self._standing) for moves in paths]

    def _out_of_recess(self, screw: Thing, off: Sequence[Prism], way: Vector) -> float:
        """Return how much further prisms go until they are clear of the plates they hold."""
        held = screw.fastening.holds if screw.fastening is not None else ()
        plates = [self._plates.get(name) or self._things.get(name) for name in held]
        beyond = [
            float(np.maximum(*(box * np.array(way))).sum())
            for box in (p.box for p in plates if p is not None and p.kind is ThingKind.PLATE)
        ]
        return max(beyond, default=0.0) + furthest(off, way.scaled(-1.0)) + FREE_MM


def _moved(prisms: Sequence[Prism], way: Vector, length_mm: float) -> list[Prism]:
    """Return prisms moved along their own axis, `way` being one of its two directions."""
    return [replace(p, frame=p.frame.lifted(length_mm * p.frame.n.dot(way))) for p in prisms]
