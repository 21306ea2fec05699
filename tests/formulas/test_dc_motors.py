"""Motors against a drives handbook, the trade's rules of thumb, and a motor run up step by step."""

import math

import pytest

from platekit.errors import PartError
from platekit.formulas.dc_motors import DcMotor, torque_constant_nmm_per_a
from platekit.formulas.gearing import GearStage

# Dubey, Fundamentals of Electrical Drives, Example 5.3, p. 70: 220 V, 200 A, 800 rpm, armature
# 0.06 ohm, source 0.04 ohm. Looked up.
DUBEY_EMF_V = 208.0
DUBEY_BRAKING_SOURCE_V = 140.0

MOTOR = DcMotor(torque_constant_nmm_per_a=82.0, resistance_ohm=0.15, no_load_current_a=1.5)


def dubey_motor(resistance_ohm):
    """The handbook's motor; its constant from back EMF and speed as the handbook takes it."""
    nmm_per_a = torque_constant_nmm_per_a(800 / DUBEY_EMF_V)
    return DcMotor(torque_constant_nmm_per_a=nmm_per_a, resistance_ohm=resistance_ohm)


def test_back_emf_and_torque_of_the_handbook_motor():
    """208 V at 800 rpm and 200 A; torque by the definition of power, 208 V x 200 A / omega."""
    motor = dubey_motor(0.06)
    point = motor.at_current(voltage_v=220, current_a=200)
    assert point.speed_rpm == pytest.approx(800, rel=1e-3)
    assert motor.back_emf_v(800) == pytest.approx(DUBEY_EMF_V, rel=1e-3)
    assert motor.torque_constant_nmm_per_a == pytest.approx(2482.8, rel=1e-3)
    assert point.torque_nmm == pytest.approx(496_560, rel=1e-3)


def test_braking_voltage_of_the_handbook_motor():
    """At 600 rpm, 160 A flowing back through armature and source: 140 V (Dubey 5.3)."""
    armature_with_source = dubey_motor(0.06 + 0.04)
    assert armature_with_source.voltage_for_v(speed_rpm=600, current_a=-160) == pytest.approx(
        DUBEY_BRAKING_SOURCE_V, rel=1e-3
    )


def test_torque_constant_from_rpm_per_volt():
    """9.5493 / Kv in N m/A (handbook form, from memory); 190 rpm/V gives 0.05026 N m/A."""
    assert torque_constant_nmm_per_a(190) == pytest.approx(50.26, rel=1e-3)
    assert torque_constant_nmm_per_a(1) == pytest.approx(9549.3, rel=1e-5)
    geared = GearStage(ratio=10, efficiency=0.8)
    assert geared.output_torque_nmm(20 * torque_constant_nmm_per_a(190)) == pytest.approx(
        8040, rel=1e-3
    )


def test_a_350_w_motor_with_ten_to_one_gives_about_50_nm():
    """Common practice, no source: 24 V, 350 W, 10:1, about 50 N m at a peak of 60 A.

    Such motors turn about 2750 rpm free at 24 V (common practice, no source).
    """
    motor = DcMotor(
        torque_constant_nmm_per_a=torque_constant_nmm_per_a(2750 / 24), resistance_ohm=0.1
    )
    for efficiency in (0.9, 1.0):
        geared = GearStage(ratio=10, efficiency=efficiency)
        peak_nm = geared.output_torque_nmm(motor.torque_at_nmm(60)) / 1000
        assert peak_nm == pytest.approx(50, rel=0.15)


def run_up_rpm(voltage_v, torque_nmm, *, inertia_kgm2=1e-4, step_s=1e-4, steps=40_000):
    """Speed after 4 s of J dw/dt = Kt I - Kt I0 - T with I = (V - Kt w) / R, plain Euler steps."""
    kt = MOTOR.torque_constant_nmm_per_a / 1000
    w = 0.0
    for _ in range(steps):
        current = (voltage_v - kt * w) / MOTOR.resistance_ohm
        w += step_s / inertia_kgm2 * (kt * (current - MOTOR.no_load_current_a) - torque_nmm / 1000)
    return w * 60 / (2 * math.pi)


@pytest.mark.parametrize("torque_nmm", [0, 1500, 4000])
def test_it_settles_where_its_equation_of_motion_settles(torque_nmm):
    """The straight line of speed over torque, against Newton's law run through time."""
    point = MOTOR.at_torque(voltage_v=24, torque_nmm=torque_nmm)
    assert run_up_rpm(24, torque_nmm) == pytest.approx(point.speed_rpm, rel=1e-6)


def test_losses_are_heat_in_the_winding_and_friction():
    """I^2 R + back EMF times I0: power kept, told from the other side."""
    point = MOTOR.at_current(voltage_v=24, current_a=40)
    friction_w = MOTOR.back_emf_v(point.speed_rpm) * MOTOR.no_load_current_a
    assert point.loss_w == pytest.approx(40**2 * MOTOR.resistance_ohm + friction_w, rel=1e-9)
    assert point.efficiency == pytest.approx(1 - point.loss_w / (24 * 40))


def test_greatest_power_and_efficiency_are_those_of_a_search():
    """Closed forms against the best of 20 000 currents between free and held."""
    stall = MOTOR.stall_current_a(24)
    first = MOTOR.no_load_current_a
    points = [
        MOTOR.at_current(voltage_v=24, current_a=first + (stall - first) * k / 20_000)
        for k in range(20_001)
    ]
    assert max(p.power_out_w for p in points) == pytest.approx(MOTOR.most_power_w(24), rel=1e-7)
    assert max(p.efficiency for p in points) == pytest.approx(MOTOR.best_efficiency(24), rel=1e-6)


def test_a_held_and_a_free_motor():
    """Held: V / R, no speed, no power. Free: no torque, all it draws is its friction."""
    held = MOTOR.at_current(voltage_v=24, current_a=24 / 0.15)
    assert held.speed_rpm == pytest.approx(0, abs=1e-9)
    assert held.torque_nmm == pytest.approx(MOTOR.stall_torque_nmm(24))
    assert held.power_out_w == pytest.approx(0, abs=1e-9)
    free = MOTOR.at_torque(voltage_v=24, torque_nmm=0)
    assert free.efficiency == 0
    assert free.speed_rpm == pytest.approx(MOTOR.no_load_speed_rpm(24), rel=1e-12)
    assert MOTOR.torque_at_nmm(1.0) == 0


def test_a_voltage_below_friction_turns_nothing():
    """No power and no efficiency where the held current stays under the no-load current."""
    assert MOTOR.most_power_w(0.1) == 0
    assert MOTOR.no_load_speed_rpm(0.1) == 0
    assert MOTOR.at_current(voltage_v=0, current_a=0).efficiency == 0
    assert MOTOR.best_efficiency(0.1) == 0


def test_more_than_it_can_is_refused():
    """The message gives the held current."""
    with pytest.raises(PartError, match="a held motor draws 160 A"):
        MOTOR.at_current(voltage_v=24, current_a=161)
    with pytest.raises(PartError, match="winding resistance is 0 ohm"):
        DcMotor(torque_constant_nmm_per_a=82, resistance_ohm=0)
    with pytest.raises(PartError, match="speed constant is -1 rpm/V"):
        torque_constant_nmm_per_a(-1)
