"""A flat plate that bends: its stiffness, and when the formulas of thin plates hold.

Thin means no thicker than about a tenth of the shorter span; small means a sag below half the
thickness, beyond which the plate pulls like a skin and these formulas say too much sag. Plywood is
stiffer along its face grain than across: the formulas with one modulus are a rough guide to it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from platekit.formulas.quantities import require_between, require_positive, require_zero_up

# Below this radius a load no longer acts as if spread over its own circle: Roark (from memory).
SMALL_LOAD_RADIUS = 0.5  # of the thickness


@dataclass(frozen=True, slots=True, kw_only=True)
class Slab:
    """A flat plate seen in section."""

    thickness_mm: float
    modulus_mpa: float  # of elasticity, in bending
    poisson: float = 0.3

    def __post_init__(self) -> None:
        require_positive(self.thickness_mm, "thickness", "mm")
        require_positive(self.modulus_mpa, "modulus", "MPa")
        require_between(self.poisson, "Poisson's ratio", 0.0, 0.5)

    @property
    def stiffness_nmm(self) -> float:
        """Bending stiffness D = E t^3 / (12 (1 - nu^2)), in N mm (N mm^2 a mm of width)."""
        return self.modulus_mpa * self.thickness_mm**3 / (12 * (1 - self.poisson**2))

    def skin_stress_mpa(self, moment_n: float) -> float:
        """Return the stress at the skin under a moment in N mm a mm of width, 6 M / t^2."""
        return 6 * moment_n / self.thickness_mm**2


@dataclass(frozen=True, slots=True, kw_only=True)
class PlateBending:
    """What a load does to a plate: sag in the middle, stress at the skin, both without a sign."""

    sag_mm: float
    centre_stress_mpa: float
    edge_stress_mpa: float  # across the edge; 0 where the edge only rests

    @property
    def stress_mpa(self) -> float:
        """The larger of the two stresses."""
        return max(self.centre_stress_mpa, self.edge_stress_mpa)


def even_modulus_mpa(*, along_mpa: float, across_mpa: float) -> float:
    """Return one modulus to stand for two, sqrt(E0 E90), in MPa.

    A rough guide only: common practice, no source. It ignores that the shear stiffness of plywood
    in its plane is low.

    Raises:
        PartError: A modulus is not above 0.
    """
    along = require_positive(along_mpa, "modulus along the grain", "MPa")
    return math.sqrt(along * require_positive(across_mpa, "modulus across the grain", "MPa"))


def load_circle_mm(radius_mm: float, *, thickness_mm: float) -> float:
    """Return the radius over which a load acts in a plate, in mm.

    A load on a circle smaller than half the thickness spreads before it reaches the far skin:
    r' = sqrt(1.6 r^2 + t^2) - 0.675 t. A larger one acts on its own circle.

    Args:
        radius_mm: Radius of the circle the load stands on, 0 for a point.
        thickness_mm: Thickness t of the plate.

    Raises:
        PartError: A number is impossible.

    Source:
        Westergaard's radius as in Roark, Formulas for Stress and Strain, ch. 11 (from memory).
    """
    radius = require_zero_up(radius_mm, "load radius", "mm")
    thickness = require_positive(thickness_mm, "thickness", "mm")
    if radius >= SMALL_LOAD_RADIUS * thickness:
        return radius
    return math.sqrt(1.6 * radius**2 + thickness**2) - 0.675 * thickness


def sag_is_small(sag_mm: float, *, thickness_mm: float) -> bool:
    """Return whether a sag is small enough for these formulas: below half the thickness.

    Common practice, no source.

    Raises:
        PartError: A number is impossible.
    """
    sag = require_zero_up(sag_mm, "sag", "mm")
    return sag < require_positive(thickness_mm, "thickness", "mm") / 2
