"""The family as a whole: silent where it should be, and never stopped by odd figures."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings, strategies as st

from platekit import Severity, drivers, encoder_rating, motor_rating, supply, wire
from platekit.checks.drive import CHECKS
from platekit.checks.subject import Subject

SOUND: dict[str, Any] = {
    "torque_nm": 30.0,
    "duration": "instant",
    "rating": motor_rating(
        voltage_v=24.0,
        power_w=350.0,
        speed_rpm=2100.0,
        current_a=18.2,
        no_load_a=1.0,
        peak_a=60.0,
        gear_ratio=10.0,
        gear_efficiency=0.92,
        gear_continuous_nm=40.0,
        gear_peak_nm=80.0,
        gear_radial_n=500.0,
        gear_axial_n=300.0,
        backlash_deg=0.5,
        rotor_inertia_kgcm2=4.0,
        thermal_k_per_w=1.2,
        time_constant_s=900.0,
        most_winding_c=155.0,
    ),
    "told": encoder_rating(lines=1024, most_hz=100_000.0),
    "supply": supply(voltage_v=24.0, current_a=20.0, peak_a=60.0),
    "drivers": drivers(count=2, continuous_a=15.0, peak_a=30.0),
    "current_limit_a": 56.0,
    "fuse_a": 20.0,
    "wire": wire(area_mm2=4.0, length_m=1.5),
    "speed_rpm": 60.0,
    "cycle": ((12.0, 5.0), (4.0, 20.0)),
    "inertia_kgm2": 0.2,
    "encoder": "second",
    "belt": "belt",
    "resolution_deg": 0.1,
    "backlash_deg": 1.0,
    "air_c": 30.0,
}


def test_a_sound_drive_is_silent(bench: Any) -> None:
    """Everything given and everything within its limit: all weighed, nothing said."""
    for check in CHECKS:
        for found in bench.all(check.name, **SOUND):
            assert found.severity is Severity.PASSED, str(found)
            assert found.check == check.name
            assert found.margin is None or found.margin >= 1
            assert found.source
            assert found.remedy


def test_each_check_weighs_something_of_a_drive_that_says_all(bench: Any) -> None:
    """No check is idle: the belt's own has its test where a belt drives."""
    idle = [check.name for check in CHECKS if not bench.all(check.name, **SOUND)]
    assert idle == ["drive.belt"]


def test_nothing_is_said_where_nothing_is_driven(bench: Any) -> None:
    """A single plate, and a rig without drives: silent."""
    rig, done = bench.subject(torque_nm=5.0).whole
    undriven = replace(rig, use=replace(rig.use, drives=()))
    for check in CHECKS:
        assert list(check.run(Subject(pieces=()))) == []
        assert list(check.run(Subject(pieces=(), whole=(undriven, done)))) == []


def test_checks_are_of_the_family_and_say_how() -> None:
    """Each has a name of its own, a question and its sources."""
    names = [check.name for check in CHECKS]
    assert len(set(names)) == len(names)
    for check in CHECKS:
        assert check.family == "drive"
        assert check.asks.endswith("?")
        assert len(check.by) > 100


