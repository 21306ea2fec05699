"""Motors with a permanent field: torque, current, speed and loss from three figures.

For brushed motors, and for three-phase motors driven by their shaft's angle as far as their
constants are given line to line for the same current: between line and phase, peak and r.m.s., the
constants of three-phase motors differ by up to the square roots of 3 and 2. Winding temperature,
iron and the driver's own loss are left out, so that what comes out is an upper estimate.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from platekit.errors import PartError
from platekit.formulas.quantities import require_finite, require_positive, require_zero_up
from platekit.formulas.shaft_power import NMM_PER_NM, RAD_PER_S_PER_RPM, RunningPoint


def torque_constant_nmm_per_a(speed_constant_rpm_per_v: float) -> float:
    """Return N mm per A from rpm per V: 60 000 / (2 pi Kv), 9549.3 / Kv.

    Raises:
        PartError: A number cannot be.

    Source:
        In units of the SI torque constant and back-EMF constant are one number (power kept between
        the electric and the mechanical side); handbooks of electric drives, from memory.
    """
    require_positive(speed_constant_rpm_per_v, "speed constant", "rpm/V")
    return NMM_PER_NM / (speed_constant_rpm_per_v * RAD_PER_S_PER_RPM)


@dataclass(frozen=True, slots=True, kw_only=True)
class DcMotor:
    """A motor by the figures of its data sheet.

    Attributes:
        torque_constant_nmm_per_a: Torque for each ampere, see `torque_constant_nmm_per_a`.
        resistance_ohm: Between its terminals, cold unless you say otherwise.
        no_load_current_a: Drawn when it turns free: friction, taken as the same at every speed.

    Raises:
        PartError: A constant or a resistance of 0 or less, a negative no-load current.
    """

    torque_constant_nmm_per_a: float
    resistance_ohm: float
    no_load_current_a: float = 0.0

    def __post_init__(self) -> None:
        require_positive(self.torque_constant_nmm_per_a, "torque constant", "N mm/A")
        require_positive(self.resistance_ohm, "winding resistance", "ohm")
        require_zero_up(self.no_load_current_a, "no-load current", "A")

    @property
    def emf_constant_v_per_rpm(self) -> float:
        """Volts induced for each rpm: the torque constant in other units."""
        return self.torque_constant_nmm_per_a / NMM_PER_NM * RAD_PER_S_PER_RPM

    def back_emf_v(self, speed_rpm: float) -> float:
        """Return the voltage its turning winding induces.

        Raises:
            PartError: A number cannot be.

        Source:
            Induction: constant times speed.
        """
        require_finite(speed_rpm, "speed", "rpm")
        return self.emf_constant_v_per_rpm * speed_rpm

    def stall_current_a(self, voltage_v: float) -> float:
        """Return the current with the shaft held: voltage over resistance, nothing else limits.

        A driver with a current limit, or a weak supply, gives less; a winding held so burns.

        Raises:
            PartError: A number cannot be.

        Source:
            Ohm's law.
        """
        require_zero_up(voltage_v, "voltage", "V")
        return voltage_v / self.resistance_ohm

    def stall_torque_nmm(self, voltage_v: float) -> float:
        """Return the torque of the held shaft, friction taken off, iron not saturated.

        Raises:
            PartError: A number cannot be.

        Source:
            T = Kt (V / R - I0).
        """
        return self.torque_at_nmm(self.stall_current_a(voltage_v))

    def torque_at_nmm(self, current_a: float) -> float:
        """Return the torque at the shaft when driving: constant times what is above no load.

        Below the no-load current there is none: friction holds it.

        Raises:
            PartError: A number cannot be.

        Source:
            T = Kt (I - I0), handbooks of electric drives, from memory.
        """
        require_zero_up(current_a, "current", "A")
        useful_a = max(current_a - self.no_load_current_a, 0.0)
        return self.torque_constant_nmm_per_a * useful_a

    def current_for_a(self, torque_nmm: float) -> float:
        """Return the current drawn for a torque at the shaft, 0 or more.

        Raises:
            PartError: A number cannot be.

        Source:
            T = Kt (I - I0) solved for the current.
        """
        require_zero_up(torque_nmm, "torque", "N mm")
        return torque_nmm / self.torque_constant_nmm_per_a + self.no_load_current_a

    def no_load_speed_rpm(self, voltage_v: float) -> float:
        """Return the speed of the free shaft; 0 where the voltage does not overcome friction.

        Raises:
            PartError: A number cannot be.

        Source:
            V = E + I0 R solved for the speed.
        """
        driving_v = voltage_v - self.no_load_current_a * self.resistance_ohm
        return max(driving_v, 0.0) / self.emf_constant_v_per_rpm

    def at_current(self, *, voltage_v: float, current_a: float) -> RunningPoint:
        """Return how it runs at a voltage while it draws a current, driving.

        Source:
            V = E + I R and T = Kt (I - I0), handbooks of electric drives, from memory.

        Raises:
            PartError: More than the stall current: the load would turn the motor backwards.
        """
        require_zero_up(voltage_v, "voltage", "V")
        require_zero_up(current_a, "current", "A")
        stall_a = self.stall_current_a(voltage_v)
        if current_a > stall_a:
            raise PartError(
                f"current is {current_a:g} A; at {voltage_v:g} V a held motor draws {stall_a:g} A",
                remedy="ask for less torque, or give more voltage",
            )
        speed_rpm = (voltage_v - current_a * self.resistance_ohm) / self.emf_constant_v_per_rpm
        return RunningPoint(
            voltage_v=voltage_v,
            current_a=current_a,
            speed_rpm=speed_rpm,
            torque_nmm=self.torque_at_nmm(current_a),
        )

    def at_torque(self, *, voltage_v: float, torque_nmm: float) -> RunningPoint:
        """Return how it runs at a voltage against a torque. Raises as `at_current`.

        Raises:
            PartError: A number cannot be.

        Source:
            As `at_current`.
        """
        return self.at_current(voltage_v=voltage_v, current_a=self.current_for_a(torque_nmm))

    def voltage_for_v(self, *, speed_rpm: float, current_a: float) -> float:
        """Return the terminal voltage that runs it at a speed and current: E + I R.

        A negative current brakes: it flows back into the supply.

        Raises:
            PartError: A number cannot be.

        Source:
            V = E + I R, handbooks of electric drives, from memory.
        """
        require_finite(current_a, "current", "A")
        return self.back_emf_v(speed_rpm) + current_a * self.resistance_ohm

    def most_power_w(self, voltage_v: float) -> float:
        """Return the greatest power at the shaft, at half way between free and held current.

        Raises:
            PartError: A number cannot be.

        Source:
            Kt (I - I0) times (V - I R) / Ke is a parabola of I with roots I0 and V / R; derived.
        """
        stall_a = self.stall_current_a(voltage_v)
        if stall_a <= self.no_load_current_a:
            return 0.0
        half_a = (stall_a + self.no_load_current_a) / 2
        return self.at_current(voltage_v=voltage_v, current_a=half_a).power_out_w

    def best_efficiency(self, voltage_v: float) -> float:
        """Return the greatest efficiency: (1 - sqrt(I0 / I stall)) squared.

        Raises:
            PartError: A number cannot be.

        Source:
            Derivative of (I - I0)(V - I R) / (V I) is 0 at I = sqrt(I0 V / R); derived.
        """
        stall_a = self.stall_current_a(voltage_v)
        if stall_a <= self.no_load_current_a:
            return 0.0
        return (1 - math.sqrt(self.no_load_current_a / stall_a)) ** 2
