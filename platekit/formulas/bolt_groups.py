"""Groups of bolts in one plane: how a load shares itself out among them.

Elastic group: the plates are stiff against the bolts, all bolts are alike, so that each takes its
even share of the force and a share of the moment in proportion to its distance from the middle.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from platekit.errors import PartError
from platekit.formulas.quantities import (
    require_finite,
    require_positive,
    require_whole,
    require_zero_up,
)

Place = tuple[float, float]
# Places nearer than this to their middle on average are one place told twice.
LEAST_SPREAD_MM = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class BoltForce:
    """What one bolt of a group carries across its axis.

    Attributes:
        x_n: Along x.
        y_n: Along y.
    """

    x_n: float
    y_n: float

    @property
    def size_n(self) -> float:
        """The resultant of both."""
        return math.hypot(self.x_n, self.y_n)


def centroid_mm(places_mm: Sequence[Place]) -> Place:
    """Return the middle of equal bolts at `places_mm`, mm.

    Raises:
        PartError: There is no bolt, or a coordinate is no number.
    """
    places = _checked(places_mm)
    return (
        sum(x for x, _ in places) / len(places),
        sum(y for _, y in places) / len(places),
    )


def polar_sum_mm2(places_mm: Sequence[Place]) -> float:
    """Return the sum of squared distances of the bolts from their middle, mm2.

    Raises:
        PartError: There is no bolt, or a coordinate is no number.
    """
    middle_x, middle_y = centroid_mm(places_mm)
    return sum((x - middle_x) ** 2 + (y - middle_y) ** 2 for x, y in places_mm)


def moment_about_nmm(
    middle_mm: Place, at_mm: Place, *, force_x_n: float = 0.0, force_y_n: float = 0.0
) -> float:
    """Return the moment about `middle_mm` of a force at `at_mm`, N mm, counter-clockwise above 0.

    Raises:
        PartError: A number is not finite.
    """
    arm_x = require_finite(at_mm[0], "x of the load", "mm") - middle_mm[0]
    arm_y = require_finite(at_mm[1], "y of the load", "mm") - middle_mm[1]
    along_x = require_finite(force_x_n, "force along x", "N")
    along_y = require_finite(force_y_n, "force along y", "N")
    return arm_x * along_y - arm_y * along_x


def bolt_forces(
    places_mm: Sequence[Place],
    *,
    force_x_n: float = 0.0,
    force_y_n: float = 0.0,
    moment_nmm: float = 0.0,
) -> tuple[BoltForce, ...]:
    """Return what each bolt carries, in the order of `places_mm`.

    With J the polar sum and x, y from the middle of the group: fx = Fx / n - M y / J,
    fy = Fy / n + M x / J.

    Holds while nothing yields and the plates are stiff; a group in wood shares more evenly before
    it breaks, unless it splits first.

    Args:
        places_mm: The bolts, anywhere in their plane.
        force_x_n: Along x, taken through the middle of the group.
        force_y_n: Along y, likewise.
        moment_nmm: About the middle, counter-clockwise above 0. A force beside the middle adds its
            own: `moment_about_nmm`.

    Raises:
        PartError: There is no bolt, all stand in one place under a moment, or a number is not
            finite.

    Source:
        Linear share of bolt forces, allowed by EN 1993-1-8:2005, 3.12; eccentric shear in
        textbooks of machine elements (from memory).
    """
    middle_x, middle_y = centroid_mm(places_mm)
    along_x = require_finite(force_x_n, "force along x", "N") / len(places_mm)
    along_y = require_finite(force_y_n, "force along y", "N") / len(places_mm)
    moment = require_finite(moment_nmm, "moment", "N mm")
    per_mm = 0.0
    if moment:
        spread = polar_sum_mm2(places_mm)
        if spread < LEAST_SPREAD_MM**2 * len(places_mm):
            raise PartError(
                f"a moment of {moment:g} N mm on bolts in one place",
                remedy="give two bolts or more, apart from each other",
            )
        per_mm = moment / spread
    return tuple(
        BoltForce(x_n=along_x - per_mm * (y - middle_y), y_n=along_y + per_mm * (x - middle_x))
        for x, y in places_mm
    )


def largest(forces: Sequence[BoltForce]) -> BoltForce:
    """Return the force with the largest resultant, the first of equals.

    Raises:
        PartError: There is none.
    """
    if not forces:
        raise PartError("no force to choose from", remedy="give a group of one bolt or more")
    return max(forces, key=lambda force: force.size_n)


def bolt_circle_force_n(torque_nmm: float, *, bolts: int, radius_mm: float) -> float:
    """Return what each of `bolts` on a circle carries under a pure torque, N: T / (n R).

    All of them share it: true of fitted bolts and of wood that has crushed a little; one bolt in
    a tight hole among loose ones carries more at first.

    Args:
        torque_nmm: About the circle's axis, 0 or more.
        bolts: How many, evenly spaced.
        radius_mm: Half the bolt circle's diameter.

    Raises:
        PartError: A number cannot be.

    Source:
        Equilibrium.
    """
    torque = require_zero_up(torque_nmm, "torque", "N mm")
    return torque / (
        require_whole(bolts, "number of bolts")
        * require_positive(radius_mm, "bolt circle radius", "mm")
    )


def bolt_circle_torque_nmm(force_n: float, *, bolts: int, radius_mm: float) -> float:
    """Return the torque that loads each of `bolts` on a circle with `force_n`, N mm: n R F.

    Raises:
        PartError: A number cannot be.

    Source:
        Equilibrium.
    """
    force = require_zero_up(force_n, "force per bolt", "N")
    return (
        force
        * require_whole(bolts, "number of bolts")
        * require_positive(radius_mm, "bolt circle radius", "mm")
    )


def _checked(places_mm: Sequence[Place]) -> Sequence[Place]:
    if not places_mm:
        raise PartError("a group without a bolt", remedy="give one place or more")
    for place in places_mm:
        for coordinate, name in zip(place, "xy", strict=True):
            require_finite(coordinate, f"{name} of a bolt", "mm")
    return places_mm
