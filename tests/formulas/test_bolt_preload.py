"""Tightening and friction against printed examples, the screw's inclined plane, and integration."""

import math

import numpy as np
import pytest

from platekit.errors import PartError
from platekit.formulas.bolt_preload import (
    NUT_FACTOR_DRY,
    NUT_FACTOR_OILED,
    SLIP_FACTORS,
    friction_force_n,
    friction_radius_mm,
    friction_torque_nmm,
    preload_n,
    slip_resistance_n,
    standard_preload_n,
    tightening_torque_nmm,
)

POUND_N, INCH_MM = 4.4482216, 25.4


def test_tightening_torque_of_a_printed_example():
    """Shigley, Mechanical Engineering Design, Example 8-3 (from memory): 3750 lbf in.

    Bolt of 3/4 in, preload 25 kip, K = 0.2.
    """
    torque = tightening_torque_nmm(25e3 * POUND_N, diameter_mm=0.75 * INCH_MM)
    assert torque == pytest.approx(3750 * POUND_N * INCH_MM, rel=0.001)
    assert preload_n(torque, diameter_mm=0.75 * INCH_MM) == pytest.approx(25e3 * POUND_N)


# Pitch and least head bearing of ISO 261 and ISO 4762: nominal, pitch, head diameter, hole.
SCREWS = [(5, 0.8, 8.5, 5.5), (6, 1.0, 10, 6.6), (8, 1.25, 13, 9), (12, 1.75, 18, 13.5)]


@pytest.mark.parametrize("screw", SCREWS)
@pytest.mark.parametrize(("friction", "factor"), [(0.15, NUT_FACTOR_DRY), (0.11, NUT_FACTOR_OILED)])
def test_nut_factor_follows_from_the_inclined_plane(screw, friction, factor):
    """K from thread and head friction by the inclined plane, flanks of 60 degrees, within 8 %.

    Textbooks give friction of about 0.15 dry for K = 0.2 (from memory); about 0.11 oiled is
    common practice, no source.
    """
    nominal_mm, pitch_mm, head_mm, hole_mm = screw
    flank_mm = nominal_mm - 0.6495 * pitch_mm  # pitch diameter of ISO 724
    lead = math.atan(pitch_mm / (math.pi * flank_mm))
    slide = math.atan(friction / math.cos(math.radians(30)))
    per_newton_mm = flank_mm / 2 * math.tan(lead + slide) + friction * (head_mm + hole_mm) / 4
    assert per_newton_mm / nominal_mm == pytest.approx(factor, rel=0.08)


def test_a_preloaded_m20_of_class_8_8():
    """EN 1993-1-8, 3.9.1 (from memory): 137.2 kN; 54.9 kN at mu = 0.5 on one face.

    Six of them on a circle of 100 mm hold 20580 N m, no partial factor.
    """
    preload = standard_preload_n(800, 245)
    assert preload == pytest.approx(137.2e3, abs=100)
    slip = slip_resistance_n(preload, friction=SLIP_FACTORS["A"])
    assert slip == pytest.approx(54.9e3, abs=100)
    torque = friction_torque_nmm(preload, bolts=6, radius_mm=50, friction=0.5)
    assert torque == pytest.approx(20580e3, abs=1000)


def test_slotted_holes_and_more_faces_scale():
    """Ks and the number of faces are factors (EN 1993-1-8, 3.9.1)."""
    once = slip_resistance_n(1000, friction=0.3)
    assert slip_resistance_n(1000, friction=0.3, faces=2) == pytest.approx(2 * once)
    assert slip_resistance_n(1000, friction=0.3, hole_factor=0.7) == pytest.approx(0.7 * once)
    assert friction_force_n(1000, friction=0.3) == pytest.approx(1.25 * once)


@pytest.mark.parametrize(("outer_mm", "inner_mm"), [(60, 0), (60, 20), (60, 59.9)])
def test_friction_radius_by_integration(outer_mm, inner_mm):
    """Second witness: r weighted with its own circumference, summed over thin rings."""
    edges = np.linspace(inner_mm / 2, outer_mm / 2, 20001)
    middles = (edges[1:] + edges[:-1]) / 2
    weighted = (middles * middles).sum() / middles.sum()
    got = friction_radius_mm(outer_mm=outer_mm, inner_mm=inner_mm)
    assert got == pytest.approx(weighted, rel=1e-6)


def test_impossible_joints_are_refused():
    """Each with its value and a remedy."""
    with pytest.raises(PartError, match="a ring from 30 to 30 mm"):
        friction_radius_mm(outer_mm=30, inner_mm=30)
    with pytest.raises(PartError, match="nut factor is 2;"):
        tightening_torque_nmm(100, diameter_mm=5, nut_factor=2)
    with pytest.raises(PartError, match="preload is -1 N"):
        friction_force_n(-1, friction=0.2)
    with pytest.raises(PartError, match="friction is 20;"):
        friction_force_n(1, friction=20)
    with pytest.raises(PartError, match="slip faces is 0"):
        slip_resistance_n(1, friction=0.2, faces=0)
