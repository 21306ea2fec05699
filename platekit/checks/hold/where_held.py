"""Where a rig is held: what all that acts at once comes to there, by balance."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from platekit.assembly.frames import Vector, Z
from platekit.assembly.mounting import Standing
from platekit.checks.hold.cases import Case, cases, joined
from platekit.checks.hold.following import Act, Reaction, followed
from platekit.checks.subject import Subject

# So many directions across an axis are tried, half way round; further those in which single
# forces act.
DIRECTIONS = 36
NOTHING = Vector(0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sum:
    """A sum of vectors: one that is known, some that come either way, some that turn freely.

    Attributes:
        known: The known part.
        either: Vectors that count with either sign.
        free: Length, axis and lever of each force that may point anywhere across its axis; as a
            moment it is lever x force, as a force the lever is None.
    """

    known: Vector
    either: Sequence[Vector]
    free: Sequence[tuple[float, Vector, Vector | None]]

    def most(self, way: Vector) -> float:
        """Return the greatest component along a unit vector."""
        return (
            abs(self.known.dot(way))
            + sum(abs(one.dot(way)) for one in self.either)
            + sum(
                length * _across(way if arm is None else way.cross(arm), axis).length
                for length, axis, arm in self.free
            )
        )

    def most_across(self, normal: Vector) -> float:
        """Return the greatest length across a unit vector: of all directions the worst."""
        found = [self.most(way) for way in _round(normal)]
        for one in (self.known, *self.either):
            across = _across(one, normal)
            if across.length:
                found.append(self.most(across.scaled(1.0 / across.length)))
        return max(found)


def where_held(subject: Subject) -> Iterator[Reaction]:
    """Yield what every case comes to at each device that holds the rig, each taken alone.

    All loads of a case act at once. Weight knows one way only; push and torque come either way,
    and a force across an axis in any direction: the worst sum of them is taken, exact but for the
    directions tried.
    """
    if subject.whole is None:
        return
    assembly, done = subject.whole
    held = [each for each in done.standing if each.name in assembly.use.held]
    if not held:
        return
    acting: dict[str, list[Act]] = {}
    for one in followed(subject):
        acting.setdefault(one.load.name, []).extend(one.acts)
    for case in cases(assembly.use.loads):
        acts = acting.get(case.name, [])
        if acts:
            yield from (_held(acts, each, case) for each in held)


def _held(acts: Sequence[Act], held: Standing, case: Case) -> Reaction:
    normal = held.frame.n
    force, moment = _force(acts), _moment(acts, held)
    return Reaction(
        load=joined([act.load for act in acts], case=case),
        device=held,
        panel=held.panel,
        torque_nmm=moment.most(normal),
        radial_n=force.most_across(normal),
        axial_n=force.most(normal),
        moment_nmm=moment.most_across(normal),
    )


def _force(acts: Iterable[Act]) -> _Sum:
    known, either, free = NOTHING, [], []
    for act in acts:
        axis, load = act.on.frame.n, act.load
        known = known.plus(Z, times=-load.weight_n)
        either.append(axis.scaled(load.axial_n))
        free.append((load.radial_n, axis, None))
    return _Sum(known=known, either=either, free=free)


def _moment(acts: Iterable[Act], held: Standing) -> _Sum:
    """Return the sum of moments about a device's seat."""
    known, either = NOTHING, []
    free: list[tuple[float, Vector, Vector | None]] = []
    for act in acts:
        axis, load = act.on.frame.n, act.load
        at = act.on.frame.point(0.0, 0.0, -load.at_mm)
        arm = at.plus(held.frame.origin, times=-1.0)
        known = known.plus(arm.cross(Z), times=-load.weight_n)
        either += [arm.cross(axis).scaled(load.axial_n), axis.scaled(load.torque_nmm)]
        free.append((load.radial_n, axis, arm))
    return _Sum(known=known, either=either, free=free)


def _across(vector: Vector, axis: Vector) -> Vector:
    return vector.plus(axis, times=-vector.dot(axis))


def _round(normal: Vector) -> Iterator[Vector]:
    """Yield unit vectors across a direction, half way round: the other half mirrors them."""
    aside = min(
        (Vector(1.0, 0.0, 0.0), Vector(0.0, 1.0, 0.0), Z), key=lambda one: abs(one.dot(normal))
    )
    u = _across(aside, normal)
    u = u.scaled(1.0 / u.length)
    v = normal.cross(u)
    for k in range(DIRECTIONS):
        turn = math.pi * k / DIRECTIONS
        yield u.scaled(math.cos(turn)).plus(v, times=math.sin(turn))
