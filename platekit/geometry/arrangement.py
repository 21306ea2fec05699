"""The cells into which segments divide the plane: for tinting what lies between drawn lines."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

from platekit.geometry.tables import Floats, Ints

# Crossings are put on a grid this fine: far below what a picture shows, and it makes the division
# safe, whatever nearly meets.
GRID_MM = 1e-3

Rings = tuple[Floats, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Cells:
    """What segments enclose.

    Attributes:
        polygons: The cells, none overlapping another; shapely's own, shape (n,).
        inside: A point within each, shape (n, 2).
    """

    polygons: Any
    inside: Floats

    def together(self, labels: Ints) -> list[tuple[int, Rings]]:
        """Return cells of one label as one: each connected region's rings, the outer one first.

        Args:
            labels: A number for each cell; cells with a negative one are left out.

        Returns:
            Label and rings, by label; rings are open, outer ones counter-clockwise.
        """
        regions: list[tuple[int, Rings]] = []
        order = np.argsort(labels, kind="stable")
        order = order[labels[order] >= 0]
        for some in np.split(order, np.flatnonzero(np.diff(labels[order])) + 1):
            if len(some) == 0:
                continue
            whole = shapely.coverage_union_all(self.polygons[some])
            for one in shapely.get_parts(whole):
                turned = shapely.orient_polygons(one)
                rings = [turned.exterior, *turned.interiors]
                regions.append(
                    (int(labels[some[0]]), tuple(shapely.get_coordinates(r)[:-1] for r in rings))
                )
        return regions


def cells_between(segments: Floats) -> Cells:
    """Return what segments enclose; ends that lead nowhere do no harm.

    Args:
        segments: Their ends, shape (n, 2, 2).
    """
    lines = shapely.union_all(shapely.linestrings(segments), grid_size=GRID_MM)
    polygons = shapely.get_parts(shapely.polygonize([lines]))
    inside = shapely.get_coordinates(shapely.point_on_surface(polygons))
    return Cells(polygons, np.asarray(inside, dtype=float).reshape(-1, 2))


def inner_point(rings: Rings) -> tuple[float, float]:
    """Return a point well within a region: the middle of the largest circle it has room for.

    Args:
        rings: Its rings, the outer one first, open; shape (n, 2) each.
    """
    region = shapely.Polygon(rings[0], rings[1:])
    low_x, low_y, high_x, high_y = region.bounds
    near = max(high_x - low_x, high_y - low_y) / 100
    circle = shapely.maximum_inscribed_circle(region, tolerance=near)
    middle = shapely.get_coordinates(circle)[0]
    return float(middle[0]), float(middle[1])
