"""Overlaps: how much two bodies claim of one place, and where."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from platekit.assembly.frames import Vector
from platekit.geometry.tables import Floats

if TYPE_CHECKING:
    from manifold3d import Manifold

# Where two bodies only touch, chords and rounding leave shreds thinner than this.
SHRED_MM = 0.06
# Joints held by interference overlap on purpose, by less than this.
RUB_MM = 0.25


@dataclass(frozen=True, slots=True)
class Overlap:
    """What two bodies both claim.

    Attributes:
        volume_mm3: How much.
        depth_mm: How thick it is on the mean: twice volume over surface.
        at: Its middle.
    """

    volume_mm3: float
    depth_mm: float
    at: Vector


def boxes_meet(a: Floats, b: Floats) -> bool:
    """Return whether two boxes, least and greatest corner, share a volume."""
    return bool(np.all(a[0] < b[1]) and np.all(b[0] < a[1]))


def overlap(one: Manifold, other: Manifold, *, over_mm: float) -> Overlap | None:
    """Return the thickest piece of what two bodies share, if it is thicker than `over_mm`."""
    shared = one ^ other
    if shared.is_empty():
        return None
    pieces = shared.decompose()
    found: Overlap | None = None
    total = 0.0
    for piece in pieces:
        surface = piece.surface_area()
        if surface <= 0.0:
            continue
        volume = piece.volume()
        depth = 2.0 * volume / surface
        if depth <= over_mm:
            continue
        total += volume
        if found is None or depth > found.depth_mm:
            x0, y0, z0, x1, y1, z1 = piece.bounding_box()
            middle = Vector((x0 + x1) / 2, (y0 + y1) / 2, (z0 + z1) / 2)
            found = Overlap(volume, depth, middle)
    return None if found is None else Overlap(total, found.depth_mm, found.at)
