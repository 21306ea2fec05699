"""Twisted bars against printed examples, a printed table and a stress function by differences."""

import math

import numpy as np
import pytest

from platekit.errors import PartError
from platekit.formulas.torsion import (
    box_shear_mpa,
    box_twist_deg,
    polar_moment_mm4,
    rectangle_shear_mpa,
    rectangle_torsion_constant_mm4,
    rectangle_twist_deg,
    round_diameter_mm,
    round_shear_mpa,
    round_twist_deg,
)


def test_hollow_shaft_as_printed():
    """Gere, Mechanics of Materials, Example 3-6, p. 214 (looked up): 58.2 MPa, strain 0.0022."""
    shear = round_shear_mpa(4e6, diameter_mm=80, bore_mm=60)
    assert shear == pytest.approx(58.2, rel=0.002)
    assert shear / 27e3 == pytest.approx(0.0022, rel=0.025)


def test_solid_and_hollow_shaft_by_stress():
    """Gere, Example 3-2, p. 197 (looked up): 1200 N m at 40 MPa, 53.5 mm solid, 63.7 hollow."""
    assert round_diameter_mm(1.2e6, shear_mpa=40) == pytest.approx(53.5, rel=0.002)
    assert round_diameter_mm(1.2e6, shear_mpa=40, bore_ratio=0.8) == pytest.approx(63.7, rel=0.002)


def test_solid_and_hollow_shaft_by_twist():
    """Gere, Example 3-2 (ratios looked up; 0.75 deg/m and 78 GPa from memory): 1.14 and 0.47."""

    def diameter_at_mm(ratio):
        low, high = 10.0, 200.0
        while high - low > 1e-9:
            middle = (low + high) / 2
            twist = round_twist_deg(
                1.2e6,
                length_mm=1000,
                shear_modulus_mpa=78e3,
                diameter_mm=middle,
                bore_mm=ratio * middle,
            )
            low, high = (middle, high) if twist > 0.75 else (low, middle)
        return low

    solid, hollow = diameter_at_mm(0.0), diameter_at_mm(0.8)
    # The ratio is taken between the larger of the two demands on each, as in the book.
    solid = max(solid, round_diameter_mm(1.2e6, shear_mpa=40))
    hollow = max(hollow, round_diameter_mm(1.2e6, shear_mpa=40, bore_ratio=0.8))
    assert hollow / solid == pytest.approx(1.14, rel=0.005)
    assert hollow**2 * (1 - 0.64) / solid**2 == pytest.approx(0.47, rel=0.01)


def test_shear_over_a_round_section_adds_up_to_the_torque():
    """Rings of stress, radius and area, summed by the midpoint rule."""
    outside, bore, torque = 30.0, 12.0, 5e4
    edges = np.linspace(bore / 2, outside / 2, 20001)
    middle = (edges[1:] + edges[:-1]) / 2
    stress = round_shear_mpa(torque, diameter_mm=outside, bore_mm=bore) * middle / (outside / 2)
    assert np.sum(stress * middle * 2 * np.pi * middle * np.diff(edges)) == pytest.approx(torque)


@pytest.mark.parametrize(
    ("ratio", "alpha", "beta"),
    [
        pytest.param(1.0, 0.208, 0.141, id="1.0"),
        pytest.param(1.5, 0.231, 0.196, id="1.5"),
        pytest.param(2.0, 0.246, 0.229, id="2.0"),
        pytest.param(2.5, 0.258, 0.249, id="2.5"),
        pytest.param(3.0, 0.267, 0.263, id="3.0"),
        pytest.param(4.0, 0.282, 0.281, id="4.0"),
        pytest.param(5.0, 0.291, 0.291, id="5.0"),
        pytest.param(10.0, 0.312, 0.312, id="10"),
        pytest.param(1e4, 1 / 3, 1 / 3, id="endless"),
    ],
)
def test_rectangular_bar_as_tabulated(ratio, alpha, beta):
    """Timoshenko's table of tau = T/(alpha a b^2), J = beta a b^3 (from memory, three figures)."""
    constant = rectangle_torsion_constant_mm4(long_mm=2 * ratio, short_mm=2)
    assert constant / (ratio * 2 * 8) == pytest.approx(beta, abs=7e-4)
    shear = rectangle_shear_mpa(100, long_mm=2 * ratio, short_mm=2)
    assert 100 / (shear * ratio * 2 * 4) == pytest.approx(alpha, abs=7e-4)


