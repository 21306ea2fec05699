"""Gear stages and trains: what a ratio does to torque, speed, inertia and play.

A ratio is speed of the input over speed of the output: above 1 it slows down. Torques in N mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from platekit.formulas.quantities import (
    require_between,
    require_finite,
    require_positive,
    require_zero_up,
)

# Efficiency of one stage, worst and best. Common practice, no source.
STAGE_EFFICIENCY: dict[str, tuple[float, float]] = {
    "spur": (0.95, 0.98),
    "planetary": (0.90, 0.97),
    "toothed belt": (0.95, 0.98),
    "worm": (0.3, 0.9),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class GearStage:
    """One stage, or a whole train seen as one.

    Attributes:
        ratio: Turns of the input for one of the output, above 0.
        efficiency: Share of the power that arrives, above 0, at most 1.
        backlash_deg: Play of its output while its input is held.

    Raises:
        PartError: A ratio of 0 or less, an efficiency outside 0 to 1, a negative backlash.
    """

    ratio: float
    efficiency: float = 1.0
    backlash_deg: float = 0.0

    def __post_init__(self) -> None:
        require_positive(self.ratio, "gear ratio")
        require_positive(self.efficiency, "gear efficiency")
        require_between(self.efficiency, "gear efficiency", 0, 1)
        require_zero_up(self.backlash_deg, "backlash", "degrees")

    def output_torque_nmm(self, input_torque_nmm: float) -> float:
        """Return the torque at the output, the motor driving the load.

        Raises:
            PartError: A number cannot be.

        Source:
            Power kept but for the losses: input torque times ratio times efficiency.
        """
        require_finite(input_torque_nmm, "input torque", "N mm")
        return input_torque_nmm * self.ratio * self.efficiency

    def input_torque_nmm(self, output_torque_nmm: float) -> float:
        """Return the torque the motor must give for that at the output; losses are its own.

        Raises:
            PartError: A number cannot be.

        Source:
            `output_torque_nmm` solved for the other.
        """
        require_finite(output_torque_nmm, "output torque", "N mm")
        return output_torque_nmm / (self.ratio * self.efficiency)

    def output_speed_rpm(self, input_speed_rpm: float) -> float:
        """Return the speed of the output: that of the input over the ratio.

        Raises:
            PartError: A number cannot be.

        Source:
            Definition of the ratio.
        """
        require_finite(input_speed_rpm, "input speed", "rpm")
        return input_speed_rpm / self.ratio

    def reflected_inertia_kgmm2(self, load_inertia_kgmm2: float) -> float:
        """Return the load's moment of inertia as the motor feels it, losses left out.

        Raises:
            PartError: A number cannot be.

        Source:
            Equal energy of motion on both sides: inertia over the ratio squared.
        """
        require_zero_up(load_inertia_kgmm2, "load inertia", "kg mm2")
        return load_inertia_kgmm2 / self.ratio**2

    def backlash_mm(self, radius_mm: float) -> float:
        """Return the play along the arc at a radius about the output shaft.

        Raises:
            PartError: A number cannot be.

        Source:
            Arc: radius times angle.
        """
        require_zero_up(radius_mm, "radius", "mm")
        return radius_mm * math.radians(self.backlash_deg)


def gear_train(stages: Iterable[GearStage]) -> GearStage:
    """Return stages one behind the other, motor first, as one.

    Ratios and efficiencies multiply. Play of a stage counts at the output divided by every ratio
    that comes after it, so that the last stage's counts in full: worst case, all plays added.

    Raises:
        PartError: A number cannot be.

    Source:
        Kinematics of a train; derived.
    """
    ratio, efficiency, backlash_deg = 1.0, 1.0, 0.0
    for stage in stages:
        ratio *= stage.ratio
        efficiency *= stage.efficiency
        backlash_deg = backlash_deg / stage.ratio + stage.backlash_deg
    return GearStage(ratio=ratio, efficiency=efficiency, backlash_deg=backlash_deg)
