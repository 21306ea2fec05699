"""What is wrong with rings of plain points, before they may become a profile."""

from __future__ import annotations

import re
from collections.abc import Sequence

import numpy as np
import shapely

from platekit.geometry.points import SAME_POINT_MM, Pair, near


def without_doubled(ring: Sequence[Pair]) -> list[Pair]:
    """Return the ring's points without any that repeats the one before it, the last included."""
    kept: list[Pair] = []
    for point in ring:
        if not kept or not near(kept[-1], point, within_mm=SAME_POINT_MM):
            kept.append(point)
    while len(kept) > 1 and near(kept[0], kept[-1], within_mm=SAME_POINT_MM):
        kept.pop()
    return kept


def ring_fault(ring: Sequence[Pair]) -> str:
    """Return what is wrong with one ring of at least three points; empty when it is sound."""
    polygon = shapely.Polygon(np.asarray(ring, dtype=np.float64))
    if polygon.area == 0.0:
        return "encloses no area"
    if polygon.is_valid:
        return ""
    return f"crosses or touches itself{_place(shapely.is_valid_reason(polygon))}"


def hole_fault(outline: Sequence[Pair], holes: Sequence[Sequence[Pair]]) -> tuple[int, str] | None:
    """Return the first hole that lies wrong, from 0, and how; None when all lie well.

    Every ring must be sound by itself.
    """
    outer = shapely.Polygon(np.asarray(outline, dtype=np.float64))
    inner = [shapely.Polygon(np.asarray(hole, dtype=np.float64)) for hole in holes]
    for k, hole in enumerate(inner):
        if not outer.covers(hole):
            return k, "reaches outside the outline"
        if shapely.distance(outer.exterior, hole) == 0.0:
            return k, "touches the outline"
        for m in range(k):
            if inner[m].intersects(hole):
                return k, f"overlaps hole {m + 1}"
    return None


def _place(reason: str) -> str:
    at = re.search(r"\[(\S+) (\S+)\]", reason)
    return f" at ({float(at[1]):g}, {float(at[2]):g})" if at else ""
