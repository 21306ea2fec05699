"""Duty: the steady current that heats a winding as much as a cycle does, and how warm it gets.

One body with one thermal resistance and one time constant: a first estimate. A winding has less
mass than the motor and follows faster; leave room. Temperature differences in K, over the air.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from platekit.errors import PartError
from platekit.formulas.quantities import require_finite, require_positive, require_zero_up

# Temperature at which copper's straight line of resistance would reach 0 is minus this:
# IEC 60034-1, from memory.
COPPER_ZERO_C = 235.0
# Highest winding temperature by thermal class, C: IEC 60085, from memory.
CLASS_LIMIT_C: dict[str, float] = {"A": 105, "E": 120, "B": 130, "F": 155, "H": 180}


@dataclass(frozen=True, slots=True, kw_only=True)
class DutyStep:
    """A stretch of a cycle at one current.

    Attributes:
        current_a: Drawn; the sign does not matter.
        time_s: How long, above 0.

    Raises:
        PartError: No such step.
    """

    current_a: float
    time_s: float

    def __post_init__(self) -> None:
        require_finite(self.current_a, "current", "A")
        require_positive(self.time_s, "time of a step", "s")


def rms_current_a(cycle: Sequence[DutyStep]) -> float:
    """Return the steady current that makes as much heat as a cycle: root of the mean square.

    Holds for a cycle much shorter than the winding's time constant; for a longer one ask
    `peak_rise_k`.

    Raises:
        PartError: A cycle without steps.

    Source:
        Joule heat I^2 R averaged over the cycle.
    """
    total_s = _cycle_s(cycle)
    return math.sqrt(sum(step.current_a**2 * step.time_s for step in cycle) / total_s)


def steady_rise_k(
    current_a: float, *, resistance_ohm: float, thermal_k_per_w: float, air_c: float | None = None
) -> float:
    """Return how much warmer than the air a winding ends up at a steady current.

    Args:
        current_a: Root mean square.
        resistance_ohm: Of the winding: warm if `air_c` is left out, else at `air_c`.
        thermal_k_per_w: From winding to air.
        air_c: Where given, the copper's resistance grows with its temperature, and heat with it.

    Raises:
        PartError: With growing resistance there is no end to the rise.

    Source:
        Rise = R thermal times I^2 R; with R growing by 1 / (235 + air) for each kelvin the same
        line solved for the rise. IEC 60034-1 for the 235, from memory.
    """
    require_finite(current_a, "current", "A")
    require_positive(resistance_ohm, "winding resistance", "ohm")
    require_positive(thermal_k_per_w, "thermal resistance", "K/W")
    cold_k = thermal_k_per_w * current_a**2 * resistance_ohm
    if air_c is None:
        return cold_k
    zero_k = COPPER_ZERO_C + require_finite(air_c, "air temperature", "C")
    require_positive(zero_k, "air temperature above -235 C", "K")
    if cold_k >= zero_k:
        raise PartError(
            f"current is {current_a:g} A: the winding's heat grows faster than it leaves",
            remedy="draw less, or cool the motor",
        )
    return cold_k / (1 - cold_k / zero_k)


def rise_after_k(
    *, steady_k: float, time_s: float, time_constant_s: float, from_k: float = 0.0
) -> float:
    """Return the rise some time after the current was switched on.

    Args:
        steady_k: Where it would end, `steady_rise_k`.
        time_s: Since then.
        time_constant_s: Of the winding.
        from_k: Rise at the beginning.

    Raises:
        PartError: A number cannot be.

    Source:
        First-order heating: steady + (from - steady) exp(-t / tau).
    """
    require_zero_up(time_s, "time", "s")
    require_positive(time_constant_s, "thermal time constant", "s")
    return steady_k + (from_k - steady_k) * math.exp(-time_s / time_constant_s)


def time_to_rise_s(
    *, limit_k: float, steady_k: float, time_constant_s: float, from_k: float = 0.0
) -> float:
    """Return how long a current may flow until the rise meets a limit; infinite if it never does.

    Raises:
        PartError: A number cannot be.

    Source:
        `rise_after_k` solved for the time.
    """
    require_positive(time_constant_s, "thermal time constant", "s")
    if from_k >= limit_k:
        return 0.0
    if steady_k <= limit_k:
        return math.inf
    return time_constant_s * math.log((steady_k - from_k) / (steady_k - limit_k))


def peak_rise_k(
    cycle: Sequence[DutyStep],
    *,
    resistance_ohm: float,
    thermal_k_per_w: float,
    time_constant_s: float,
) -> float:
    """Return the highest rise within a cycle that has been repeated until nothing changes.

    Args:
        cycle: Its steps in order.
        resistance_ohm: Of the warm winding.
        thermal_k_per_w: From winding to air.
        time_constant_s: Of the winding.

    Raises:
        PartError: A cycle without steps.

    Source:
        First-order heating step by step, with the beginning that the cycle comes back to; derived.
    """
    total_s = _cycle_s(cycle)
    steadies_k = [
        steady_rise_k(
            step.current_a, resistance_ohm=resistance_ohm, thermal_k_per_w=thermal_k_per_w
        )
        for step in cycle
    ]
    # From rest the cycle ends at `end_k`; a beginning b would add b times what is left of it.
    end_k = _run(cycle, steadies_k, time_constant_s, 0.0)[-1]
    begin_k = end_k / -math.expm1(-total_s / time_constant_s)
    return max(begin_k, *_run(cycle, steadies_k, time_constant_s, begin_k))


def winding_c(*, cold_ohm: float, hot_ohm: float, cold_c: float) -> float:
    """Return a copper winding's mean temperature from its resistance, measured cold and hot.

    Raises:
        PartError: A number cannot be.

    Source:
        IEC 60034-1, resistance method: hot / cold = (235 + hot C) / (235 + cold C), from memory.
    """
    require_positive(cold_ohm, "cold resistance", "ohm")
    require_positive(hot_ohm, "hot resistance", "ohm")
    require_finite(cold_c, "cold temperature", "C")
    return hot_ohm / cold_ohm * (COPPER_ZERO_C + cold_c) - COPPER_ZERO_C


def _run(
    cycle: Sequence[DutyStep], steadies_k: Sequence[float], time_constant_s: float, from_k: float
) -> list[float]:
    rises: list[float] = []
    rise_k = from_k
    for step, steady_k in zip(cycle, steadies_k, strict=True):
        rise_k = rise_after_k(
            steady_k=steady_k, time_s=step.time_s, time_constant_s=time_constant_s, from_k=rise_k
        )
        rises.append(rise_k)
    return rises


def _cycle_s(cycle: Sequence[DutyStep]) -> float:
    if not cycle:
        raise PartError("a duty cycle has no steps", remedy="give at least one")
    return sum(step.time_s for step in cycle)
