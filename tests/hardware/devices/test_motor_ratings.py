"""Ratings of motors and encoders: figures follow from what sheets print, and are looked at."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, strategies as st

from platekit.errors import PartError
from platekit.formulas.dc_motors import DcMotor
from platekit.hardware.devices.motor_ratings import encoder_rating, motor_rating
from platekit.hardware.devices.motors import encoder, motor


def test_constant_from_volts_and_speed_agrees_with_a_handbook() -> None:
    """220 V, 200 A, 0.06 ohm at 800 rpm: 208 V induced, so 2.4828 N m for each ampere.

    Dubey, Fundamentals of Electrical Drives, example 5.3, p. 70: 208 V is printed; the constant
    is 208 V over 800 x 2 pi / 60 rad/s.
    """
    printed_v, omega = 208.0, 800.0 * 2 * math.pi / 60
    by_power = motor_rating(
        voltage_v=220.0, power_w=printed_v * 200.0, speed_rpm=800.0, current_a=200.0
    )
    assert by_power.torque_constant_nmm_per_a == pytest.approx(1000 * printed_v / omega, rel=1e-9)
    assert by_power.torque_constant_nmm_per_a == pytest.approx(2482.8, abs=0.1)
    assert by_power.resistance_ohm == pytest.approx(0.06, rel=1e-9)


@pytest.mark.parametrize("kv_rpm_per_v", [40.0, 95.493, 190.0])
def test_speed_constant_is_the_torque_constant_in_other_units(kv_rpm_per_v: float) -> None:
    """Kt = 60 / (2 pi Kv): one newton metre per ampere is one volt second per radian (SI)."""
    rating = motor_rating(voltage_v=24.0, speed_constant_rpm_per_v=kv_rpm_per_v)
    assert rating.torque_constant_nmm_per_a / 1000 == pytest.approx(
        60 / (2 * math.pi * kv_rpm_per_v), rel=1e-12
    )


@given(
    constant=st.floats(0.02, 0.5),
    ohm=st.floats(0.05, 1.0),
    free_a=st.floats(0.0, 1.0),
    load_a=st.floats(2.0, 20.0),
)
def test_every_way_from_a_sheet_leads_to_the_same_motor(
    constant: float, ohm: float, free_a: float, load_a: float
) -> None:
    """A made-up motor's sheet, worked out by V = E + I R and T = K (I - I0), gives it back."""
    volts = 24.0

    def speed_rpm(current_a: float) -> float:
        return (volts - current_a * ohm) / constant * 60 / (2 * math.pi)

    torque_nm, stall_a = constant * (load_a - free_a), volts / ohm
    power_w = torque_nm * (volts - load_a * ohm) / constant
    if power_w <= 0.01 or stall_a <= load_a:
        return
    common = {"voltage_v": volts, "no_load_a": free_a}
    for rating in (
        motor_rating(power_w=power_w, speed_rpm=speed_rpm(load_a), current_a=load_a, **common),
        motor_rating(stall_nm=constant * (stall_a - free_a), stall_a=stall_a, **common),
        motor_rating(no_load_rpm=speed_rpm(free_a), stall_a=stall_a, **common),
        motor_rating(no_load_rpm=speed_rpm(free_a), resistance_ohm=ohm, **common),
        motor_rating(
            stall_nm=constant * (stall_a - free_a), torque_constant_nm_per_a=constant, **common
        ),
    ):
        assert rating.torque_constant_nmm_per_a == pytest.approx(1000 * constant, rel=1e-6)
        assert rating.resistance_ohm == pytest.approx(ohm, rel=1e-6)


