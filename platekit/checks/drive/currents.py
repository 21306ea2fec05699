"""Who carries which current: the drivers, the motor, the supply."""

from __future__ import annotations

from collections.abc import Iterator

from platekit.checks.check import Check
from platekit.checks.drive import peaks
from platekit.checks.drive.driven import Driven, three
from platekit.checks.drive.each import each
from platekit.checks.weighing import ADVICE, weighed
from platekit.findings import Finding
from platekit.formulas.supplies import chopped_supply_current_a, driver_share_a

CURRENT, SUPPLY = "drive.current", "drive.supply"
SHARE_SOURCE = (
    "drivers in parallel share the current, common practice, no source; the drivers' own rating"
)
SUPPLY_SOURCE = "power kept but for the drivers' loss; the supply's own rating"


def _current(driven: Driven) -> Iterator[Finding]:
    yield from _motor(driven)
    drivers, rms_a = driven.drive.drivers, driven.rms_a
    if drivers is None:
        return
    if drivers.continuous_a is not None and rms_a is not None:
        yield weighed(
            CURRENT,
            part=driven.drive.motor,
            feature="drivers",
            measure="current of one driver all day",
            value=driver_share_a(rms_a, drivers=drivers.count),
            most=drivers.continuous_a,
            unit="A",
            source=SHARE_SOURCE,
            formula=f"I rms / n = {three(rms_a)} / {drivers.count}",
            remedy="more or larger drivers, or a larger ratio",
            scale=ADVICE,
        )
    # Drivers without a limit of the recipe's stop at their own peak.
    limited = driven.drive.current_limit_a is not None
    amps = peaks.asked_a(driven) if limited else peaks.passed_a(driven)
    if drivers.peak_a is not None and amps is not None and peaks.is_told(driven, peaks.DRIVERS):
        most_a = drivers.peak_a * drivers.count
        least_of = "current limit" if limited else "own peak"
        yield weighed(
            CURRENT,
            part=driven.drive.motor,
            feature="drivers",
            measure="current of one driver for seconds",
            value=driver_share_a(amps, drivers=drivers.count),
            most=drivers.peak_a,
            unit="A",
            source=SHARE_SOURCE,
            formula=f"min({least_of}, V / R) / n = {three(amps)} / {drivers.count}",
            remedy=f"set them to {three(most_a)} A together or less and give current_limit_a, or "
            "take more drivers that may be joined",
            scale=ADVICE,
        )


def _motor(driven: Driven) -> Iterator[Finding]:
    """Weigh what can come to flow in the motor against what it bears for seconds."""
    peak_a, amps = driven.rating.peak_a, peaks.passed_a(driven)
    if peak_a is None or amps is None or not peaks.is_told(driven, peaks.MOTOR):
        return
    yield weighed(
        CURRENT,
        part=driven.drive.motor,
        measure="current for seconds when its shaft is held",
        value=amps,
        most=peak_a,
        unit="A",
        source="the motor's sheet; Ohm's law",
        formula=f"least of the current limit, the drivers' peak and V / R = {three(amps)}",
        remedy=f"set the drivers to {three(peak_a)} A or less and give current_limit_a: more may "
        "weaken its magnets and burn its brushes",
        scale=ADVICE,
    )


def supply_a(driven: Driven, motor_a: float) -> float:
    """Return what the supply gives while a current flows in the motor at the speed wanted.

    Source:
        Power kept: V motor times I motor = V supply times I supply times efficiency.
    """
    drivers = driven.drive.drivers
    return chopped_supply_current_a(
        motor_voltage_v=driven.motor_v(current_a=motor_a),
        motor_current_a=motor_a,
        voltage_v=driven.voltage_v,
        efficiency=1.0 if drivers is None else drivers.efficiency,
    )


def _supply(driven: Driven) -> Iterator[Finding]:
    supply = driven.drive.supply
    if supply is None:
        return
    peak_a = _peak_a(driven)
    for measure, motor_a, most_a in (
        ("current of the supply all day", driven.rms_a, supply.current_a),
        ("current of the supply for seconds", peak_a, supply.peak_a),
    ):
        if motor_a is None:
            continue
        yield weighed(
            SUPPLY,
            part=driven.name,
            feature="supply",
            measure=measure,
            value=supply_a(driven, motor_a),
            most=most_a,
            unit="A",
            source=SUPPLY_SOURCE,
            formula=_formula(driven, motor_a),
            remedy="a lower current limit, slower or lighter work, or a larger supply",
            scale=ADVICE,
        )


def _peak_a(driven: Driven) -> float | None:
    """Return the motor's current for seconds: what can come to flow, else what is needed."""
    flows = peaks.passed_a(driven)
    if flows is None and driven.needed_nmm:
        return driven.current_a(driven.needed_nmm)
    return flows if peaks.is_told(driven, peaks.SUPPLY) else None


def _formula(driven: Driven, motor_a: float) -> str:
    drivers = driven.drive.drivers
    efficiency = 1.0 if drivers is None else drivers.efficiency
    return (
        f"V motor I motor / (V eta) = {three(driven.motor_v(current_a=motor_a))} x "
        f"{three(motor_a)} / ({three(driven.voltage_v)} x {three(efficiency)})"
    )


CHECKS = (
    Check(
        name=CURRENT,
        asks="Do drivers and motor carry the current?",
        by="Drivers in parallel share the current equally (common practice, no source; join only "
        "those made for it): root mean square of the cycle against what each bears all day. For "
        "seconds flows the least of the current limit, the drivers' own peak where it is said, and "
        "what a held shaft draws (V / R): against the motor's peak here, against gearbox and "
        "supply in drive.gearbox and drive.supply. A limit set above the drivers' peak is told. "
        "Where it is too much for several, only what bears the least of it is told. The motor's "
        "current of all day is weighed as torque, in drive.torque.",
        run=each(CURRENT, _current),
    ),
    Check(
        name=SUPPLY,
        asks="Does the supply carry the drive?",
        by="A driver chops: V motor times I motor comes out of V times I times its efficiency, so "
        "a slow motor takes little from the supply. V motor is what the speed wanted induces and "
        "what the winding loses; all of V where speed or resistance is not told. All day at the "
        "cycle's root mean square; for seconds what can come to flow, as in drive.current, or what "
        "the load factor times the load takes where that is not known. " + SUPPLY_SOURCE + ".",
        run=each(SUPPLY, _supply),
    ),
)
