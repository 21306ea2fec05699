"""Screws around an axis: which of them is asked for most, whatever way the load turns."""

from __future__ import annotations

import math
from collections.abc import Sequence

from platekit.formulas.bolt_groups import (
    Place,
    bolt_forces,
    centroid_mm,
    largest,
    moment_about_nmm,
    polar_sum_mm2,
)

# Ways in which a force, or a tipping axis, is tried; between two of them it errs by under 0.2 %.
WAYS = 72
# A group whose screws stand closer together than this about an axis does not hold it.
LEAST_ARM_MM2 = 1e-6


def most_across_n(places_mm: Sequence[Place], *, torque_nmm: float, radial_n: float) -> float:
    """Return the force across the screw that carries most, N.

    A force through the device's axis, in whichever direction is worst, and a torque about it;
    where the axis is not the middle of the screws, the force turns the group besides.

    Args:
        places_mm: The screws, from the device's axis.
        torque_nmm: About the axis.
        radial_n: Across it.

    Raises:
        PartError: A torque on screws that stand in one place.

    Source:
        `platekit.formulas.bolt_groups.bolt_forces`.
    """
    middle = centroid_mm(places_mm)
    ways = [2 * math.pi * k / WAYS for k in range(WAYS)]
    # The worst way for a screw of a round group is square to its own arm: no rounding there.
    ways += [math.atan2(y - middle[1], x - middle[0]) + math.pi / 2 for x, y in places_mm]
    most = 0.0
    for way in ways if radial_n else ways[:1]:
        x_n, y_n = radial_n * math.cos(way), radial_n * math.sin(way)
        moment = torque_nmm + moment_about_nmm(middle, (0.0, 0.0), force_x_n=x_n, force_y_n=y_n)
        if len(places_mm) == 1 and abs(moment) < LEAST_ARM_MM2:
            moment = 0.0
        forces = bolt_forces(places_mm, force_x_n=x_n, force_y_n=y_n, moment_nmm=moment)
        most = max(most, largest(forces).size_n)
    return most


def most_along_n(
    places_mm: Sequence[Place], *, moment_nmm: float, axial_n: float, reach_mm: float
) -> float:
    """Return the pull in the screw that carries most, N; infinite where nothing holds the moment.

    The axial force is taken as a pull and shared evenly. The moment, about whichever axis in the
    plate is worst, is held about the middle of the screws, or about the edge of what the device
    stands on, whichever asks less: both keep the balance, so that each is safe.

    Args:
        places_mm: The screws, from the device's axis.
        moment_nmm: That tips the device.
        axial_n: Along its axis.
        reach_mm: How far the device's foot reaches from its axis on every side; 0 if unknown.

    Source:
        Balance of moments; M y / sum y^2 of an elastic group, textbooks (from memory).
    """
    even = axial_n / len(places_mm)
    if not moment_nmm:
        return even
    middle_x, middle_y = centroid_mm(places_mm)
    most = 0.0
    for k in range(WAYS):
        x, y = math.cos(2 * math.pi * k / WAYS), math.sin(2 * math.pi * k / WAYS)
        about = x * middle_x + y * middle_y
        from_middle = [x * px + y * py - about for px, py in places_mm]
        from_edge = [x * px + y * py + reach_mm for px, py in places_mm]
        shares = [_share(from_middle)]
        if min(from_edge) > 0.0:
            shares.append(_share(from_edge))
        most = max(most, min(shares))
    return even + moment_nmm * most


def _share(arms_mm: Sequence[float]) -> float:
    """Return the greatest pull for each N mm: y / sum y^2."""
    spread = sum(arm**2 for arm in arms_mm)
    return max(arms_mm) / spread if spread > LEAST_ARM_MM2 else math.inf


def across_said(
    places_mm: Sequence[Place], *, torque_nmm: float, radial_n: float, times: float
) -> str:
    """Return how the force across comes about, numbers put in, times a factor on the load."""
    middle_x, middle_y = centroid_mm(places_mm)
    arm = max(math.hypot(x - middle_x, y - middle_y) for x, y in places_mm)
    said, put_in = [], []
    if radial_n:
        said.append("F / n")
        put_in.append(f"{radial_n:.4g} / {len(places_mm)}")
    if torque_nmm:
        said.append("T r / sum r^2")
        put_in.append(f"{torque_nmm:.5g} x {arm:.4g} / {polar_sum_mm2(places_mm):.5g}")
    return f"factor ({' + '.join(said)}) = {times:g} x ({' + '.join(put_in)})"