def test_a_350_w_motor_at_60_a_gives_about_50_nm_behind_ten_to_one() -> None:
    """24 V, 350 W at 2100 rpm and 18.2 A, 10:1: about 50 N m at 60 A; common practice, no source.

    By hand: 350 W / 219.9 rad/s = 1.592 N m; less 1 A of friction that is 0.0925 N m/A; 59 A x
    0.0925 x 10 x 0.92 = 50.2 N m.
    """
    rating = motor_rating(
        voltage_v=24.0,
        power_w=350.0,
        speed_rpm=2100.0,
        current_a=18.2,
        no_load_a=1.0,
        peak_a=60.0,
        gear_ratio=10.0,
        gear_efficiency=0.92,
    )
    assert rating.resistance_ohm is not None
    machine = DcMotor(
        torque_constant_nmm_per_a=rating.torque_constant_nmm_per_a,
        resistance_ohm=rating.resistance_ohm,
        no_load_current_a=rating.no_load_a,
    )
    assert machine.stall_current_a(24.0) > 60.0
    at_output_nm = machine.torque_at_nmm(60.0) * rating.gear_ratio * rating.gear_efficiency / 1000
    assert at_output_nm == pytest.approx(50.0, rel=0.03)
    assert rating.continuous_a == 18.2


@pytest.mark.parametrize(
    ("figures", "said"),
    [
        ({"power_w": 350.0, "speed_rpm": 2100.0, "current_a": 14.0}, "336 W goes in"),
        ({"power_w": 350.0, "speed_rpm": 2100.0}, "cannot be worked out"),
        ({"torque_constant_nm_per_a": 0.09, "speed_constant_rpm_per_v": 100.0}, "both"),
        ({"torque_constant_nm_per_a": 0.0}, "torque_constant_nm_per_a is 0"),
        ({"torque_constant_nm_per_a": 0.09, "gear_ratio": 10.0}, "gear_efficiency is not said"),
        (
            {"torque_constant_nm_per_a": 0.09, "gear_ratio": 10.0, "gear_efficiency": 90.0},
            "gear_efficiency is 90",
        ),
        (
            {"torque_constant_nm_per_a": 0.09, "continuous_a": 10.0, "peak_a": 5.0},
            "peak_a is 5 A",
        ),
        ({"stall_nm": 5.0, "stall_a": 1.0, "no_load_a": 2.0}, "no_load_a is 2"),
        ({"torque_constant_nm_per_a": 0.09, "backlash_deg": -1.0}, "backlash_deg is -1"),
        ({"torque_constant_nm_per_a": 0.09, "most_winding_c": 1550.0}, "most_winding_c is 1550"),
        ({"torque_constant_nm_per_a": math.nan}, "torque_constant_nm_per_a is nan"),
        ({"torque_constant_nm_per_a": "0.09"}, "torque_constant_nm_per_a is '0.09'"),
        (
            {"torque_constant_nm_per_a": 0.2, "speed_rpm": 2100.0, "current_a": 5.0},
            "would induce",
        ),
    ],
)
def test_a_bad_figure_is_named(figures: dict[str, object], said: str) -> None:
    """Each message names the figure and says what to do."""
    with pytest.raises(PartError, match="motor_rating") as caught:
        motor_rating(voltage_v=24.0, **figures)  # type: ignore[arg-type]
    assert said in str(caught.value)
    assert ";" in str(caught.value)


@pytest.mark.parametrize(
    "figures",
    [{}, {"lines": 1024, "bits": 12}, {"lines": -1}, {"lines": 10.5}, {"bits": 99}],
)
def test_an_encoder_tells_by_lines_or_by_bits(figures: dict[str, object]) -> None:
    """Neither, both, negative, broken and absurd figures are refused."""
    with pytest.raises(PartError, match="encoder_rating"):
        encoder_rating(**figures)  # type: ignore[arg-type]


def test_a_device_keeps_its_rating_and_refuses_the_other_kind() -> None:
    """What a motor can do goes on a motor, what an encoder tells on an encoder."""
    tells, can = encoder_rating(lines=1024), motor_rating(voltage_v=24, stall_nm=5, stall_a=60)
    body = "58 mm clamping flange"
    assert encoder(body, body_length_mm=48, shaft_length_mm=30, rating=tells).rating is tells
    geared = motor("NEMA 23", body_length_mm=100, flange_mm=5, shaft_length_mm=20, rating=can)
    assert geared.rating is can
    with pytest.raises(PartError, match=r"give rating=motor_rating"):
        motor("NEMA 23", body_length_mm=100, flange_mm=5, shaft_length_mm=20, rating=tells)  # type: ignore[arg-type]
