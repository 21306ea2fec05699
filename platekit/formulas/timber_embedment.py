"""How hard wood presses back on a nail or bolt, and how hard that is to bend.

Embedment strength: characteristic load over diameter times thickness, from density or thickness by
equations fitted to tests. MDF has none in the code (test it to EN 383); acrylic and metals are not
wood: take their bearing stress.

All equations are EN 1995-1-1:2004, clause 8, from memory; worked examples of others agree.
"""

from __future__ import annotations

import math

from platekit.errors import PartError, UnknownNameError
from platekit.formulas.quantities import require_between, require_finite, require_positive

# Nails thicker than this count as bolts (8.3.1.1); bolts thicker than that are not covered (8.5.1).
THICKEST_NAIL_MM = 8.0
THICKEST_BOLT_MM = 30.0
# Wider than any wood or board there is: outside it a unit has slipped (g/cm3, pounds).
LIGHTEST_KG_M3, HEAVIEST_KG_M3 = 50.0, 1400.0
# 8.33: loss across the grain of solid woods, k90 = this + 0.015 d.
ACROSS_GRAIN = {"softwood": 1.35, "lvl": 1.30, "hardwood": 0.90}
ACROSS_GRAIN_PER_MM = 0.015
# 8.14 and 8.30: round nails, bolts and dowels; square and grooved nails.
YIELD_FACTORS = {"round": 0.30, "square": 0.45}
YIELD_EXPONENT = 2.6


def nail_in_timber_mpa(
    density_kg_m3: float, *, diameter_mm: float, predrilled: bool = False
) -> float:
    """Return fh,k of a nail in solid timber or LVL, MPa, any direction.

    0.082 rho d^-0.3 driven, 0.082 (1 - 0.01 d) rho predrilled.

    Args:
        density_kg_m3: Characteristic density.
        diameter_mm: The nail, at most 8 mm.
        predrilled: Whether its hole is drilled first.

    Raises:
        PartError: A number cannot be, or the nail is thicker than the equation holds for.

    Source:
        EN 1995-1-1:2004, 8.15 and 8.16 (from memory).
    """
    nail = _nail(diameter_mm)
    density = _density(density_kg_m3)
    return 0.082 * density * (1 - 0.01 * nail if predrilled else math.pow(nail, -0.3))


def nail_in_plywood_mpa(density_kg_m3: float, *, diameter_mm: float) -> float:
    """Return fh,k of a nail in plywood, MPa: 0.11 rho d^-0.3.

    For a head at least 2 d wide.

    Args:
        density_kg_m3: Characteristic density.
        diameter_mm: The nail, at most 8 mm.

    Raises:
        PartError: A number cannot be, or the nail is thicker than the equation holds for.

    Source:
        EN 1995-1-1:2004, 8.20 (from memory).
    """
    return 0.11 * _density(density_kg_m3) * math.pow(_nail(diameter_mm), -0.3)


def nail_in_hardboard_mpa(thickness_mm: float, *, diameter_mm: float) -> float:
    """Return fh,k of a nail in hardboard, MPa: 30 d^-0.3 t^0.6. Not for MDF.

    Raises:
        PartError: A number cannot be, or the nail is thicker than 8 mm.

    Source:
        EN 1995-1-1:2004, 8.21 (from memory).
    """
    thickness = require_positive(thickness_mm, "board thickness", "mm")
    return 30 * math.pow(_nail(diameter_mm), -0.3) * math.pow(thickness, 0.6)


def nail_in_particleboard_mpa(thickness_mm: float, *, diameter_mm: float) -> float:
    """Return fh,k of a nail in particleboard or OSB, MPa: 65 d^-0.7 t^0.1.

    Raises:
        PartError: A number cannot be, or the nail is thicker than 8 mm.

    Source:
        EN 1995-1-1:2004, 8.22 (from memory).
    """
    thickness = require_positive(thickness_mm, "board thickness", "mm")
    return 65 * math.pow(_nail(diameter_mm), -0.7) * math.pow(thickness, 0.1)


