"""Belts under load: what holds a torque through a belt, and the pull that costs both lines.

A belt that leads from a load's line to a motor beside it passes on the torque over its ratio, and
pulls the two shafts towards each other with 2 T / d at the least: the pull of the tight span less
that of the slack one, both pulling the same way where the belt lies half round. Where a drive says
how tight each span is set, twice that where it is more.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from platekit.assembly.loads import Load
from platekit.assembly.mounting import Belted, Standing
from platekit.assembly.mounting.seats import face
from platekit.checks.hold.following import Act, Followed, Push, follow, followed
from platekit.checks.subject import Subject
from platekit.hardware import belt_above_face_mm
from platekit.hardware.hazards import Hazard


@dataclass(frozen=True, kw_only=True)
class Led:
    """A belt from a part of a load's line to a motor beside it.

    Attributes:
        belt: The belt.
        part: What its pulley sits on, on the load's line.
        part_mm: Pitch diameter of that pulley.
        motor: The motor.
        motor_mm: Pitch diameter of its pulley.
        static_n: What each span is set to at rest; None where no drive says.
    """

    belt: Belted
    part: Standing
    part_mm: float
    motor: Standing
    motor_mm: float
    static_n: float | None

    def pull_n(self, torque_nmm: float) -> float:
        """Return what it pulls both shafts towards each other with under a torque at the part.

        Source:
            Statics: 2 T / d; spans at rest together twice what each is set to.
        """
        return max(2 * torque_nmm / self.part_mm, 2 * (self.static_n or 0.0))


def holder(subject: Subject, one: Followed) -> Standing | None:
    """Return what holds a line's torque: its motor, or the part a belt leads from to one."""
    if one.motor is not None:
        return one.motor
    belt = led(subject, one)
    return None if belt is None else belt.part


def led(subject: Subject, one: Followed) -> Led | None:
    """Return the belt by which a line without a motor hangs on one; None without."""
    if subject.whole is None or one.entry is None or one.motor is not None:
        return None
    assembly, done = subject.whole
    belts = [each for each in assembly.hardware if isinstance(each, Belted)]
    for part in one.turning:
        for belt in belts:
            for end, name in enumerate(belt.between):
                motor = _motor(belt.between[1 - end], done.standing)
                if name in _names(part) and motor is not None:
                    mm = belt.drive.pitch_diameters_mm
                    return Led(
                        belt=belt,
                        part=part,
                        part_mm=mm[end],
                        motor=motor,
                        motor_mm=mm[1 - end],
                        static_n=_static_n(subject, motor),
                    )
    return None


def acting(subject: Subject) -> tuple[Followed, ...]:
    """Return every case on its way as `followed` does, with what belts to motors do besides.

    Their pull across the line where they run, and a line of its own for each motor beside.
    """
    found: list[Followed] = []
    for one in followed(subject):
        belt = led(subject, one) if one.load.torque_nmm else None
        if belt is None:
            found.append(one)
            continue
        pull = belt.pull_n(one.load.torque_nmm)
        height = _height(subject, belt, belt.part)
        if given_n(one, belt) < pull:
            push = Push(on=belt.part, at_mm=one.place_mm(belt.part, height), force_n=pull)
            found.append(replace(one, pushes=(*one.pushes, push)))
        else:
            found.append(one)
        found.append(_beside(subject, one, belt, pull))
    return tuple(found)


def _beside(subject: Subject, one: Followed, belt: Led, pull_n: float) -> Followed:
    """Return what a belt brings to its motor."""
    standing = () if subject.whole is None else subject.whole[1].standing
    load = Load(
        name=one.load.name,
        on=belt.motor.name,
        torque_nmm=one.load.torque_nmm * belt.motor_mm / belt.part_mm,
        radial_n=pull_n,
        at_mm=-_height(subject, belt, belt.motor),
        duration=one.load.duration,
    )
    return follow(load, [Act(load=load, on=belt.motor)], standing, belt=belt.belt.name)


def _height(subject: Subject, belt: Led, part: Standing) -> float:
    """Return where the belt's middle runs, along a part's own z."""
    if subject.whole is None:
        return 0.0
    asked = belt.belt
    panels = {panel.name: panel for panel in subject.whole[1].panels}
    middle = (
        belt_above_face_mm(asked.drive.profile, width_mm=asked.drive.width_mm)
        + asked.drive.width_mm / 2
    )
    plane = face(panels[asked.on], asked.side).lifted(asked.gap_mm + middle)
    return plane.origin.plus(part.frame.origin, times=-1.0).dot(part.frame.n)


def given_n(one: Followed, belt: Led) -> float:
    """Return the greatest force that the case itself gives across what the pulley sits on."""
    return max((act.load.radial_n for act in one.acts if act.on is belt.part), default=0.0)


def _static_n(subject: Subject, motor: Standing) -> float | None:
    drives = () if subject.whole is None else subject.whole[0].use.drives
    return next((one.belt_pull_n for one in drives if one.motor in _names(motor)), None)


def _motor(name: str, standing: Sequence[Standing]) -> Standing | None:
    return next(
        (one for one in standing if name in _names(one) and Hazard.MOTION in one.device.hazards),
        None,
    )


def _names(part: Standing) -> set[str]:
    return {part.name} if part.asked is None else {part.name, part.asked.name}
