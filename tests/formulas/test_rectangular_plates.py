"""Rectangular plates against a benchmark, double sine series and sums of clamped shapes."""

import math

import numpy as np
import pytest

from platekit.errors import PartError
from platekit.formulas.plates import Slab
from platekit.formulas.rectangular_plates import (
    rectangle_clamped_centre,
    rectangle_clamped_even,
    rectangle_resting_centre,
    rectangle_resting_even,
)

# A thin plate of stiffness D = 1 N mm, so that the sag is the table's coefficient.
UNIT = Slab(thickness_mm=0.01, modulus_mpa=12e6 * (1 - 0.3**2))
SKIN = 6 / 0.01**2  # stress at its skin over the moment
RATIOS = (1.0, 1.05, 1.2, 1.35, 1.5, 1.7, 1.9, 2.0, 2.6, 3.0, 6.0)


def test_square_plate_with_a_centre_load_as_published():
    """An open finite element benchmark (looked up): side 10, t 0.1, E 30e6, P 40 -> 0.0168."""
    plate = Slab(thickness_mm=0.1, modulus_mpa=30e6)
    bent = rectangle_resting_centre(plate, sides_mm=(10, 10), load_n=40, load_radius_mm=0)
    assert bent.sag_mm == pytest.approx(0.0168, rel=0.01)


