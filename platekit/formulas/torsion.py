"""Twisting of straight bars: round, hollow, rectangular, and thin closed boxes.

Stresses are those of an elastic bar of one material, far from its ends, steps and keyways. The
stress raised at a step or a keyway is not in them.
"""

from __future__ import annotations

import math

from platekit.errors import PartError
from platekit.formulas.quantities import require_between, require_positive, require_zero_up

# Odd terms of the series kept: the first one left out is below 1e-9 of the sum, as they fall
# with the fifth power.
_ODD_TERMS = range(1, 80, 2)


def polar_moment_mm4(*, diameter_mm: float, bore_mm: float = 0.0) -> float:
    """Return the polar moment of a round section, pi (D^4 - d^4) / 32, in mm^4.

    Args:
        diameter_mm: Outside diameter D, above 0.
        bore_mm: Inside diameter d, from 0 to below D.

    Raises:
        PartError: A diameter is impossible, or the bore leaves no wall.

    Source:
        Any strength of materials, e.g. Gere, Mechanics of Materials, ch. 3 (from memory).
    """
    outside = require_positive(diameter_mm, "diameter", "mm")
    bore = require_zero_up(bore_mm, "bore", "mm")
    if bore >= outside:
        raise PartError(
            f"bore is {bore:g} mm in a diameter of {outside:g} mm",
            remedy="give a bore smaller than the diameter",
        )
    return math.pi * (outside**4 - bore**4) / 32


def round_shear_mpa(torque_nmm: float, *, diameter_mm: float, bore_mm: float = 0.0) -> float:
    """Return the shear stress at the skin of a round bar, 16 T D / (pi (D^4 - d^4)), in MPa.

    Args:
        torque_nmm: Torque T, 0 or more.
        diameter_mm: Outside diameter D.
        bore_mm: Inside diameter d; 0 is a solid bar.

    Raises:
        PartError: A number is impossible.

    Source:
        Gere, Mechanics of Materials, ch. 3 (from memory).
    """
    torque = require_zero_up(torque_nmm, "torque", "N mm")
    return torque * diameter_mm / (2 * polar_moment_mm4(diameter_mm=diameter_mm, bore_mm=bore_mm))


def round_diameter_mm(torque_nmm: float, *, shear_mpa: float, bore_ratio: float = 0.0) -> float:
    """Return the outside diameter at which a round bar carries `torque_nmm` at `shear_mpa`.

    D = (16 T / (pi tau (1 - r^4)))^(1/3), r the bore over the diameter.

    Args:
        torque_nmm: Torque T, 0 or more.
        shear_mpa: Shear stress tau allowed at the skin.
        bore_ratio: Bore over outside diameter, from 0 to 0.99.

    Raises:
        PartError: A number is impossible.

    Source:
        Gere, Mechanics of Materials, ch. 3 (from memory).
    """
    torque = require_zero_up(torque_nmm, "torque", "N mm")
    shear = require_positive(shear_mpa, "shear stress", "MPa")
    ratio = require_between(bore_ratio, "bore ratio", 0.0, 0.99)
    return math.cbrt(16 * torque / (math.pi * shear * (1 - ratio**4)))


def round_twist_deg(
    torque_nmm: float,
    *,
    length_mm: float,
    shear_modulus_mpa: float,
    diameter_mm: float,
    bore_mm: float = 0.0,
) -> float:
    """Return the angle by which a round bar twists over its length, T L / (G J), in degrees.

    Args:
        torque_nmm: Torque T, 0 or more.
        length_mm: Length L between the two ends that turn against each other.
        shear_modulus_mpa: Shear modulus G.
        diameter_mm: Outside diameter.
        bore_mm: Inside diameter; 0 is a solid bar.

    Raises:
        PartError: A number is impossible.

    Source:
        Gere, Mechanics of Materials, ch. 3 (from memory).
    """
    polar_mm4 = polar_moment_mm4(diameter_mm=diameter_mm, bore_mm=bore_mm)
    return _twist_deg(torque_nmm, length_mm, shear_modulus_mpa, polar_mm4)


def rectangle_torsion_constant_mm4(*, long_mm: float, short_mm: float) -> float:
    """Return the torsion constant of a rectangular section, in mm^4.

    J = a b^3 / 3 (1 - (192 / pi^5) (b/a) sum over odd n of tanh(n pi a / (2 b)) / n^5), with a
    the long and b the short side. A section given the other way round is turned.

    Raises:
        PartError: A side is not above 0.

    Source:
        Saint-Venant's solution: Timoshenko & Goodier, Theory of Elasticity, torsion of
        rectangular bars (from memory).
    """
    long, short = _sides(long_mm, short_mm)
    series = sum(math.tanh(n * math.pi * long / (2 * short)) / n**5 for n in _ODD_TERMS)
    return long * short**3 / 3 * (1 - 192 / math.pi**5 * short / long * series)


