"""Rectangular plates, resting on all four edges or clamped along them: even and centre loads.

Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells: tables 8 and 35 (even pressure), 23
and 37 (centre load), from memory; the tests work them out again by double series and Ritz sums, the
edge moment of table 37 by Roark's figure for it. Stresses under a centre load by Roark, Formulas
for Stress and Strain, table 11.4, cases 1b and 8b (looked up). Sags hold for any Poisson's ratio,
stresses under an even pressure for 0.3: in the middle of a square they go with 1 + nu, so that at
0.1 they are said 18 % too high. Thin plates of one modulus (see `plates`). Estimates.

Resting corners are held down: a plate that may lift there sags more.
"""

from __future__ import annotations

import math

import numpy as np

from platekit.errors import PartError
from platekit.formulas.plates import PlateBending, Slab, load_circle_mm
from platekit.formulas.quantities import require_positive, require_zero_up

# Long over short side; endless is the strip.
_PRESSED_RATIOS = (1.0, 1.1, 1.2, 1.3, 1.4, 1.5, 1.6, 1.7, 1.8, 1.9, 2.0, 3.0, 4.0, 5.0, math.inf)
# w = alpha q a^4 / D and M = beta q a^2, a the short side: table 8.
_RESTING_SAG = (
    *(0.00406, 0.00485, 0.00564, 0.00638, 0.00705, 0.00772, 0.00830, 0.00883, 0.00931, 0.00974),
    *(0.01013, 0.01223, 0.01282, 0.01297, 0.01302),
)
_RESTING_MOMENT = (
    *(0.0479, 0.0554, 0.0627, 0.0694, 0.0755, 0.0812, 0.0862, 0.0908, 0.0948, 0.0985),
    *(0.1017, 0.1189, 0.1235, 0.1246, 0.1250),
)
# Table 35. The row 2.5 is derived by a Ritz sum, since the book goes from 2 to the strip, and a
# plate is as good as a strip long before. So is the middle's 0.0267 at 1.1: the book's 0.0264, if
# remembered right, lies 1 % below the sum.
_CLAMPED_RATIOS = (1.0, 1.1, 1.2, 1.3, 1.4, 1.5, 1.6, 1.7, 1.8, 1.9, 2.0, 2.5, math.inf)
_CLAMPED_SAG = (
    *(0.00126, 0.00150, 0.00172, 0.00191, 0.00207, 0.00220),
    *(0.00230, 0.00238, 0.00245, 0.00249, 0.00254, 0.00261, 0.00260),
)
_CLAMPED_EDGE = (  # middle of the long edge
    *(0.0513, 0.0581, 0.0639, 0.0687, 0.0726, 0.0757),
    *(0.0780, 0.0799, 0.0812, 0.0822, 0.0829, 0.0840, 0.0833),
)
_CLAMPED_MIDDLE = (
    *(0.0231, 0.0267, 0.0299, 0.0327, 0.0349, 0.0368),
    *(0.0381, 0.0392, 0.0401, 0.0407, 0.0412, 0.0420, 0.0417),
)
# w = alpha P a^2 / D: tables 23 and 37.
_RESTING_POINT_RATIOS = (1.0, 1.1, 1.2, 1.4, 1.6, 1.8, 2.0, 3.0, math.inf)
_RESTING_POINT_SAG = (
    *(0.01160, 0.01265, 0.01353, 0.01484, 0.01570, 0.01620, 0.01651, 0.01690, 0.01695),
)
_CLAMPED_POINT_RATIOS = (1.0, 1.2, 1.4, 1.6, 1.8, 2.0, math.inf)
_CLAMPED_POINT_SAG = (0.00560, 0.00647, 0.00691, 0.00712, 0.00720, 0.00722, 0.00725)
_CLAMPED_POINT_EDGE = (0.1257, 0.1490, 0.1604, 0.1651, 0.1667, 0.1674, 0.168)  # M / P
# Roark's beta of case 1b and beta1 of case 8b, by the same ratios as the clamped point load.
_RESTING_POINT_BETA = (0.435, 0.650, 0.789, 0.875, 0.927, 0.958, 1.000)
_CLAMPED_POINT_BETA = (-0.238, -0.078, 0.011, 0.053, 0.068, 0.067, 0.067)


def rectangle_resting_even(
    slab: Slab, *, sides_mm: tuple[float, float], pressure_mpa: float
) -> PlateBending:
    """Return the bending of a rectangle resting on four edges under an even pressure.

    Args:
        slab: The plate's section.
        sides_mm: Both sides, in any order.
        pressure_mpa: Pressure q.

    Raises:
        PartError: A number is impossible.

    Source:
        w = alpha q a^4 / D, M = beta q a^2, a the short side, by table 8.
    """
    short, ratio = _sides(sides_mm)
    pressure = require_zero_up(pressure_mpa, "pressure", "MPa")
    sag = _between(ratio, _PRESSED_RATIOS, _RESTING_SAG)
    moment = _between(ratio, _PRESSED_RATIOS, _RESTING_MOMENT)
    return PlateBending(
        sag_mm=sag * pressure * short**4 / slab.stiffness_nmm,
        centre_stress_mpa=slab.skin_stress_mpa(moment * pressure * short**2),
        edge_stress_mpa=0.0,
    )


