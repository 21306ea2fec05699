"""Supplies, drivers and fuses: who carries which current.

A fuse protects the wire, not the motor, and must be made for the supply's direct voltage (common
practice, no source). What these say is an estimate; whoever wires the rig answers for it.
"""

from __future__ import annotations

from dataclasses import dataclass

from platekit.errors import PartError
from platekit.formulas.quantities import (
    require_between,
    require_positive,
    require_whole,
    require_zero_up,
)

# Ratings of general-purpose (gG) fuse links: IEC 60269, from memory. Not all are listed.
FUSE_RATINGS_A: tuple[float, ...] = (2, 4, 6, 10, 16, 20, 25, 32, 40, 50, 63)

# Conventional fusing current of gG links over the rating: IEC 60269, from memory. Small ones, up
# to 4 A; those between; those from 16 A up.
SMALL_FUSE_A, SMALL_FUSE_FACTOR = 4.0, 2.1
MIDDLE_FUSE_FACTOR = 1.9
LARGE_FUSE_A, LARGE_FUSE_FACTOR = 16.0, 1.6
# Conventional tripping current of circuit breakers over the rating: IEC 60898, from memory.
BREAKER_FACTOR = 1.45
# A wire stands this share of its ampacity until the fuse blows: IEC 60364-4-43, from memory.
OVERLOAD_SHARE = 1.45


def supply_current_a(*, power_out_w: float, voltage_v: float, efficiency: float) -> float:
    """Return the direct current drawn for a power given out: P / (V eta).

    Args:
        power_out_w: Mechanical power at the shaft, or electric power behind a driver.
        voltage_v: Of the supply.
        efficiency: Of all that lies between, above 0, at most 1.

    Raises:
        PartError: A number cannot be.

    Source:
        Power kept but for the losses.
    """
    require_zero_up(power_out_w, "power", "W")
    require_positive(voltage_v, "supply voltage", "V")
    require_positive(efficiency, "efficiency")
    require_between(efficiency, "efficiency", 0, 1)
    return power_out_w / (voltage_v * efficiency)


def chopped_supply_current_a(
    *, motor_voltage_v: float, motor_current_a: float, voltage_v: float, efficiency: float = 1.0
) -> float:
    """Return what a supply gives while a driver chops its voltage down for a motor.

    The motor's current may be far above it: a held motor takes a few volts only. Never more than
    the motor's, but for the driver's loss.

    Raises:
        PartError: The motor wants more volts than the supply has; a negative figure.

    Source:
        Power kept: V motor times I motor = V supply times I supply times efficiency.
    """
    require_zero_up(motor_voltage_v, "motor voltage", "V")
    require_zero_up(motor_current_a, "motor current", "A")
    if motor_voltage_v > voltage_v:
        raise PartError(
            f"motor voltage is {motor_voltage_v:g} V, the supply has {voltage_v:g} V",
            remedy="ask for less speed or torque, or take a supply of more volts",
        )
    power_w = motor_voltage_v * motor_current_a
    return supply_current_a(power_out_w=power_w, voltage_v=voltage_v, efficiency=efficiency)


def driver_share_a(current_a: float, *, drivers: int, unequal_share: float = 0.0) -> float:
    """Return the current of the most loaded of drivers in parallel.

    Two drivers in parallel share the peak current (common practice, no source). Only drivers made
    for it may be joined; follow their maker.

    Args:
        current_a: All together.
        drivers: How many.
        unequal_share: How much more than the mean one of them may take: 0.1 for a tenth. No more
            than all of it ever falls on one.

    Raises:
        PartError: A number cannot be.

    Source:
        Current divides among branches (Kirchhoff); common practice for the equal share.
    """
    require_zero_up(current_a, "current", "A")
    require_zero_up(unequal_share, "unequal share")
    mean_a = current_a / require_whole(drivers, "number of drivers")
    return min(mean_a * (1 + unequal_share), current_a)


def fusing_factor(rating_a: float) -> float:
    """Return the current that surely blows a gG fuse in its conventional time, over its rating.

    Raises:
        PartError: A number cannot be.

    Source:
        IEC 60269, from memory: 2.1 up to 4 A, 1.9 below 16 A, 1.6 from 16 A up.
    """
    require_positive(rating_a, "fuse rating", "A")
    if rating_a <= SMALL_FUSE_A:
        return SMALL_FUSE_FACTOR
    return MIDDLE_FUSE_FACTOR if rating_a < LARGE_FUSE_A else LARGE_FUSE_FACTOR


@dataclass(frozen=True, slots=True, kw_only=True)
class FuseCheck:
    """A fuse between a load and a wire, against overload.

    Attributes:
        load_a: Current the load draws all day, IB.
        rating_a: Rating of the fuse, In.
        ampacity_a: Current the wire may carry all day where it lies, Iz.
        blows_at_a: Current that surely blows it, I2.

    Source:
        IEC 60364-4-43 clause 433.1: IB <= In <= Iz and I2 <= 1.45 Iz, from memory.
    """

    load_a: float
    rating_a: float
    ampacity_a: float
    blows_at_a: float

    @property
    def carries_load(self) -> bool:
        """Whether it stays whole at the load's current."""
        return self.load_a <= self.rating_a

    @property
    def saves_wire(self) -> bool:
        """Whether it goes before the wire's insulation does."""
        least_a = self.blows_at_a / OVERLOAD_SHARE
        return self.rating_a <= self.ampacity_a and least_a <= self.ampacity_a

    @property
    def fits(self) -> bool:
        """Both."""
        return self.carries_load and self.saves_wire


def fuse_check(
    *, load_a: float, rating_a: float, ampacity_a: float, factor: float | None = None
) -> FuseCheck:
    """Return how a fuse stands between a load and a wire.

    Args:
        load_a: Current the load draws all day.
        rating_a: Rating of the fuse.
        ampacity_a: Current the wire may carry all day, see `platekit.formulas.wires`.
        factor: Current that surely blows it over its rating; `fusing_factor` of a gG link where
            left out, `BREAKER_FACTOR` for a circuit breaker.

    Raises:
        PartError: A number cannot be.

    Source:
        See `FuseCheck`.
    """
    require_zero_up(load_a, "load current", "A")
    require_positive(ampacity_a, "ampacity", "A")
    blows = fusing_factor(rating_a) if factor is None else require_positive(factor, "factor")
    return FuseCheck(
        load_a=load_a, rating_a=rating_a, ampacity_a=ampacity_a, blows_at_a=blows * rating_a
    )


def fitting_fuses_a(*, load_a: float, ampacity_a: float) -> tuple[float, ...]:
    """Return the gG ratings that fit between a load and a wire, smallest first; maybe none.

    None means: a thicker wire. Never a larger fuse.

    Raises:
        PartError: A number cannot be.

    Source:
        See `FuseCheck`.
    """
    return tuple(
        rating_a
        for rating_a in FUSE_RATINGS_A
        if fuse_check(load_a=load_a, rating_a=rating_a, ampacity_a=ampacity_a).fits
    )
