"""Torque, gearbox, speed and inertia of drives, against handbooks and worked out another way."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, strategies as st

from platekit import Severity, drivers, motor_rating, supply, wire

SPUN = 2 * math.pi / 60


def test_a_350_w_motor_gives_about_50_nm_at_60_a(bench: Any) -> None:
    """Behind 10:1 at a peak of 60 A: about 50 N m. Common practice, no source."""
    found = bench.one("drive.torque", "for seconds", torque_nm=30.0, current_limit_a=60.0)
    assert found.value == pytest.approx(50.0, rel=0.03)
    assert found.unit == "N m"
    assert found.part == "motor"
    assert found.severity is Severity.PASSED


def test_torque_of_a_handbooks_motor(bench: Any) -> None:
    """208 V induced at 800 rpm and 200 A: 496.56 N m.

    Dubey, Fundamentals of Electrical Drives, example 5.3, p. 70: 208 V and 200 A printed; torque
    by power, 208 x 200 / (800 x 2 pi / 60).
    """
    rating = motor_rating(voltage_v=220, power_w=208 * 200, speed_rpm=800, current_a=200)
    found = bench.one("drive.torque", "all day", torque_nm=400.0, rating=rating)
    assert found.value == pytest.approx(208 * 200 / (800 * SPUN), rel=1e-9)
    assert found.limit == pytest.approx(400.0)


def test_the_load_factor_is_on_what_must_be_moved_and_not_on_heat(bench: Any) -> None:
    """1.5 times the load for seconds (EN 1990 for variable loads, from memory); once all day."""
    asked = {"torque_nm": 10.0}
    assert bench.one("drive.torque", "for seconds", **asked).limit == pytest.approx(15.0)
    assert bench.one("drive.torque", "all day", **asked).limit == pytest.approx(10.0)
    doubled = bench.one("drive.torque", "for seconds", factor=3.0, **asked)
    assert doubled.limit == pytest.approx(30.0)


def test_all_day_is_the_root_mean_square_of_the_cycle(bench: Any) -> None:
    """Against the mean heat of the cycle sampled second by second with numpy."""
    cycle = ((12.0, 3.0), (4.0, 20.0), (0.0, 7.0))
    sampled = np.repeat([nm for nm, _ in cycle], [int(s) for _, s in cycle])
    found = bench.one("drive.torque", "all day", cycle=cycle)
    assert found.limit == pytest.approx(float(np.sqrt(np.mean(sampled**2))), rel=1e-12)


def test_a_gust_does_not_stand_all_day(bench: Any) -> None:
    """An instant load asks for torque for seconds and for nothing all day."""
    (found,) = bench.all("drive.torque", torque_nm=30.0, duration="instant")
    assert found.measure == "torque for seconds"


def test_less_current_gives_less_torque_and_says_what_bounds_it(bench: Any) -> None:
    """One change: the limit. The margin falls, it stops, and the limit is named."""
    enough = bench.one("drive.torque", "for seconds", torque_nm=30.0)
    less = bench.one("drive.torque", "for seconds", torque_nm=30.0, current_limit_a=30.0)
    assert less.margin < 1 < enough.margin
    assert less.severity is Severity.STOP
    assert "the current limit gives 30 A" in less.remedy
    # 29 / 59 of the useful current: torque goes by the current above friction's.
    assert less.value / enough.value == pytest.approx(29 / 59)


def test_speeding_up_takes_what_the_energy_says(bench: Any) -> None:
    """From rest to 30 rpm in 2 s: work is the energy of motion of load and rotor.

    Work = T x half the way of a steady run = T omega t / 2; energy = (J + j i^2) omega^2 / 2.
    """
    rating = replace(bench.rating, rotor_inertia_kgmm2=200.0)
    omega, seconds, load_kgm2 = 30.0 * SPUN, 2.0, 4.0
    energy = (load_kgm2 + 200.0e-6 * 10.0**2) * omega**2 / 2
    torque_nm = energy / (omega * seconds / 2)
    asked = {"rating": rating, "speed_rpm": 30.0, "speed_up_s": seconds, "inertia_kgm2": load_kgm2}
    found = bench.one("drive.torque", "for seconds", **asked)
    assert found.limit == pytest.approx(1.5 * torque_nm, rel=1e-9)


def test_what_is_missing_is_said_once(bench: Any) -> None:
    """No rating, no torque, no current: one note each, with what to give."""
    (unrated,) = bench.all("drive.torque", rating=None, torque_nm=5.0)
    assert unrated.severity is Severity.NOTE
    assert "motor_rating" in unrated.remedy
    (idle,) = bench.all("drive.torque")
    assert "torque_nm" in idle.remedy
    bare = motor_rating(voltage_v=24.0, torque_constant_nm_per_a=0.09)
    notes = bench.all("drive.torque", rating=bare, torque_nm=5.0)
    assert [one.severity for one in notes] == [Severity.NOTE, Severity.NOTE]


def test_a_belt_behind_the_motor_is_part_of_the_ratio(bench: Any) -> None:
    """24 teeth drive 72: three times the torque, less 5 per cent (common practice, no source)."""
    asked = {"torque_nm": 30.0, "duration": "instant"}
    plain = bench.one("drive.torque", "for seconds", **asked)
    belted = bench.one(
        "drive.torque",
        "for seconds",
        on="second",
        output="second",
        belt="belt",
        teeth=(24, 72),
        **asked,
    )
    assert belted.value == pytest.approx(plain.value * 72 / 24 * 0.95, rel=1e-9)
    assert belted.part == "motor + second"


@given(
    torque_nm=st.floats(0.5, 14.0), volts=st.floats(12.0, 48.0), ratio=st.sampled_from([1.0, 10.0])
)
def test_speed_is_the_root_of_two_equations(
    bench: Any, torque_nm: float, volts: float, ratio: float
) -> None:
    """V = R I + K w and K I = T / (i eta) + K I0, solved by numpy for I and w."""
    rating = replace(bench.rating, gear_ratio=ratio)
    k, ohm = rating.torque_constant_nmm_per_a / 1000, rating.resistance_ohm
    matrix = np.array([[ohm, k], [k, 0.0]])
    known = np.array([volts, torque_nm / (ratio * 0.92) + k * rating.no_load_a])
    _, omega = np.linalg.solve(matrix, known)
    found = bench.one(
        "drive.speed",
        "speed",
        torque_nm=torque_nm,
        rating=rating,
        speed_rpm=1.0,
        supply=supply(voltage_v=volts, current_a=20.0),
    )
    assert found.value == pytest.approx(max(omega, 0.0) / SPUN / ratio, rel=1e-9, abs=1e-9)


def test_a_wire_slows_the_motor_as_its_winding_does(bench: Any) -> None:
    """Copper there and back adds to the resistance: 2 x 4 m / (58 m/ohm mm2 x 0.75 mm2).

    1/58 ohm mm2/m: IEC 60028, from memory.
    """
    asked = {"torque_nm": 8.0, "speed_rpm": 100.0}
    wired = bench.one("drive.speed", "speed", wire=wire(area_mm2=0.75, length_m=4.0), **asked)
    more = replace(bench.rating, resistance_ohm=bench.rating.resistance_ohm + 8 / (58 * 0.75))
    assert wired.value == pytest.approx(
        bench.one("drive.speed", "speed", rating=more, **asked).value, rel=1e-9
    )


def test_rated_point_of_the_sheet_comes_back(bench: Any) -> None:
    """At the torque of 350 W at 2100 rpm, behind 10:1, the output turns at 210 rpm."""
    torque_nm = 350.0 / (2100.0 * SPUN) * 10.0 * 0.92
    found = bench.one("drive.speed", "speed", torque_nm=torque_nm, speed_rpm=200.0)
    assert found.value == pytest.approx(210.0, rel=1e-9)
    assert found.severity is Severity.PASSED
    faster = bench.one("drive.speed", "speed", torque_nm=torque_nm, speed_rpm=250.0)
    assert faster.severity is Severity.WARNING


def test_a_load_it_cannot_turn_has_no_speed(bench: Any) -> None:
    """Above the stall torque the speed is 0, not below."""
    found = bench.one("drive.speed", "speed", torque_nm=500.0, speed_rpm=5.0)
    assert found.value == 0.0
    assert found.severity is Severity.WARNING


def test_inertia_as_felt_by_the_energy_of_motion(bench: Any) -> None:
    """Load and what the motor feels of it hold the same energy: J w^2 = J' (i w)^2."""
    rating = replace(bench.rating, rotor_inertia_kgmm2=150.0)
    omega, load_kgm2 = 1.7, 0.09
    felt = load_kgm2 * omega**2 / (10.0 * omega) ** 2
    found = bench.one("drive.inertia", "inertia", inertia_kgm2=load_kgm2, rating=rating)
    assert found.value == pytest.approx(felt / 150e-6, rel=1e-9)
    assert found.severity is Severity.PASSED
    heavy = bench.one("drive.inertia", "inertia", inertia_kgm2=1.0, rating=rating)
    assert heavy.severity is Severity.WARNING
    (note,) = bench.all("drive.inertia", inertia_kgm2=1.0)
    assert note.severity is Severity.NOTE


