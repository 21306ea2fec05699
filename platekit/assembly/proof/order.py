"""Order: how a rig is put together, found by taking it apart.

What can be taken out last goes in first. One thing at a time is drawn out in a straight line, its
own screws before it; where that fails, a set of things that block each other but nobody else goes
out as one, and is taken apart by itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence, Set as AbstractSet
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np

from platekit.assembly.frames import Vector
from platekit.assembly.mounting.bodies import Fastening
from platekit.assembly.proof.blocking import STAYING, WAYS, Blocking
from platekit.assembly.proof.overlaps import boxes_meet
from platekit.assembly.proof.things import Thing, ThingKind, direction_name

# Boxes this close lie against each other.
AGAINST_MM = 0.2


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One thing, or a group put together before, brought in.

    Attributes:
        things: Names of what is brought in; several for a group.
        way: Unit vector in which it moves to its place.
        fasteners: Names of the screws that are driven now.
        belts: Names of the belts that are laid on now.
        fitted: Names of what was clamped into them before: buttons, glands.
        heap: Where it is done: empty for the rig itself, "A", "B"... for a group put together
            apart.
        brings: Which group is brought in; empty for a single thing.
    """

    things: tuple[str, ...]
    way: Vector
    fasteners: tuple[str, ...] = ()
    belts: tuple[str, ...] = ()
    fitted: tuple[str, ...] = ()
    heap: str = ""
    brings: str = ""

    @property
    def says(self) -> str:
        """Return the direction in workshop words: "down", "from the left"..."""
        return direction_name(self.way)


@dataclass(frozen=True, slots=True)
class Order:
    """A way to put a rig together.

    Attributes:
        steps: The steps, the first to be done first.
        stuck: Names of what no straight move brings in; empty when all is well.
        why: For each of those, by what it is blocked in the direction that is best.
    """

    steps: tuple[Step, ...]
    stuck: tuple[str, ...] = ()
    why: tuple[str, ...] = ()


def order_of(things: Sequence[Thing], blocking: Blocking) -> Order:
    """Return a sequence in which everything can be brought in along straight lines."""
    solid = [thing for thing in things if thing.kind not in STAYING]
    taking = _Taking(solid, blocking)
    taking.run([thing.name for thing in solid])
    steps = _completed(tuple(reversed(taking.steps)), things)
    return Order(steps, taking.stuck, taking.why)