def test_rectangular_bar_against_a_stress_function_by_differences():
    """Stress function, laplace(f) = -2 on a grid: J is twice its sum, tau = T/J times its slope."""
    long, short, n = 3.0, 2.0, 41
    x, y = np.linspace(0, long, 3 * (n - 1) // 2 + 1), np.linspace(0, short, n)
    h = y[1]
    inner = (len(x) - 2, len(y) - 2)
    # The plain five-point star, solved by the sine modes of the grid.
    kx, ky = np.arange(1, inner[0] + 1), np.arange(1, inner[1] + 1)
    sx = np.sin(np.outer(kx, kx) * np.pi / (inner[0] + 1)) * np.sqrt(2 / (inner[0] + 1))
    sy = np.sin(np.outer(ky, ky) * np.pi / (inner[1] + 1)) * np.sqrt(2 / (inner[1] + 1))
    ex = 2 - 2 * np.cos(kx * np.pi / (inner[0] + 1))
    ey = 2 - 2 * np.cos(ky * np.pi / (inner[1] + 1))
    f = sx @ ((sx @ np.full(inner, 2 * h * h) @ sy) / (ex[:, None] + ey[None, :])) @ sy
    constant = 2 * f.sum() * h * h
    assert rectangle_torsion_constant_mm4(long_mm=long, short_mm=short) == pytest.approx(
        constant, rel=2e-3
    )
    middle = f[inner[0] // 2]
    slope = (4 * middle[0] - middle[1]) / (2 * h)
    assert rectangle_shear_mpa(1.0, long_mm=long, short_mm=short) == pytest.approx(
        slope / constant, rel=5e-3
    )


def test_turning_a_rectangle_changes_nothing():
    """The long side is the longer one, whichever way round they are given."""
    one = rectangle_shear_mpa(500, long_mm=40, short_mm=6)
    assert rectangle_shear_mpa(500, long_mm=6, short_mm=40) == one


def test_thin_ring_is_a_hollow_shaft():
    """Bredt's box and the exact tube agree as the wall thins: 1 mm on a 200 mm middle line."""
    area, girth = math.pi * 100**2, math.pi * 200
    exact = round_shear_mpa(1e6, diameter_mm=201, bore_mm=199)
    assert box_shear_mpa(1e6, enclosed_mm2=area, wall_mm=1) == pytest.approx(exact, rel=0.01)
    tube = round_twist_deg(1e6, length_mm=500, shear_modulus_mpa=8e4, diameter_mm=201, bore_mm=199)
    box = box_twist_deg(
        1e6,
        length_mm=500,
        shear_modulus_mpa=8e4,
        enclosed_mm2=area,
        girth_mm=girth,
        wall_mm=1,
    )
    assert box == pytest.approx(tube, rel=0.001)


def test_a_slit_strip_is_far_softer_than_a_box():
    """Open strip J = S t^3/3 against the closed box 4 A^2 t/S: the books' favourite warning."""
    closed = box_twist_deg(
        1e4, length_mm=300, shear_modulus_mpa=620, enclosed_mm2=3600, girth_mm=240, wall_mm=3
    )
    slit = rectangle_twist_deg(1e4, length_mm=300, shear_modulus_mpa=620, long_mm=240, short_mm=3)
    assert slit / closed == pytest.approx(4 * 3600**2 * 3 / 240 / (240 * 27 / 3), rel=0.01)


def test_impossible_bars_are_refused():
    """The message names the quantity, the value and the remedy."""
    with pytest.raises(PartError, match=r"bore is 20 mm in a diameter of 20 mm; give a bore"):
        polar_moment_mm4(diameter_mm=20, bore_mm=20)
    with pytest.raises(PartError, match="shear modulus is 0 MPa"):
        round_twist_deg(1, length_mm=1, shear_modulus_mpa=0, diameter_mm=1)
    with pytest.raises(PartError, match="bore ratio is 1"):
        round_diameter_mm(1, shear_mpa=1, bore_ratio=1)
