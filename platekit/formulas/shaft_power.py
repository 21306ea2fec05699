"""Power of a turning shaft, and a motor seen between its terminals and its shaft."""

from __future__ import annotations

import math
from dataclasses import dataclass

from platekit.errors import PartError
from platekit.formulas.quantities import require_finite, require_positive

NMM_PER_NM = 1000.0
RAD_PER_S_PER_RPM = 2 * math.pi / 60


def power_w(torque_nmm: float, speed_rpm: float) -> float:
    """Return the power of a turning shaft: torque times angular speed.

    Raises:
        PartError: A number cannot be.

    Source:
        Definition of power.
    """
    require_finite(torque_nmm, "torque", "N mm")
    require_finite(speed_rpm, "speed", "rpm")
    return torque_nmm / NMM_PER_NM * speed_rpm * RAD_PER_S_PER_RPM


def torque_of_power_nmm(power_w: float, speed_rpm: float) -> float:
    """Return the torque of a shaft that carries a power at a speed above 0.

    Raises:
        PartError: A number cannot be.

    Source:
        T = P / omega; in kW, rpm and N m handbooks print 9550 P / n.
    """
    require_finite(power_w, "power", "W")
    require_positive(speed_rpm, "speed", "rpm")
    return power_w / (speed_rpm * RAD_PER_S_PER_RPM) * NMM_PER_NM


@dataclass(frozen=True, slots=True, kw_only=True)
class RunningPoint:
    """A motor running steadily.

    Attributes:
        voltage_v: At its terminals.
        current_a: Drawn; negative where it brakes and gives current back.
        speed_rpm: Of its shaft.
        torque_nmm: At its shaft, friction taken off.
    """

    voltage_v: float
    current_a: float
    speed_rpm: float
    torque_nmm: float

    @property
    def power_in_w(self) -> float:
        """Electric power at the terminals."""
        return self.voltage_v * self.current_a

    @property
    def power_out_w(self) -> float:
        """Mechanical power at the shaft."""
        return power_w(self.torque_nmm, self.speed_rpm)

    @property
    def loss_w(self) -> float:
        """What turns into heat."""
        return self.power_in_w - self.power_out_w

    @property
    def efficiency(self) -> float:
        """Power out over power in; 0 where it drives nothing.

        Raises:
            PartError: It brakes: then in and out have changed places.
        """
        if self.power_in_w < 0 or self.power_out_w < 0:
            raise PartError(
                f"efficiency of a motor that brakes: {self.power_in_w:g} W in, "
                f"{self.power_out_w:g} W out",
                remedy="ask for loss_w instead",
            )
        return self.power_out_w / self.power_in_w if self.power_in_w else 0.0
