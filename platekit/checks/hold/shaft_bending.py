"""How a shaft on a load's line is bent: a beam on its bearings, or held by the motor alone."""

from __future__ import annotations

from dataclasses import dataclass

from platekit.assembly.mounting import Standing
from platekit.checks.hold.following import Followed


@dataclass(frozen=True, slots=True, kw_only=True)
class Bent:
    """A force across a line and what stands against it.

    Attributes:
        force_n: The force.
        at_mm: Where it acts along the line.
        supports_mm: Where it is held, rising: two places, or one that also holds the moment.
    """

    force_n: float
    at_mm: float
    supports_mm: tuple[float, ...]

    def moment_nmm(self, place_mm: float) -> float:
        """Return the bending moment at a place of the line; 0 where nothing holds it.

        Source:
            Statics: a beam on two supports, or one built in at one end.
        """
        if len(self.supports_mm) == 1:
            (held,) = self.supports_mm
            low, high = sorted((held, self.at_mm))
            return self.force_n * abs(self.at_mm - place_mm) if low <= place_mm <= high else 0.0
        if len(self.supports_mm) < 2:
            return 0.0
        first, second = self.supports_mm
        if not min(first, self.at_mm) < place_mm < max(second, self.at_mm):
            return 0.0
        share = (self.at_mm - first) / (second - first)
        forces = (
            (self.at_mm, self.force_n),
            (first, -(1.0 - share) * self.force_n),
            (second, -share * self.force_n),
        )
        return abs(sum(force * (place_mm - at) for at, force in forces if at < place_mm))

    def most_nmm(self, low_mm: float, high_mm: float) -> float:
        """Return the largest bending moment between two places."""
        inside = [at for at in (self.at_mm, *self.supports_mm) if low_mm < at < high_mm]
        return max(self.moment_nmm(place) for place in (low_mm, high_mm, *inside))


def bent(one: Followed, *, force_n: float) -> Bent:
    """Return how a force across a line bends what lies on it.

    The outer two bearings hold it; one alone does so with the motor's face; without any, the
    motor holds it by itself.
    """
    places = [middle_mm(one, bearing) for bearing in one.bearings]
    if len(places) > 1:
        supports: tuple[float, ...] = (places[0], places[-1])
    else:
        face = [] if one.motor is None else [one.place_mm(one.motor, 0.0)]
        supports = (*places, *face)
    supports = tuple(sorted(set(supports)))
    return Bent(force_n=force_n, at_mm=one.load_mm, supports_mm=supports)


def middle_mm(one: Followed, part: Standing) -> float:
    """Return where the middle of a device lies on the line."""
    blocks = part.device.blocks
    low, high = min(block.low_mm for block in blocks), max(block.high_mm for block in blocks)
    return one.place_mm(part, (low + high) / 2)