def test_a_gearbox_is_weighed_against_its_own_torques(bench: Any) -> None:
    """Loads 1.5 times (EN 1990, from memory) for moments, once all day; held at 60 A: 50.2 N m."""
    rating = replace(bench.rating, gear_peak_nmm=40_000.0, gear_continuous_nmm=20_000.0)
    times, day, held = bench.all("drive.gearbox", torque_nm=24.0, rating=rating)
    assert times.value == pytest.approx(36.0)
    assert times.severity is Severity.PASSED
    heavier = bench.one("drive.gearbox", "at times", torque_nm=28.0, rating=rating)
    assert heavier.severity is Severity.STOP
    assert day.value == pytest.approx(24.0)
    assert day.severity is Severity.STOP
    assert held.severity is Severity.WARNING
    # What holds it back: 40 N m / (0.0925 x 10 x 0.92) + 1 A = 48 A, by hand.
    assert "set the drivers to 48 A" in held.remedy
    limited = bench.one(
        "drive.gearbox", "held", torque_nm=24.0, rating=rating, current_limit_a=48.0
    )
    assert limited.value == pytest.approx(40.0, rel=0.01)


def test_rotor_is_no_burden_of_the_gearbox(bench: Any) -> None:
    """What speeds up the rotor is made before the gearbox and does not pass through it."""
    rating = replace(bench.rating, gear_peak_nmm=40_000.0, rotor_inertia_kgmm2=200.0)
    asked = {"torque_nm": 10.0, "speed_rpm": 30.0, "speed_up_s": 0.1, "rating": rating}
    assert bench.one("drive.gearbox", "at times", **asked).value == pytest.approx(15.0)
    assert bench.one("drive.torque", "for seconds", **asked).limit > 15.0


