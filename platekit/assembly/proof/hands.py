"""Hands: whether a screw and its nut can be brought to where they are turned.

Out of its hole, or off its thread, each must have a straight way out of the rig, if need be after
it has been drawn out of the recess it lies in. Else a bolt could be driven in a closed case.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from platekit.assembly.frames import Vector
from platekit.assembly.proof.rooms import FREE_MM, Move, Room, furthest, room_of, unscrewing
from platekit.assembly.proof.things import Prism, Thing, ThingKind


@dataclass(eq=False)
class _Path:
    """One way of a hand to a screw's head or nut, and who is known to stand in it."""

    moves: tuple[Move, ...]
    room: Room | None = None
    shut_by: dict[str, bool] = field(default_factory=dict)


class Hands:
    """Which screws and nuts hands can bring.

    Args:
        things: Everything in the rig, by name.
        reach_mm: Further than the rig is wide.
    """

    def __init__(self, things: Mapping[str, Thing], reach_mm: float) -> None:
        self._things = things
        self._reach = reach_mm
        self._plates = {plate: thing for thing in things.values() for plate in thing.plates}
        self._known: dict[str, list[list[_Path]]] = {}

    def bring(self, name: str, ways: Iterable[Vector], among: Iterable[str]) -> bool:
        """Return whether the screw `name` and its nut come in past all of `among`.

        Args:
            name: The screw.
            ways: Unit vectors along which they may go out, besides the screw's own axis.
            among: Names of what stands.
        """
        others = [other for other in among if other != name]
        return all(any(self._passes(p, others) for p in paths) for paths in self._of(name, ways))

    def blockers(self, name: str, ways: Iterable[Vector], among: Iterable[str]) -> tuple[str, ...]:
        """Return what shuts in the screw `name` or its nut; nothing where both can be brought."""
        others = [other for other in among if other != name]
        for paths in self._of(name, ways):
            shut = [tuple(o for o in others if self._shuts(path, o)) for path in paths]
            fewest = min(shut, key=len)
            if fewest:
                return fewest
        return ()

    def _of(self, name: str, ways: Iterable[Vector]) -> list[list[_Path]]:
        """Return the paths to try, for the head's side and for the nut's."""
        if name not in self._known:
            thing = self._things[name]
            moves = [] if thing.fastening is None else unscrewing(thing)
            self._known[name] = [self._paths(thing, move, tuple(ways)) for move in moves]
        return self._known[name]

    def _paths(self, screw: Thing, move: Move, ways: Sequence[Vector]) -> list[_Path]:
        off = _moved(move.prisms, move.way, move.length_mm)
        paths = [_Path((Move(off, way, self._reach),)) for way in dict.fromkeys((move.way, *ways))]
        more = self._out_of_recess(screw, off, move.way)
        if more > FREE_MM:
            clear = _moved(off, move.way, more)
            paths += [
                _Path((Move(off, move.way, more), Move(clear, way, self._reach))) for way in ways
            ]
        return paths

    def _out_of_recess(self, screw: Thing, off: Sequence[Prism], way: Vector) -> float:
        """Return how much further prisms go until they are clear of the plates they hold."""
        held = screw.fastening.holds if screw.fastening is not None else ()
        plates = [self._plates.get(name) or self._things.get(name) for name in held]
        beyond = [
            float(np.maximum(*(box * np.array(way))).sum())
            for box in (p.box for p in plates if p is not None and p.kind is ThingKind.PLATE)
        ]
        return max(beyond, default=0.0) + furthest(off, way.scaled(-1.0)) + FREE_MM

    def _passes(self, path: _Path, others: Sequence[str]) -> bool:
        # What is known costs nothing, and one that blocks is enough.
        if any(path.shut_by.get(other, False) for other in others):
            return False
        return not any(self._shuts(path, other) for other in others)

    def _shuts(self, path: _Path, other: str) -> bool:
        if other not in path.shut_by:
            if path.room is None:
                path.room = room_of(*path.moves)
            path.shut_by[other] = path.room.holds(self._things[other])
        return path.shut_by[other]


def _moved(prisms: Sequence[Prism], way: Vector, length_mm: float) -> list[Prism]:
    """Return prisms moved along their own axis, `way` being one of its two directions."""
    return [replace(p, frame=p.frame.lifted(length_mm * p.frame.n.dot(way))) for p in prisms]
