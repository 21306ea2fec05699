"""Covers: polygons that stand in for profiles while a nesting looks for a place.

A cover holds the whole true shape, so what keeps covers apart keeps the shapes apart. An arc's
cover stands off by at most `COVER_TOLERANCE_MM`; straight edges are covered exactly.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely

from platekit.geometry.chains import Bounds
from platekit.geometry.chords import Side, to_polygon
from platekit.geometry.profile import Profile
from platekit.geometry.tables import Floats

# What two round parts may lose of their place to each other, twice: far below any kerf.
COVER_TOLERANCE_MM = 2e-3

# Chords to a quarter turn of a grown corner. They cut in by 0.03 % of the growth: a raster built
# on them may be that much too hopeful, which the exact test of every place then catches.
CORNER_CHORDS = 16

# Growing by less only breeds slivers.
LEAST_GROWTH_MM = 1e-6


@dataclass(frozen=True, slots=True, eq=False)
class Cover:
    """A polygon that holds a profile.

    Attributes:
        polygon: The polygon, holes included.
        bounds: The profile's own exact bounds, which the polygon may exceed by the tolerance.
    """

    polygon: shapely.Polygon
    bounds: Bounds

    def moved(self, dx_mm: float, dy_mm: float) -> shapely.Polygon:
        """Return the polygon moved by (dx, dy)."""
        move = np.array([dx_mm, dy_mm])
        moved: shapely.Polygon = shapely.transform(self.polygon, lambda points: points + move)
        return moved


def cover(profile: Profile) -> Cover:
    """Return a polygon that holds `profile`."""
    polygon = to_polygon(profile, tolerance_mm=COVER_TOLERANCE_MM, side=Side.OUTSIDE)
    return Cover(polygon, profile.bounds)


def grown_rings(covered: Cover, *, growth_mm: float) -> tuple[Floats, ...]:
    """Return the rings of a cover grown all round, each closed, shape (n, 2).

    Holes shrink and may vanish. Even-odd counting over all rings tells inside from outside.
    """
    grown = covered.polygon
    if growth_mm > LEAST_GROWTH_MM:
        grown = shapely.buffer(covered.polygon, growth_mm, quad_segs=CORNER_CHORDS)
    boundary = shapely.get_parts(shapely.boundary(grown))
    return tuple(np.asarray(shapely.get_coordinates(ring)) for ring in boundary)


def hull_edge_angles_deg(covered: Cover) -> Floats:
    """Return the directions of the convex hull's edges, longest edge first, degrees."""
    hull = shapely.get_coordinates(shapely.convex_hull(covered.polygon))
    steps = np.diff(hull, axis=0)
    longest_first = np.argsort(-np.hypot(steps[:, 0], steps[:, 1]), kind="stable")
    return np.degrees(np.arctan2(steps[:, 1], steps[:, 0]))[longest_first]


def hull_area_mm2(covered: Cover) -> float:
    """Return the area of the convex hull, mm2: what a part takes up before others interlock."""
    return float(shapely.area(shapely.convex_hull(covered.polygon)))


# Corners of an outline grown for the solver stay sharp up to a right angle and are cut off, no
# nearer than this many times the growth, beyond: a corner more costs the solver more than the
# room does.
CORNER_REACH = 1.45


def outline_ring(profile: Profile, *, growth_mm: float, tolerance_mm: float) -> Floats:
    """Return a ring around a profile and the strip of a width around it; holes do not count.

    Args:
        profile: The shape.
        growth_mm: Width of the strip, 0 or more.
        tolerance_mm: How far chords may stand off the shape's arcs.

    Returns:
        Corners, counter-clockwise, shape (n, 2), the first not repeated. The true shape, so
        grown, lies inside.
    """
    solid = Profile.trusted(profile.outer, ())
    outline = to_polygon(solid, tolerance_mm=tolerance_mm, side=Side.OUTSIDE)
    if growth_mm > LEAST_GROWTH_MM:
        outline = shapely.buffer(outline, growth_mm, join_style="mitre", mitre_limit=CORNER_REACH)
    ring = shapely.get_coordinates(shapely.orient_polygons(outline).exterior)
    return np.asarray(ring[:-1])
