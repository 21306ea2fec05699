"""Keys against printed examples."""

import math

import pytest

from platekit.errors import PartError
from platekit.formulas.keys import key_shear_mpa, key_side_pressure_mpa, key_torque_nmm
from platekit.formulas.torsion import round_shear_mpa


def test_key_shear_as_printed():
    """Sarkar, Strength of Materials, Problem 7.14, p. 194 (looked up): 45.47 MPa."""
    torque = 100e6 / (2 * math.pi * 120 / 60)
    shear = key_shear_mpa(torque, shaft_mm=100, width_mm=25, length_mm=140)
    assert shear == pytest.approx(45.47, rel=0.001)


def test_key_as_strong_as_its_shaft_as_printed():
    """Sadhu Singh, Machine Design, Example 7.4, p. 204 (looked up): 20 wide, 110.4 x 26.67."""
    torque = 50 / round_shear_mpa(1.0, diameter_mm=75)
    shear = key_shear_mpa(torque, shaft_mm=75, width_mm=20, length_mm=110.4)
    assert shear == pytest.approx(50, rel=0.001)
    pressure = key_side_pressure_mpa(torque, shaft_mm=75, height_mm=26.67, length_mm=110.4)
    assert pressure == pytest.approx(75, rel=0.001)


def test_the_torque_of_a_key_is_the_lower_of_its_two():
    """Each limit alone gives its own torque back; the lower one governs."""
    key = {"shaft_mm": 17, "width_mm": 5, "height_mm": 5, "length_mm": 20}
    soft_sides = key_torque_nmm(**key, shear_mpa=1000, pressure_mpa=60)
    soft_key = key_torque_nmm(**key, shear_mpa=20, pressure_mpa=1000)
    assert key_side_pressure_mpa(
        soft_sides, shaft_mm=17, height_mm=5, length_mm=20
    ) == pytest.approx(60)
    assert key_shear_mpa(soft_key, shaft_mm=17, width_mm=5, length_mm=20) == pytest.approx(20)
    assert key_torque_nmm(**key, shear_mpa=20, pressure_mpa=60) == min(soft_sides, soft_key)


def test_a_key_of_no_length_is_refused():
    """The message names the quantity."""
    with pytest.raises(PartError, match="key length is 0 mm; give a key length above 0"):
        key_shear_mpa(1, shaft_mm=10, width_mm=3, length_mm=0)
