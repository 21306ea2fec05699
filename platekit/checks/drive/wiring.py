"""Whether wire and fuse go together, and with the current: a wire may burn where they do not."""

from __future__ import annotations

from collections.abc import Iterator

from platekit.assembly.feeding import Wire
from platekit.checks.check import Check
from platekit.checks.drive.currents import supply_a
from platekit.checks.drive.driven import Driven, three
from platekit.checks.drive.each import each
from platekit.checks.weighing import ADVICE, Scale, untold, weighed
from platekit.errors import PlatekitError
from platekit.findings import Finding
from platekit.formulas.supplies import OVERLOAD_SHARE, fitting_fuses_a, fuse_check
from platekit.formulas.wires import (
    AIR_RANGE_C,
    AMPACITY_A,
    ampacity_a,
    smallest_area_mm2,
    two_way_drop_v,
)

FUSE, WIRE = "drive.fuse", "drive.wire"
FUSE_SOURCE = "IEC 60364-4-43 433.1, IEC 60269 for what blows a gG fuse, from memory"
WIRE_SOURCE = "IEC 60204-1 table 6, PVC insulation, from memory"
# Of the voltage, from supply to load: IEC 60364-5-52 annex G for all but lighting, from memory.
MOST_DROP_PERCENT = 5.0
DROP_SOURCE = "IEC 60364-5-52 annex G, 5 % but for lighting, from memory"
# A fuse too large for its wire, a wire too thin for its current: fire. Tables of wires have three
# digits: 10 A behind 1.5 mm2, which everybody wires so, misses by a hair and is let pass.
FIRE = Scale(stop=0.9, warn=0.99)


def _bears_a(driven: Driven, wire: Wire) -> float | None:
    """Return what a wire may carry all day where it lies; None where the table does not say."""
    air_c = max(driven.drive.air_c, AIR_RANGE_C[0])
    try:
        return ampacity_a(wire.area_mm2, wire.laying, air_c=air_c, circuits=wire.circuits)
    except PlatekitError:
        return None


def _fuse(driven: Driven) -> Iterator[Finding]:
    drive = driven.drive
    if drive.fuse_a is None:
        yield from _unfused(driven)
        return
    load_a = supply_a(driven, driven.rms_a) if driven.rms_a is not None else None
    if load_a is not None:
        yield weighed(
            FUSE,
            part=driven.name,
            feature="fuse",
            measure="current through the fuse all day",
            value=load_a,
            most=drive.fuse_a,
            unit="A",
            source=FUSE_SOURCE,
            formula="IB <= In, the supply's current of all day",
            remedy="it blows in use: less current, or a larger fuse if the wire allows it",
            scale=ADVICE,
        )
    if drive.wire is None:
        yield untold(
            FUSE,
            part=driven.name,
            feature="fuse",
            measure="whether the fuse saves the wire: the wire is not said",
            remedy="give wire=wire(area_mm2=..., length_m=...)",
        )
        return
    bears_a = _bears_a(driven, drive.wire)
    if bears_a is None:
        return
    check = fuse_check(load_a=load_a or 0.0, rating_a=drive.fuse_a, ampacity_a=bears_a)
    fitting = ", ".join(f"{a:g}" for a in fitting_fuses_a(load_a=load_a or 0.0, ampacity_a=bears_a))
    yield weighed(
        FUSE,
        part=driven.name,
        feature="fuse",
        measure="current the wire must stand until the fuse blows",
        value=max(check.rating_a, check.blows_at_a / OVERLOAD_SHARE),
        most=bears_a,
        unit="A",
        source=FUSE_SOURCE,
        formula=f"max(In, I2 / 1.45) = max({three(check.rating_a)}, "
        f"{three(check.blows_at_a)} / {three(OVERLOAD_SHARE)}) <= Iz",
        remedy=f"the wire can burn before the fuse blows: take a fuse of {fitting} A, or a thicker "
        "wire"
        if fitting
        else "the wire can burn before the fuse blows: take a thicker wire, never a larger fuse",
        scale=FIRE,
    )


