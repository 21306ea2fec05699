"""Driving: which motor turns what, what feeds it, and what is asked of it.

What is written here is weighed by the checks "drive.*". Everything but the motor may be left out:
what is not said is not weighed.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TypeVar

from platekit.assembly.feeding import Drivers, Supply, Wire
from platekit.assembly.mounting.checks import require_name
from platekit.errors import PartError, concerning
from platekit.formulas.quantities import (
    require_between,
    require_finite,
    require_positive,
    require_zero_up,
)
from platekit.hardware.devices.ratings import EncoderRating

NMM_PER_NM = 1000.0
KGMM2_PER_KGM2 = 1e6
# Air around motors and wires where nobody says: IEC 60034-1 and IEC 60204-1, from memory.
USUAL_AIR_C = 40.0
# Play, resolution of more than a turn; steps of a cycle beyond any use: a slip.
MOST_DEG, MOST_STEPS = 360.0, 1000
AIR_C = (-40.0, 120.0)

Kept = TypeVar("Kept")


@dataclass(frozen=True, slots=True, kw_only=True)
class Drive:
    """A motor, what it turns, what feeds it and what is asked of it; see `drive`.

    Attributes:
        motor: The device that drives.
        output: The device or panel it turns; that of the loads that reach it where empty.
        supply: What feeds it.
        drivers: What stands between.
        fuse_a: Rating of the fuse behind the supply.
        wire: The wire.
        current_limit_a: What the drivers are set to let through to the motor, all together.
        speed_rpm: Wanted at the output.
        speed_up_s: Time in which the output comes to that speed.
        cycle: Torque at the output, N mm, and for how many seconds, over and over.
        inertia_kgmm2: Moment of inertia of what turns at the output.
        encoder: The device that tells its angle, or a rating where it is built in.
        encoder_ratio: Turns of the encoder for one of the output, where no belt says.
        belts: Belts on the way, to the output or to the encoder.
        belt_limit_n_per_mm: Pull that the driving belt bears for each mm of width.
        belt_pull_n: Pull each of its spans is set to at rest.
        belt_play_mm: Play of its teeth along the pitch line.
        resolution_deg: Angle of the output that must be told apart.
        backlash_deg: Play of the output that does no harm.
        air_c: Temperature of the air around.
    """

    motor: str
    output: str = ""
    supply: Supply | None = None
    drivers: Drivers | None = None
    fuse_a: float | None = None
    wire: Wire | None = None
    current_limit_a: float | None = None
    speed_rpm: float | None = None
    speed_up_s: float | None = None
    cycle: tuple[tuple[float, float], ...] = ()
    inertia_kgmm2: float | None = None
    encoder: str | EncoderRating = ""
    encoder_ratio: float | None = None
    belts: tuple[str, ...] = ()
    belt_limit_n_per_mm: float | None = None
    belt_pull_n: float | None = None
    belt_play_mm: float = 0.0
    resolution_deg: float | None = None
    backlash_deg: float | None = None
    air_c: float = USUAL_AIR_C

    @property
    def devices(self) -> tuple[str, ...]:
        """Names of the bought parts it speaks of, belts left out."""
        encoder = self.encoder if isinstance(self.encoder, str) else ""
        return tuple(filter(None, (self.motor, encoder)))


def drive(
    motor: str,
    *,
    output: str = "",
    supply: Supply | None = None,
    drivers: Drivers | None = None,
    fuse_a: float | None = None,
    wire: Wire | None = None,
    current_limit_a: float | None = None,
    speed_rpm: float | None = None,
    speed_up_s: float | None = None,
    cycle: Iterable[tuple[float, float]] = (),
    inertia_kgm2: float | None = None,
    encoder: str | EncoderRating = "",
    encoder_ratio: float | None = None,
    belt: str | Iterable[str] = (),
    belt_limit_n_per_mm: float | None = None,
    belt_pull_n: float | None = None,
    belt_play_mm: float = 0.0,
    resolution_deg: float | None = None,
    backlash_deg: float | None = None,
    air_c: float = USUAL_AIR_C,
) -> Drive:
    """Return a motor with what it turns, what feeds it and what is asked of it.

    ``drive("motor", output="hub", supply=supply(voltage_v=24, current_a=20), speed_rpm=2)``

    What a load asks of it comes from `load` on the output. Nothing but the motor must be given;
    what is left out is not weighed.

    Args:
        motor: The mounted motor; its `rating` says what it can do.
        output: The device or panel it turns: a hub.
        supply: What feeds it.
        drivers: What stands between supply and motor.
        fuse_a: Rating of the fuse behind the supply.
        wire: The thinnest wire on the way.
        current_limit_a: What the drivers are set to let through to the motor, all together.
        speed_rpm: Wanted at the output under load.
        speed_up_s: Time in which the output must come to that speed.
        cycle: Torques at the output in N m, each with its seconds, repeated for ever:
            ``((12.0, 3.0), (4.0, 20.0))``. Left out, the largest load is taken to stand all day.
        inertia_kgm2: Moment of inertia of what turns at the output.
        encoder: The mounted encoder, or an `encoder_rating` where it is built into the motor.
        encoder_ratio: Turns of the encoder for one of the output, where no belt says; left out, 1.
        belt: The belt to the output or to the encoder, by name; several in brackets.
        belt_limit_n_per_mm: Pull that the driving belt bears for each mm of its width, its
            maker's figure at its speed.
        belt_pull_n: Pull that each span of the driving belt is set to at rest.
        belt_play_mm: Play of the driving belt's teeth in the pulley, along the pitch line.
        resolution_deg: Angle of the output that must be told apart.
        backlash_deg: Play of the output that does no harm.
        air_c: Temperature of the air around motor and wires.

    Raises:
        PartError: A name or figure that cannot be.
    """
    with concerning(part=f"drive {str(motor)[:64]}"):
        require_name(motor, "motor")
        rpm = _positive(speed_rpm, "speed_rpm", "rpm")
        if speed_up_s is not None and rpm is None:
            raise PartError("speed_up_s is given without a speed", remedy="give speed_rpm too")
        inertia = None if inertia_kgm2 is None else require_zero_up(inertia_kgm2, "inertia_kgm2")
        return Drive(
            motor=motor,
            output=_name(output, "output"),
            supply=_kind(supply, Supply, "supply", "supply(voltage_v=24, current_a=20)"),
            drivers=_kind(drivers, Drivers, "drivers", "drivers(count=2, peak_a=30)"),
            fuse_a=_positive(fuse_a, "fuse_a", "A"),
            wire=_kind(wire, Wire, "wire", "wire(area_mm2=2.5, length_m=1.5)"),
            current_limit_a=_positive(current_limit_a, "current_limit_a", "A"),
            speed_rpm=rpm,
            speed_up_s=_positive(speed_up_s, "speed_up_s", "s"),
            cycle=_cycle(cycle),
            inertia_kgmm2=None if inertia is None else inertia * KGMM2_PER_KGM2,
            encoder=encoder if isinstance(encoder, EncoderRating) else _name(encoder, "encoder"),
            encoder_ratio=_positive(encoder_ratio, "encoder_ratio", ""),
            belts=_belts(belt),
            belt_limit_n_per_mm=_positive(belt_limit_n_per_mm, "belt_limit_n_per_mm", "N/mm"),
            belt_pull_n=_positive(belt_pull_n, "belt_pull_n", "N"),
            belt_play_mm=require_zero_up(belt_play_mm, "belt_play_mm", "mm"),
            resolution_deg=_angle(resolution_deg, "resolution_deg"),
            backlash_deg=_angle(backlash_deg, "backlash_deg"),
            air_c=require_between(air_c, "air_c", *AIR_C, "C"),
        )


def _positive(value: float | None, name: str, unit: str) -> float | None:
    return None if value is None else require_positive(value, name, unit)


def _angle(value: float | None, name: str) -> float | None:
    if value is None:
        return None
    require_positive(value, name, "degrees")
    return require_between(value, name, 0.0, MOST_DEG, "degrees")


def _name(given: str, what: str) -> str:
    return given if given == "" else require_name(given, what)


def _kind(given: Kept | None, kind: type[Kept], what: str, wanted: str) -> Kept | None:
    value: object = given
    if value is None or isinstance(value, kind):
        return given
    raise PartError(f"{what} is {repr(given)[:64]}", remedy=f"give {what}={wanted}")


def _belts(belt: str | Iterable[str]) -> tuple[str, ...]:
    given: object = belt
    if given == "":
        return ()
    if isinstance(given, str):
        return (given,)
    if isinstance(given, list | tuple) and all(isinstance(one, str) and one for one in given):
        return tuple(given)
    raise PartError(f"belt is {repr(belt)[:64]}", remedy='give its name, or names: ("belt",)')


def _cycle(cycle: Iterable[tuple[float, float]]) -> tuple[tuple[float, float], ...]:
    """Return a cycle in N mm and seconds.

    Raises:
        PartError: It is none.
    """
    given: object = cycle
    wanted = "give pairs of N m and seconds: ((12.0, 3.0), (4.0, 20.0))"
    if not isinstance(given, list | tuple) or not all(
        isinstance(step, list | tuple) and len(step) == 2 for step in given
    ):
        raise PartError(f"cycle is {repr(cycle)[:64]}", remedy=wanted)
    if len(given) > MOST_STEPS:
        raise PartError(f"cycle has {len(given)} steps", remedy=f"give at most {MOST_STEPS}")
    return tuple(
        (
            NMM_PER_NM * abs(require_finite(torque_nm, "torque of a step", "N m")),
            require_positive(seconds, "time of a step", "s"),
        )
        for torque_nm, seconds in given
    )
