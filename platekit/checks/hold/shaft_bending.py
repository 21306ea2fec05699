"""How a shaft on a load's line is bent: a beam on its bearings, or held by the motor alone."""

from __future__ import annotations

from dataclasses import dataclass

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


@dataclass(frozen=True, slots=True, kw_only=True)
class BentByAll:
    """Forces across a line: each may point where it adds to the others.

    Attributes:
        forces: Each of them, with what stands against it.
    """

    forces: tuple[Bent, ...]

    def moment_nmm(self, place_mm: float) -> float:
        """Return the bending moment at a place of the line, the worst case."""
        return sum(one.moment_nmm(place_mm) for one in self.forces)

    def most_nmm(self, low_mm: float, high_mm: float) -> float:
        """Return the largest bending moment between two places."""
        places = {at for one in self.forces for at in (one.at_mm, *one.supports_mm)}
        inside = [at for at in places if low_mm < at < high_mm]
        return max(self.moment_nmm(place) for place in (low_mm, high_mm, *inside))


def bent(one: Followed, *, times: float = 1.0) -> BentByAll:
    """Return how the forces across a line, so many times, bend what lies on it.

    The outer two bearings hold it; one alone does so with the motor's face; without any, the
    motor holds it by itself.
    """
    places = [one.middle_mm(bearing) for bearing in one.bearings]
    if len(places) > 1:
        held: tuple[float, ...] = (places[0], places[-1])
    else:
        face = [] if one.motor is None else [one.place_mm(one.motor, 0.0)]
        held = (*places, *face)
    supports = tuple(sorted(set(held)))
    return BentByAll(
        forces=tuple(
            Bent(force_n=times * push.force_n, at_mm=push.at_mm, supports_mm=supports)
            for push in one.pushes
        )
    )
