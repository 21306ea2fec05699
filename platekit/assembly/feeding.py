"""Feeding a drive: the supply, the drivers and the wire between it and a motor."""

from __future__ import annotations

from dataclasses import dataclass
from typing import get_args

from platekit.errors import PartError, UnknownNameError, concerning
from platekit.formulas.quantities import (
    require_between,
    require_positive,
    require_whole,
    require_zero_up,
)
from platekit.formulas.wires import Laying

# A driver that chops gives on this share of the power. Common practice, no source.
DRIVER_EFFICIENCY = 0.95


@dataclass(frozen=True, slots=True, kw_only=True)
class Supply:
    """What feeds a drive; see `supply`.

    Attributes:
        voltage_v: What it gives.
        current_a: What it gives all day.
        peak_a: What it gives for seconds.
    """

    voltage_v: float
    current_a: float
    peak_a: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Drivers:
    """What stands between supply and motor; see `drivers`.

    Attributes:
        count: How many, in parallel.
        continuous_a: What one of them bears all day; None where not said.
        peak_a: What one of them bears for seconds; None where not said.
        efficiency: Share of the power that they give on.
    """

    count: int = 1
    continuous_a: float | None = None
    peak_a: float | None = None
    efficiency: float = DRIVER_EFFICIENCY


@dataclass(frozen=True, slots=True, kw_only=True)
class Wire:
    """The thinnest wire on the way from supply to motor; see `wire`.

    Attributes:
        area_mm2: Of the copper of one wire.
        length_m: From supply to motor, one way.
        laying: How it is laid, a letter of IEC 60204-1.
        circuits: Loaded circuits that lie together, this one counted.
    """

    area_mm2: float
    length_m: float
    laying: Laying = "B2"
    circuits: int = 1


def supply(*, voltage_v: float, current_a: float, peak_a: float | None = None) -> Supply:
    """Return what feeds a drive: ``supply(voltage_v=24, current_a=20)``.

    Args:
        voltage_v: Direct voltage it gives.
        current_a: Current it gives all day.
        peak_a: Current it gives for seconds; left out, `current_a`.

    Raises:
        PartError: A figure that cannot be.
    """
    with concerning(part="supply"):
        all_day_a = require_positive(current_a, "current_a", "A")
        return Supply(
            voltage_v=require_positive(voltage_v, "voltage_v", "V"),
            current_a=all_day_a,
            peak_a=_peak_a(peak_a, all_day_a) or all_day_a,
        )


def drivers(
    *,
    count: int = 1,
    continuous_a: float | None = None,
    peak_a: float | None = None,
    efficiency: float = DRIVER_EFFICIENCY,
) -> Drivers:
    """Return what stands between supply and motor: ``drivers(count=2, peak_a=30)``.

    Two drivers in parallel share the current (common practice, no source). Join only drivers that
    are made for it.

    Args:
        count: How many in parallel.
        continuous_a: Current that one of them bears all day.
        peak_a: Current that one of them bears for seconds.
        efficiency: Share of the power that they give on; 0.95 is common practice, no source.

    Raises:
        PartError: A figure that cannot be.
    """
    with concerning(part="drivers"):
        all_day_a = _positive(continuous_a, "continuous_a", "A")
        require_positive(efficiency, "efficiency")
        return Drivers(
            count=require_whole(count, "count"),
            continuous_a=all_day_a,
            peak_a=_peak_a(peak_a, all_day_a),
            efficiency=require_between(efficiency, "efficiency", 0.0, 1.0),
        )


def wire(*, area_mm2: float, length_m: float, laying: str = "B2", circuits: int = 1) -> Wire:
    """Return the thinnest wire on the way from supply to motor.

    Args:
        area_mm2: Of the copper of one wire.
        length_m: From supply to motor, one way.
        laying: How it is laid, by IEC 60204-1: "B1" single wires in conduit or trunking, "B2" a
            cable in conduit or trunking, "C" a cable on a wall, "E" a cable in free air.
        circuits: Loaded circuits that lie together, this one counted.

    Raises:
        PartError: A figure that cannot be.
        UnknownNameError: No such way of laying.
    """
    with concerning(part="wire"):
        return Wire(
            area_mm2=require_positive(area_mm2, "area_mm2", "mm2"),
            length_m=require_zero_up(length_m, "length_m", "m"),
            laying=_laying(laying),
            circuits=require_whole(circuits, "circuits"),
        )


def _positive(value: float | None, name: str, unit: str) -> float | None:
    return None if value is None else require_positive(value, name, unit)


def _peak_a(peak_a: float | None, all_day_a: float | None) -> float | None:
    peak = _positive(peak_a, "peak_a", "A")
    if peak is not None and all_day_a is not None and peak < all_day_a:
        raise PartError(
            f"peak_a is {peak:g} A, less than the {all_day_a:g} A of all day",
            remedy="give what it bears for seconds, which is no less",
        )
    return peak


def _laying(laying: str) -> Laying:
    for known in get_args(Laying):
        if laying == known:
            found: Laying = known
            return found
    raise UnknownNameError.among("way of laying", str(laying)[:64], get_args(Laying))
