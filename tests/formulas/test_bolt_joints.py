"""Bolts in shear, bearing and tension against printed examples and known resistances."""

import math

import pytest

from platekit.errors import PartError, UnknownNameError
from platekit.formulas.bolt_joints import (
    bearing_force_n,
    bearing_stress_mpa,
    bolt_area_mm2,
    bolt_shear_stress_mpa,
    bolt_tension_n,
    metal_bearing_resistance_n,
    shear_diameter_mm,
    steel_shear_resistance_n,
    washer_limit_n,
)


@pytest.mark.parametrize(
    ("force_n", "allowed_mpa", "diameter_mm"),
    [
        # Bhandari, Design of Machine Elements, Examples 7.3 p. 233 and 7.4 p. 235 (looked up),
        # core diameters; allowed in the second: yield 380, factor 3, shear half of tension.
        (12093.4, 80, 13.87),
        (11833.3, 380 / 3 / 2, 15.42),
        # Sadhu Singh, Machine Design, Example 7.1 p. 195 and Example 7.6 p. 205 (looked up).
        (3315.73, 30, 11.86),
        (11936.6, 45, 18.38),
    ],
)
def test_diameters_of_printed_examples(force_n, allowed_mpa, diameter_mm):
    """Least diameter by shear, and the stress in it comes back."""
    got = shear_diameter_mm(force_n, allowed_mpa=allowed_mpa)
    assert got == pytest.approx(diameter_mm, abs=0.02)
    assert bolt_shear_stress_mpa(force_n, diameter_mm=got) == pytest.approx(allowed_mpa)


def test_nominal_diameters_of_printed_examples():
    """Bhandari 7.3 and 7.4 take the core as 0.8 of the nominal: 17.34 and 19.28 mm, so M20."""
    for force_n, allowed_mpa, nominal_mm in ((12093.4, 80, 17.34), (11833.3, 63.33, 19.28)):
        core_mm = shear_diameter_mm(force_n, allowed_mpa=allowed_mpa)
        assert core_mm / 0.8 == pytest.approx(nominal_mm, abs=0.02)


def test_stress_in_the_bolts_of_a_coupling():
    """Sarkar, Strength of Materials, Problem 7.14 p. 194 (looked up): 28.14 MPa.

    100 kW at 120 turns per minute, 6 bolts of 20 mm on a circle of 300 mm.
    """
    force_n = 1000 * 100e3 / (2 * math.pi * 120 / 60) / (6 * 150)
    assert bolt_shear_stress_mpa(force_n, diameter_mm=20) == pytest.approx(28.14, abs=0.05)


def test_stresses_of_the_bracket_example():
    """Shigley, Example 8-7 (results from memory): 21.0 kN on M16 and on a 10 mm bar."""
    assert bolt_shear_stress_mpa(21.0e3, diameter_mm=16) == pytest.approx(104, abs=0.6)
    pressure = bearing_stress_mpa(21.0e3, diameter_mm=16, thickness_mm=10)
    assert pressure == pytest.approx(131, abs=0.6)
    assert bearing_force_n(pressure, diameter_mm=16, thickness_mm=10) == pytest.approx(21.0e3)


def test_two_planes_halve_the_stress():
    """A bolt through a fork is cut twice."""
    once = bolt_shear_stress_mpa(900, diameter_mm=5)
    assert bolt_shear_stress_mpa(900, diameter_mm=5, planes=2) == pytest.approx(once / 2)
    assert shear_diameter_mm(900, allowed_mpa=once / 2, planes=2) == pytest.approx(5)


@pytest.mark.parametrize(
    ("bolt_class", "ultimate_mpa", "area_mm2", "resistance_kn"),
    [
        # Design shear resistances of tables for steelwork to EN 1993-1-8 (from memory), stress
        # areas of ISO 898-1.
        ("8.8", 800, 84.3, 32.4),
        ("8.8", 800, 157, 60.3),
        ("8.8", 800, 245, 94.1),
        ("4.6", 400, 245, 47.0),
        ("10.9", 1000, 245, 98.0),
    ],
)
def test_steel_bolts_in_shear(bolt_class, ultimate_mpa, area_mm2, resistance_kn):
    """Threads in the plane, one plane."""
    got = steel_shear_resistance_n(ultimate_mpa, area_mm2, bolt_class=bolt_class)
    assert got == pytest.approx(1000 * resistance_kn, rel=0.002)


def test_a_plain_shank_spares_10_9():
    """Factor 0.6 instead of 0.5 (EN 1993-1-8, table 3.4, from memory); 8.8 gains area only."""
    for bolt_class, gain in (("10.9", 1.2), ("8.8", 1.0)):
        threaded = steel_shear_resistance_n(1000, 245, bolt_class=bolt_class)
        plain = steel_shear_resistance_n(1000, 245, bolt_class=bolt_class, threads_in_plane=False)
        assert plain / threaded == pytest.approx(gain)


