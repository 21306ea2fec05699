"""Overlaps: how much two bodies claim of one place, and where."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

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
    # The methods answer twice as fast as np.all, and this is asked most of all.
    return bool((a[0] < b[1]).all() and (b[0] < a[1]).all())


def overlap(one: Manifold, other: Manifold, *, over_mm: float) -> Overlap | None:
    """Return what two bodies share where it is thicker than `over_mm`; None if it nowhere is.

    A shred as wide as a face may hang on a piece that matters, and hide it in the mean: a piece
    thin on the mean is looked at again without what is thin.
    """
    shared = one ^ other
    if shared.is_empty():
        return None
    deepest: Overlap | None = None
    total = 0.0
    for piece in shared.decompose():
        found = _measured(piece)
        if found.depth_mm <= over_mm:
            core = _core(piece, over_mm)
            if core is None:
                continue
            found = Overlap(found.volume_mm3, max(core.depth_mm, over_mm), core.at)
        total += found.volume_mm3
        if deepest is None or _rank(found) > _rank(deepest):
            deepest = found
    return None if deepest is None else Overlap(total, deepest.depth_mm, deepest.at)


def overlaps(one: Manifold, other: Manifold, *, over_mm: float) -> bool:
    """Return whether two bodies share anything thicker than `over_mm`: quicker than how much."""
    shared = one ^ other
    if shared.is_empty():
        return False
    # What is thick on the mean of all pieces has one that is.
    if _measured(shared).depth_mm > over_mm:
        return True
    return any(
        _measured(piece).depth_mm > over_mm or _core(piece, over_mm) is not None
        for piece in shared.decompose()
    )


def _rank(one: Overlap) -> tuple[float, ...]:
    """Return what the place that is named goes by: the deepest, then the least x, y and z.

    Depths to a micrometre, so that the kernel's last bits do not choose between equals.
    """
    return (round(one.depth_mm, 3), *(-round(c, 3) for c in (one.at.x, one.at.y, one.at.z)))


def _measured(piece: Manifold) -> Overlap:
    surface = piece.surface_area()
    volume = piece.volume()
    x0, y0, z0, x1, y1, z1 = piece.bounding_box()
    middle = Vector((x0 + x1) / 2, (y0 + y1) / 2, (z0 + z1) / 2)
    return Overlap(volume, 2.0 * volume / surface if surface > 0.0 else 0.0, middle)


def _core(piece: Manifold, over_mm: float) -> Overlap | None:
    """Return the thickest part of a piece less `over_mm` all round, or None if nothing is left.

    What a piece shares with itself moved to and fro keeps every place that has as much material
    on all sides: along the axes and along the diagonals of a cube.
    """
    x0, y0, z0, x1, y1, z1 = piece.bounding_box()
    if min(x1 - x0, y1 - y0, z1 - z0) <= over_mm:
        return None
    core = piece
    for x, y, z in _AROUND:
        core ^= piece.translate((x * over_mm, y * over_mm, z * over_mm))
        if core.is_empty():
            return None
    left = max((_measured(one) for one in core.decompose()), key=_rank)
    return Overlap(left.volume_mm3, left.depth_mm + over_mm, left.at)


_AROUND = tuple(
    tuple(0.5 * sign * c for c in way)
    for way in (
        (1.0, 0.0, 0.0),
        (0.0, 1.0, 0.0),
        (0.0, 0.0, 1.0),
        *(tuple(c / math.sqrt(3.0) for c in (1.0, y, z)) for y in (1, -1) for z in (1, -1)),
    )
    for sign in (1.0, -1.0)
)
