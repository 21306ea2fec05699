"""Round plates against printed examples, and against slopes summed from the middle outward."""

import math

import numpy as np
import pytest

from platekit.errors import PartError
from platekit.formulas.plates import Slab
from platekit.formulas.round_plates import (
    round_clamped_centre,
    round_clamped_even,
    round_resting_centre,
    round_resting_even,
)

INCH = 25.4
PSI = 0.006894757  # MPa
LBF = 4.4482216  # N

PRINTED = Slab(thickness_mm=INCH, modulus_mpa=30e6 * PSI)


def test_clamped_under_a_point_load_as_printed():
    """Timoshenko, Strength of Materials II, 3rd ed., p. 96-103, quoted in a manual (looked up)."""
    bent = round_clamped_centre(
        PRINTED, radius_mm=40 * INCH, load_n=7539.82 * LBF, load_radius_mm=0
    )
    assert bent.sag_mm / INCH == pytest.approx(0.0874, rel=0.002)
    assert bent.edge_stress_mpa / PSI == pytest.approx(3600, rel=0.001)


def test_clamped_under_pressure_as_printed():
    """The same source (looked up): 6 psi -> 0.0874 in, 7200 psi, 780 lb in/in in the middle.

    The plate is an inch thick, so the moment is a sixth of the stress.
    """
    bent = round_clamped_even(PRINTED, radius_mm=40 * INCH, pressure_mpa=6 * PSI)
    assert bent.sag_mm / INCH == pytest.approx(0.0874, rel=0.002)
    assert bent.edge_stress_mpa / PSI == pytest.approx(7200, rel=0.001)
    assert bent.centre_stress_mpa / PSI / 6 == pytest.approx(780, rel=0.001)


def test_first_yield_as_printed():
    """Boresi, Advanced Mechanics of Materials, ch. 13 Example 3, p. 499 (looked up).

    4.20 MPa, half of it with a factor of two, and 0.36 mm.
    """
    cover = Slab(thickness_mm=10, modulus_mpa=200e3, poisson=0.29)
    at_yield = 315 / round_clamped_even(cover, radius_mm=100, pressure_mpa=1).stress_mpa
    assert at_yield == pytest.approx(4.2, rel=0.001)
    assert at_yield / 2 == pytest.approx(2.1, rel=0.001)
    sag = round_clamped_even(cover, radius_mm=100, pressure_mpa=at_yield).sag_mm
    assert sag == pytest.approx(0.36, rel=0.006)


def test_resting_under_pressure_as_printed():
    """Roark, ch. 11 example 1 (from memory, the sag to half a thousandth): 9240 psi, 0.0883 in."""
    lid = Slab(thickness_mm=0.2 * INCH, modulus_mpa=30e6 * PSI, poisson=0.285)
    bent = round_resting_even(lid, radius_mm=10 * INCH, pressure_mpa=3 * PSI)
    assert bent.sag_mm / INCH == pytest.approx(0.0883, rel=0.006)
    assert bent.stress_mpa / PSI == pytest.approx(9240, rel=0.002)


SHEET = Slab(thickness_mm=6, modulus_mpa=8000, poisson=0.25)
RADIUS_MM = 150.0


def _summed(load_n, spread_mm, *, clamped):
    """Return sag, middle and rim moment of SHEET, `load_n` spread over a circle, by summing.

    Slope p of a round plate: d/dr((1/r) d(r p)/dr) = Q/D, Q the shear a mm at r; moments
    D (p' + nu p/r). Both integrals by the trapezium rule; one free turn fits the rim.
    """
    d = SHEET.modulus_mpa * 6**3 / (12 * (1 - 0.25**2))
    r = np.linspace(0, RADIUS_MM, 200001)[1:]
    inside = np.minimum(r, spread_mm) ** 2 / spread_mm**2
    shear = load_n * inside / (2 * np.pi * r)

    def run(values, start):
        steps = (values[1:] + values[:-1]) / 2 * np.diff(r)
        return start + np.concatenate([[0.0], np.cumsum(steps)])

    bowl = run(shear / d, 0.0)
    bowed = run(bowl * r, 0.0) / r
    nu = SHEET.poisson

    def moment(slope, curve, k):
        return d * (curve[k] - slope[k] / r[k] + nu * slope[k] / r[k])

    # A turn c r adds c to the slope over r, and 2 c to (1/r) d(r p)/dr.
    turn = -bowed[-1] / r[-1] if clamped else -moment(bowed, bowl, -1) / (d * (1 + nu))
    slope, curve = bowed + turn * r, bowl + 2 * turn
    sag = abs(run(slope, 0.0)[-1])
    return sag, abs(moment(slope, curve, 0)), abs(moment(slope, curve, -1))


@pytest.mark.parametrize("case", [round_clamped_even, round_resting_even])
def test_even_pressure_by_summing(case):
    """Sag and both stresses, the load spread over the whole plate."""
    sag, middle, rim = _summed(
        0.01 * math.pi * RADIUS_MM**2, RADIUS_MM, clamped=case is round_clamped_even
    )
    bent = case(SHEET, radius_mm=RADIUS_MM, pressure_mpa=0.01)
    assert bent.sag_mm == pytest.approx(sag, rel=1e-4)
    assert bent.centre_stress_mpa == pytest.approx(6 * middle / 36, rel=1e-4)
    assert bent.edge_stress_mpa == pytest.approx(6 * rim / 36, rel=1e-4, abs=1e-9)


@pytest.mark.parametrize("case", [round_clamped_centre, round_resting_centre])
def test_centre_load_by_summing(case):
    """A load on a circle of a fifteenth of the radius: within 1 % of what the sums say."""
    sag, middle, rim = _summed(200.0, 10.0, clamped=case is round_clamped_centre)
    bent = case(SHEET, radius_mm=RADIUS_MM, load_n=200, load_radius_mm=10)
    assert sag < bent.sag_mm < 1.02 * sag
    assert bent.centre_stress_mpa == pytest.approx(6 * middle / 36, rel=0.01)
    assert bent.edge_stress_mpa == pytest.approx(6 * rim / 36, rel=0.01, abs=1e-9)


def test_a_load_as_large_as_the_plate_is_refused():
    """It is no centre load any more."""
    with pytest.raises(PartError, match="load acts on a circle of 80 mm radius in a plate of 150"):
        round_clamped_centre(SHEET, radius_mm=150, load_n=1, load_radius_mm=80)
    with pytest.raises(PartError, match="pressure is -1 MPa"):
        round_resting_even(SHEET, radius_mm=150, pressure_mpa=-1)
