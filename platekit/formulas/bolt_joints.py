"""One bolt across its axis and along it: shear, the wall of its hole, tension, what a washer bears.

Plain stresses serve any material; the two resistances of EN 1993-1-8 are for steel bolts and
metal sheet, never for wood. Wood around a bolt is `timber_embedment` and `timber_dowels`.
"""

from __future__ import annotations

import math

from platekit.errors import PartError, UnknownNameError
from platekit.formulas.quantities import require_positive, require_whole, require_zero_up

# EN 1993-1-8:2005, table 2.1 (from memory): bolts, and plates in bearing.
GAMMA_M2 = 1.25
# EN 1993-1-8:2005, table 3.4 (from memory): shear factor with threads in the shear plane. Tougher
# bolts hold 0.6; bolts hardened by drawing, and 10.9, tear earlier.
SHEAR_FACTORS = {
    "4.6": 0.6, "5.6": 0.6, "8.8": 0.6, "4.8": 0.5, "5.8": 0.5, "6.8": 0.5, "10.9": 0.5,
}  # fmt: skip
# The same for every class where the plain shank lies in the plane.
SHANK_SHEAR_FACTOR = 0.6
# EN 1993-1-8:2005, table 3.3 (from memory): least distances over the hole's diameter.
LEAST_END, LEAST_EDGE, LEAST_PITCH, LEAST_GAUGE = 1.2, 1.2, 2.2, 2.4
# EN 1993-1-8:2005, table 3.4 (from memory): beyond it the side of a hole gains nothing.
MOST_SIDE_FACTOR = 2.5
# EN 1995-1-1:2004, 8.5.2 (2) (from memory): wood under a washer may be pressed this much harder.
WASHER_FACTOR = 3.0


def bolt_area_mm2(diameter_mm: float) -> float:
    """Return the area of a round section, mm2: of the shank, or of the core for a core diameter.

    Raises:
        PartError: The diameter is not above 0.
    """
    return math.pi / 4 * require_positive(diameter_mm, "bolt diameter", "mm") ** 2


def bolt_shear_stress_mpa(force_n: float, *, diameter_mm: float, planes: int = 1) -> float:
    """Return the mean shear stress in a bolt, MPa: F / (planes A).

    Args:
        force_n: Across the bolt, 0 or more.
        diameter_mm: Shank, or core where the thread lies in the plane.
        planes: How many cuts would part it.

    Raises:
        PartError: A number cannot be.

    Source:
        Equilibrium; the mean is what strengths of bolts are told by.
    """
    force = require_zero_up(force_n, "force", "N")
    return force / (require_whole(planes, "number of shear planes") * bolt_area_mm2(diameter_mm))


def shear_diameter_mm(force_n: float, *, allowed_mpa: float, planes: int = 1) -> float:
    """Return the least diameter, mm, whose mean shear stress stays at `allowed_mpa`.

    Raises:
        PartError: A number cannot be.

    Source:
        `bolt_shear_stress_mpa` solved for the diameter.
    """
    area = require_zero_up(force_n, "force", "N") / (
        require_whole(planes, "number of shear planes")
        * require_positive(allowed_mpa, "allowed shear stress", "MPa")
    )
    return math.sqrt(4 * area / math.pi)


def bearing_stress_mpa(force_n: float, *, diameter_mm: float, thickness_mm: float) -> float:
    """Return the mean pressure on the wall of a hole, MPa: F / (d t).

    Raises:
        PartError: A number cannot be.

    Source:
        The customary mean over the projected area (d of the bolt, t of the sheet).
    """
    force = require_zero_up(force_n, "force", "N")
    return force / _projected_mm2(diameter_mm, thickness_mm)


def bearing_force_n(strength_mpa: float, *, diameter_mm: float, thickness_mm: float) -> float:
    """Return the force at which the mean pressure on a hole's wall is `strength_mpa`, N.

    For wood `strength_mpa` is an embedment strength (`timber_embedment`), and the force an upper
    bound: splitting, edges, rows and the bending of the bolt come below it.

    Raises:
        PartError: A number cannot be.

    Source:
        `bearing_stress_mpa` turned round.
    """
    strength = require_zero_up(strength_mpa, "bearing strength", "MPa")
    return strength * _projected_mm2(diameter_mm, thickness_mm)


def steel_shear_resistance_n(
    ultimate_mpa: float, area_mm2: float, *, bolt_class: str, threads_in_plane: bool = True
) -> float:
    """Return the design shear resistance of a steel bolt in one plane, N: av fub A / gamma M2.

    Args:
        ultimate_mpa: Ultimate strength of the bolt, fub.
        area_mm2: Stress area with threads in the plane, shank area without.
        bolt_class: Property class, "8.8".
        threads_in_plane: Whether the thread reaches into the plane of shear.

    Raises:
        UnknownNameError: The clause does not cover the class.
        PartError: A number cannot be.

    Source:
        EN 1993-1-8:2005, table 3.4 (from memory).
    """
    if bolt_class not in SHEAR_FACTORS:
        raise UnknownNameError.among("bolt class", bolt_class, SHEAR_FACTORS)
    factor = SHEAR_FACTORS[bolt_class] if threads_in_plane else SHANK_SHEAR_FACTOR
    ultimate = require_positive(ultimate_mpa, "ultimate strength", "MPa")
    return factor * ultimate * require_positive(area_mm2, "bolt area", "mm2") / GAMMA_M2


