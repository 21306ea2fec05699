"""The belts of a drive: which one drives, which one turns the encoder, and what each comes to."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from platekit.assembly.driving import Drive
from platekit.assembly.mounting import Belted, Standing
from platekit.checks.hold.following import on_one_line
from platekit.formulas.gearing import STAGE_EFFICIENCY, GearStage
from platekit.hardware.belts.drives import BeltDrive


@dataclass(frozen=True, kw_only=True)
class Run:
    """A belt as it runs, seen from the pulley that drives it.

    Attributes:
        name: What the recipe calls it.
        drive: The belt and its pulleys.
        driver: Which pulley drives: 0 the first, 1 the second.
        on_motor: Whether the driving pulley sits on the motor's own shaft.
    """

    name: str
    drive: BeltDrive
    driver: int
    on_motor: bool

    @property
    def ratio(self) -> float:
        """Turns of the driving pulley for one of the driven."""
        teeth = self.drive.teeth
        return teeth[1 - self.driver] / teeth[self.driver]

    @property
    def driven_mm(self) -> float:
        """Pitch diameter of the driven pulley."""
        return self.drive.pitch_diameters_mm[1 - self.driver]

    @property
    def driver_wrap_deg(self) -> float:
        """How far the belt lies around the driving pulley."""
        return self.drive.wrap_deg[self.driver]


@dataclass(frozen=True, kw_only=True)
class Belting:
    """All belts of a drive.

    Attributes:
        driving: The belt from motor to output; None where the motor sits on the output's line.
        encoder_ratio: Turns of the encoder for one of the output.
        lost: Names of belts that touch neither the motor's axis nor the encoder.
    """

    driving: Run | None = None
    encoder_ratio: float = 1.0
    lost: tuple[str, ...] = ()

    def stage(self, play_mm: float) -> GearStage | None:
        """Return the driving belt as a stage; its worst efficiency is common practice, no source.

        Args:
            play_mm: Play of its teeth along the pitch line.
        """
        if self.driving is None:
            return None
        turn_deg = 360 * play_mm / (math.pi * self.driving.driven_mm)
        return GearStage(
            ratio=self.driving.ratio,
            efficiency=STAGE_EFFICIENCY["toothed belt"][0],
            backlash_deg=turn_deg,
        )


def belting(
    drive: Drive, named: Iterable[Belted], *, motor: Standing, standing: Mapping[str, Standing]
) -> Belting:
    """Return what the belts named by a drive do.

    Args:
        drive: The drive.
        named: Its belts.
        motor: The motor in its place.
        standing: Everything in its place, by name.
    """
    encoder = drive.encoder if isinstance(drive.encoder, str) else ""
    to_output: Run | None = None
    to_encoder: tuple[float, str] | None = None
    lost: list[str] = []
    for belt in named:
        if encoder and encoder in belt.between:
            end = belt.between.index(encoder)
            teeth = belt.drive.teeth
            to_encoder = (teeth[1 - end] / teeth[end], belt.between[1 - end])
            continue
        end_at = _end_on(motor, belt, standing)
        if end_at is None:
            lost.append(belt.name)
        else:
            on_motor = belt.between[end_at] == motor.name
            to_output = Run(name=belt.name, drive=belt.drive, driver=end_at, on_motor=on_motor)
    ratio = 1.0 if drive.encoder_ratio is None else drive.encoder_ratio
    if to_encoder is not None:
        ratio, other = to_encoder
        # An encoder driven from the motor's axis turns as that does, not as the output.
        beside = standing.get(other)
        if to_output is not None and beside is not None and on_one_line(motor, beside):
            ratio *= to_output.ratio
    return Belting(driving=to_output, encoder_ratio=ratio, lost=tuple(lost))


def _end_on(motor: Standing, belt: Belted, standing: Mapping[str, Standing]) -> int | None:
    """Return which end of a belt sits on the motor's axis; None for neither."""
    for end, name in enumerate(belt.between):
        found = standing.get(name)
        if found is not None and on_one_line(motor, found):
            return end
    return None
