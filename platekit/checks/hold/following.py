"""Following a load: from where it acts, along what turns with it, to what holds it.

A load on a hub goes through the hub's screws, its grip on the shaft, whatever joins that shaft to
the next, and ends in the motor, whose screws pass its torque to the plate. Bearings on the way
take what acts across and along. What ends in plates is a `Reaction`; the rig as a whole passes all
of it to where it is held. All without factors. The rig's own weight is not counted.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import product

from platekit.assembly.frames import Vector, Z
from platekit.assembly.loads import Load
from platekit.assembly.mounting import Standing
from platekit.checks.subject import Subject
from platekit.hardware.devices.ratings import BearingRating, Grip
from platekit.hardware.hazards import Hazard

# Axes nearer than this are one line; common practice, no source.
SAME_LINE_MM = 0.05
SAME_WAY = 1e-6
# An axis is upright when its cosine with the plumb line is above this.
UPRIGHT = 0.5
# Forces across an axis are tried in so many directions.
DIRECTIONS = 16


@dataclass(frozen=True, kw_only=True)
class Grasp:
    """A device's grip on another one's shaft, in its place on a line.

    Attributes:
        holder: The device that grips.
        grip: How.
        shaft: The device whose shaft is gripped.
        length_mm: How long it is really held: where bore and shaft both are.
    """

    holder: Standing
    grip: Grip
    shaft: Standing
    length_mm: float


@dataclass(frozen=True, kw_only=True)
class Followed:
    """One load on its way.

    Attributes:
        load: The load.
        entry: The device it enters by: a hub, a motor; None where it acts on a bare panel.
        grasps: Grips on shafts it passes, from the entry on.
        motor: What holds the torque at the end; None where nothing does.
        bearings: Bearings on the line, in the order of their places along it.
        axial_n: Force along the axis, weight included where the axis is upright.
        radial_n: Force across it, weight included where it is not.
    """

    load: Load
    entry: Standing | None
    grasps: tuple[Grasp, ...] = ()
    motor: Standing | None = None
    bearings: tuple[Standing, ...] = ()
    axial_n: float
    radial_n: float

    def place_mm(self, one: Standing, z_mm: float) -> float:
        """Return where a height along a device's z lies on the line, from the entry's seat."""
        entry = self.entry if self.entry is not None else one
        return _along(entry, one, z_mm)

    @property
    def load_mm(self) -> float:
        """Where forces across the axis act on the line, from the entry's seat."""
        return -self.load.at_mm


@dataclass(frozen=True, kw_only=True)
class Reaction:
    """What a load comes to where a device passes it to a panel, without factors.

    Attributes:
        load: The load.
        device: The device whose screws or seat pass it on.
        panel: The panel it passes it to.
        torque_nmm: Torque about the device's axis.
        radial_n: Force across it.
        axial_n: Force along it.
        moment_nmm: Moment that tips the device.
    """

    load: Load
    device: Standing
    panel: str
    torque_nmm: float = 0.0
    radial_n: float = 0.0
    axial_n: float = 0.0
    moment_nmm: float = 0.0


def followed(subject: Subject) -> tuple[Followed, ...]:
    """Return every load of a job on its way, in the order given."""
    if subject.whole is None:
        return ()
    assembly, done = subject.whole
    return tuple(_followed(load, done.standing) for load in assembly.use.loads)


def reactions(subject: Subject) -> tuple[Reaction, ...]:
    """Return what every load comes to where devices pass it to panels."""
    found: list[Reaction] = []
    for one in followed(subject):
        found += _on_the_line(one)
        found += _where_held(one, subject)
    return tuple(found)


def bearing_forces(one: Followed) -> tuple[tuple[Standing, float], ...]:
    """Return the force across the axis that each bearing of a line takes, N, the worst case.

    Two bearings share it as a beam on two supports does; of more, the outer two; one alone shares
    it with the motor's face. One without a motor takes it all, and what tips it goes elsewhere.

    Source:
        Statics: a beam on two supports.
    """
    if not one.bearings:
        return ()
    if len(one.bearings) == 1:
        return ((one.bearings[0], _beside_motor_n(one)[0]),)
    first, last = one.bearings[0], one.bearings[-1]
    a, b = (_middle(one, bearing) for bearing in (first, last))
    share = (one.load_mm - a) / (b - a)
    inner = tuple((bearing, 0.0) for bearing in one.bearings[1:-1])
    return (
        (first, abs(1.0 - share) * one.radial_n),
        *inner,
        (last, abs(share) * one.radial_n),
    )


