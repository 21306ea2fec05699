"""Gears against a handbook's belt drive, energy kept, and play followed stage by stage."""

import math

import pytest

from platekit.errors import PartError
from platekit.formulas.gearing import STAGE_EFFICIENCY, GearStage, gear_train


def test_speed_of_a_handbook_drive():
    """Mott, Machine Elements in Mechanical Design, Example 7-3: 32 to 80 teeth, 1400 to 560 rpm."""
    assert GearStage(ratio=80 / 32).output_speed_rpm(1400) == pytest.approx(560, abs=0.5)


@pytest.mark.parametrize("efficiency", [1.0, 0.97, 0.6])
def test_power_is_kept_but_for_the_losses(efficiency):
    """Torque times speed falls by the efficiency and nothing else: conservation of energy."""
    stage = GearStage(ratio=7.5, efficiency=efficiency)
    power_in = 1200 * 900
    power_out = stage.output_torque_nmm(1200) * stage.output_speed_rpm(900)
    assert power_out / power_in == pytest.approx(efficiency, rel=1e-12)
    assert stage.input_torque_nmm(stage.output_torque_nmm(1200)) == pytest.approx(1200, rel=1e-12)


def test_reflected_inertia_holds_the_same_energy():
    """J w^2 / 2 is one number, whether told at the load or at the motor."""
    stage = GearStage(ratio=12)
    load_kgmm2, motor_rad_s = 5.0e4, 100.0
    at_load = load_kgmm2 * (motor_rad_s / 12) ** 2 / 2
    at_motor = stage.reflected_inertia_kgmm2(load_kgmm2) * motor_rad_s**2 / 2
    assert at_motor == pytest.approx(at_load, rel=1e-12)


def test_play_of_a_train_counts_behind_the_ratios_that_follow():
    """Three stages, each play over the product of the ratios after it: kinematics, derived."""
    stages = [
        GearStage(ratio=3, efficiency=0.97, backlash_deg=1.2),
        GearStage(ratio=4, efficiency=0.95, backlash_deg=0.9),
        GearStage(ratio=5, efficiency=0.9, backlash_deg=0.3),
    ]
    train = gear_train(stages)
    assert train.backlash_deg == pytest.approx(1.2 / 20 + 0.9 / 5 + 0.3)
    assert train.ratio == pytest.approx(60)
    assert train.efficiency == pytest.approx(0.97 * 0.95 * 0.9)


def test_the_last_stage_is_the_one_to_buy_well():
    """The same play hurts more behind the ratio than before it."""
    loose, tight = GearStage(ratio=5, backlash_deg=1.0), GearStage(ratio=5, backlash_deg=0.1)
    assert gear_train([loose, tight]).backlash_deg < gear_train([tight, loose]).backlash_deg


def test_play_at_a_radius_is_an_arc():
    """A full turn of play at radius 100 would be the circumference."""
    stage = GearStage(ratio=1, backlash_deg=360)
    assert stage.backlash_mm(100) == pytest.approx(2 * math.pi * 100)


def test_no_stages_change_nothing():
    """The empty train is a shaft."""
    assert gear_train([]) == GearStage(ratio=1)


def test_efficiencies_are_shares():
    """Every range of the trade runs from worse to better and stays below 1; a worm is the worst."""
    assert min(STAGE_EFFICIENCY, key=lambda kind: STAGE_EFFICIENCY[kind]) == "worm"
    assert all(0 < worst < best < 1 for worst, best in STAGE_EFFICIENCY.values())


@pytest.mark.parametrize(
    ("figures", "named"),
    [
        ({"ratio": 0}, "gear ratio is 0"),
        ({"ratio": math.inf}, "gear ratio is inf"),
        ({"ratio": 3, "efficiency": 1.2}, "gear efficiency is 1.2"),
        ({"ratio": 3, "backlash_deg": -1}, "backlash is -1 degrees"),
    ],
)
def test_impossible_gears_are_refused(figures, named):
    """The message names the quantity and its value."""
    with pytest.raises(PartError, match=named):
        GearStage(**figures)