def _around_m20(**distances_mm):
    # A roomy hole, from which each case takes one distance away.
    roomy_mm = {"end_mm": 66, "edge_mm": 33}
    return metal_bearing_resistance_n(
        sheet_ultimate_mpa=360,
        bolt_ultimate_mpa=800,
        diameter_mm=20,
        hole_mm=22,
        thickness_mm=10,
        **(roomy_mm | distances_mm),
    )


def test_a_roomy_hole_bears_twice_the_ultimate_strength():
    """2.5 / 1.25 fu d t from e1 = 3 d0 and e2 = 1.5 d0 on (EN 1993-1-8, from memory)."""
    assert _around_m20() == pytest.approx(2 * 360 * 20 * 10)
    assert _around_m20(end_mm=500, edge_mm=500) == pytest.approx(2 * 360 * 20 * 10)
    # 3.75 d0 between holes along the force and 3 d0 across cost nothing either.
    assert _around_m20(pitch_mm=82.5, gauge_mm=66) == pytest.approx(2 * 360 * 20 * 10)


@pytest.mark.parametrize(
    ("distances_mm", "share"),
    [
        # At the least distances of table 3.3: ab = 0.4 and 0.4833, k1 = 1.66 of 2.5.
        ({"end_mm": 26.4}, 0.4),
        ({"pitch_mm": 48.4}, 2.2 / 3 - 0.25),
        ({"edge_mm": 26.4}, 1.66 / 2.5),
        ({"gauge_mm": 52.8}, 1.66 / 2.5),
        ({"end_mm": 26.4, "edge_mm": 26.4}, 0.4 * 1.66 / 2.5),
    ],
)
def test_near_edges_cost_what_the_table_says(distances_mm, share):
    """Each distance at its least, the rest roomy (EN 1993-1-8, table 3.4, from memory)."""
    assert _around_m20(**distances_mm) / _around_m20() == pytest.approx(share)


def test_a_soft_bolt_limits_hard_sheet():
    """Fub / fu below 1 caps ab: a 4.6 bolt in sheet of 500 MPa bears 400 / 500 of it."""

    def resistance(bolt_mpa):
        return metal_bearing_resistance_n(
            sheet_ultimate_mpa=500, bolt_ultimate_mpa=bolt_mpa, diameter_mm=8, hole_mm=9,
            thickness_mm=3, end_mm=30, edge_mm=30,
        )  # fmt: skip

    assert resistance(400) / resistance(800) == pytest.approx(0.8)


def test_bolt_and_washer_of_printed_examples():
    """Porteous & Kermani, Structural Timber Design to Eurocode 5, Example 12.8.1 (looked up).

    M12 of 400 MPa (As 84.3 mm2): 33.7 kN; washer 48 over 13 mm on wood of 2.5 MPa: 12.6 kN.
    University course in timber structures, example C3 (looked up), wood of 2.7 MPa: 13568 N.
    """
    assert bolt_tension_n(400, 84.3) == pytest.approx(33700, rel=0.003)
    assert washer_limit_n(2.5, washer_mm=48, hole_mm=13) == pytest.approx(12600, rel=0.005)
    assert washer_limit_n(2.7, washer_mm=48, hole_mm=13) == pytest.approx(13568, rel=0.003)


def test_areas_are_those_of_circles():
    """A circle of 10 mm has 78.54 mm2."""
    assert bolt_area_mm2(10) == pytest.approx(78.54, abs=0.005)


def test_impossible_bolts_are_refused():
    """Each with its value and a remedy."""
    with pytest.raises(PartError, match="bolt diameter is 0 mm"):
        bolt_area_mm2(0)
    with pytest.raises(PartError, match=r"end distance is 20 mm .*; give 26.4 mm or more"):
        _around_m20(end_mm=20)
    with pytest.raises(PartError, match="hole no smaller than its bolt"):
        metal_bearing_resistance_n(
            sheet_ultimate_mpa=360, bolt_ultimate_mpa=800, diameter_mm=20, hole_mm=19,
            thickness_mm=10, end_mm=60, edge_mm=60,
        )  # fmt: skip
    with pytest.raises(PartError, match="washer wider than its hole"):
        washer_limit_n(2.5, washer_mm=10, hole_mm=12)
    with pytest.raises(UnknownNameError, match=r"bolt class '8\.9'"):
        steel_shear_resistance_n(800, 245, bolt_class="8.9")
    with pytest.raises(PartError, match="shear planes is 0"):
        bolt_shear_stress_mpa(10, diameter_mm=5, planes=0)
