"""Sweep: what a round beam leaves when its middle follows a path.

The path is drawn on the sheet with a disc as wide as the cut; what the disc covers is gone. This
is the physical check of compensation and shares nothing with the engines that made the path.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely

from platekit.geometry.chords import Side, to_polygon
from platekit.geometry.points import Point
from platekit.geometry.profile import Profile


@dataclass(frozen=True, slots=True, kw_only=True)
class SweptDifference:
    """How a swept part differs from the nominal one.

    Right within twice the chord tolerance; at a sharp corner of angle a, 1 / sin(a/2) times that.

    Attributes:
        gouge_mm: How deep the beam cut into the part at worst.
        gouge_at: Where; None when it did not.
        gouged_mm2: Area of the part that the beam took.
        leftover_mm: How much material stands before the nominal edge at worst: in an inside corner
            the way from the corner to the round the beam leaves.
        leftover_at: Where; None when nothing does.
        leftover_mm2: Area of it.
    """

    gouge_mm: float
    gouge_at: Point | None
    gouged_mm2: float
    leftover_mm: float
    leftover_at: Point | None
    leftover_mm2: float


def swept_difference(
    nominal: Profile, path: Profile, *, beam_mm: float, tolerance_mm: float
) -> SweptDifference:
    """Return how the part differs from `nominal` after a beam has followed `path`.

    Args:
        nominal: The part as it should be.
        path: Where the middle of the beam runs.
        beam_mm: Full width of the cut, above 0.
        tolerance_mm: Largest gap between a true arc and its chord, in every shape compared.
    """
    wanted = to_polygon(nominal, tolerance_mm=tolerance_mm, side=Side.NEAR)
    inside = to_polygon(path, tolerance_mm=tolerance_mm, side=Side.NEAR)
    radius = beam_mm / 2
    step = math.acos(max(1.0 - tolerance_mm / radius, 0.0))
    swept = shapely.buffer(inside.boundary, radius, quad_segs=max(2, math.ceil(math.pi / 4 / step)))
    left = shapely.difference(inside, swept)
    gouged = shapely.difference(wanted, left)
    standing = shapely.difference(left, wanted)
    gouge_mm, gouge_at = _furthest(gouged, left)
    leftover_mm, leftover_at = _furthest(standing, shapely.boundary(left))
    return SweptDifference(
        gouge_mm=gouge_mm,
        gouge_at=gouge_at,
        gouged_mm2=float(shapely.area(gouged)),
        leftover_mm=leftover_mm,
        leftover_at=leftover_at,
        leftover_mm2=float(shapely.area(standing)),
    )


def _furthest(shape: shapely.Geometry, other: shapely.Geometry) -> tuple[float, Point | None]:
    """Return the corner of `shape` furthest from `other`, and how far, mm."""
    corners = shapely.get_coordinates(shape)
    if len(corners) == 0 or shapely.is_empty(other):
        return 0.0 if len(corners) == 0 else math.inf, None
    shapely.prepare(other)
    away = shapely.distance(other, np.asarray(shapely.points(corners)))
    k = int(np.argmax(away))
    return float(away[k]), Point(float(corners[k, 0]), float(corners[k, 1]))