def _series(ratio, load):
    """Return sag and both moments in the middle by Navier's double sine series, nu 0.3, D 1.

    `load` gives the term's amplitude for odd m, n over a plate 1 wide and `ratio` long.
    """
    odd = np.arange(1, 600, 2)
    m, n = odd[:, None], odd[None, :]
    kx, ky = m * np.pi, n * np.pi / ratio
    sign = (-1.0) ** ((m - 1) // 2) * (-1.0) ** ((n - 1) // 2)
    w = load(m, n, sign) / (kx**2 + ky**2) ** 2
    return (
        float(np.sum(w * sign)),
        float(np.sum(w * sign * (kx**2 + 0.3 * ky**2))),
        float(np.sum(w * sign * (ky**2 + 0.3 * kx**2))),
    )


@pytest.mark.parametrize("ratio", RATIOS)
def test_resting_under_pressure_by_series(ratio):
    """Navier's series (any book on plates): the table's last figure, 1 % between far rows."""
    sag, across, along = _series(ratio, lambda m, n, _: 16 / (np.pi**2 * m * n))
    bent = rectangle_resting_even(UNIT, sides_mm=(1, ratio), pressure_mpa=1)
    close = 0.003 if ratio <= 2 else 0.009
    assert bent.sag_mm == pytest.approx(sag, rel=close)
    assert bent.centre_stress_mpa == pytest.approx(SKIN * max(across, along), rel=close)


@pytest.mark.parametrize("ratio", RATIOS)
def test_resting_under_a_centre_load_by_series(ratio):
    """Navier's series for a point load; the table keeps four figures."""
    sag, _, _ = _series(ratio, lambda _m, _n, sign: 4 / ratio * sign)
    bent = rectangle_resting_centre(UNIT, sides_mm=(ratio, 1), load_n=1, load_radius_mm=0.1)
    assert bent.sag_mm == pytest.approx(sag, rel=0.006)


@pytest.mark.parametrize("ratio", [1.0, 1.4, 2.0, 5.0])
def test_stress_under_a_load_by_series(ratio):
    """Spread over a square of the same area as the load's circle: 3 % (a square is no circle)."""
    half = math.sqrt(math.pi) * 0.05 / 2

    def square(m, n, sign):
        kx, ky = m * np.pi, n * np.pi / ratio
        return 4 / ratio * sign * np.sin(kx * half) / (kx * half) * np.sin(ky * half) / (ky * half)

    _, across, along = _series(ratio, square)
    bent = rectangle_resting_centre(UNIT, sides_mm=(1, ratio), load_n=1, load_radius_mm=0.05)
    assert bent.centre_stress_mpa == pytest.approx(SKIN * max(across, along), rel=0.03)


def _clamped_shapes(ratio, count=9, patch=0.05):
    """Return a Ritz sum over clamped, even polynomials, each (1-x^2)^2 times another.

    "patch" is a load of 1 on a square that reaches `patch` from the middle on all four sides.

    The plate is 1 wide and `ratio` long, its middle at 0, D 1; energy is the integral of the
    square of the sum of curvatures, which is all of it where every edge is clamped.
    """
    clamp = np.polynomial.Polynomial([1, 0, -2, 0, 1])
    even = [
        np.polynomial.Legendre.basis(2 * i).convert(kind=np.polynomial.Polynomial)
        for i in range(count)
    ]
    shapes = [clamp * shape for shape in even]
    at, weight = np.polynomial.legendre.leggauss(60)
    flat, bent = (np.array([s.deriv(k)(at) if k else s(at) for s in shapes]) for k in (0, 2))
    a, b = 0.5, ratio / 2
    mass, stiff, cross = ((p * weight) @ q.T for p, q in ((flat, flat), (bent, bent), (bent, flat)))
    energy = (
        a
        * b
        * (
            np.kron(stiff, mass) / a**4
            + np.kron(mass, stiff) / b**4
            + (np.kron(cross, cross.T) + np.kron(cross.T, cross)) / (a * b) ** 2
        )
    )
    middle = np.array([s(0.0) for s in shapes])
    curved = np.array([s.deriv(2)(0.0) for s in shapes])
    edge = np.array([s.deriv(2)(1.0) for s in shapes])
    near_x, near_y = (
        np.array([s.integ()(patch / half) * half / patch for s in shapes]) for half in (a, b)
    )
    even_load = a * b * np.kron(flat @ weight, flat @ weight)
    return {
        "solve": lambda push: np.linalg.solve(energy, push),
        "even": even_load,
        "point": np.kron(middle, middle),
        "patch": np.kron(near_x, near_y),
        "sag": np.kron(middle, middle),
        "middle": np.kron(curved, middle) / a**2 + 0.3 * np.kron(middle, curved) / b**2,
        "edge": np.kron(edge, middle) / a**2,
    }


@pytest.mark.parametrize(
    "ratio", [1.0, 1.1, 1.2, 1.3, 1.4, 1.5, 1.6, 1.7, 1.8, 1.9, 2.0, 2.2, 2.5, 3.0, 4.0]
)
def test_clamped_under_pressure_by_a_ritz_sum(ratio):
    """Eighty-one shapes: the table's last figure, within 1 % between far rows."""
    ritz = _clamped_shapes(ratio)
    found = ritz["solve"](ritz["even"])
    bent = rectangle_clamped_even(UNIT, sides_mm=(1, ratio), pressure_mpa=1)
    assert bent.sag_mm == pytest.approx(ritz["sag"] @ found, rel=0.01)
    assert bent.centre_stress_mpa == pytest.approx(-SKIN * ritz["middle"] @ found, rel=0.01)
    assert bent.edge_stress_mpa == pytest.approx(SKIN * ritz["edge"] @ found, rel=0.01)


@pytest.mark.parametrize("ratio", [1.0, 1.2, 1.4, 1.6, 1.8, 2.0])
def test_clamped_under_a_centre_load_by_a_ritz_sum(ratio):
    """The point load's sag; a Ritz sum errs to the stiff side, by 0.5 % with so many shapes."""
    ritz = _clamped_shapes(ratio, count=14)
    found = ritz["solve"](ritz["point"])
    bent = rectangle_clamped_centre(UNIT, sides_mm=(1, ratio), load_n=1, load_radius_mm=0.1)
    assert bent.sag_mm == pytest.approx(ritz["sag"] @ found, rel=0.006)


@pytest.mark.parametrize("ratio", [1.0, 1.2, 1.4, 1.6, 2.0])
def test_stress_under_a_load_on_a_clamped_plate_by_a_ritz_sum(ratio):
    """Spread over a square of the same area as the load's circle, as above."""
    ritz = _clamped_shapes(ratio, count=12, patch=math.sqrt(math.pi) * 0.15 / 2)
    found = ritz["solve"](ritz["patch"])
    bent = rectangle_clamped_centre(UNIT, sides_mm=(1, ratio), load_n=1, load_radius_mm=0.15)
    assert bent.centre_stress_mpa == pytest.approx(-SKIN * ritz["middle"] @ found, rel=0.015)


@pytest.mark.parametrize(
    ("ratio", "alpha", "edge"),
    [
        pytest.param(1.0, 0.0611, 0.7542, id="1.0"),
        pytest.param(1.2, 0.0706, 0.894, id="1.2"),
        pytest.param(1.4, 0.0754, 0.962, id="1.4"),
        pytest.param(1.6, 0.0777, 0.991, id="1.6"),
        pytest.param(1.8, 0.0786, 1.000, id="1.8"),
        pytest.param(2.0, 0.0788, 1.004, id="2.0"),
        pytest.param(1e9, 0.0791, 1.008, id="strip"),
    ],
)
def test_clamped_centre_load_as_roark_has_it(ratio, alpha, edge):
    """Roark, table 11.4 case 8b (looked up): y = alpha W b^2/(E t^3), edge beta2 W/t^2."""
    plate = Slab(thickness_mm=2, modulus_mpa=1000)
    bent = rectangle_clamped_centre(plate, sides_mm=(100, 100 * ratio), load_n=3, load_radius_mm=2)
    assert bent.sag_mm == pytest.approx(alpha * 3 * 100**2 / (1000 * 8), rel=0.003)
    assert bent.edge_stress_mpa == pytest.approx(edge * 3 / 4, rel=0.003)


@pytest.mark.parametrize(
    ("ratio", "alpha"),
    [
        (1.0, 0.1267),
        (1.2, 0.1478),
        (1.4, 0.1621),
        (1.6, 0.1715),
        (1.8, 0.1770),
        (2.0, 0.1805),
        (1e9, 0.1851),
    ],
)
def test_resting_centre_load_as_roark_has_it(ratio, alpha):
    """Roark, table 11.4 case 1b (looked up): y = alpha W b^2/(E t^3), nu 0.3."""
    plate = Slab(thickness_mm=2, modulus_mpa=1000)
    bent = rectangle_resting_centre(plate, sides_mm=(100, 100 * ratio), load_n=3, load_radius_mm=2)
    assert bent.sag_mm == pytest.approx(alpha * 3 * 100**2 / (1000 * 8), rel=0.003)


def test_a_very_long_plate_is_a_strip_across():
    """Strip of unit width as a beam of stiffness D: 5/384, 1/8; built in 1/384, 1/24, 1/12."""
    resting = rectangle_resting_even(UNIT, sides_mm=(1, 1e6), pressure_mpa=1)
    clamped = rectangle_clamped_even(UNIT, sides_mm=(1, 1e6), pressure_mpa=1)
    assert resting.sag_mm == pytest.approx(5 / 384, rel=0.002)
    assert resting.centre_stress_mpa == pytest.approx(SKIN / 8, rel=0.002)
    assert clamped.sag_mm == pytest.approx(1 / 384, rel=0.002)
    assert clamped.centre_stress_mpa == pytest.approx(SKIN / 24, rel=0.002)
    assert clamped.edge_stress_mpa == pytest.approx(SKIN / 12, rel=0.002)


def test_turning_a_plate_changes_nothing():
    """The sides come in any order."""
    one = rectangle_clamped_centre(UNIT, sides_mm=(90, 40), load_n=5, load_radius_mm=3)
    assert rectangle_clamped_centre(UNIT, sides_mm=(40, 90), load_n=5, load_radius_mm=3) == one


def test_a_load_as_wide_as_the_plate_is_refused():
    """It is no centre load any more, and a side of nothing no plate."""
    with pytest.raises(PartError, match="load acts on a circle of 11 mm radius in a plate 40 mm"):
        rectangle_resting_centre(UNIT, sides_mm=(40, 90), load_n=5, load_radius_mm=11)
    with pytest.raises(PartError, match="side is 0 mm"):
        rectangle_resting_even(UNIT, sides_mm=(0, 90), pressure_mpa=1)