def _unfused(driven: Driven) -> Iterator[Finding]:
    """Say that a fuse is missing where the supply could burn the wire."""
    supply, wire = driven.drive.supply, driven.drive.wire
    if supply is None or wire is None:
        return
    bears_a = _bears_a(driven, wire)
    if bears_a is not None and supply.peak_a > bears_a:
        yield untold(
            FUSE,
            part=driven.name,
            feature="fuse",
            measure=f"no fuse is said, and a supply of {three(supply.peak_a)} A can burn a wire "
            f"of {three(bears_a)} A",
            remedy="put a fuse behind the supply and give fuse_a",
        )


def _wire(driven: Driven) -> Iterator[Finding]:
    wire = driven.drive.wire
    if wire is None or driven.rms_a is None:
        return
    current_a = max(driven.rms_a, supply_a(driven, driven.rms_a))
    bears_a = _bears_a(driven, wire)
    if bears_a is None:
        areas = ", ".join(f"{area:g}" for area in AMPACITY_A)
        yield untold(
            WIRE,
            part=driven.name,
            feature="wire",
            measure=f"what {wire.area_mm2:g} mm2, {wire.circuits} circuits together, may carry in "
            f"air of {driven.drive.air_c:g} C is not in the table",
            remedy=f"the table has {areas} mm2, air up to {AIR_RANGE_C[1]:g} C, 9 circuits",
        )
    else:
        yield weighed(
            WIRE,
            part=driven.name,
            feature="wire",
            measure="current in the wire all day",
            value=current_a,
            most=bears_a,
            unit="A",
            source=WIRE_SOURCE,
            formula="the greater of the motor's and the supply's root mean square",
            remedy=_thicker(driven, wire, current_a),
            scale=FIRE,
        )
    drop_v = two_way_drop_v(
        current_a=current_a, length_m=wire.length_m, area_mm2=wire.area_mm2, wire_c=70.0
    )
    yield weighed(
        WIRE,
        part=driven.name,
        feature="wire",
        measure="voltage lost in the wire",
        value=100 * drop_v / driven.voltage_v,
        most=MOST_DROP_PERCENT,
        unit="%",
        source=DROP_SOURCE,
        formula=f"2 L I rho / (A V) = 2 x {three(wire.length_m)} x {three(current_a)} x rho / "
        f"({three(wire.area_mm2)} x {three(driven.voltage_v)}), rho at 70 C",
        remedy="a thicker or shorter wire",
        scale=ADVICE,
    )


def _thicker(driven: Driven, wire: Wire, current_a: float) -> str:
    """Return which wire would do."""
    air_c = max(driven.drive.air_c, AIR_RANGE_C[0])
    try:
        area = smallest_area_mm2(current_a, wire.laying, air_c=air_c, circuits=wire.circuits)
    except PlatekitError as err:
        return err.remedy
    return f"take {area:g} mm2 or more, laid as {wire.laying}"


CHECKS = (
    Check(
        name=FUSE,
        asks="Does the fuse carry the load and save the wire?",
        by="IB <= In <= Iz and I2 <= 1.45 Iz: the supply's current of all day, the fuse, what the "
        "wire carries, what surely blows a gG fuse. A fuse protects the wire, not the motor, and "
        "must be made for the direct voltage of the supply. " + FUSE_SOURCE + ".",
        run=each(FUSE, _fuse),
    ),
    Check(
        name=WIRE,
        asks="Does the wire carry the current, and how much voltage does it lose?",
        by="Root mean square of the motor's current, or the supply's if that is greater, against "
        "the table, corrected for air and for circuits that lie together; " + WIRE_SOURCE + ". "
        "Voltage there and back with copper at 70 C; " + DROP_SOURCE + ".",
        run=each(WIRE, _wire),
    ),
)