class _Taking:
    """The rig as it is taken apart."""

    def __init__(self, things: Sequence[Thing], blocking: Blocking) -> None:
        self.blocking = blocking
        self.fastenings: dict[str, Fastening] = {
            thing.name: thing.fastening for thing in things if thing.fastening is not None
        }
        self.touching = touching(things)
        self.plates = {plate: thing.name for thing in things for plate in thing.plates}
        self.steps: list[Step] = []
        self.groups = 0
        self.stuck: tuple[str, ...] = ()
        self.why: tuple[str, ...] = ()

    def holding(self, names: Iterable[str], left: Sequence[str]) -> tuple[str, ...]:
        """Return the screws left that hold one of `names` to something else, or are in it."""
        wanted = set(names)
        return tuple(
            screw
            for screw in left
            if screw in self.fastenings and wanted & self._held(self.fastenings[screw])
        )

    def _held(self, fastening: Fastening) -> set[str]:
        return {self.plates.get(name, name) for name in fastening.holds}

    def run(self, names: Sequence[str], heap: str = "") -> None:
        """Take everything apart, noting each step and the heap it is done in."""
        left = list(names)
        while left:
            # Better a group that is put together before than a part that hangs in the air.
            taken = (
                self._one(left, held=True)
                or self._group(left, held=True)
                or self._one(left, held=False)
                or self._group(left, held=False)
            )
            if taken is None:
                self.stuck = tuple(name for name in left if name not in self.fastenings)
                self.why = tuple(self._reason(name, left) for name in self.stuck)
                return
            step, inside = taken
            group = len(inside) > 1
            self.groups += group
            brings = _letters(self.groups) if group else ""
            self.steps.append(replace(step, heap=heap, brings=brings))
            if group:
                self.run(inside, brings)
                if self.stuck:
                    return
            gone = {*step.things, *step.fasteners, *inside}
            left = [name for name in left if name not in gone]

    def _one(self, left: Sequence[str], *, held: bool) -> tuple[Step, tuple[str, ...]] | None:
        """Return the step of the last named thing that can be drawn out, its screws first.

        With `held`, only where everything left still hangs together.
        """
        for name in reversed(left):
            if name in self.fastenings or (held and not self._together(left, without={name})):
                continue
            step = self._out((name,), left)
            if step is not None:
                return step, (name,)
        loose = [name for name in left if name in self.fastenings]
        if loose and len(loose) == len(left):  # screws that hold nothing any more
            return Step(things=tuple(loose), way=WAYS[0]), tuple(loose[:1])
        return None

    def _out(self, names: tuple[str, ...], left: Sequence[str]) -> Step | None:
        screws = self.holding(names, left)
        inner = set(names)
        if not all(self._loosened(screw, left, screws) for screw in screws):
            return None
        rest = [name for name in left if name not in inner and name not in screws]
        for way in self.blocking.ways(names):
            if all(self.blocking.free(name, way, rest) for name in names):
                return Step(things=names, way=way.scaled(-1.0), fasteners=screws)
        return None

    def _loosened(self, screw: str, left: Sequence[str], with_it: Sequence[str]) -> bool:
        """Return whether a screw can be reached by its tool and drawn out."""
        others = [name for name in left if name != screw and name not in with_it]
        way = self.fastenings[screw].way
        return (
            self.blocking.free(screw, way, others)
            and not self.blocking.tool_blockers(screw, others)
            and self.blocking.hands_reach(screw, others)
        )

    def _together(self, names: Iterable[str], *, without: AbstractSet[str] = frozenset()) -> bool:
        """Return whether things, screws aside, all lie against each other in one heap."""
        heap = {name for name in names if name not in self.fastenings and name not in without}
        todo = [next(iter(heap))] if heap else []
        seen = set(todo)
        while todo:
            near = (self.touching[todo.pop()] & heap) - seen
            seen |= near
            todo += near
        return seen == heap

    def _group(self, left: Sequence[str], *, held: bool) -> tuple[Step, tuple[str, ...]] | None:
        """Return the smallest set that can go out as one, or None."""
        movable = [name for name in left if name not in self.fastenings]
        plain = self._group_along(WAYS, movable, left, held=held)
        if plain is not None:
            return plain
        askew = [way for way in self.blocking.ways(movable) if way not in WAYS]
        return self._group_along(askew, movable, left, held=held)

    def _group_along(
        self, ways: Iterable[Vector], movable: Sequence[str], left: Sequence[str], *, held: bool
    ) -> tuple[Step, tuple[str, ...]] | None:
        best: tuple[Step, tuple[str, ...]] | None = None
        for way in ways:
            for members in _closed_sets(movable, self._graph(movable, left, way)):
                if len(members) == len(movable):
                    continue
                if best is not None and len(members) >= len(best[0].things):
                    continue
                inside = set(members)
                if held and not (self._together(members) and self._together(left, without=inside)):
                    continue
                step = self._group_out(members, left, way)
                if step is not None:
                    best = step
        return best

    def _graph(
        self, movable: Sequence[str], left: Sequence[str], way: Vector
    ) -> dict[str, set[str]]:
        """Return for each thing those that must go with it when it moves along `way`."""
        graph = {name: set(self.blocking.blockers(name, way, movable)) for name in movable}
        for screw in left:
            if screw not in self.fastenings or self._loosened(screw, left, ()):
                continue
            held = self._held(self.fastenings[screw]) & graph.keys()
            for name in held:
                graph[name] |= held - {name}
        return graph

    def _group_out(
        self, members: tuple[str, ...], left: Sequence[str], way: Vector
    ) -> tuple[Step, tuple[str, ...]] | None:
        """Return the step of a group, its inner screws going with it."""
        inside = set(members)
        between = tuple(
            screw
            for screw in self.holding(members, left)
            if not self._held(self.fastenings[screw]) <= inside
        )
        inner = tuple(s for s in self.holding(members, left) if s not in between)
        if not all(self._loosened(screw, left, between) for screw in between):
            return None
        rest = [n for n in left if n not in inside and n not in between and n not in inner]
        movers = (*members, *inner)
        if not all(self.blocking.free(name, way, rest, carried=True) for name in movers):
            return None
        step = Step(things=members, way=way.scaled(-1.0), fasteners=between)
        return step, movers

    def _reason(self, name: str, left: Sequence[str]) -> str:
        """Return what keeps a thing in, in the direction in which least does."""
        own = self.holding((name,), left)
        rest = [other for other in left if other not in own]
        for screw in own:
            if hidden := self.blocking.tool_blockers(screw, rest):
                return f"no tool reaches {screw}, {', '.join(hidden)} in the way"
            if shut := self.blocking.blockers(screw, self.fastenings[screw].way, rest):
                return f"{screw} has no way in, {', '.join(shut)} in the way"
            if shut := self.blocking.hand_blockers(screw, rest):
                return f"no hand brings {screw} or its nut, {', '.join(shut)} in the way"
        ways = [
            (self.blocking.blockers(name, way, rest), way) for way in self.blocking.ways((name,))
        ]
        found, way = min(ways, key=lambda one: len(one[0]))
        freest = direction_name(way.scaled(-1.0))
        return f"on its freest way, {freest}, it meets {', '.join(found)}"


