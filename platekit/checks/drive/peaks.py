"""What can come to flow in a motor for seconds, and what bears the least of it.

One figure for every check: the least of the current limit, the drivers' own peak where it is said,
and V / R of the held motor.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from platekit.checks.drive.driven import Driven

MOTOR, DRIVERS, GEARBOX, SUPPLY = "motor", "drivers", "gearbox", "supply"


def passed_a(driven: Driven) -> float | None:
    """Return what can come to flow through the motor while it is held; None where not known."""
    found = [asked_a(driven), drivers_peak_a(driven)]
    return min((amps for amps in found if amps is not None), default=None)


def asked_a(driven: Driven) -> float | None:
    """Return what drivers that limit nothing by themselves would be asked for; None unknown."""
    found = [driven.drive.current_limit_a, driven.stall_a]
    return min((amps for amps in found if amps is not None), default=None)


def drivers_peak_a(driven: Driven) -> float | None:
    """Return what the drivers let through together by themselves; None where nobody says."""
    drivers = driven.drive.drivers
    if drivers is None or drivers.peak_a is None:
        return None
    return drivers.peak_a * drivers.count


def bounds_a(driven: Driven) -> Mapping[str, float]:
    """Return the motor's current that each part of the drive bears for seconds, where known."""
    rating, drive = driven.rating, driven.drive
    found = {MOTOR: rating.peak_a}
    if drive.current_limit_a is not None:
        found[DRIVERS] = drivers_peak_a(driven)
    if rating.gear_peak_nmm is not None:
        for_one_a = driven.gearbox.output_torque_nmm(1.0) * rating.torque_constant_nmm_per_a
        found[GEARBOX] = rating.gear_peak_nmm / for_one_a + rating.no_load_a
    if drive.supply is not None:
        found[SUPPLY] = supplied_a(driven, drive.supply.peak_a)
    return {what: amps for what, amps in found.items() if amps is not None}


def supplied_a(driven: Driven, supply_a: float) -> float:
    """Return the motor's current at which the supply gives so much, at the speed wanted.

    Source:
        Power kept: I (E + I R) = V times the supply's current times efficiency, solved for I.
    """
    drivers, rating, rpm = driven.drive.drivers, driven.rating, driven.drive.speed_rpm
    most_a = supply_a * (1.0 if drivers is None else drivers.efficiency)
    if rating.resistance_ohm is None or rpm is None:
        return most_a
    induced, ohm = driven.induced_v(rpm), rating.resistance_ohm
    amps = (math.sqrt(induced**2 + 4 * ohm * driven.voltage_v * most_a) - induced) / (2 * ohm)
    return amps if induced + amps * ohm <= driven.voltage_v else most_a


def is_told(driven: Driven, what: str) -> bool:
    """Return whether too much current is told of a part: only where none bears less than it.

    Too high a limit is one mistake: held to what the weakest bears, all bear it.
    """
    bounds, amps = bounds_a(driven), passed_a(driven)
    flows = {one: asked_a(driven) if one == DRIVERS else amps for one in bounds}
    over = [one for one, most in bounds.items() if (flow := flows[one]) is not None and flow > most]
    return what not in over or what == min(over, key=lambda one: bounds[one])
