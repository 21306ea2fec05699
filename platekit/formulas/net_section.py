"""What bolt holes leave of a flange or adapter that passes a torque from its bore to its bolts.

The model: a flat ring cut through along a circle about its axis; the torque crosses that cut as an
even shear. Along the bolt circle the holes are taken out of the cut, as if the whole torque still
passed between them, which is careful: part of it has already gone into the bolts. Where a hole
raises the stress is an estimate from one hole in a wide sheet. Bending of the ring, a bore that is
not round, the pressure of the bolts on their holes, and the grain of plywood are not in it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from platekit.errors import PartError
from platekit.formulas.quantities import require_positive, require_whole, require_zero_up

# Largest stress at the rim of a round hole in a wide sheet over the shear far away: a shear is a
# pull and an equal push across it, and Kirsch's 3 for the one meets his -1 for the other.
HOLE_IN_SHEAR = 4.0
# Nearer than this, in hole diameters from middle to middle, the holes feel each other too much
# for that figure: common practice, no source.
LEAST_PITCH = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class HoledRing:
    """A flat ring with equal holes on a bolt circle."""

    bore_mm: float  # diameter of the opening in the middle; 0 for none
    outside_mm: float
    circle_mm: float  # bolt circle diameter
    holes: int
    hole_mm: float  # diameter of each
    thickness_mm: float

    def __post_init__(self) -> None:
        require_zero_up(self.bore_mm, "bore", "mm")
        require_positive(self.outside_mm, "outside diameter", "mm")
        require_positive(self.circle_mm, "bolt circle", "mm")
        require_whole(self.holes, "holes", least=2)
        require_positive(self.hole_mm, "hole", "mm")
        require_positive(self.thickness_mm, "thickness", "mm")
        for wall_mm, where, remedy in (
            (self.wall_to_bore_mm, "to the bore", "a smaller bore or a larger bolt circle"),
            (self.wall_between_mm, "between holes", "fewer holes or a larger bolt circle"),
            (self.wall_to_rim_mm, "to the rim", "a larger ring or a smaller bolt circle"),
        ):
            if wall_mm <= 0:
                raise PartError(
                    f"wall {where} is {wall_mm:g} mm with holes of {self.hole_mm:g} mm"
                    f" on {self.circle_mm:g} mm",
                    remedy=f"give {remedy}",
                )

    @property
    def wall_to_bore_mm(self) -> float:
        """Wall left between a hole and the bore; to the middle where there is none."""
        return (self.circle_mm - self.bore_mm - self.hole_mm) / 2

    @property
    def wall_between_mm(self) -> float:
        """Wall left between two neighbouring holes, straight across."""
        return self.circle_mm * math.sin(math.pi / self.holes) - self.hole_mm

    @property
    def wall_to_rim_mm(self) -> float:
        """Wall left between a hole and the rim."""
        return (self.outside_mm - self.circle_mm - self.hole_mm) / 2

    @property
    def net_girth_mm(self) -> float:
        """Length of the bolt circle that runs through material: pi D less the arc in each hole.

        A hole of diameter d centred on the circle takes an arc of 2 D asin(d / (2 D)) out of it.
        """
        in_hole = 2 * self.circle_mm * math.asin(self.hole_mm / (2 * self.circle_mm))
        return math.pi * self.circle_mm - self.holes * in_hole


def circle_shear_mpa(torque_nmm: float, *, diameter_mm: float, thickness_mm: float) -> float:
    """Return the shear on a whole circle cut through a plate by a torque, in MPa.

    tau = 2 T / (pi D^2 t): the smaller the circle the higher, so the bore is where to ask.

    Args:
        torque_nmm: Torque T, 0 or more.
        diameter_mm: Diameter D of the circle.
        thickness_mm: Thickness t of the plate.

    Raises:
        PartError: A number is impossible.

    Source:
        Derived: an even shear on pi D t, its arm D / 2.
    """
    torque = require_zero_up(torque_nmm, "torque", "N mm")
    diameter = require_positive(diameter_mm, "diameter", "mm")
    thickness = require_positive(thickness_mm, "thickness", "mm")
    return 2 * torque / (math.pi * diameter**2 * thickness)


def net_shear_mpa(ring: HoledRing, *, torque_nmm: float) -> float:
    """Return the mean shear between the holes along the bolt circle, in MPa.

    tau = 2 T / (D t S), S the `net_girth_mm`.

    Raises:
        PartError: The torque is below 0.

    Source:
        Derived: an even shear on what the holes leave of the circle.
    """
    torque = require_zero_up(torque_nmm, "torque", "N mm")
    return 2 * torque / (ring.circle_mm * ring.thickness_mm * ring.net_girth_mm)


def hole_rim_stress_mpa(ring: HoledRing, *, torque_nmm: float) -> float:
    """Return an estimate of the largest pull or push at the rim of a hole, in MPa.

    Four times the `net_shear_mpa`. As the holes shrink this becomes the exact figure of one hole
    in a wide sheet; for holes of some size it is an estimate and no bound. To be compared with
    what the plate stands in pull, not in shear. In plywood it changes with the grain round the
    hole, and this figure knows nothing of it.

    Raises:
        PartError: The torque is below 0, or the holes are nearer than two diameters.

    Source:
        Kirsch (1898), one hole in a sheet, two cases added (from memory); the net shear in place
        of the gross one: common practice, no source.
    """
    pitch_mm = ring.wall_between_mm + ring.hole_mm
    if pitch_mm < LEAST_PITCH * ring.hole_mm:
        raise PartError(
            f"holes of {ring.hole_mm:g} mm are {pitch_mm:g} mm apart",
            remedy=f"give them {LEAST_PITCH * ring.hole_mm:g} mm, or do not ask for the peak",
        )
    return HOLE_IN_SHEAR * net_shear_mpa(ring, torque_nmm=torque_nmm)


def ring_torque_nmm(ring: HoledRing, *, shear_mpa: float) -> float:
    """Return the torque at which the mean shear at the bore or between the holes is `shear_mpa`.

    The lower of both, in N mm; peaks at holes are not in it. Without a bore only the holes count.

    Raises:
        PartError: The shear stress is not above 0.

    Source:
        `circle_shear_mpa` and `net_shear_mpa` solved for the torque.
    """
    shear = require_positive(shear_mpa, "shear stress", "MPa")
    at_holes = shear / net_shear_mpa(ring, torque_nmm=1.0)
    if ring.bore_mm == 0:
        return at_holes
    at_bore = shear / circle_shear_mpa(
        1.0, diameter_mm=ring.bore_mm, thickness_mm=ring.thickness_mm
    )
    return min(at_bore, at_holes)