def rectangle_clamped_even(
    slab: Slab, *, sides_mm: tuple[float, float], pressure_mpa: float
) -> PlateBending:
    """Return the bending of a rectangle clamped along four edges under an even pressure.

    The edge stress is that in the middle of the long edge, the largest.

    Args:
        slab: The plate's section.
        sides_mm: Both sides, in any order.
        pressure_mpa: Pressure q.

    Raises:
        PartError: A number is impossible.

    Source:
        w = alpha q a^4 / D, M = beta q a^2, a the short side, by table 35.
    """
    short, ratio = _sides(sides_mm)
    pressure = require_zero_up(pressure_mpa, "pressure", "MPa")
    sag = _between(ratio, _CLAMPED_RATIOS, _CLAMPED_SAG)
    middle = _between(ratio, _CLAMPED_RATIOS, _CLAMPED_MIDDLE)
    edge = _between(ratio, _CLAMPED_RATIOS, _CLAMPED_EDGE)
    return PlateBending(
        sag_mm=sag * pressure * short**4 / slab.stiffness_nmm,
        centre_stress_mpa=slab.skin_stress_mpa(middle * pressure * short**2),
        edge_stress_mpa=slab.skin_stress_mpa(edge * pressure * short**2),
    )


def rectangle_resting_centre(
    slab: Slab, *, sides_mm: tuple[float, float], load_n: float, load_radius_mm: float
) -> PlateBending:
    """Return the bending of a rectangle resting on four edges, loaded in the middle.

    Args:
        slab: The plate's section.
        sides_mm: Both sides, in any order.
        load_n: Load P.
        load_radius_mm: Radius of the circle it stands on, 0 for a point; small beside the sides.

    Raises:
        PartError: A number is impossible, or the load's circle is over a quarter of the short side.

    Source:
        w = alpha P a^2 / D by table 23; stress 3 P ((1 + nu) ln(2 a / (pi r')) + beta) / (2 pi t^2)
        by Roark's case 1b, a the short side and r' the `load_circle_mm`.
    """
    short, ratio = _sides(sides_mm)
    load = require_zero_up(load_n, "load", "N")
    sag = _between(ratio, _RESTING_POINT_RATIOS, _RESTING_POINT_SAG)
    beta = _between(ratio, _CLAMPED_POINT_RATIOS, _RESTING_POINT_BETA)
    return PlateBending(
        sag_mm=sag * load * short**2 / slab.stiffness_nmm,
        centre_stress_mpa=_under_load_mpa(slab, short, load, load_radius_mm, beta),
        edge_stress_mpa=0.0,
    )


def rectangle_clamped_centre(
    slab: Slab, *, sides_mm: tuple[float, float], load_n: float, load_radius_mm: float
) -> PlateBending:
    """Return the bending of a rectangle clamped along four edges, loaded in the middle.

    The edge stress is that in the middle of the long edge, the largest.

    Args:
        slab: The plate's section.
        sides_mm: Both sides, in any order.
        load_n: Load P.
        load_radius_mm: Radius of the circle it stands on, 0 for a point; small beside the sides.

    Raises:
        PartError: A number is impossible, or the load's circle is over a quarter of the short side.

    Source:
        w = alpha P a^2 / D and the edge's moment by table 37; stress in the middle as
        `rectangle_resting_centre` with beta1 of Roark's case 8b.
    """
    short, ratio = _sides(sides_mm)
    load = require_zero_up(load_n, "load", "N")
    sag = _between(ratio, _CLAMPED_POINT_RATIOS, _CLAMPED_POINT_SAG)
    edge = _between(ratio, _CLAMPED_POINT_RATIOS, _CLAMPED_POINT_EDGE)
    beta = _between(ratio, _CLAMPED_POINT_RATIOS, _CLAMPED_POINT_BETA)
    return PlateBending(
        sag_mm=sag * load * short**2 / slab.stiffness_nmm,
        centre_stress_mpa=_under_load_mpa(slab, short, load, load_radius_mm, beta),
        edge_stress_mpa=slab.skin_stress_mpa(edge * load),
    )


def _sides(sides_mm: tuple[float, float]) -> tuple[float, float]:
    """Return the short side, and the long over the short one."""
    one, other = (require_positive(side, "side", "mm") for side in sides_mm)
    return min(one, other), max(one, other) / min(one, other)


def _between(ratio: float, ratios: tuple[float, ...], values: tuple[float, ...]) -> float:
    """Return the value at `ratio` of long to short side, on straight lines over short to long.

    Turned over, the endless strip stands at 0 and every shape lies within the table.
    """
    turned = 1 / np.array(ratios)
    return float(np.interp(1 / ratio, turned[::-1], values[::-1]))


def _under_load_mpa(
    slab: Slab, short_mm: float, load_n: float, load_radius_mm: float, beta: float
) -> float:
    circle_mm = load_circle_mm(load_radius_mm, thickness_mm=slab.thickness_mm)
    if circle_mm > short_mm / 4:
        raise PartError(
            f"load acts on a circle of {circle_mm:g} mm radius in a plate {short_mm:g} mm wide",
            remedy="take it as an even pressure, or the plate as larger or thinner",
        )
    spread = (1 + slab.poisson) * math.log(2 * short_mm / (math.pi * circle_mm))
    return 3 * load_n * (spread + beta) / (2 * math.pi * slab.thickness_mm**2)
