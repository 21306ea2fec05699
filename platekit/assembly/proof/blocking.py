"""Blocking: what stands in the way of a thing that is drawn out in a straight line.

For every thing and direction the others that block it, found when asked and remembered. The
relation does not depend on what else is there, so that taking something away only ever frees
others: R. H. Wilson and J.-C. Latombe, Geometric reasoning about mechanical assembly, Artificial
Intelligence 71 (1994), call it the directional blocking graph (from memory).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from platekit.assembly.frames import Vector, X, Y, Z
from platekit.assembly.mounting.bodies import Tool
from platekit.assembly.proof.overlaps import RUB_MM, boxes_meet, overlap
from platekit.assembly.proof.sweeps import swept
from platekit.assembly.proof.things import Prism, Thing, ThingKind, bounds_of
from platekit.assembly.solids import union_solid
from platekit.geometry.tables import Floats

if TYPE_CHECKING:
    from manifold3d import Manifold

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


# Unit vectors with a product above this are one: 0.08 degrees apart.
ALIKE = 1.0 - 1e-6
# A screw or nut is free this far beyond its thread.
FREE_MM = 0.5


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
        self._known: dict[tuple[str, Vector, str, bool], bool] = {}
        self._own_ways: dict[str, tuple[Vector, ...]] = {}
        self._hands: dict[str, list[list[_Hand]]] = {}
        self._hindered: dict[tuple[str, int, str], bool] = {}
        self._tools: dict[tuple[str, int], tuple[Floats, Manifold]] = {}
        self._rooms: dict[tuple[str, Vector, bool], tuple[tuple[Floats, Manifold], ...]] = {}

    def ways(self, names: Iterable[str]) -> tuple[Vector, ...]:
        """Return the ways to try for things: along x, y and z, then along their own axes."""
        found = dict.fromkeys(WAYS)
        for name in names:
            if name not in self._own_ways:
                self._own_ways[name] = _askew(self.things[name])
            found |= dict.fromkeys(self._own_ways[name])
        return tuple(found)

    def blockers(
        self, name: str, way: Vector, among: Iterable[str], *, carried: bool = False
    ) -> tuple[str, ...]:
        """Return those of `among` that block the thing `name` when it is moved along `way`."""
        return tuple(
            other
            for other in among
            if other != name and self.blocks(other, name, way, carried=carried)
        )

    def blocks(self, other: str, name: str, way: Vector, *, carried: bool = False) -> bool:
        """Return whether `other` stands in the way of `name`.

        Args:
            other: What stands.
            name: What moves.
            way: Unit vector in which it moves.
            carried: Whether a screw stays in what it holds, and goes with it as one.
        """
        if frozenset((name, other)) in self._clashing:
            return False
        carried = carried and self._fastens(name)
        key = (name, way, other, carried)
        if key not in self._known:
            self._known[key] = found = self._judge(name, way, other, carried=carried)
            if not self._fastens(name) and not self._fastens(other):
                # Seen from the other thing it is the same meeting the other way round.
                self._known[other, way.scaled(-1.0), name, carried] = found
        return self._known[key]

    def free(self, name: str, way: Vector, among: Iterable[str], *, carried: bool = False) -> bool:
        """Return whether none of `among` blocks the thing `name` when it is moved along `way`."""
        carried = carried and self._fastens(name)
        # What is known costs nothing, and one that blocks is enough.
        known = {
            other: self._known.get((name, way, other, carried)) for other in among if other != name
        }
        if any(known.values()):
            return False
        return not any(
            self.blocks(other, name, way, carried=carried)
            for other, found in known.items()
            if found is None
        )

    def _fastens(self, name: str) -> bool:
        return self.things[name].fastening is not None

    def _judge(self, name: str, way: Vector, other: str, *, carried: bool) -> bool:
        thing = self.things[other]
        return any(_reaches(room, thing) for room in self._room(name, way, carried=carried))

    def _room(
        self, name: str, way: Vector, *, carried: bool
    ) -> tuple[tuple[Floats, Manifold], ...]:
        """Return what the thing passes through on its way out, with its box."""
        key = (name, way, carried)
        if key not in self._rooms:
            self._rooms[key] = tuple(
                _swept(prisms, along, length)
                for prisms, along, length in self._moves(name, way, carried=carried)
            )
        return self._rooms[key]

    def _moves(
        self, name: str, way: Vector, *, carried: bool
    ) -> list[tuple[Sequence[Prism], Vector, float]]:
        """Return what moves which way, and how far.

        A screw is free when it is out of its hole, a nut when it is off its screw: from there
        fingers take them anywhere.
        """
        thing = self.things[name]
        if thing.fastening is None or carried or thing.fastening.way.dot(way) < ALIKE:
            return [(thing.prisms, way, self._reach)]
        back = way.scaled(-1.0)
        heads = [prism for prism in thing.prisms if prism.frame.n.dot(way) > 0]
        ends = [prism for prism in thing.prisms if prism.frame.n.dot(way) < 0]
        tip = _furthest(heads, back)
        moves: list[tuple[Sequence[Prism], Vector, float]] = [
            (heads, way, tip + _furthest(heads, way) + FREE_MM)
        ]
        if ends:
            moves.append((ends, back, tip + _furthest(ends, way) + FREE_MM))
        return moves

    def tool_blockers(self, name: str, among: Iterable[str]) -> tuple[str, ...]:
        """Return those of `among` in the way of the tool that turns the screw `name`."""
        fastening = self.things[name].fastening
        if fastening is None or fastening.tool is None:
            return ()
        others = [other for other in among if other != name]
        in_way: tuple[str, ...] = ()
        for k, room in enumerate(self._tool_rooms(name, fastening.tool)):
            hit = tuple(other for other in others if self._hinders(name, k, room, other))
            if not hit:
                return ()
            in_way = hit if k == 0 else in_way
        return in_way

    def hands_reach(self, name: str, among: Iterable[str]) -> bool:
        """Return whether hands can bring the screw `name` and its nut.

        A screw out of its hole and a nut off its thread must each have one straight way out of
        the rig, else they could not be brought to where the tool has its room.
        """
        others = [other for other in among if other != name]
        return all(
            any(self._hand_passes(hand, others) for hand in hands) for hands in self._hands_of(name)
        )

    def hand_blockers(self, name: str, among: Iterable[str]) -> tuple[str, ...]:
        """Return what shuts in the head or the nut of a screw; nothing where hands reach both."""
        others = [other for other in among if other != name]
        for hands in self._hands_of(name):
            shut = [tuple(o for o in others if self._shuts(hand, o)) for hand in hands]
            fewest = min(shut, key=len)
            if fewest:
                return fewest
        return ()

    def _hands_of(self, name: str) -> list[list[_Hand]]:
        """Return the ways a hand may come, for the head's side and for the nut's."""
        if name not in self._hands:
            fastening = self.things[name].fastening
            moves = [] if fastening is None else self._moves(name, fastening.way, carried=False)
            self._hands[name] = [
                [
                    _Hand([_moved_off(prism, along, length) for prism in prisms], way)
                    for way in dict.fromkeys((along, *self.ways((name,))))
                ]
                for prisms, along, length in moves
            ]
        return self._hands[name]

    def _hand_passes(self, hand: _Hand, others: Sequence[str]) -> bool:
        # What is known costs nothing, and one that blocks is enough.
        if any(hand.shut_by.get(other, False) for other in others):
            return False
        return not any(self._shuts(hand, other) for other in others)

    def _shuts(self, hand: _Hand, other: str) -> bool:
        if other not in hand.shut_by:
            if hand.room is None:
                hand.room = _swept(hand.prisms, hand.way, self._reach)
            hand.shut_by[other] = _reaches(hand.room, self.things[other])
        return hand.shut_by[other]

    def _hinders(self, name: str, k: int, room: tuple[Floats, Manifold], other: str) -> bool:
        """Return whether a thing stands in the k-th room of a screw's tool."""
        key = (name, k, other)
        if key not in self._hindered:
            self._hindered[key] = _reaches(room, self.things[other])
        return self._hindered[key]

    def _tool_rooms(self, name: str, tool: Tool) -> Iterator[tuple[Floats, Manifold]]:
        """Yield the rooms of which a tool needs one, each with its box."""
        for k, blocks in enumerate(tool.ways):
            key = (name, k)
            if key not in self._tools:
                prisms = [Prism(b.profile, tool.frame, b.low_mm, b.high_mm) for b in blocks]
                solid = union_solid(prism.solid() for prism in prisms)
                self._tools[key] = (bounds_of(prisms), solid)
            yield self._tools[key]