def metal_bearing_resistance_n(
    *,
    sheet_ultimate_mpa: float,
    bolt_ultimate_mpa: float,
    diameter_mm: float,
    hole_mm: float,
    thickness_mm: float,
    end_mm: float,
    edge_mm: float,
    pitch_mm: float | None = None,
    gauge_mm: float | None = None,
) -> float:
    """Return the design resistance of metal sheet around one bolt, N: k1 ab fu d t / gamma M2.

    ab = least of e1 / (3 d0), p1 / (3 d0) - 1/4, fub / fu and 1; k1 = least of 2.8 e2 / d0 - 1.7,
    1.4 p2 / d0 - 1.7 and 2.5. Every distance given counts, which for one bolt of a larger group
    errs on the safe side.

    Args:
        sheet_ultimate_mpa: Ultimate strength of the sheet, fu.
        bolt_ultimate_mpa: Of the bolt, fub.
        diameter_mm: The bolt, d.
        hole_mm: Its hole, d0, not less than the bolt.
        thickness_mm: The sheet, t.
        end_mm: From the hole's middle to the end the force points at, e1.
        edge_mm: From it to the edge beside, e2.
        pitch_mm: To the next hole along the force, p1, where there is one.
        gauge_mm: To the next hole across it, p2, where there is one.

    Raises:
        PartError: A number cannot be, or a distance is less than the standard's least.

    Source:
        EN 1993-1-8:2005, tables 3.3 and 3.4 (from memory). Steel; aluminium has its own code.
    """
    bolt = require_positive(diameter_mm, "bolt diameter", "mm")
    hole = require_positive(hole_mm, "hole diameter", "mm")
    if hole < bolt:
        raise PartError(
            f"hole diameter is {hole:g} mm for a bolt of {bolt:g} mm",
            remedy="give a hole no smaller than its bolt",
        )
    fu = require_positive(sheet_ultimate_mpa, "ultimate strength of the sheet", "MPa")
    fub = require_positive(bolt_ultimate_mpa, "ultimate strength of the bolt", "MPa")
    along = [_holes(end_mm, hole, "end distance", LEAST_END) / 3, fub / fu, 1.0]
    across = [2.8 * _holes(edge_mm, hole, "edge distance", LEAST_EDGE) - 1.7, MOST_SIDE_FACTOR]
    if pitch_mm is not None:
        along.append(_holes(pitch_mm, hole, "pitch", LEAST_PITCH) / 3 - 0.25)
    if gauge_mm is not None:
        across.append(1.4 * _holes(gauge_mm, hole, "gauge", LEAST_GAUGE) - 1.7)
    return min(across) * min(along) * fu * _projected_mm2(bolt, thickness_mm) / GAMMA_M2


def bolt_tension_n(ultimate_mpa: float, stress_area_mm2: float) -> float:
    """Return the force along its axis that breaks a bolt, N: fu As, characteristic.

    Raises:
        PartError: A number cannot be.

    Source:
        Definition of ultimate strength, ISO 898-1 (As, the stress area).
    """
    ultimate = require_positive(ultimate_mpa, "ultimate strength", "MPa")
    return ultimate * require_positive(stress_area_mm2, "stress area", "mm2")


def washer_limit_n(crushing_mpa: float, *, washer_mm: float, hole_mm: float) -> float:
    """Return what wood bears under a round washer, N: 3 fc,90 times the washer's ring.

    Characteristic, where the strength is. Preload in a bolt through wood is not to be counted on:
    wood creeps and shrinks away from under the washer.

    Args:
        crushing_mpa: Compression strength across the grain, fc,90; for a sheet, across its face.
        washer_mm: Outer diameter of the washer. A steel washer at least 3 d wide and 0.3 d thick
            is what the code has in mind.
        hole_mm: The hole in the wood, smaller than the washer.

    Raises:
        PartError: A number cannot be, or the washer falls into the hole.

    Source:
        EN 1995-1-1:2004, 8.5.2 and 10.4.3 (from memory).
    """
    strength = require_positive(crushing_mpa, "compression strength across the grain", "MPa")
    ring = bolt_area_mm2(require_positive(washer_mm, "washer diameter", "mm"))
    hole = require_zero_up(hole_mm, "hole diameter", "mm")
    if hole >= washer_mm:
        raise PartError(
            f"a washer of {washer_mm:g} mm over a hole of {hole:g} mm",
            remedy="give a washer wider than its hole",
        )
    return WASHER_FACTOR * strength * (ring - math.pi / 4 * hole**2)


def _projected_mm2(diameter_mm: float, thickness_mm: float) -> float:
    return require_positive(diameter_mm, "bolt diameter", "mm") * require_positive(
        thickness_mm, "sheet thickness", "mm"
    )


def _holes(distance_mm: float, hole_mm: float, name: str, least: float) -> float:
    """Return a distance as so many hole diameters, at least `least`."""
    ratio = require_positive(distance_mm, name, "mm") / hole_mm
    if ratio < least - 1e-9:
        raise PartError(
            f"{name} is {distance_mm:g} mm at a hole of {hole_mm:g} mm",
            remedy=f"give {least * hole_mm:g} mm or more, {least:g} hole diameters",
        )
    return ratio