def _letters(number: int) -> str:
    """Return A, B, ... Z, AA, AB, ... for 1, 2, ..."""
    letters = ""
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def touching(things: Sequence[Thing]) -> dict[str, set[str]]:
    """Return for each thing those whose boxes lie against its own: what can hold it up."""
    grown = [thing.box + np.array([[-AGAINST_MM], [AGAINST_MM]]) for thing in things]
    found: dict[str, set[str]] = {thing.name: set() for thing in things}
    for (a, box), (b, other) in combinations(zip(things, grown, strict=True), 2):
        if boxes_meet(box, other):
            found[a.name].add(b.name)
            found[b.name].add(a.name)
    return found


def _closed_sets(names: Sequence[str], graph: dict[str, set[str]]) -> list[tuple[str, ...]]:
    """Return, for each thing, all that must move with it, the smallest sets first, each once."""
    found: dict[frozenset[str], tuple[str, ...]] = {}
    for name in names:
        closed, todo = {name}, [name]
        while todo:
            more = graph[todo.pop()] - closed
            closed |= more
            todo += more
        found.setdefault(frozenset(closed), tuple(n for n in names if n in closed))
    return sorted(found.values(), key=len)


def _completed(steps: Sequence[Step], things: Sequence[Thing]) -> tuple[Step, ...]:
    """Return the steps with what is clamped into each thing, and belts on their pulleys.

    Belts are laid on as soon as all pulleys are there.
    """
    carried = {thing.name: thing.carries for thing in things}
    pulleys = {thing.name for thing in things if thing.kind is ThingKind.PULLEY}
    belts = tuple(thing.name for thing in things if thing.kind is ThingKind.BELT)
    last = max((k for k, s in enumerate(steps) if pulleys & set(s.things)), default=len(steps) - 1)
    return tuple(
        replace(
            step,
            belts=belts if k == last else (),
            fitted=carried[step.things[0]] if len(step.things) == 1 else (),
        )
        for k, step in enumerate(steps)
    )