def _beside_motor_n(one: Followed) -> tuple[float, float]:
    """Return what the only bearing of a line takes across, and what the motor's face takes.

    Source:
        Statics: a beam on two supports.
    """
    if one.motor is None:
        return one.radial_n, 0.0
    a, b = one.place_mm(one.motor, 0.0), _middle(one, one.bearings[0])
    if abs(b - a) <= SAME_LINE_MM:
        return one.radial_n, one.radial_n
    share = (one.load_mm - a) / (b - a)
    return abs(share) * one.radial_n, abs(1.0 - share) * one.radial_n


def _middle(one: Followed, bearing: Standing) -> float:
    blocks = bearing.device.blocks
    low, high = min(b.low_mm for b in blocks), max(b.high_mm for b in blocks)
    return one.place_mm(bearing, (low + high) / 2)


def _along(entry: Standing, one: Standing, z_mm: float) -> float:
    axis = entry.frame.n
    way = one.frame.origin.plus(entry.frame.origin, times=-1.0)
    return way.dot(axis) + z_mm * one.frame.n.dot(axis)


def on_one_line(one: Standing, other: Standing) -> bool:
    """Return whether two devices stand on one axis, whichever way round."""
    axis = one.frame.n
    if abs(abs(axis.dot(other.frame.n)) - 1.0) > SAME_WAY:
        return False
    way = other.frame.origin.plus(one.frame.origin, times=-1.0)
    return way.plus(axis, times=-way.dot(axis)).length <= SAME_LINE_MM


def _followed(load: Load, standing: Sequence[Standing]) -> Followed:
    entry = _entry(load, standing)
    upright = entry is None or abs(entry.frame.n.dot(Z)) > UPRIGHT
    axial = load.axial_n + (load.weight_n if upright else 0.0)
    radial = load.radial_n + (0.0 if upright else load.weight_n)
    if entry is None:
        return Followed(load=load, entry=None, axial_n=axial, radial_n=radial)
    line = [one for one in standing if on_one_line(entry, one)]
    grasps, last = _grasps(entry, line)
    bearings = [one for one in line if _is_bearing(one)]
    bare = Followed(load=load, entry=entry, axial_n=axial, radial_n=radial)
    return Followed(
        load=load,
        entry=entry,
        grasps=grasps,
        motor=next((one for one in last if _is_motor(one)), None),
        bearings=tuple(sorted(bearings, key=lambda one: _middle(bare, one))),
        axial_n=axial,
        radial_n=radial,
    )


def _entry(load: Load, standing: Sequence[Standing]) -> Standing | None:
    """Return the device a load enters by: the one named, or the hub on the panel named."""
    for one in standing:
        if one.name == load.on:
            return one
    for one in standing:
        if one.panel == load.on and one.device.grips and one.device.fixing is not None:
            return one
    return None


def _is_bearing(one: Standing) -> bool:
    return isinstance(one.device.rating, BearingRating) or any(
        item.designation.startswith("deep-groove ball bearing") for item in one.device.items
    )


def _is_motor(one: Standing) -> bool:
    device = one.device
    return (
        device.fixing is not None and device.shaft is not None and (Hazard.MOTION in device.hazards)
    )


def _grasps(
    entry: Standing, line: Iterable[Standing]
) -> tuple[tuple[Grasp, ...], tuple[Standing, ...]]:
    """Return the grips reached from the entry, nearest first, and all that turns with it."""
    every = [
        Grasp(holder=holder, grip=grip, shaft=shaft, length_mm=held)
        for holder in line
        for grip in holder.device.grips
        for shaft in line
        if shaft is not holder and (held := _held_mm(entry, holder, grip, shaft)) > 0.0
    ]
    turning = [entry]
    found: list[Grasp] = []
    while True:
        further = [
            grasp
            for grasp in every
            if grasp not in found and (grasp.holder in turning or grasp.shaft in turning)
        ]
        if not further:
            return tuple(found), tuple(turning)
        found += further
        for grasp in further:
            turning += [one for one in (grasp.holder, grasp.shaft) if one not in turning]


