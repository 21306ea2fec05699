"""Blocks: what a bought part fills, as straight prisms along its own axis.

A bought part is drawn as it stands on the face it is fixed to: that face is z = 0, z points away
from the plate, x and y lie in it. What stands on the plate is above, what reaches into it or
through it is below.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from platekit.errors import PartError
from platekit.geometry.points import Pair

if TYPE_CHECKING:
    from platekit.geometry.profile import Profile

ORIGIN = (0.0, 0.0)
# A block thinner than this along the axis is a slip of the pen.
LEAST_HEIGHT_MM = 1e-6


@dataclass(frozen=True, slots=True)
class Block:
    """A straight prism along z.

    Attributes:
        name: What it is of the part: "body", "spigot", "shaft".
        profile: Its cross-section about the part's axis.
        low_mm: Where it begins along z; below 0 lies in the plate and beyond.
        high_mm: Where it ends, above `low_mm`.

    Raises:
        PartError: It has no height.
    """

    name: str
    profile: Profile
    low_mm: float
    high_mm: float

    def __post_init__(self) -> None:
        if not self.high_mm - self.low_mm > LEAST_HEIGHT_MM:
            raise PartError(
                f"its {self.name} reaches from {self.low_mm:g} to {self.high_mm:g} mm",
                remedy="give a height above 0",
            )

    @property
    def height_mm(self) -> float:
        """How far it reaches along z."""
        return self.high_mm - self.low_mm


def cylinder(
    name: str,
    diameter_mm: float,
    *,
    low_mm: float,
    high_mm: float,
    bore_mm: float = 0.0,
    at: Pair = ORIGIN,
) -> Block:
    """Return a round block about `at`, hollow where `bore_mm` is above 0.

    Raises:
        PartError: It has no height.
        GeometryError: A diameter that cannot be.
    """
    # Tables of screws and nuts load this module; shapes wait until one is drawn.
    from platekit.geometry.chains import circle
    from platekit.geometry.profile import Profile

    inner = (circle(at, diameter_mm=bore_mm),) if bore_mm else ()
    return Block(name, Profile(circle(at, diameter_mm=diameter_mm), inner), low_mm, high_mm)


def box(
    name: str,
    width_mm: float,
    depth_mm: float,
    *,
    low_mm: float,
    high_mm: float,
    at: Pair = ORIGIN,
    fillet_mm: float = 0.0,
) -> Block:
    """Return a block with a rectangular base, its middle at `at`.

    Raises:
        PartError: It has no height.
        GeometryError: A size that cannot be.
    """
    from platekit.geometry.profile import Profile
    from platekit.geometry.shapes import rectangle

    base = rectangle(width_mm, depth_mm, centre=at, fillet_mm=fillet_mm)
    return Block(name, Profile(base), low_mm, high_mm)


def hexagon(
    name: str,
    across_flats_mm: float,
    *,
    low_mm: float,
    high_mm: float,
    bore_mm: float = 0.0,
    at: Pair = ORIGIN,
) -> Block:
    """Return a six-sided block about `at`: a nut, a bolt's head; hollow where it has a bore.

    Raises:
        PartError: It has no height.
        GeometryError: A size that cannot be.
    """
    from platekit.geometry.chains import circle
    from platekit.geometry.profile import Profile
    from platekit.geometry.shapes import regular_polygon

    inner = (circle(at, diameter_mm=bore_mm),) if bore_mm else ()
    outer = regular_polygon(6, across_flats_mm=across_flats_mm, centre=at)
    return Block(name, Profile(outer, inner), low_mm, high_mm)
