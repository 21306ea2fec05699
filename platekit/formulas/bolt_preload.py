"""Tightened bolts: the torque that brings a preload, and what friction under it holds.

For metal under the head. Wood and plastic creep, and the preload goes with it: nothing here may be
counted on where a bolt presses on them.
"""

from __future__ import annotations

from platekit.errors import PartError
from platekit.formulas.quantities import (
    require_between,
    require_positive,
    require_whole,
    require_zero_up,
)

# Torque over preload times diameter: common practice, no source; the same figures stand in
# textbooks of machine elements (from memory). A torque wrench meets the preload within about a
# quarter either way (common practice, no source).
NUT_FACTOR_DRY = 0.2
NUT_FACTOR_OILED = 0.15
# EN 1993-1-8:2005, 3.9.1 (from memory): preload of a bolt to be counted on, over its ultimate.
PRELOAD_SHARE = 0.7
# EN 1993-1-8:2005, table 2.1 (from memory): slip at the ultimate limit.
GAMMA_M3 = 1.25
# EN 1993-1-8:2005, table 3.7 (from memory): friction of steel faces by class of their surface.
SLIP_FACTORS = {"A": 0.5, "B": 0.4, "C": 0.3, "D": 0.2}
# No pair of dry faces of a bolted joint grips harder than it weighs on: a slip of the pen.
MOST_FRICTION = 1.5


def tightening_torque_nmm(
    preload_n: float, *, diameter_mm: float, nut_factor: float = NUT_FACTOR_DRY
) -> float:
    """Return the torque on the head or nut that brings a preload, N mm: K d F.

    Args:
        preload_n: Pull in the bolt, 0 or more.
        diameter_mm: Nominal diameter of the thread.
        nut_factor: K: about 0.2 dry, 0.12 to 0.16 oiled; from 0.05 to 0.5 is believed.

    Raises:
        PartError: A number cannot be.

    Source:
        Textbooks of machine elements (from memory); the factor is common practice, no source.
    """
    preload = require_zero_up(preload_n, "preload", "N")
    return preload * _arm_mm(diameter_mm, nut_factor)


def preload_n(
    torque_nmm: float, *, diameter_mm: float, nut_factor: float = NUT_FACTOR_DRY
) -> float:
    """Return the preload that a tightening torque brings, N: T / (K d).

    Raises:
        PartError: A number cannot be.

    Source:
        `tightening_torque_nmm` turned round.
    """
    torque = require_zero_up(torque_nmm, "tightening torque", "N mm")
    return torque / _arm_mm(diameter_mm, nut_factor)


def standard_preload_n(ultimate_mpa: float, stress_area_mm2: float) -> float:
    """Return the preload of a bolt tightened for friction, N: 0.7 fub As.

    For bolts of class 8.8 and 10.9 tightened under control.

    Raises:
        PartError: A number cannot be.

    Source:
        EN 1993-1-8:2005, 3.9.1 (from memory).
    """
    ultimate = require_positive(ultimate_mpa, "ultimate strength", "MPa")
    return PRELOAD_SHARE * ultimate * require_positive(stress_area_mm2, "stress area", "mm2")


def slip_resistance_n(
    preload_n: float, *, friction: float, faces: int = 1, hole_factor: float = 1.0
) -> float:
    """Return the design force at which one preloaded bolt lets steel slip, N.

    ks n mu Fp / gamma M3.

    Args:
        preload_n: Pull in the bolt, 0 or more.
        friction: mu of the faces: `SLIP_FACTORS` by surface class, or measured.
        faces: How many pairs of faces would slip.
        hole_factor: ks, 1 in normal round holes, less in oversize ones and slots.

    Raises:
        PartError: A number cannot be.

    Source:
        EN 1993-1-8:2005, 3.9.1 (from memory).
    """
    held = friction_force_n(preload_n, friction=friction, faces=faces)
    return require_between(hole_factor, "hole factor", 0.1, 1.0) * held / GAMMA_M3


def friction_force_n(preload_n: float, *, friction: float, faces: int = 1) -> float:
    """Return the force along the faces that one bolt's preload holds, N: n mu F, no partial factor.

    Raises:
        PartError: A number cannot be.

    Source:
        Dry friction.
    """
    preload = require_zero_up(preload_n, "preload", "N")
    grip = require_between(friction, "friction", 0.0, MOST_FRICTION)
    return require_whole(faces, "number of slip faces") * grip * preload


def friction_radius_mm(*, outer_mm: float, inner_mm: float = 0.0) -> float:
    """Return where friction on a ring pressed evenly acts, mm from its axis.

    2 (ro^3 - ri^3) / (3 (ro^2 - ri^2)). For a ring of bolts that press only close around
    themselves, take the bolt circle's radius instead.

    Args:
        outer_mm: Outer diameter of the ring.
        inner_mm: Inner diameter, less than the outer; 0 for a full disc.

    Raises:
        PartError: A number cannot be, or the ring has no width.

    Source:
        Mean of r over the ring, weighted with its area: statics.
    """
    outer = require_positive(outer_mm, "outer diameter", "mm") / 2
    inner = require_zero_up(inner_mm, "inner diameter", "mm") / 2
    if inner >= outer:
        raise PartError(
            f"a ring from {inner_mm:g} to {outer_mm:g} mm",
            remedy="give an inner diameter below the outer",
        )
    # The difference of squares is divided out, so that a narrow ring loses no digits.
    return 2 * (outer**2 + outer * inner + inner**2) / (3 * (outer + inner))


def friction_torque_nmm(
    preload_n: float, *, bolts: int, radius_mm: float, friction: float, faces: int = 1
) -> float:
    """Return the torque that friction under `bolts` holds, N mm: n m mu F R, no partial factor.

    Args:
        preload_n: Pull in each bolt, 0 or more.
        bolts: How many.
        radius_mm: Where friction acts: `friction_radius_mm`, or the bolt circle's radius.
        friction: mu of the faces.
        faces: How many pairs of faces would slip.

    Raises:
        PartError: A number cannot be.

    Source:
        Dry friction.
    """
    held = friction_force_n(preload_n, friction=friction, faces=faces)
    radius = require_positive(radius_mm, "friction radius", "mm")
    return require_whole(bolts, "number of bolts") * held * radius


def _arm_mm(diameter_mm: float, nut_factor: float) -> float:
    return require_positive(diameter_mm, "thread diameter", "mm") * require_between(
        nut_factor, "nut factor", 0.05, 0.5
    )