def test_a_belt_behind_spares_the_gearbox(bench: Any) -> None:
    """24 teeth drive 72: a third of the torque, and what the belt loses (5 %, common practice)."""
    rating = replace(bench.rating, gear_peak_nmm=40_000.0)
    asked = {"on": "second", "output": "second", "belt": "belt", "teeth": (24, 72)}
    found = bench.one("drive.gearbox", "at times", torque_nm=30.0, rating=rating, **asked)
    assert found.value == pytest.approx(1.5 * 30.0 / 3 / 0.95)


def test_a_shaft_without_bearings_bears_what_acts_on_it(bench: Any) -> None:
    """100 N across and 40 N along, 1.5 times (EN 1990, from memory), on the gearbox's own shaft."""
    rating = replace(bench.rating, gear_radial_n=140.0, gear_axial_n=70.0)
    asked = {"radial_n": 100.0, "axial_n": 40.0, "torque_nm": 1.0}
    across = bench.one("drive.gearbox", "force across", rating=rating, **asked)
    along = bench.one("drive.gearbox", "force along", rating=rating, **asked)
    assert across.value == pytest.approx(150.0)
    assert across.severity is Severity.STOP
    assert along.value == pytest.approx(60.0)
    assert along.severity is Severity.PASSED
    said = bench.all("drive.gearbox", **asked)
    assert not [one for one in said if "force" in one.measure]
    # Where a belt pulls on it the belt's own check adds up what acts.
    by_belt = {"on": "second", "output": "second", "belt": "belt", "rating": rating}
    said = bench.all("drive.gearbox", **by_belt, **asked)
    assert not [one for one in said if "force" in one.measure]