class _Hand:
    """One straight way of a hand to a screw's head or nut, and who is known to stand in it."""

    def __init__(self, prisms: Sequence[Prism], way: Vector) -> None:
        self.prisms = prisms
        self.way = way
        self.room: tuple[Floats, Manifold] | None = None
        self.shut_by: dict[str, bool] = {}


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


def _reaches(room: tuple[Floats, Manifold], thing: Thing) -> bool:
    """Return whether a thing stands in a room."""
    box, solid = room
    return (
        boxes_meet(box, thing.box) and overlap(solid, thing.near(box), over_mm=RUB_MM) is not None
    )


def _moved_off(prism: Prism, way: Vector, length_mm: float) -> Prism:
    """Return a prism moved along its own axis, `way` being one of its two directions."""
    return replace(prism, frame=prism.frame.lifted(length_mm * prism.frame.n.dot(way)))


def _furthest(prisms: Sequence[Prism], way: Vector) -> float:
    """Return how far prisms reach along a unit vector that is their own n or its opposite."""
    return max(
        max(p.frame.origin.plus(p.frame.n, times=h).dot(way) for h in (p.low_mm, p.high_mm))
        for p in prisms
    )


def _swept(prisms: Sequence[Prism], way: Vector, length_mm: float) -> tuple[Floats, Manifold]:
    """Return the room prisms pass through, and its box."""
    box = bounds_of(prisms)
    step = np.array(way) * length_mm
    grown = np.array([np.minimum(box[0], box[0] + step), np.maximum(box[1], box[1] + step)])
    return grown, union_solid(swept(prism, way, length_mm) for prism in prisms)
