"""Blocking: what stands in the way of a thing that is drawn out in a straight line.

For every thing and direction the others that block it, found when asked and remembered. The
relation does not depend on what else is there, so that taking something away only ever frees
others: R. H. Wilson and J.-C. Latombe, Geometric reasoning about mechanical assembly, Artificial
Intelligence 71 (1994), call it the directional blocking graph (from memory).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Sequence

import numpy as np

from platekit.assembly.frames import Vector, X, Y, Z
from platekit.assembly.mounting.bodies import Tool
from platekit.assembly.proof.hands import Hands
from platekit.assembly.proof.rooms import ALIKE, Move, Room, unscrewing
from platekit.assembly.proof.standing import Occupied, Standing
from platekit.assembly.proof.things import Prism, Thing, ThingKind

# In the order they are tried: most rigs are built upwards.
WAYS: tuple[Vector, ...] = (
    Z,
    Y.scaled(-1.0),
    X,
    Y,
    X.scaled(-1.0),
    Z.scaled(-1.0),
)
# What needs no straight way out of its own.
STAYING = frozenset({ThingKind.BELT, ThingKind.CAPTIVE})


class Blocking:
    """Which things block which, for straight moves out of a rig.

    Belts bend and are laid on by hand, nuts in pockets stay in their plate: neither blocks.

    Args:
        things: Everything in the rig.
        clashing: Names of each two that overlap where they stand. That has been said, and no way
            in or out would be found through it: these two do not block each other.
    """

    def __init__(self, things: Sequence[Thing], clashing: Iterable[tuple[str, str]] = ()) -> None:
        carriers = {rider: thing.name for thing in things for rider in thing.carries}
        self._clashing = {frozenset(carriers.get(name, name) for name in pair) for pair in clashing}
        self.things = {thing.name: thing for thing in things if thing.kind not in STAYING}
        boxes = np.array([thing.box for thing in things])
        self._reach = float(np.linalg.norm(boxes[:, 1].max(axis=0) - boxes[:, 0].min(axis=0))) + 1.0
        self._standing = Standing(self.things)
        # By what moves, how and whether it is carried: by what stands, whether that blocks it.
        self._known: dict[tuple[str, Vector, bool], dict[str, bool]] = defaultdict(dict)
        self._own_ways: dict[str, tuple[Vector, ...]] = {}
        self._tools: dict[tuple[str, int], Occupied] = {}
        self._rooms: dict[tuple[str, Vector, bool], tuple[Occupied, ...]] = {}
        self._hands = Hands(self._standing, self._reach)

    def ways(self, names: Collection[str]) -> tuple[Vector, ...]:
        """Return the ways to try for things: along x, y and z, then along their own axes.

        A bought part by itself is first tried straight off the face it stands on, as a hand would
        put it there.
        """
        found: dict[Vector, None] = {}
        if len(names) == 1:
            (thing,) = (self.things[name] for name in names)
            if thing.kind is ThingKind.DEVICE:
                off = thing.prisms[0].frame.n
                found |= dict.fromkeys(way for way in WAYS if way.dot(off) > ALIKE)
        found |= dict.fromkeys(WAYS)
        for name in names:
            if name not in self._own_ways:
                self._own_ways[name] = _askew(self.things[name])
            found |= dict.fromkeys(self._own_ways[name])
        return tuple(found)

    def blockers(
        self, name: str, way: Vector, among: Iterable[str], *, carried: bool = False
    ) -> tuple[str, ...]:
        """Return those of `among` that block the thing `name` when it is moved along `way`."""
        known = self._known[name, way, carried and self._fastens(name)]
        return tuple(
            other
            for other in among
            if other != name
            and (
                # What is known is asked for so often that a call each would count.
                known[other] if other in known else self.blocks(other, name, way, carried=carried)
            )
        )

    def blocks(self, other: str, name: str, way: Vector, *, carried: bool = False) -> bool:
        """Return whether `other` stands in the way of `name`.

        Args:
            other: What stands.
            name: What moves.
            way: Unit vector in which it moves.
            carried: Whether a screw stays in what it holds, and goes with it as one.
        """
        carried = carried and self._fastens(name)
        known = self._known[name, way, carried]
        if other not in known:
            known[other] = self._stands_in_way(other, name, way, carried=carried)
        return known[other]

    def _stands_in_way(self, other: str, name: str, way: Vector, *, carried: bool) -> bool:
        if frozenset((name, other)) in self._clashing:
            return False
        rooms = self._room(name, way, carried=carried)
        found = any(room.holds(other) for room in rooms)
        if not self._fastens(name) and not self._fastens(other):
            # Seen from the other thing it is the same meeting the other way round.
            back = way.scaled(-1.0)
            if found and not all(room.exact for room in rooms):
                found = any(room.holds(name) for room in self._room(other, back, carried=False))
            self._known[other, back, carried][name] = found
        return found

    def free(self, name: str, way: Vector, among: Iterable[str], *, carried: bool = False) -> bool:
        """Return whether none of `among` blocks the thing `name` when it is moved along `way`."""
        carried = carried and self._fastens(name)
        others = [other for other in self._apart(name, among) if other != name]
        # What is known costs nothing, and one that blocks is enough.
        if any(room.surely_holds(others) for room in self._room(name, way, carried=carried)):
            return False
        known = self._known[name, way, carried]
        if any(known.get(other) for other in others):
            return False
        return not any(self.blocks(other, name, way, carried=carried) for other in others)

    def _fastens(self, name: str) -> bool:
        return self.things[name].fastening is not None

    def _room(self, name: str, way: Vector, *, carried: bool) -> tuple[Occupied, ...]:
        """Return what the thing passes through on its way out.

        A screw is free when it is out of its hole, a nut when it is off its screw; from there
        see `hands_reach`.
        """
        key = (name, way, carried)
        if key not in self._rooms:
            thing = self.things[name]
            loose = thing.fastening is not None and not carried
            if loose and thing.fastening is not None and thing.fastening.way.dot(way) >= ALIKE:
                moves = unscrewing(thing)
            else:
                moves = [Move(thing.prisms, way, self._reach)]
            self._rooms[key] = tuple(Occupied(Room((move,)), self._standing) for move in moves)
        return self._rooms[key]

    def hands_reach(self, name: str, among: Iterable[str]) -> bool:
        """Return whether hands can bring the screw `name` and its nut past all of `among`."""
        return self._hands.bring(name, self.ways((name,)), self._apart(name, among))

    def hand_blockers(self, name: str, among: Iterable[str]) -> tuple[str, ...]:
        """Return what shuts in the screw `name` or its nut; nothing where hands reach both."""
        return self._hands.blockers(name, self.ways((name,)), self._apart(name, among))

    def _apart(self, name: str, among: Iterable[str]) -> list[str]:
        return [other for other in among if frozenset((name, other)) not in self._clashing]

    def tool_blockers(self, name: str, among: Iterable[str]) -> tuple[str, ...]:
        """Return those of `among` in the way of the tool that turns the screw `name`."""
        fastening = self.things[name].fastening
        if fastening is None or fastening.tool is None:
            return ()
        others = [other for other in among if other != name]
        in_way: tuple[str, ...] = ()
        for k, room in enumerate(self._tool_rooms(name, fastening.tool)):
            hit = tuple(filter(room.holds, others))
            if not hit:
                return ()
            in_way = hit if k == 0 else in_way
        return in_way

    def _tool_rooms(self, name: str, tool: Tool) -> Iterator[Occupied]:
        """Yield the rooms of which a tool needs one."""
        for k, blocks in enumerate(tool.ways):
            key = (name, k)
            if key not in self._tools:
                prisms = [Prism(b.profile, tool.frame, b.low_mm, b.high_mm) for b in blocks]
                stays = Move(prisms, tool.frame.n, 0.0)
                self._tools[key] = Occupied(Room((stays,)), self._standing)
            yield self._tools[key]


def _askew(thing: Thing) -> tuple[Vector, ...]:
    """Return the axes of a thing's prisms, both ways, that are none of x, y and z."""
    found: list[Vector] = []
    for frame in dict.fromkeys(prism.frame for prism in thing.prisms):
        for axis in (frame.n, frame.u, frame.v):
            found += [
                way
                for way in (axis, axis.scaled(-1.0))
                if all(way.dot(known) < ALIKE for known in (*WAYS, *found))
            ]
    return tuple(found)
