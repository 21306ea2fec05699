"""Heating of a winding against the same equation run through time in small steps."""

import math

import pytest

from platekit.errors import PartError
from platekit.formulas.duty import (
    CLASS_LIMIT_C,
    DutyStep,
    peak_rise_k,
    rise_after_k,
    rms_current_a,
    steady_rise_k,
    time_to_rise_s,
    winding_c,
)

CYCLE = [
    DutyStep(current_a=60, time_s=2),
    DutyStep(current_a=15, time_s=10),
    DutyStep(current_a=-20, time_s=3),
    DutyStep(current_a=0, time_s=25),
]
WINDING = {"resistance_ohm": 0.1, "thermal_k_per_w": 1.5}


def heated_k(cycle, *, time_constant_s, cycles, step_s=0.01):
    """Highest rise of the last cycle: tau dT/dt = Rth I^2 R - T in plain Euler steps from cold."""
    rise = highest = 0.0
    for _ in range(cycles):
        highest = rise
        for step in cycle:
            steady = 1.5 * step.current_a**2 * 0.1
            for _ in range(round(step.time_s / step_s)):
                rise += step_s / time_constant_s * (steady - rise)
            highest = max(highest, rise)
    return highest


def test_rms_of_a_cycle_is_the_mean_heat():
    """Heat summed over one-second slices, root of the mean: the definition."""
    slices = [60] * 2 + [15] * 10 + [-20] * 3 + [0] * 25
    mean_square = sum(a * a for a in slices) / len(slices)
    assert rms_current_a(CYCLE) == pytest.approx(math.sqrt(mean_square))


def test_rms_of_half_time_on():
    """A current half of the time counts as 0.7071 of it: textbook, 1 / sqrt 2."""
    half = [DutyStep(current_a=10, time_s=5), DutyStep(current_a=0, time_s=5)]
    assert rms_current_a(half) == pytest.approx(7.071, abs=5e-4)


@pytest.mark.parametrize("time_constant_s", [20, 60])
def test_peak_rise_is_that_of_many_cycles_in_small_steps(time_constant_s):
    """Closed periodic solution against 30 cycles from cold, within the steps' own error."""
    closed = peak_rise_k(CYCLE, **WINDING, time_constant_s=time_constant_s)
    stepped = heated_k(CYCLE, time_constant_s=time_constant_s, cycles=30)
    assert closed == pytest.approx(stepped, rel=2e-3)


def test_a_slow_winding_sees_the_rms_only():
    """With a time constant far above the cycle the peak is the steady rise of the r.m.s."""
    slow = peak_rise_k(CYCLE, **WINDING, time_constant_s=1e5)
    assert slow == pytest.approx(steady_rise_k(rms_current_a(CYCLE), **WINDING), rel=1e-3)


def test_a_fast_winding_follows_every_step():
    """With a time constant far below the steps the peak is the steady rise of the worst step."""
    fast = peak_rise_k(CYCLE, **WINDING, time_constant_s=0.01)
    assert fast == pytest.approx(1.5 * 60**2 * 0.1)


def test_first_order_rise():
    """63.2 % after one time constant, 95.0 % after three: textbook."""
    assert rise_after_k(steady_k=100, time_s=60, time_constant_s=60) == pytest.approx(
        63.2, abs=0.05
    )
    assert rise_after_k(steady_k=100, time_s=180, time_constant_s=60) == pytest.approx(95, abs=0.05)
    cooling = rise_after_k(steady_k=0, time_s=60, time_constant_s=60, from_k=100)
    assert cooling == pytest.approx(36.8, abs=0.05)


def test_time_to_a_limit_leads_back_to_it():
    """Half way takes ln 2 time constants; never where the end lies below; at once if too warm."""
    half = time_to_rise_s(limit_k=50, steady_k=100, time_constant_s=60)
    assert half == pytest.approx(60 * 0.6931, rel=1e-4)
    warm = time_to_rise_s(limit_k=50, steady_k=100, time_constant_s=60, from_k=30)
    reached = rise_after_k(steady_k=100, time_s=warm, time_constant_s=60, from_k=30)
    assert reached == pytest.approx(50)
    assert time_to_rise_s(limit_k=100, steady_k=100, time_constant_s=60) == math.inf
    assert time_to_rise_s(limit_k=50, steady_k=100, time_constant_s=60, from_k=60) == 0


def test_growing_resistance_ends_where_heat_made_is_heat_lost():
    """Fixed point by iteration: each round the winding's resistance follows its rise."""
    rise = 0.0
    for _ in range(500):
        resistance = 0.1 * (235 + 25 + rise) / (235 + 25)
        rise = 1.5 * 30**2 * resistance
    assert steady_rise_k(30, **WINDING, air_c=25) == pytest.approx(rise, rel=1e-9)
    assert rise > steady_rise_k(30, **WINDING)


def test_a_current_without_end_is_refused():
    """Where heat grows faster than it leaves there is no steady rise."""
    with pytest.raises(PartError, match="grows faster than it leaves"):
        steady_rise_k(45, **WINDING, air_c=25)


def test_winding_temperature_by_resistance():
    """235 and 0.393 %/K (IEC 60028 at 20 C, from memory) tell one story: 1 / 255 = 0.392 %."""
    warm = 20 + 60
    by_coefficient = 1 + 0.00393 * (warm - 20)
    for cold_ohm in (1, 0.1):
        hot_c = winding_c(cold_ohm=cold_ohm, hot_ohm=cold_ohm * by_coefficient, cold_c=20)
        assert hot_c == pytest.approx(warm, abs=0.2)


def test_thermal_classes_rise():
    """IEC 60085: 105, 120, 130, 155, 180 C for A, E, B, F, H; typed apart, from memory."""
    assert CLASS_LIMIT_C == {"A": 105, "E": 120, "B": 130, "F": 155, "H": 180}


def test_impossible_duties_are_refused():
    """No steps, no time, no resistance."""
    with pytest.raises(PartError, match="has no steps"):
        rms_current_a([])
    with pytest.raises(PartError, match="time of a step is 0 s"):
        DutyStep(current_a=1, time_s=0)
    with pytest.raises(PartError, match="winding resistance is 0 ohm"):
        steady_rise_k(1, resistance_ohm=0, thermal_k_per_w=1)
