"""Following a load: from where it acts, along what turns with it, to what holds it.

A load on a hub goes through the hub's screws, its grip on the shaft, whatever joins that shaft to
the next, and ends in the motor, whose screws pass its torque to the plate. Bearings on the way
take what acts across and along. Loads of one case that turn with each other are followed as one.
All without factors. The rig's own weight is not counted.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from platekit.assembly.frames import Z
from platekit.assembly.loads import Load
from platekit.assembly.mounting import Standing
from platekit.checks.hold.cases import Case, cases, joined
from platekit.checks.subject import Subject
from platekit.hardware.devices.ratings import BearingRating, Grip
from platekit.hardware.hazards import Hazard

# Axes nearer than this are one line; common practice, no source.
SAME_LINE_MM = 0.05
SAME_WAY = 1e-6
# An axis is upright when its cosine with the plumb line is above this.
UPRIGHT = 0.5


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
class Act:
    """A load and the device it enters by."""

    load: Load
    on: Standing


@dataclass(frozen=True, kw_only=True)
class Push:
    """A force across a line, in whichever direction is worst.

    Attributes:
        on: The device it acts on.
        at_mm: Where along the line, from the entry's seat.
        force_n: The force.
    """

    on: Standing
    at_mm: float
    force_n: float


@dataclass(frozen=True, kw_only=True)
class Followed:
    """Loads of one case that turn with each other, on their way.

    Attributes:
        load: The load; several as one, their sums.
        acts: What it is made of, and what each enters by; nothing on a bare panel.
        entry: The device the first enters by: a hub, a motor; None on a bare panel.
        grasps: Grips on shafts it passes, from the entry on.
        motor: What holds the torque at the end; None where nothing does.
        bearings: Bearings on the line, in the order of their places along it.
        axial_n: Force along the axis, weight included where the axis is upright.
        pushes: Forces across it, weight included where it is not upright.
        belt: The belt that brings the load here; empty where the recipe gives it.
    """

    load: Load
    entry: Standing | None
    acts: tuple[Act, ...] = ()
    grasps: tuple[Grasp, ...] = ()
    motor: Standing | None = None
    bearings: tuple[Standing, ...] = ()
    axial_n: float = 0.0
    pushes: tuple[Push, ...] = ()
    belt: str = ""

    @property
    def radial_n(self) -> float:
        """Force across the axis, all of it one way."""
        return sum(one.force_n for one in self.pushes)

    @property
    def turning(self) -> tuple[Standing, ...]:
        """All that turns with each other: the entry, and what it grips or is gripped by."""
        found = [] if self.entry is None else [self.entry]
        for grasp in self.grasps:
            found += [one for one in (grasp.holder, grasp.shaft) if one not in found]
        return tuple(found)

    def place_mm(self, one: Standing, z_mm: float) -> float:
        """Return where a height along a device's z lies on the line, from the entry's seat."""
        entry = self.entry if self.entry is not None else one
        return _along(entry, one, z_mm)

    def middle_mm(self, one: Standing) -> float:
        """Return where the middle of a device lies on the line."""
        blocks = one.device.blocks
        low, high = min(each.low_mm for each in blocks), max(each.high_mm for each in blocks)
        return self.place_mm(one, (low + high) / 2)


@dataclass(frozen=True, kw_only=True)
class Reaction:
    """What a load comes to where a device passes it to a panel, without factors.

    Attributes:
        load: The load; all that acts on the line at once as one.
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
    """Return every case of a job on its way, each line of it by itself, in the order given."""
    if subject.whole is None:
        return ()
    assembly, done = subject.whole
    return tuple(
        one for case in cases(assembly.use.loads) for one in _case_followed(case, done.standing)
    )


def _case_followed(case: Case, standing: Sequence[Standing]) -> Iterable[Followed]:
    """Follow a case: what turns with each other as one, the rest each by itself."""
    bare: list[Followed] = []
    groups: list[tuple[tuple[Standing, ...], list[Act]]] = []
    for load in case.loads:
        entry = _entry(load, standing)
        if entry is None:
            bare.append(Followed(load=joined([load], case=case), entry=None))
            continue
        act = Act(load=load, on=entry)
        for turning, acts in groups:
            if any(entry is one for one in turning):
                acts.append(act)
                break
        else:
            groups.append((turning_with(entry, standing), [act]))
    for _, acts in groups:
        load = joined([act.load for act in acts], case=case)
        yield follow(load, acts, standing)
    yield from bare


def turning_with(entry: Standing, standing: Sequence[Standing]) -> tuple[Standing, ...]:
    """Return all that turns with a device, itself first."""
    return _grasps(entry, [one for one in standing if on_one_line(entry, one)])[1]


def follow(
    load: Load, acts: Sequence[Act], standing: Sequence[Standing], *, belt: str = ""
) -> Followed:
    """Return loads on one line on their way.

    Args:
        load: All of them as one.
        acts: Each, and what it enters by; one or more.
        standing: Every device in its place.
        belt: The belt that brings them.
    """
    entry = acts[0].on
    line = [one for one in standing if on_one_line(entry, one)]
    grasps, last = _grasps(entry, line)
    across = [
        Push(
            on=act.on,
            at_mm=_along(entry, act.on, -act.load.at_mm),
            force_n=act.load.radial_n + (0.0 if _upright(act.on) else act.load.weight_n),
        )
        for act in acts
    ]
    bare = Followed(load=load, entry=entry)
    return Followed(
        load=load,
        entry=entry,
        acts=tuple(acts),
        grasps=grasps,
        motor=next((one for one in last if is_motor(one)), None),
        bearings=tuple(sorted((one for one in line if _is_bearing(one)), key=bare.middle_mm)),
        axial_n=sum(axial_of(act.on, act.load) for act in acts),
        pushes=tuple(one for one in across if one.force_n),
        belt=belt,
    )


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


def axial_of(entry: Standing, load: Load) -> float:
    """Return what a load pushes along the axis of the device it enters by, weight included."""
    return load.axial_n + (load.weight_n if _upright(entry) else 0.0)


def _upright(one: Standing) -> bool:
    return abs(one.frame.n.dot(Z)) > UPRIGHT


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


def is_motor(one: Standing) -> bool:
    """Return whether a device drives: screwed down, with a shaft that moves by itself."""
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
