"""Around: what of a plate lies about a place in it: its bore, its edge, its nearest opening."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from platekit.geometry.distance import point_distances
from platekit.geometry.points import Point
from platekit.geometry.profile import Profile
from platekit.geometry.tables import Table


def bore_mm(profile: Profile, at: Point) -> float:
    """Return the diameter of the circle about `at` that the opening there reaches; 0 for none."""
    ring = next((one for one in profile.inners if one.encloses(at)), None)
    if ring is None:
        return 0.0
    box = ring.bounds
    if ring.is_circle:
        return box.width_mm + 2 * math.hypot(box.centre.x - at.x, box.centre.y - at.y)
    corners = [(x, y) for x in (box.left, box.right) for y in (box.bottom, box.top)]
    return 2 * max(math.hypot(x - at.x, y - at.y) for x, y in corners)


def rim_mm(profile: Profile, at: Point) -> float:
    """Return how far the plate's outer edge is from `at`; 0 where `at` lies outside it."""
    return _from_mm(profile.outer.table, at) if profile.outer.encloses(at) else 0.0


def edge_mm(profile: Profile, at: Point, *, beside: Sequence[Point] = ()) -> float:
    """Return how far the nearest edge or opening is from a hole's middle.

    Its own hole does not count, nor do those about the other places of its group: these share one
    load, and what lies between them is weighed by itself.

    Args:
        profile: The plate as it is cut.
        at: The hole's middle.
        beside: Middles of other holes of its group.
    """
    own = (at, *beside)
    rings = [profile.outer] if profile.outer.encloses(at) else []
    rings += [ring for ring in profile.inners if not any(map(ring.encloses, own))]
    return _from_mm(np.concatenate([ring.table for ring in rings]), at) if rings else 0.0


def _from_mm(rows: Table, at: Point) -> float:
    return float(np.min(point_distances(rows, np.full((len(rows), 2), (at.x, at.y)))))
