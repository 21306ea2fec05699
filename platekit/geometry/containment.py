"""Whether a shape lies within another, to a stated slack."""

from __future__ import annotations

import math

import numpy as np
import shapely

from platekit.geometry.chains import Chain
from platekit.geometry.chords import Side, to_polygon
from platekit.geometry.distance import distance
from platekit.geometry.profile import Profile

# Chords of the part lie outside it and those of the shape inside: whatever passes is proven. A
# share of the slack at the last, so that little that should pass does not.
CHORDS_MM = (2e-3, 1e-4)
LAST_SHARE = 0.1


def edge_distance(a: Profile, b: Profile) -> float:
    """Return the least exact distance between any edge of `a` and any edge of `b`, mm."""
    pairs = [(_box_distance(ring, other), ring, other) for ring in a.rings for other in b.rings]
    least = math.inf
    for at_least, ring, other in sorted(pairs, key=lambda pair: pair[0]):
        if at_least > least:
            break
        least = min(least, distance(ring, other))
    return least


def keeps_inside(part: Profile, shape: Profile, *, slack_mm: float) -> bool:
    """Return whether no point of `part` lies further than `slack_mm` outside `shape`.

    Holes of the shape are outside it. Edges may touch. With arcs the slack is judged to a fifth.

    Args:
        part: What is to lie within.
        shape: What it is to lie within.
        slack_mm: How far out it may reach, above 0.
    """
    for tolerance_mm in (*CHORDS_MM, LAST_SHARE * slack_mm):
        outer = to_polygon(part, tolerance_mm=tolerance_mm, side=Side.OUTSIDE)
        inner = to_polygon(shape, tolerance_mm=tolerance_mm, side=Side.INSIDE)
        if shapely.covers(shapely.buffer(inner, slack_mm), outer):
            return True
    return False


def stands_inside(part: Profile, shape: Profile) -> bool:
    """Return whether `part` lies in `shape`, when it is known that their edges do not meet."""
    starts = np.array([hole.start for hole in shape.inners]).reshape(-1, 2)
    return shape.contains(part.outer.start) and not bool(np.any(part.contains_each(starts)))


def _box_distance(a: Chain, b: Chain) -> float:
    """Return how far the bounds of two chains are apart, mm: they themselves are no nearer."""
    one, other = a.bounds, b.bounds
    return math.hypot(
        max(one.left - other.right, other.left - one.right, 0.0),
        max(one.bottom - other.top, other.bottom - one.top, 0.0),
    )
