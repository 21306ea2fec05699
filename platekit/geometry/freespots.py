"""Free spots: where on a piece a rectangle finds room, for names and notes."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from platekit.geometry.chains import Chain
from platekit.geometry.chords import Side, polyline_points, to_polygon
from platekit.geometry.points import Pair, Point
from platekit.geometry.profile import Profile
from platekit.geometry.tables import Floats

# Coarse on purpose: with the polygon inside the shape, a spot found is free all the same.
COARSE_MM = 0.05
STEPS = 24  # positions tried along each direction


class FreeSpots:
    """The free room of one piece, prepared once and asked for several sizes.

    Args:
        profile: The piece.
        keep_clear: Marks on it that a rectangle must not cover.
    """

    def __init__(self, profile: Profile, *, keep_clear: Sequence[Chain] = ()) -> None:
        self._bounds = profile.bounds
        self._room = to_polygon(profile, tolerance_mm=COARSE_MM, side=Side.INSIDE)
        shapely.prepare(self._room)
        self._marks = shapely.STRtree(
            [
                shapely.LineString(polyline_points(chain, tolerance_mm=COARSE_MM))
                for chain in keep_clear
            ]
        )

    def nearest(
        self, to: Pair, *, width_mm: float, height_mm: float, margin_mm: float
    ) -> Point | None:
        """Return the centre of the free rectangle nearest to `to`, None where none was found.

        Args:
            to: Where it would best lie.
            width_mm: Extent along x.
            height_mm: Extent along y.
            margin_mm: Room kept between the rectangle and every edge, hole and mark.
        """
        half_x, half_y = width_mm / 2 + margin_mm, height_mm / 2 + margin_mm
        x = _steps(self._bounds.left + half_x, self._bounds.right - half_x, to[0])
        y = _steps(self._bounds.bottom + half_y, self._bounds.top - half_y, to[1])
        if len(x) == 0 or len(y) == 0:
            return None
        at_x, at_y = (grid.ravel() for grid in np.meshgrid(x, y))
        nearest_first = np.argsort(np.hypot(at_x - to[0], at_y - to[1]), kind="stable")
        for some in np.array_split(nearest_first, max(1, len(nearest_first) // 64)):
            boxes = shapely.box(
                at_x[some] - half_x, at_y[some] - half_y, at_x[some] + half_x, at_y[some] + half_y
            )
            free = shapely.covers(self._room, boxes)
            covered, _ = self._marks.query(boxes, predicate="intersects")
            free[covered] = False
            if free.any():
                k = some[int(np.argmax(free))]
                return Point(float(at_x[k]), float(at_y[k]))
        return None


def _steps(low: float, high: float, through: float) -> Floats:
    if high < low:
        return np.empty(0)
    steps = np.linspace(low, high, STEPS + 1)
    if low <= through <= high:
        steps = np.append(steps, through)
    return steps
