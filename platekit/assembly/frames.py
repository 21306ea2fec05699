"""Frames: where a panel lies in space.

The workshop's axes: x to the right, y to the back, z up, mm. A frame carries a panel's own
coordinates into it: its plane is spanned by u and v, and its slab reaches from the plane along
n = u x v by the panel's thickness.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

from platekit.errors import GeometryError
from platekit.geometry.points import cos_sin

# Axes further from unit length or from square than this were not meant as axes.
AXES_WITHIN = 1e-9


class Vector(NamedTuple):
    """A direction or a place in space, mm."""

    x: float
    y: float
    z: float

    def dot(self, other: Vector) -> float:
        """Return the scalar product."""
        return self.x * other.x + self.y * other.y + self.z * other.z

    def cross(self, other: Vector) -> Vector:
        """Return the vector product; plus zeros, so that no -0.0 comes out."""
        return Vector(
            self.y * other.z - self.z * other.y + 0.0,
            self.z * other.x - self.x * other.z + 0.0,
            self.x * other.y - self.y * other.x + 0.0,
        )

    def plus(self, other: Vector, *, times: float = 1.0) -> Vector:
        """Return this vector and `other` taken `times`."""
        return Vector(self.x + times * other.x, self.y + times * other.y, self.z + times * other.z)

    def scaled(self, factor: float) -> Vector:
        """Return the vector `factor` times as long."""
        return Vector(self.x * factor + 0.0, self.y * factor + 0.0, self.z * factor + 0.0)

    @property
    def length(self) -> float:
        """Length."""
        return math.sqrt(self.dot(self))


X = Vector(1.0, 0.0, 0.0)
Y = Vector(0.0, 1.0, 0.0)
Z = Vector(0.0, 0.0, 1.0)
NOWHERE = Vector(0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Frame:
    """An origin and two axes square to each other; the third follows.

    Attributes:
        origin: Where the panel's own (0, 0) lies.
        u: Unit vector of the panel's x.
        v: Unit vector of the panel's y.

    Raises:
        GeometryError: The axes are not of unit length and square to each other.
    """

    origin: Vector = NOWHERE
    u: Vector = X
    v: Vector = Y

    def __post_init__(self) -> None:
        off = max(abs(self.u.dot(self.u) - 1), abs(self.v.dot(self.v) - 1), abs(self.u.dot(self.v)))
        if not off <= AXES_WITHIN or not all(map(math.isfinite, self.origin)):
            raise GeometryError(
                f"a frame has axes u {tuple(self.u)}, v {tuple(self.v)} at {tuple(self.origin)}",
                remedy="give two unit vectors square to each other and a finite origin",
            )

    @property
    def n(self) -> Vector:
        """Unit vector along which the slab has its thickness."""
        return self.u.cross(self.v)

    def point(self, x_mm: float, y_mm: float, height_mm: float = 0.0) -> Vector:
        """Return the place in space of a point of the panel, `height_mm` along n."""
        return (
            self.origin.plus(self.u, times=x_mm)
            .plus(self.v, times=y_mm)
            .plus(self.n, times=height_mm)
        )

    def coordinates(self, place: Vector) -> tuple[float, float, float]:
        """Return a place in space in the panel's own coordinates: x, y and height along n."""
        way = place.plus(self.origin, times=-1.0)
        return way.dot(self.u), way.dot(self.v), way.dot(self.n)

    def moved(self, by: Vector) -> Frame:
        """Return the frame moved by a vector."""
        return Frame(self.origin.plus(by), self.u, self.v)

    def lifted(self, height_mm: float) -> Frame:
        """Return the frame moved along its own n."""
        return self.moved(self.n.scaled(height_mm))

    def turned_in_plane(self, angle_deg: float) -> Frame:
        """Return the frame turned about its own n, counter-clockwise; exact at quarter turns."""
        c, s = cos_sin(angle_deg)
        return Frame(
            self.origin,
            self.u.scaled(c).plus(self.v, times=s),
            self.v.scaled(c).plus(self.u, times=-s),
        )

    def turned(self, *, about: Vector, angle_deg: float, through: Vector = NOWHERE) -> Frame:
        """Return the frame turned about an axis in space; exact at quarter turns about x, y, z.

        Args:
            about: Unit vector of the axis.
            angle_deg: How far, counter-clockwise seen against the axis.
            through: A place the axis runs through.
        """
        c, s = cos_sin(angle_deg)

        def turn(vector: Vector) -> Vector:
            # Rodrigues' rotation formula.
            kept = about.scaled(about.dot(vector) * (1.0 - c))
            return vector.scaled(c).plus(about.cross(vector), times=s).plus(kept)

        way = self.origin.plus(through, times=-1.0)
        return Frame(through.plus(turn(way)), turn(self.u), turn(self.v))


def angle_between_deg(one: Frame, other: Frame) -> float:
    """Return the angle between the planes of two frames, degrees in [0, 90]."""
    cosine = min(1.0, abs(one.n.dot(other.n)))
    sine = one.n.cross(other.n).length
    return math.degrees(math.atan2(sine, cosine))