def rectangle_shear_mpa(torque_nmm: float, *, long_mm: float, short_mm: float) -> float:
    """Return the largest shear stress of a twisted rectangular bar, in MPa.

    It stands in the middle of the long side: tau = (T b / J) (1 - (8 / pi^2) sum over odd n of
    1 / (n^2 cosh(n pi a / (2 b)))).

    Raises:
        PartError: A side is not above 0, or the torque is below 0.

    Source:
        Saint-Venant's solution: Timoshenko & Goodier, Theory of Elasticity, torsion of
        rectangular bars (from memory).
    """
    torque = require_zero_up(torque_nmm, "torque", "N mm")
    long, short = _sides(long_mm, short_mm)
    # Beyond this the cosine overflows and its reciprocal has long been nothing.
    angles = ((n, n * math.pi * long / (2 * short)) for n in _ODD_TERMS)
    series = sum(1 / (n**2 * math.cosh(angle)) for n, angle in angles if angle < 700)
    constant = rectangle_torsion_constant_mm4(long_mm=long, short_mm=short)
    return torque * short / constant * (1 - 8 / math.pi**2 * series)


def rectangle_twist_deg(
    torque_nmm: float,
    *,
    length_mm: float,
    shear_modulus_mpa: float,
    long_mm: float,
    short_mm: float,
) -> float:
    """Return the angle by which a rectangular bar twists over its length, in degrees.

    Both ends are free to warp; where an end is built in, the bar is a little stiffer.

    Raises:
        PartError: A number is impossible.

    Source:
        T L / (G J), J after Saint-Venant (see `rectangle_torsion_constant_mm4`).
    """
    constant = rectangle_torsion_constant_mm4(long_mm=long_mm, short_mm=short_mm)
    return _twist_deg(torque_nmm, length_mm, shear_modulus_mpa, constant)


def box_shear_mpa(torque_nmm: float, *, enclosed_mm2: float, wall_mm: float) -> float:
    """Return the mean shear in the wall of a thin closed box, T / (2 A t), in MPa.

    Args:
        torque_nmm: Torque T, 0 or more.
        enclosed_mm2: Area A inside the middle line of the wall, not inside its outer face.
        wall_mm: Thickness t of the wall where the stress is asked for. Thin means below about a
            tenth of the box's width; for a thicker wall this says too little.

    Raises:
        PartError: A number is impossible.

    Source:
        Bredt's first formula, Gere, Mechanics of Materials, ch. 3 (from memory).
    """
    torque = require_zero_up(torque_nmm, "torque", "N mm")
    area = require_positive(enclosed_mm2, "enclosed area", "mm2")
    return torque / (2 * area * require_positive(wall_mm, "wall", "mm"))


def box_twist_deg(
    torque_nmm: float,
    *,
    length_mm: float,
    shear_modulus_mpa: float,
    enclosed_mm2: float,
    girth_mm: float,
    wall_mm: float,
) -> float:
    """Return the twist of a thin closed box of one wall thickness, T L S / (4 A^2 G t), in degrees.

    Args:
        torque_nmm: Torque T, 0 or more.
        length_mm: Length L of the box.
        shear_modulus_mpa: Shear modulus G in the plane of the wall.
        enclosed_mm2: Area A inside the middle line of the wall.
        girth_mm: Length S of that middle line.
        wall_mm: Thickness t.

    The corners are taken as glued; joints that slip make the box far softer.

    Raises:
        PartError: A number is impossible.

    Source:
        Bredt's second formula, Gere, Mechanics of Materials, ch. 3 (from memory).
    """
    area = require_positive(enclosed_mm2, "enclosed area", "mm2")
    girth = require_positive(girth_mm, "girth", "mm")
    constant = 4 * area**2 * require_positive(wall_mm, "wall", "mm") / girth
    return _twist_deg(torque_nmm, length_mm, shear_modulus_mpa, constant)


def _sides(long_mm: float, short_mm: float) -> tuple[float, float]:
    sides = (require_positive(long_mm, "long side", "mm"), require_positive(short_mm, "short side"))
    return max(sides), min(sides)


def _twist_deg(
    torque_nmm: float, length_mm: float, shear_modulus_mpa: float, constant_mm4: float
) -> float:
    torque = require_zero_up(torque_nmm, "torque", "N mm")
    length = require_positive(length_mm, "length", "mm")
    modulus = require_positive(shear_modulus_mpa, "shear modulus", "MPa")
    return math.degrees(torque * length / (modulus * constant_mm4))