def bolt_in_timber_mpa(
    density_kg_m3: float, *, diameter_mm: float, angle_deg: float = 0.0, wood: str = "softwood"
) -> float:
    """Return fh,k of a bolt or dowel in solid wood or LVL, MPa.

    0.082 (1 - 0.01 d) rho along the grain, over k90 sin^2 a + cos^2 a at an angle to it.

    Args:
        density_kg_m3: Characteristic density.
        diameter_mm: The bolt, at most 30 mm.
        angle_deg: Between force and grain.
        wood: "softwood", "hardwood" or "lvl".

    Raises:
        UnknownNameError: There is no such wood.
        PartError: A number cannot be, or the bolt is thicker than the equation holds for.

    Source:
        EN 1995-1-1:2004, 8.31 to 8.33 (from memory).
    """
    along = 0.082 * (1 - 0.01 * _bolt(diameter_mm)) * _density(density_kg_m3)
    across = math.sin(math.radians(require_finite(angle_deg, "angle to the grain", "degrees"))) ** 2
    loss = across_grain_loss(diameter_mm=diameter_mm, wood=wood)
    return along / (loss * across + 1 - across)


def across_grain_loss(*, diameter_mm: float, wood: str = "softwood") -> float:
    """Return k90: how many times weaker wood is under a bolt across its grain than along it.

    Raises:
        UnknownNameError: There is no such wood.
        PartError: The bolt is thicker than the equation holds for.

    Source:
        EN 1995-1-1:2004, 8.33 (from memory).
    """
    if wood not in ACROSS_GRAIN:
        raise UnknownNameError.among("kind of wood", wood, ACROSS_GRAIN)
    return ACROSS_GRAIN[wood] + ACROSS_GRAIN_PER_MM * _bolt(diameter_mm)


def bolt_in_plywood_mpa(density_kg_m3: float, *, diameter_mm: float) -> float:
    """Return fh,k of a bolt or dowel in plywood, MPa, whatever the angle: 0.11 (1 - 0.01 d) rho.

    Fitted to construction plywood and bolts. Below about 8 mm of either it is an extension that no
    test behind the code covers: take it as a guide and try the joint.

    Args:
        density_kg_m3: Characteristic density.
        diameter_mm: The bolt, at most 30 mm.

    Raises:
        PartError: A number cannot be, or the bolt is thicker than the equation holds for.

    Source:
        EN 1995-1-1:2004, 8.36 (from memory); the caution is common practice, no source.
    """
    return 0.11 * (1 - 0.01 * _bolt(diameter_mm)) * _density(density_kg_m3)


def bolt_in_particleboard_mpa(thickness_mm: float, *, diameter_mm: float) -> float:
    """Return fh,k of a bolt or dowel in particleboard or OSB, MPa: 50 d^-0.6 t^0.2.

    Raises:
        PartError: A number cannot be, or the bolt is thicker than 30 mm.

    Source:
        EN 1995-1-1:2004, 8.37 (from memory).
    """
    thickness = require_positive(thickness_mm, "board thickness", "mm")
    return 50 * math.pow(_bolt(diameter_mm), -0.6) * math.pow(thickness, 0.2)


def yield_moment_nmm(ultimate_mpa: float, *, diameter_mm: float, shape: str = "round") -> float:
    """Return My,Rk, the moment a nail or bolt bends at, N mm: 0.3 fu d^2.6, 0.45 if square.

    Below 4.3 mm the round form lies above the full plastic moment fu d^3 / 6 of the section: true
    of drawn nails, which harden as they bend, doubtful for M3 and M4 screws.

    Args:
        ultimate_mpa: Ultimate strength of the wire or bolt.
        diameter_mm: Nominal diameter; side of a square nail.
        shape: "round", or "square" for square and grooved nails.

    Raises:
        UnknownNameError: There is no such shape.
        PartError: A number cannot be.

    Source:
        EN 1995-1-1:2004, 8.14 and 8.30 (from memory); the caution follows from plastic bending.
    """
    if shape not in YIELD_FACTORS:
        raise UnknownNameError.among("shape of fastener", shape, YIELD_FACTORS)
    ultimate = require_positive(ultimate_mpa, "ultimate strength", "MPa")
    return YIELD_FACTORS[shape] * ultimate * math.pow(_bolt(diameter_mm), YIELD_EXPONENT)


def _density(density_kg_m3: float) -> float:
    return require_between(density_kg_m3, "density", LIGHTEST_KG_M3, HEAVIEST_KG_M3, "kg/m3")


def _nail(diameter_mm: float) -> float:
    return _at_most(diameter_mm, "nail diameter", THICKEST_NAIL_MM)


def _bolt(diameter_mm: float) -> float:
    return _at_most(diameter_mm, "bolt diameter", THICKEST_BOLT_MM)


def _at_most(diameter_mm: float, name: str, most_mm: float) -> float:
    diameter = require_positive(diameter_mm, name, "mm")
    if diameter > most_mm:
        raise PartError(f"{name} is {diameter:g} mm", remedy=f"give at most {most_mm:g} mm")
    return diameter
