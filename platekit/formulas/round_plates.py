"""Round plates, held all along the rim: pressed evenly, or loaded in the middle.

Formulas of thin plates (see `plates`) by Timoshenko & Woinowsky-Krieger, Theory of Plates and
Shells, ch. 3, and Roark, Formulas for Stress and Strain, ch. 11; both from memory. Estimates.
"""

from __future__ import annotations

import math

from platekit.errors import PartError
from platekit.formulas.plates import PlateBending, Slab, load_circle_mm
from platekit.formulas.quantities import require_positive, require_zero_up


def round_clamped_even(slab: Slab, *, radius_mm: float, pressure_mpa: float) -> PlateBending:
    """Return the bending of a round plate with a clamped rim under an even pressure.

    w = q a^4 / (64 D); moments (1 + nu) q a^2 / 16 in the middle, q a^2 / 8 across the rim.

    Args:
        slab: The plate's section.
        radius_mm: Radius a to the clamped rim.
        pressure_mpa: Pressure q.

    Raises:
        PartError: A number is impossible.
    """
    radius, pressure = _pressed(radius_mm, pressure_mpa)
    return PlateBending(
        sag_mm=pressure * radius**4 / (64 * slab.stiffness_nmm),
        centre_stress_mpa=slab.skin_stress_mpa((1 + slab.poisson) * pressure * radius**2 / 16),
        edge_stress_mpa=slab.skin_stress_mpa(pressure * radius**2 / 8),
    )


def round_resting_even(slab: Slab, *, radius_mm: float, pressure_mpa: float) -> PlateBending:
    """Return the bending of a round plate resting on its rim under an even pressure.

    w = (5 + nu) q a^4 / (64 (1 + nu) D); moment (3 + nu) q a^2 / 16 in the middle.

    Args:
        slab: The plate's section.
        radius_mm: Radius a to the rim it rests on.
        pressure_mpa: Pressure q.

    Raises:
        PartError: A number is impossible.
    """
    radius, pressure = _pressed(radius_mm, pressure_mpa)
    nu = slab.poisson
    return PlateBending(
        sag_mm=(5 + nu) * pressure * radius**4 / (64 * (1 + nu) * slab.stiffness_nmm),
        centre_stress_mpa=slab.skin_stress_mpa((3 + nu) * pressure * radius**2 / 16),
        edge_stress_mpa=0.0,
    )


def round_clamped_centre(
    slab: Slab, *, radius_mm: float, load_n: float, load_radius_mm: float
) -> PlateBending:
    """Return the bending of a round plate with a clamped rim, loaded in the middle.

    w = P a^2 / (16 pi D); moments (1 + nu) P ln(a / r') / (4 pi) in the middle and P / (4 pi)
    across the rim, r' the `load_circle_mm`. The sag is that of a point load, a little too much.

    Args:
        slab: The plate's section.
        radius_mm: Radius a to the clamped rim.
        load_n: Load P.
        load_radius_mm: Radius of the circle it stands on, 0 for a point; small beside a. At a
            fifth of a the stress in the middle is less than 1 % low.

    Raises:
        PartError: A number is impossible, or the load's circle is over half the radius.
    """
    radius, load, circle_mm = _loaded(slab, radius_mm, load_n, load_radius_mm)
    moment = (1 + slab.poisson) * load * math.log(radius / circle_mm) / (4 * math.pi)
    return PlateBending(
        sag_mm=load * radius**2 / (16 * math.pi * slab.stiffness_nmm),
        centre_stress_mpa=slab.skin_stress_mpa(moment),
        edge_stress_mpa=slab.skin_stress_mpa(load / (4 * math.pi)),
    )


def round_resting_centre(
    slab: Slab, *, radius_mm: float, load_n: float, load_radius_mm: float
) -> PlateBending:
    """Return the bending of a round plate resting on its rim, loaded in the middle.

    w = (3 + nu) P a^2 / (16 pi (1 + nu) D); moment P ((1 + nu) ln(a / r') + 1) / (4 pi) in the
    middle, r' the `load_circle_mm`. The sag is that of a point load, a little too much.

    Args:
        slab: The plate's section.
        radius_mm: Radius a to the rim it rests on.
        load_n: Load P.
        load_radius_mm: Radius of the circle it stands on, 0 for a point; small beside a.

    Raises:
        PartError: A number is impossible, or the load's circle is over half the radius.
    """
    radius, load, circle_mm = _loaded(slab, radius_mm, load_n, load_radius_mm)
    nu = slab.poisson
    moment = load * ((1 + nu) * math.log(radius / circle_mm) + 1) / (4 * math.pi)
    return PlateBending(
        sag_mm=(3 + nu) * load * radius**2 / (16 * math.pi * (1 + nu) * slab.stiffness_nmm),
        centre_stress_mpa=slab.skin_stress_mpa(moment),
        edge_stress_mpa=0.0,
    )


def _pressed(radius_mm: float, pressure_mpa: float) -> tuple[float, float]:
    radius = require_positive(radius_mm, "radius", "mm")
    return radius, require_zero_up(pressure_mpa, "pressure", "MPa")


def _loaded(
    slab: Slab, radius_mm: float, load_n: float, load_radius_mm: float
) -> tuple[float, float, float]:
    radius = require_positive(radius_mm, "radius", "mm")
    circle_mm = load_circle_mm(load_radius_mm, thickness_mm=slab.thickness_mm)
    if circle_mm > radius / 2:
        raise PartError(
            f"load acts on a circle of {circle_mm:g} mm radius in a plate of {radius:g} mm radius",
            remedy="take it as an even pressure, or the plate as larger or thinner",
        )
    return radius, require_zero_up(load_n, "load", "N"), circle_mm
