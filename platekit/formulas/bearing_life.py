"""How long a deep groove ball bearing runs, and how well it stands still under load.

ISO 281 and ISO 76. The ratings C and C0 and the factor f0 belong to one bearing and come from the
maker's list: they are put in, never guessed here. The life is the one that nine in ten reach,
greased, clean and fitted true; dust from sawing and a bent shaft cost most of it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from platekit.errors import PartError
from platekit.formulas.quantities import require_positive, require_zero_up

# ISO 281 table of radial ball bearings, deep groove, one row, normal clearance (from memory):
# f0 Fa / C0, then e, then Y. X is 0.56 where Fa / Fr is above e.
AXIAL_FACTORS = (
    (0.172, 0.19, 2.30),
    (0.345, 0.22, 1.99),
    (0.689, 0.26, 1.71),
    (1.03, 0.28, 1.55),
    (1.38, 0.30, 1.45),
    (2.07, 0.34, 1.31),
    (3.45, 0.38, 1.15),
    (5.17, 0.42, 1.04),
    (6.89, 0.44, 1.00),
)
RADIAL_FACTOR = 0.56

# ISO 281:2007, life adjustment factor a1 by per cent that survive (from memory).
RELIABILITY_FACTORS = {90: 1.0, 95: 0.64, 96: 0.55, 97: 0.47, 98: 0.37, 99: 0.25}

# ISO 76, deep groove, one row (from memory).
STATIC_RADIAL_FACTOR = 0.6
STATIC_AXIAL_FACTOR = 0.5

LIFE_EXPONENT_BALLS = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class BallBearing:
    """The ratings of one deep groove ball bearing, as its maker lists them."""

    dynamic_rating_n: float  # C
    static_rating_n: float  # C0
    f0: float  # of ISO 76, by the bearing's inner geometry; most lie between 12 and 16

    def __post_init__(self) -> None:
        require_positive(self.dynamic_rating_n, "dynamic rating C", "N")
        require_positive(self.static_rating_n, "static rating C0", "N")
        require_positive(self.f0, "factor f0")


def axial_factors(relative_axial_load: float) -> tuple[float, float]:
    """Return (e, Y) of ISO 281 for f0 Fa / C0, straight lines drawn between its rows.

    Args:
        relative_axial_load: f0 Fa / C0. Below the table's first row that row holds; beyond its
            last, 6.89, the bearing is pushed harder than the table knows.

    Raises:
        PartError: The load is below 0 or beyond the table.

    Source:
        ISO 281 (from memory).
    """
    load = require_zero_up(relative_axial_load, "relative axial load")
    if load <= AXIAL_FACTORS[0][0]:
        return AXIAL_FACTORS[0][1:]
    for (low, low_e, low_y), (high, high_e, high_y) in pairwise(AXIAL_FACTORS):
        if load <= high:
            share = (load - low) / (high - low)
            return low_e + share * (high_e - low_e), low_y + share * (high_y - low_y)
    last = AXIAL_FACTORS[-1][0]
    raise PartError(
        f"relative axial load f0 Fa / C0 is {load:g}",
        remedy=f"stay at {last:g} or below: take a larger bearing or an angular contact pair",
    )


def equivalent_load_n(bearing: BallBearing, *, radial_n: float, axial_n: float) -> float:
    """Return the radial load P that wears a bearing as much as both loads together, in N.

    P = Fr up to Fa / Fr = e, and 0.56 Fr + Y Fa above it.

    Args:
        bearing: Its ratings.
        radial_n: Load across the axis Fr, 0 or more.
        axial_n: Load along the axis Fa, 0 or more.

    Raises:
        PartError: A load is below 0, or the axial one is beyond the standard's table.

    Source:
        ISO 281 (from memory).
    """
    radial = require_zero_up(radial_n, "radial load", "N")
    axial = require_zero_up(axial_n, "axial load", "N")
    e, y = axial_factors(bearing.f0 * axial / bearing.static_rating_n)
    if axial <= e * radial:
        return radial
    # The standard's line starts a hair below Fr just above e; a second load never eases the first.
    return max(radial, RADIAL_FACTOR * radial + y * axial)


def life_turns(bearing: BallBearing, *, load_n: float, survive_percent: int = 90) -> float:
    """Return the turns a bearing makes, a1 (C / P)^3 million.

    Args:
        bearing: Its ratings.
        load_n: Equivalent load P, above 0. Above C / 2 the formula says too much.
        survive_percent: Part of such bearings that last as long: 90, 95, 96, 97, 98 or 99.

    Raises:
        PartError: The load is not above 0, or no factor is known for `survive_percent`.

    Source:
        ISO 281 (from memory).
    """
    load = require_positive(load_n, "equivalent load", "N")
    if survive_percent not in RELIABILITY_FACTORS:
        known = ", ".join(f"{percent}" for percent in RELIABILITY_FACTORS)
        raise PartError(f"survive_percent is {survive_percent!r}", remedy=f"give one of {known}")
    factor = RELIABILITY_FACTORS[survive_percent]
    return factor * 1e6 * (bearing.dynamic_rating_n / load) ** LIFE_EXPONENT_BALLS


def life_hours(
    bearing: BallBearing, *, load_n: float, speed_rpm: float, survive_percent: int = 90
) -> float:
    """Return the hours a bearing runs at one speed: its turns / (60 n).

    A shaft that only swings to and fro wears in place, and this says nothing about it.

    Args:
        bearing: Its ratings.
        load_n: Equivalent load P, above 0.
        speed_rpm: Turns a minute n, above 0.
        survive_percent: As `life_turns`.

    Raises:
        PartError: A number is impossible.

    Source:
        ISO 281 (from memory).
    """
    turns = life_turns(bearing, load_n=load_n, survive_percent=survive_percent)
    return turns / (60 * require_positive(speed_rpm, "speed", "rpm"))


def rating_needed_n(*, load_n: float, hours: float, speed_rpm: float) -> float:
    """Return the dynamic rating C at which nine in ten bearings reach `hours`, in N.

    C = P (60 n h / 10^6)^(1/3).

    Args:
        load_n: Equivalent load P, above 0.
        hours: Running time h wanted.
        speed_rpm: Turns a minute n.

    Raises:
        PartError: A number is not above 0.

    Source:
        ISO 281 solved for C (from memory).
    """
    load = require_positive(load_n, "equivalent load", "N")
    turns = 60 * require_positive(speed_rpm, "speed", "rpm") * require_positive(hours, "life", "h")
    return load * math.cbrt(turns / 1e6)


def mean_load_n(loads: tuple[tuple[float, float], ...]) -> float:
    """Return the one load that wears a bearing as much as several in turn, in N.

    P = (sum of P_i^3 t_i / sum of t_i)^(1/3), at one speed.

    Args:
        loads: Pairs of equivalent load in N and the time (or the turns) it acts, in any unit.

    Raises:
        PartError: There are none, a number is below 0, or all times are 0.

    Source:
        The linear sum of damage behind ISO 281 (Palmgren and Miner; from memory).
    """
    times = [require_zero_up(time, "time") for _, time in loads]
    if not sum(times):
        raise PartError("the loads act for no time", remedy="give one a time above 0")
    worn = sum(
        require_zero_up(load, "equivalent load", "N") ** LIFE_EXPONENT_BALLS * time
        for (load, _), time in zip(loads, times, strict=True)
    )
    return math.cbrt(worn / sum(times))


def static_load_n(*, radial_n: float, axial_n: float) -> float:
    """Return the equivalent static load, P0 = 0.6 Fr + 0.5 Fa and no less than Fr, in N.

    Raises:
        PartError: A load is below 0.

    Source:
        ISO 76, deep groove, one row (from memory).
    """
    radial = require_zero_up(radial_n, "radial load", "N")
    axial = require_zero_up(axial_n, "axial load", "N")
    return max(radial, STATIC_RADIAL_FACTOR * radial + STATIC_AXIAL_FACTOR * axial)


def static_safety(bearing: BallBearing, *, radial_n: float, axial_n: float) -> float:
    """Return s0 = C0 / P0, how far a standing bearing is from being dented.

    1 to 2 is usual for quiet running, more under knocks: common practice, no source. Without any
    load it is infinite.

    Raises:
        PartError: A load is below 0.

    Source:
        ISO 76 (from memory).
    """
    load = static_load_n(radial_n=radial_n, axial_n=axial_n)
    return math.inf if load == 0 else bearing.static_rating_n / load
