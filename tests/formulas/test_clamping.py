"""Clamped hubs against a printed coupling, and against friction summed round the shaft."""

import math

import numpy as np
import pytest

from platekit.errors import PartError
from platekit.formulas.clamping import (
    clamp_coupling_torque_nmm,
    clamp_force_n,
    clamp_torque_all_round_nmm,
    clamp_torque_two_lines_nmm,
)


def test_clamp_coupling_as_printed():
    """Khurmi & Gupta, clamp coupling (from memory): 30 kW, 100 rpm, d 75, 6 bolts -> 22.2 mm."""
    torque = 30e6 / (2 * math.pi * 100 / 60)
    assert torque == pytest.approx(2865e3, rel=0.001)
    held = clamp_coupling_torque_nmm(
        bolts=6, core_mm=22.2, bolt_stress_mpa=70, friction=0.3, shaft_mm=75
    )
    # The book rounds the core to 22.2, and the torque goes with its square.
    assert held == pytest.approx(torque, rel=0.004)


def test_even_pressure_summed_round_the_shaft():
    """Pressure Q/(D L) balances Q on a half shell, and its friction adds up to the torque."""
    force, friction, shaft, length = 5000.0, 0.12, 16.0, 25.0
    pressure = force / (shaft * length)
    angle = (np.arange(40000) + 0.5) * 2 * np.pi / 40000
    patch = shaft / 2 * length * 2 * np.pi / 40000
    upper = np.sin(angle) > 0
    assert np.sum(pressure * patch * np.sin(angle)[upper]) == pytest.approx(force)
    torque = np.sum(np.full(40000, friction * pressure * patch * shaft / 2))
    assert clamp_torque_all_round_nmm(
        clamp_force_n=force, friction=friction, shaft_mm=shaft
    ) == pytest.approx(torque)


def test_pressure_falling_off_to_the_split_lies_between_the_two_forms():
    """Pressure p0 sin(angle), summed: 4/pi mu Q D, below all round, above two lines."""
    angle = (np.arange(20000) + 0.5) * np.pi / 20000
    pull = np.sum(np.sin(angle) ** 2)
    friction = 2 * np.sum(np.sin(angle)) / 2
    between = 0.15 * 1000 * 20 * friction / pull
    case = {"clamp_force_n": 1000, "friction": 0.15, "shaft_mm": 20}
    assert between == pytest.approx(0.15 * 1000 * 20 * 4 / math.pi)
    assert clamp_torque_two_lines_nmm(**case) < between < clamp_torque_all_round_nmm(**case)


def test_the_force_asked_for_holds_the_torque():
    """There and back again."""
    force = clamp_force_n(torque_nmm=12e3, friction=0.1, shaft_mm=12)
    assert clamp_torque_two_lines_nmm(
        clamp_force_n=force, friction=0.1, shaft_mm=12
    ) == pytest.approx(12e3)


def test_impossible_clamps_are_refused():
    """An odd number of bolts, or a shaft without friction."""
    with pytest.raises(PartError, match="bolts is 5; give as many bolts to one shaft"):
        clamp_coupling_torque_nmm(bolts=5, core_mm=8, bolt_stress_mpa=70, friction=0.3, shaft_mm=20)
    with pytest.raises(PartError, match="friction is 0; give a friction above 0"):
        clamp_force_n(torque_nmm=1, friction=0, shaft_mm=12)