def _held_mm(entry: Standing, holder: Standing, grip: Grip, shaft: Standing) -> float:
    """Return how long a grip holds a shaft: 0 where it is another diameter or out of reach."""
    end = shaft.device.shaft
    if end is None or abs(end.diameter_mm - grip.bore_mm) > SAME_LINE_MM:
        return 0.0
    a = sorted(_along(entry, holder, z) for z in (grip.low_mm, grip.high_mm))
    b = sorted(_along(entry, shaft, z) for z in (end.low_mm, end.high_mm))
    return max(min(a[1], b[1]) - max(a[0], b[0]), 0.0)


def _on_the_line(one: Followed) -> list[Reaction]:
    """Return what goes into panels on the load's own line."""
    load, entry, motor = one.load, one.entry, one.motor
    found: list[Reaction] = []
    if entry is None:
        return []
    if entry.device.fixing is not None:
        found.append(
            Reaction(
                load=load,
                device=entry,
                panel=entry.panel,
                torque_nmm=load.torque_nmm,
                radial_n=one.radial_n,
                axial_n=one.axial_n,
                moment_nmm=one.radial_n * abs(load.at_mm),
            )
        )
    if motor is not None and motor is not entry:
        alone = not one.bearings
        beside = _beside_motor_n(one)[1] if len(one.bearings) == 1 else 0.0
        found.append(
            Reaction(
                load=load,
                device=motor,
                panel=motor.panel,
                torque_nmm=load.torque_nmm,
                radial_n=one.radial_n if alone else beside,
                axial_n=one.axial_n if alone else 0.0,
                moment_nmm=one.radial_n * abs(one.load_mm - one.place_mm(motor, 0.0))
                if alone
                else 0.0,
            )
        )
    # Which bearing takes the thrust hangs on how the shaft is shouldered: each may have to.
    found += [
        Reaction(
            load=load, device=bearing, panel=bearing.panel, radial_n=force, axial_n=one.axial_n
        )
        for bearing, force in bearing_forces(one)
    ]
    return found


def _where_held(one: Followed, subject: Subject) -> list[Reaction]:
    """Return what the devices that hold the rig from outside pass on, each taken alone."""
    if subject.whole is None or one.entry is None:
        return []
    assembly, done = subject.whole
    held = [each for each in done.standing if each.name in assembly.use.held]
    return [_held_by(one, each, one.entry) for each in held]


def _held_by(one: Followed, held: Standing, entry: Standing) -> Reaction:
    """Return what comes to a device that holds the rig: forces, and moments about its seat."""
    axis, normal = entry.frame.n, held.frame.n
    at = entry.frame.point(0.0, 0.0, one.load_mm)
    arm = at.plus(held.frame.origin, times=-1.0)
    load = one.load
    weight = Z.scaled(-load.weight_n)
    worst = [0.0, 0.0, 0.0, 0.0]
    # Weight knows one way only; push and torque come either way.
    for across, push, turn in product(_directions(entry), (1.0, -1.0), (1.0, -1.0)):
        force = weight.plus(axis, times=push * load.axial_n).plus(across, times=load.radial_n)
        moment = arm.cross(force).plus(axis, times=turn * load.torque_nmm)
        parts = (*_split(moment, normal), *_split(force, normal))
        worst = [max(a, b) for a, b in zip(worst, parts, strict=True)]
    torque, tipping, axial, radial = worst
    return Reaction(
        load=load,
        device=held,
        panel=held.panel,
        torque_nmm=torque,
        radial_n=radial,
        axial_n=axial,
        moment_nmm=tipping,
    )


def _split(vector: Vector, normal: Vector) -> tuple[float, float]:
    """Return how much of a vector lies along a direction, and how much across it."""
    along = vector.dot(normal)
    return abs(along), vector.plus(normal, times=-along).length


def _directions(entry: Standing) -> Iterable[Vector]:
    u, v = entry.frame.u, entry.frame.v
    for k in range(DIRECTIONS):
        turn = 2 * math.pi * k / DIRECTIONS
        yield u.scaled(math.cos(turn)).plus(v, times=math.sin(turn))
