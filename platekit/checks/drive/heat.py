"""How warm the winding gets."""

from __future__ import annotations

from collections.abc import Iterator

from platekit.checks.check import Check
from platekit.checks.drive.driven import Driven, three
from platekit.checks.drive.each import each
from platekit.checks.weighing import untold, weighed
from platekit.errors import PartError
from platekit.findings import Finding
from platekit.formulas.duty import CLASS_LIMIT_C, COPPER_ZERO_C, peak_rise_k, steady_rise_k

HEAT = "drive.heat"
# Where resistances of sheets are measured: common practice, no source; many say 20 or 25 C.
COLD_C = 20.0
SOURCE = "Joule heat, first-order heating; 235 C of copper by IEC 60034-1, from memory"


def _heat(driven: Driven) -> Iterator[Finding]:
    rating, rms_a = driven.rating, driven.rms_a
    if rms_a is None:
        return
    if rating.thermal_k_per_w is None or rating.resistance_ohm is None:
        # What the motor bears all day says as much, and is weighed as torque.
        if rating.continuous_a is None:
            yield untold(
                HEAT,
                part=driven.drive.motor,
                measure="neither its current of all day nor how its winding cools is said",
                remedy="give continuous_a of its rating, or thermal_k_per_w and resistance_ohm",
            )
        return
    if rating.most_winding_c is None:
        known = ", ".join(f"{name} {limit:g}" for name, limit in CLASS_LIMIT_C.items())
        yield untold(
            HEAT,
            part=driven.drive.motor,
            measure="hottest temperature of its winding is not said",
            remedy=f"give most_winding_c of its rating; by class (IEC 60085): {known} C",
        )
        return
    air_c = driven.drive.air_c
    ohm = rating.resistance_ohm * (COPPER_ZERO_C + air_c) / (COPPER_ZERO_C + COLD_C)
    rise_k = _rise_k(driven, rms_a, ohm, rating.thermal_k_per_w)
    yield weighed(
        HEAT,
        part=driven.drive.motor,
        measure="temperature of the winding",
        value=air_c + rise_k,
        most=rating.most_winding_c,
        unit="C",
        source=SOURCE,
        formula=f"air + R thermal I^2 R = {three(air_c)} + {three(rating.thermal_k_per_w)} x "
        f"{three(rms_a)}^2 x {three(ohm)}, R growing with its warmth"
        + (", highest within the cycle" if _cycles(driven) else ""),
        remedy="less torque or shorter spells of it, a larger ratio, or a motor that cools better",
    )


def _cycles(driven: Driven) -> bool:
    return driven.rating.time_constant_s is not None and len(driven.duty) > 1


def _rise_k(driven: Driven, rms_a: float, ohm: float, thermal_k_per_w: float) -> float:
    """Return the winding's rise over the air: steady, or the highest within a cycle."""
    try:
        rise_k = steady_rise_k(
            rms_a, resistance_ohm=ohm, thermal_k_per_w=thermal_k_per_w, air_c=driven.drive.air_c
        )
    except PartError:
        # Heat grows faster than it leaves: the cold winding's rise is far too much already.
        return steady_rise_k(rms_a, resistance_ohm=ohm, thermal_k_per_w=thermal_k_per_w)
    time_constant_s = driven.rating.time_constant_s
    if time_constant_s is None or not _cycles(driven):
        return rise_k
    warm = 1 + rise_k / (COPPER_ZERO_C + driven.drive.air_c)
    return peak_rise_k(
        driven.duty,
        resistance_ohm=ohm * warm,
        thermal_k_per_w=thermal_k_per_w,
        time_constant_s=time_constant_s,
    )


CHECKS = (
    Check(
        name=HEAT,
        asks="Does the winding stay cool enough?",
        by="Air and thermal resistance times I^2 R, I the cycle's root mean square, R growing "
        "with the copper's warmth; where the time constant is known, the highest point within "
        "the cycle once it has settled. One body, a first estimate. " + SOURCE + ". Where the "
        "sheet does not say how the winding cools, its current of all day is weighed instead, in "
        "drive.torque.",
        run=each(HEAT, _heat),
    ),
)
