"""Supplies and fuses against the rules of IEC 60364-4-43 and the trade's rules of thumb."""

import pytest

from platekit.errors import PartError
from platekit.formulas.dc_motors import DcMotor, torque_constant_nmm_per_a
from platekit.formulas.gearing import GearStage
from platekit.formulas.supplies import (
    BREAKER_FACTOR,
    FUSE_RATINGS_A,
    chopped_supply_current_a,
    driver_share_a,
    fitting_fuses_a,
    fuse_check,
    fusing_factor,
    supply_current_a,
)
from platekit.formulas.wires import AMPACITY_A, ampacity_a

# Common practice, no source: about 2750 rpm free at 24 V for a motor of 24 V and 350 W.
MOTOR = DcMotor(torque_constant_nmm_per_a=torque_constant_nmm_per_a(2750 / 24), resistance_ohm=0.1)


def test_supply_current_by_hand():
    """350 W out of 24 V at 80 %: 350 / 19.2 = 18.23 A."""
    drawn = supply_current_a(power_out_w=350, voltage_v=24, efficiency=0.8)
    assert drawn == pytest.approx(18.23, abs=0.005)


def test_held_to_a_third_the_motor_stays_within_its_supply():
    """Common practice, no source: 30 % of 50 N m (60 A peak) stays within a 20 A, 24 V supply.

    At every speed that the voltage allows, driver at 90 %; unheld, the peak does not.
    """
    held_nm = 0.3 * 50
    geared = GearStage(ratio=10, efficiency=0.95)
    current = MOTOR.current_for_a(geared.input_torque_nmm(held_nm * 1000))
    assert current == pytest.approx(0.3 * 60, rel=0.1)
    assert driver_share_a(current, drivers=1) < 20
    top_rpm = MOTOR.at_current(voltage_v=24, current_a=current).speed_rpm
    for rpm in (0, 0.5 * top_rpm, 0.9 * top_rpm):
        volts = MOTOR.voltage_for_v(speed_rpm=rpm, current_a=current)
        drawn = chopped_supply_current_a(
            motor_voltage_v=volts, motor_current_a=current, voltage_v=24, efficiency=0.9
        )
        assert drawn < 20
    peak = MOTOR.at_current(voltage_v=24, current_a=60)
    assert peak.power_in_w / 24 > 20


def test_a_held_motor_draws_little_from_its_supply():
    """60 A through 0.1 ohm are 360 W of heat: 15 A from 24 V (Joule's law)."""
    volts = MOTOR.voltage_for_v(speed_rpm=0, current_a=60)
    drawn = chopped_supply_current_a(motor_voltage_v=volts, motor_current_a=60, voltage_v=24)
    assert drawn * 24 == pytest.approx(60**2 * 0.1)


def test_a_motor_at_full_voltage_draws_its_own_current():
    """Nothing is chopped: supply and motor share one current."""
    drawn = chopped_supply_current_a(motor_voltage_v=24, motor_current_a=18, voltage_v=24)
    assert drawn == pytest.approx(18)


def test_two_drivers_share_the_peak():
    """Common practice, no source: half each; with a tenth of unevenness one takes 33 of 60 A."""
    assert driver_share_a(60, drivers=2) == 30
    assert driver_share_a(60, drivers=2, unequal_share=0.1) == pytest.approx(33)
    assert driver_share_a(60, drivers=2, unequal_share=5) == 60
    assert driver_share_a(60, drivers=1, unequal_share=0.5) == 60


def test_the_worked_fuse_passes():
    """IB 8, In 10, Iz 13.5 (1.5 mm2, B1): 8 <= 10 <= 13.5, worked by hand."""
    check = fuse_check(load_a=8, rating_a=10, ampacity_a=ampacity_a(1.5, "B1"))
    assert check.carries_load
    assert check.saves_wire
    assert check.fits


def test_from_sixteen_amperes_a_fuse_may_be_nine_tenths_of_the_wire():
    """IEC 60364-4-43 with gG links, known in the trade as In <= 0.9 Iz (from memory)."""
    for rating in (r for r in FUSE_RATINGS_A if r >= 16):
        assert fuse_check(load_a=1, rating_a=rating, ampacity_a=rating / 0.9).saves_wire
        assert not fuse_check(load_a=1, rating_a=rating, ampacity_a=rating / 0.91).saves_wire


def test_a_breaker_may_be_as_large_as_the_wire():
    """IEC 60898 trips at 1.45 In, which is just what IEC 60364-4-43 asks for: In <= Iz."""
    for rating in (6, 10, 16, 25, 63):
        checked = fuse_check(load_a=1, rating_a=rating, ampacity_a=rating, factor=BREAKER_FACTOR)
        assert checked.saves_wire
        larger = fuse_check(
            load_a=1, rating_a=rating, ampacity_a=rating * 0.99, factor=BREAKER_FACTOR
        )
        assert not larger.saves_wire


def test_ratings_are_those_on_the_shelf():
    """IEC 60269 ratings of gG links, from memory, typed apart: the R10 series, rounded its way."""
    assert FUSE_RATINGS_A == (2, 4, 6, 10, 16, 20, 25, 32, 40, 50, 63)
    r10 = [2, 4, 6.3, 10, 16, 20, 25, 31.5, 40, 50, 63]
    assert pytest.approx(r10, rel=0.05) == FUSE_RATINGS_A


def test_a_load_at_the_rating_is_carried():
    """IB <= In: equal is allowed."""
    assert fuse_check(load_a=10, rating_a=10, ampacity_a=20).carries_load
    assert not fuse_check(load_a=10.1, rating_a=10, ampacity_a=20).carries_load


def test_fitting_fuses_hold_the_standards_rule():
    """IB <= In <= Iz and I2 <= 1.45 Iz, spelled out for every wire of the table."""
    for area in AMPACITY_A:
        wire = ampacity_a(area)
        for rating in FUSE_RATINGS_A:
            rule = 7 <= rating <= wire and fusing_factor(rating) * rating <= 1.45 * wire
            assert (rating in fitting_fuses_a(load_a=7, ampacity_a=wire)) == rule
    assert fitting_fuses_a(load_a=12, ampacity_a=ampacity_a(1.0)) == ()


@pytest.mark.parametrize(
    ("rating", "factor"), [(2, 2.1), (4, 2.1), (5, 1.9), (6, 1.9), (10, 1.9), (16, 1.6), (63, 1.6)]
)
def test_fusing_factors(rating, factor):
    """IEC 60269 for gG links, from memory."""
    assert fusing_factor(rating) == factor


def test_impossible_supplies_are_refused():
    """The message names quantity and value."""
    with pytest.raises(PartError, match=r"efficiency is 1\.1"):
        supply_current_a(power_out_w=1, voltage_v=24, efficiency=1.1)
    with pytest.raises(PartError, match="supply voltage is 0 V"):
        supply_current_a(power_out_w=1, voltage_v=0, efficiency=1)
    with pytest.raises(PartError, match="the supply has 24 V"):
        chopped_supply_current_a(motor_voltage_v=30, motor_current_a=1, voltage_v=24)
    with pytest.raises(PartError, match="number of drivers is 0"):
        driver_share_a(10, drivers=0)
