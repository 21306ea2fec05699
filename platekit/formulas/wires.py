"""Copper wire: resistance, voltage lost on the way there and back, the current it may carry."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Literal, get_args

from platekit.errors import PartError, UnknownNameError
from platekit.formulas.quantities import (
    require_between,
    require_finite,
    require_positive,
    require_whole,
    require_zero_up,
)

# Standard annealed copper at 20 C, 1/58: IEC 60028, from memory.
COPPER_OHM_MM2_PER_M = 1 / 58
# Its rise of resistance for each kelvin, of that at 20 C: IEC 60028, from memory.
COPPER_PER_K = 0.00393
# Below this the straight line is not meant to hold; above, insulation is long gone.
COPPER_RANGE_C = (-50.0, 250.0)

# Most ohms per km at 20 C of flexible copper wire (class 5, bare): IEC 60228, from memory.
FLEXIBLE_OHM_PER_KM: dict[float, float] = {
    0.5: 39.0,
    0.75: 26.0,
    1.0: 19.5,
    1.5: 13.3,
    2.5: 7.98,
    4.0: 4.95,
    6.0: 3.30,
    10.0: 1.91,
    16.0: 1.21,
    25.0: 0.780,
}

Laying = Literal["B1", "B2", "C", "E"]
"""How a wire is laid: B1 single wires in conduit or trunking, B2 a cable in conduit or trunking,
C a cable on a wall, E a cable in free air."""

# A by area in mm2: PVC insulation, conductor at 70 C, air at 40 C, one circuit. IEC 60204-1
# table 6, from memory; B2 from 4 mm2 up looked up in an installation table at 40 C. B1 at 4, 6 and
# 16 mm2: one edition may print an ampere more, the lower value stands here.
AMPACITY_A: dict[float, dict[Laying, float]] = {
    0.75: {"B1": 8.6, "B2": 8.5, "C": 9.8, "E": 10.4},
    1.0: {"B1": 10.3, "B2": 10.1, "C": 11.7, "E": 12.4},
    1.5: {"B1": 13.5, "B2": 13.1, "C": 15.2, "E": 16.1},
    2.5: {"B1": 18.3, "B2": 17.4, "C": 21.0, "E": 22.0},
    4.0: {"B1": 24.0, "B2": 23.0, "C": 28.0, "E": 30.0},
    6.0: {"B1": 31.0, "B2": 30.0, "C": 36.0, "E": 37.0},
    10.0: {"B1": 44.0, "B2": 40.0, "C": 50.0, "E": 52.0},
    16.0: {"B1": 59.0, "B2": 54.0, "C": 66.0, "E": 70.0},
    25.0: {"B1": 77.0, "B2": 70.0, "C": 84.0, "E": 88.0},
}
PVC_LIMIT_C = 70.0
TABLE_AIR_C = 40.0
# What is left when loaded circuits lie in one conduit: IEC 60204-1 table D.2, B1 and B2, from
# memory; the same figures stand in IEC 60364-5-52 for bunched cables.
BUNCH_FACTOR: dict[int, float] = {1: 1.0, 2: 0.80, 4: 0.65, 6: 0.57, 9: 0.50}
# Correction is known between these; colder air is not counted on.
AIR_RANGE_C = (30.0, 60.0)


def wire_resistance_ohm(
    *, length_m: float, area_mm2: float, wire_c: float = 20.0, flexible: bool = False
) -> float:
    """Return the resistance of copper wire of a length: resistivity times length over area.

    Args:
        length_m: Of the wire, one way.
        area_mm2: Of its copper.
        wire_c: Temperature of the copper, -50 to 250.
        flexible: The most that IEC 60228 allows a flexible wire of a standard area, about a
            sixth more, instead of what its copper makes.

    Raises:
        UnknownNameError: Flexible, and the area is none of the standard ones.

    Source:
        IEC 60028: 1/58 ohm mm2/m at 20 C and 0.393 % for each kelvin, from memory.
    """
    require_zero_up(length_m, "wire length", "m")
    require_positive(area_mm2, "wire area", "mm2")
    require_between(wire_c, "wire temperature", *COPPER_RANGE_C, "C")
    warm = 1 + COPPER_PER_K * (wire_c - 20)
    if not flexible:
        return COPPER_OHM_MM2_PER_M * warm * length_m / area_mm2
    if area_mm2 not in FLEXIBLE_OHM_PER_KM:
        raise UnknownNameError.among("wire area", f"{area_mm2:g}", _names(FLEXIBLE_OHM_PER_KM))
    return FLEXIBLE_OHM_PER_KM[area_mm2] / 1000 * warm * length_m


def two_way_drop_v(
    *,
    current_a: float,
    length_m: float,
    area_mm2: float,
    wire_c: float = 20.0,
    flexible: bool = False,
) -> float:
    """Return the volts lost on the way to a load and back: twice the length times I rho / A.

    Args:
        current_a: In the wire.
        length_m: From supply to load, one way.
        area_mm2: Of the copper of one wire.
        wire_c: Temperature of the copper.
        flexible: As for `wire_resistance_ohm`.

    Raises:
        PartError: A number cannot be.

    Source:
        Ohm's law.
    """
    require_zero_up(current_a, "current", "A")
    one_way_ohm = wire_resistance_ohm(
        length_m=length_m, area_mm2=area_mm2, wire_c=wire_c, flexible=flexible
    )
    return 2 * current_a * one_way_ohm


def air_factor(air_c: float) -> float:
    """Return what is left of a table's current in air other than 40 C, PVC insulation.

    Heat lost grows with the difference to the air, heat made with the current squared: the root of
    (70 - air) / (70 - 40). It agrees with IEC 60204-1 table D.1 (from memory) to its two places.

    Args:
        air_c: 30 to 60.

    Raises:
        PartError: A number cannot be.

    Source:
        Steady heating of a wire; derived, compared with the standard's table.
    """
    require_between(air_c, "air temperature", *AIR_RANGE_C, "C")
    return math.sqrt((PVC_LIMIT_C - air_c) / (PVC_LIMIT_C - TABLE_AIR_C))


def bunch_factor(circuits: int) -> float:
    """Return what is left of the current of each of 1 to 9 loaded circuits in one conduit.

    Between the table's numbers of circuits the next larger one counts.

    Raises:
        PartError: More than the table holds.

    Source:
        IEC 60204-1 table D.2, from memory.
    """
    require_whole(circuits, "number of circuits")
    for held, factor in BUNCH_FACTOR.items():
        if circuits <= held:
            return factor
    raise PartError(
        f"number of circuits is {circuits}", remedy=f"lay at most {max(BUNCH_FACTOR)} together"
    )


def ampacity_a(
    area_mm2: float, laying: Laying = "B2", *, air_c: float = TABLE_AIR_C, circuits: int = 1
) -> float:
    """Return the current a copper wire with PVC insulation may carry all day.

    Args:
        area_mm2: Of its copper, a standard area from 0.75 to 25.
        laying: How it is laid, see `Laying`.
        air_c: Temperature of the air around, 30 to 60.
        circuits: Loaded circuits that lie together, this one counted; factors are those of wires
            in conduit, also for C and E.

    Raises:
        UnknownNameError: No such area or way of laying in the table.

    Source:
        IEC 60204-1 table 6, from memory.
    """
    require_finite(area_mm2, "wire area", "mm2")
    if area_mm2 not in AMPACITY_A:
        raise UnknownNameError.among("wire area", f"{area_mm2:g}", _names(AMPACITY_A))
    if laying not in get_args(Laying):
        raise UnknownNameError.among("way of laying", laying, get_args(Laying))
    return AMPACITY_A[area_mm2][laying] * air_factor(air_c) * bunch_factor(circuits)


def smallest_area_mm2(
    current_a: float, laying: Laying = "B2", *, air_c: float = TABLE_AIR_C, circuits: int = 1
) -> float:
    """Return the smallest standard area whose wire may carry a current all day.

    Raises:
        PartError: None up to 25 mm2 may.

    Source:
        As `ampacity_a`.
    """
    require_zero_up(current_a, "current", "A")
    for area_mm2 in sorted(AMPACITY_A):
        if ampacity_a(area_mm2, laying, air_c=air_c, circuits=circuits) >= current_a:
            return area_mm2
    raise PartError(
        f"current is {current_a:g} A, more than {max(AMPACITY_A):g} mm2 carries laid as {laying}",
        remedy="share it between wires that are each fused, or raise the voltage",
    )


def _names(areas: Iterable[float]) -> list[str]:
    return [f"{area:g}" for area in areas]