def test_without_a_gearbox_none_is_asked_for(bench: Any) -> None:
    """A bare motor has no gearbox to weigh; one whose gearbox says nothing gets one note."""
    bare = replace(bench.rating, gear_ratio=1.0, gear_efficiency=1.0)
    assert bench.all("drive.gearbox", torque_nm=1.0, rating=bare) == []
    (note,) = bench.all("drive.gearbox", torque_nm=1.0)
    assert note.severity is Severity.NOTE
    assert "gear_peak_nm" in note.remedy
    one = replace(bench.rating, gear_continuous_nmm=20_000.0)
    (day,) = bench.all("drive.gearbox", torque_nm=1.0, rating=one)
    assert day.measure == "torque at the gearbox all day"


def test_drivers_bound_the_torque_too(bench: Any) -> None:
    """Two of 20 A for seconds and 5 A all day: K (40 - 1) and K (10 - 1) A, times 9.2, by hand."""
    asked = {"torque_nm": 10.0, "drivers": drivers(count=2, continuous_a=5.0, peak_a=20.0)}
    seconds = bench.one("drive.torque", "for seconds", **asked)
    assert seconds.value == pytest.approx(0.09253 * 39.0 * 9.2, rel=1e-3)
    assert "the drivers' rating gives 40 A" in seconds.remedy
    day = bench.one("drive.torque", "all day", **asked)
    assert day.value == pytest.approx(0.09253 * 9.0 * 9.2, rel=1e-3)
    # Drivers whose peak is not said are taken to bear no more than all day.
    mild = {"torque_nm": 10.0, "drivers": drivers(count=2, continuous_a=5.0)}
    assert bench.one("drive.torque", "for seconds", **mild).value == pytest.approx(day.value)
    rating = replace(bench.rating, gear_peak_nmm=40_000.0)
    held = bench.one("drive.gearbox", "held", rating=rating, **asked)
    assert held.value == pytest.approx(seconds.value)


@given(limit_a=st.floats(2.0, 100.0), more=st.floats(1.0, 3.0))
def test_more_current_never_lowers_a_margin_of_torque(
    bench: Any, limit_a: float, more: float
) -> None:
    """Monotony: torque grows with the current until something else bounds it."""
    low, high = (
        bench.one("drive.torque", "for seconds", torque_nm=5.0, current_limit_a=amps).margin
        for amps in (limit_a, limit_a * more)
    )
    assert high >= low


def test_a_gearbox_all_day_says_what_was_taken_for_all_day(bench: Any) -> None:
    """30 N m on a gearbox of 20 all day: without a cycle that is only taken, and cycle= helps.

    By hand: 30 N m for 1 s in every 9 is the root of 900 / 9, 10 N m.
    """
    rating = replace(bench.rating, gear_continuous_nmm=20_000.0)
    asked = {"torque_nm": 30.0, "rating": rating}
    taken = bench.one("drive.gearbox", "all day", **asked)
    assert taken.severity is Severity.STOP
    assert "the largest lasting load" in taken.formula
    assert "cycle=" in taken.remedy
    helped = bench.one("drive.gearbox", "all day", cycle=((30.0, 1.0), (0.0, 8.0)), **asked)
    assert (helped.severity, helped.value) == (Severity.PASSED, pytest.approx(10.0))
    assert "root mean square of the cycle" in helped.formula
    told = bench.one("drive.gearbox", "all day", cycle=((30.0, 1.0),), **asked)
    assert told.severity is Severity.STOP
    assert "cycle=" not in told.remedy
