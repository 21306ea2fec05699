"""The bed: covers that already lie on a sheet, and whether one more keeps its distance."""

from __future__ import annotations

import math

import numpy as np
import shapely

from platekit.geometry.packing_covers import Cover
from platekit.geometry.packing_ground import Ground
from platekit.geometry.tables import Floats

# A place is good when it keeps the gap to this much less (half the gap, when that is smaller
# still): rounding must not turn a flush fit away, and a check to 1e-6 mm must still pass.
GAP_SLACK_MM = 5e-7


class Vicinity:
    """The few covers near a place: all that a short move of one part can meet."""

    __slots__ = ("_gap_mm", "_ground", "_near", "_too_close_mm")

    def __init__(self, near: list[shapely.Polygon], gap_mm: float, ground: Ground | None) -> None:
        self._near = np.array(near, dtype=object)
        self._gap_mm = gap_mm
        self._too_close_mm = gap_mm - min(GAP_SLACK_MM, gap_mm / 2)
        self._ground = ground

    def is_clear(self, covered: Cover, dx_mm: float, dy_mm: float) -> bool:
        """Return whether `covered`, moved by (dx, dy), keeps the gap to everything near."""
        if len(self._near) == 0 and self._ground is None:
            return True
        moved = covered.moved(dx_mm, dy_mm)
        if self._ground is not None and not self._ground.is_clear(moved):
            return False
        too_close = shapely.dwithin(self._near, moved, self._too_close_mm)
        return not bool(np.any(too_close))

    def spare_mm(self, here: shapely.Polygon, there: shapely.Polygon) -> float:
        """Return how far a polygon is from whatever keeps it from being moved from here to there.

        What is kept free is left out: by so much it can move any way. Infinite when nothing does.
        """
        spare = math.inf if self._ground is None else self._ground.spare_mm(here, there)
        if len(self._near):
            met = self._near[shapely.dwithin(self._near, there, self._too_close_mm)]
            if len(met):
                spare = min(spare, float(shapely.distance(met, here).min()) - self._gap_mm)
        return spare


class Bed:
    """What lies on one sheet. It only grows, or goes back to what it was.

    Args:
        gap_mm: Least distance between any two parts, above 0.
        ground: What an offcut's shape forbids; None for a whole sheet.
    """

    __slots__ = ("_boxes", "_gap_mm", "_ground", "_laid")

    def __init__(self, *, gap_mm: float, ground: Ground | None = None) -> None:
        self._gap_mm = gap_mm
        self._ground = ground
        self._laid: list[shapely.Polygon] = []
        self._boxes: Floats = np.empty((0, 4))

    @property
    def count(self) -> int:
        """How many covers lie on it."""
        return len(self._laid)

    def back_to(self, count: int) -> None:
        """Take up again all but the first so many covers."""
        del self._laid[count:]
        self._boxes = self._boxes[:count]

    def lay(self, covered: Cover, dx_mm: float, dy_mm: float) -> None:
        """Add `covered`, moved by (dx, dy)."""
        laid = covered.moved(dx_mm, dy_mm)
        shapely.prepare(laid)
        self._laid.append(laid)
        self._boxes = np.vstack([self._boxes, laid.bounds])

    def vicinity(self, covered: Cover, dx_mm: float, dy_mm: float, *, reach_mm: float) -> Vicinity:
        """Return what `covered` can meet within `reach_mm` of the place (dx, dy)."""
        far = reach_mm + self._gap_mm
        left, bottom, right, top = covered.polygon.bounds
        near = (
            (self._boxes[:, 0] <= right + dx_mm + far)
            & (self._boxes[:, 2] >= left + dx_mm - far)
            & (self._boxes[:, 1] <= top + dy_mm + far)
            & (self._boxes[:, 3] >= bottom + dy_mm - far)
        )
        laid = [self._laid[k] for k in np.flatnonzero(near)]
        return Vicinity(laid, self._gap_mm, self._ground)