@pytest.mark.parametrize(
    ("change", "check"),
    [
        ({"current_limit_a": 20.0}, "drive.torque"),
        ({"torque_nm": 60.0}, "drive.torque"),
        ({"speed_rpm": 300.0}, "drive.speed"),
        ({"inertia_kgm2": 20.0}, "drive.inertia"),
        ({"current_limit_a": 90.0}, "drive.current"),
        ({"drivers": drivers(count=1, continuous_a=15.0, peak_a=30.0)}, "drive.current"),
        ({"supply": supply(voltage_v=24.0, current_a=2.0)}, "drive.supply"),
        ({"fuse_a": 40.0}, "drive.fuse"),
        (
            {"wire": wire(area_mm2=0.75, length_m=1.5), "cycle": ((10.0, 1.0),)},
            "drive.wire",
        ),
        ({"wire": wire(area_mm2=4.0, length_m=60.0)}, "drive.wire"),
        ({"told": encoder_rating(lines=100)}, "drive.encoder"),
        ({"backlash_deg": 0.1}, "drive.backlash"),
        ({"cycle": ((14.0, 5.0), (14.0, 20.0)), "air_c": 100.0}, "drive.heat"),
        ({"torque_nm": 70.0}, "drive.gearbox"),
    ],
)
def test_one_change_for_the_worse_is_found(bench: Any, change: dict[str, Any], check: str) -> None:
    """Where the sound drive was silent, the check concerned now speaks, with a margin below 1."""
    worse = [one for one in bench.all(check, **{**SOUND, **change}) if one.severity]
    assert worse
    assert all(one.margin is not None and one.margin < 1 for one in worse)
    assert all("motor" in one.part or one.part == "second" for one in worse)


@pytest.mark.parametrize(
    "change",
    [
        {"gear_ratio": 1e200},
        {"gear_efficiency": 2.0},
        {"torque_constant_nmm_per_a": 0.0},
        {"torque_constant_nmm_per_a": 1e-300},
        {"rotor_inertia_kgmm2": 1e300},
        {"resistance_ohm": 1e300},
        {"thermal_k_per_w": -1.0},
    ],
)
def test_a_rating_beyond_reckoning_is_a_note(bench: Any, change: dict[str, float]) -> None:
    """A rating made by hand may say anything: no check raises, one at least says what is wrong."""
    asked = {**SOUND, "speed_up_s": 1.0, "rating": replace(SOUND["rating"], **change)}
    found = [one for check in CHECKS for one in bench.all(check.name, **asked)]
    assert any(one.severity for one in found)


ODD = st.one_of(st.floats(1e-6, 1e-3), st.floats(0.1, 100.0), st.floats(1e3, 1e9))
MAYBE = st.one_of(st.none(), ODD)


@settings(max_examples=60, deadline=None)
@given(
    torque_nm=st.one_of(st.just(0.0), st.floats(1e-3, 1e4)),
    ratio=ODD,
    constant=ODD,
    ohm=MAYBE,
    limit_a=MAYBE,
    speed_rpm=MAYBE,
    volts=ODD,
    fuse_a=MAYBE,
    area=ODD,
    length_m=ODD,
    kelvin=MAYBE,
    wish_deg=st.one_of(st.none(), st.floats(1e-6, 360.0)),
    bits=st.integers(1, 32),
    air_c=st.floats(-40.0, 120.0),
)
def test_no_figures_however_odd_raise(bench: Any, **odd: Any) -> None:
    """What recipes can pass, checks can weigh, or say that they cannot."""
    rating = motor_rating(
        voltage_v=24.0,
        torque_constant_nm_per_a=odd["constant"],
        resistance_ohm=odd["ohm"],
        continuous_a=5.0,
        gear_ratio=odd["ratio"],
        gear_efficiency=0.5,
        gear_peak_nm=10.0,
        thermal_k_per_w=odd["kelvin"],
        most_winding_c=100.0,
    )
    for check in CHECKS:
        for found in bench.all(
            check.name,
            torque_nm=odd["torque_nm"],
            rating=rating,
            told=encoder_rating(bits=odd["bits"], most_hz=1e3),
            supply=supply(voltage_v=odd["volts"], current_a=5.0),
            drivers=drivers(count=3, continuous_a=4.0, peak_a=9.0),
            wire=wire(area_mm2=odd["area"], length_m=odd["length_m"]),
            fuse_a=odd["fuse_a"],
            current_limit_a=odd["limit_a"],
            speed_rpm=odd["speed_rpm"],
            encoder="second",
            belt="belt",
            resolution_deg=odd["wish_deg"],
            backlash_deg=odd["wish_deg"],
            air_c=odd["air_c"],
        ):
            assert str(found)
            assert "nan" not in str(found)
