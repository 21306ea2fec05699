"""Solids: every part as a body in space, by an independent kernel.

What the joints promise is checked here: no two parts share a volume, and together they fill what
the slabs claimed. manifold3d is imported only when a body is asked for.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np

from platekit.assembly.frames import Frame
from platekit.assembly.panels import Panel
from platekit.geometry.chords import Side, profile_rings
from platekit.geometry.profile import Profile
from platekit.geometry.tables import Floats

if TYPE_CHECKING:
    from manifold3d import Manifold

# Chords this close to a 20 mm bore change its volume by less than a thousandth.
SOLID_TOLERANCE_MM = 0.01


def solid(
    profile: Profile,
    *,
    thickness_mm: float,
    frame: Frame,
    tolerance_mm: float = SOLID_TOLERANCE_MM,
    side: Side = Side.NEAR,
) -> Manifold:
    """Return the body of a flat piece in space.

    Args:
        profile: Its shape.
        thickness_mm: Thickness along the frame's n.
        frame: Where it lies.
        tolerance_mm: Largest gap between an arc and its chord.
        side: On which side of the arcs the chords lie; with NEAR corners lie on the arcs.
    """
    rings = profile_rings(profile, tolerance_mm=tolerance_mm, side=side)
    return raised(rings, height_mm=thickness_mm, frame=frame)


def raised(rings: Sequence[Floats], *, height_mm: float, frame: Frame) -> Manifold:
    """Return what rings of points enclose, raised along a frame's n.

    Args:
        rings: The corners of each ring in the frame's plane, shape (n, 2), material on the left.
        height_mm: How far it is raised.
        frame: Where it lies.
    """
    from manifold3d import CrossSection, FillRule, Manifold

    body = Manifold.extrude(CrossSection(rings, FillRule.Positive), height_mm)
    return body.transform(np.column_stack([frame.u, frame.v, frame.n, frame.origin]))


def slab_solid(panel: Panel, *, tolerance_mm: float = SOLID_TOLERANCE_MM) -> Manifold:
    """Return the full slab of a panel, before joints and features."""
    return union_solid(
        solid(
            plate.outline,
            thickness_mm=plate.sheet.thickness_mm,
            frame=frame,
            tolerance_mm=tolerance_mm,
        )
        for plate, frame in zip(panel.layers, panel.layer_frames(), strict=True)
    )


def union_solid(bodies: Iterable[Manifold]) -> Manifold:
    """Return all bodies joined."""
    from manifold3d import Manifold, OpType

    return Manifold.batch_boolean(list(bodies), OpType.Add)


def overlap_mm3(bodies: Sequence[Manifold]) -> float:
    """Return the volume that pairs of bodies share, mm3, added up over all pairs."""
    boxes = np.array([body.bounding_box() for body in bodies])
    return sum(
        float((bodies[i] ^ bodies[j]).volume())
        for i, j in combinations(range(len(bodies)), 2)
        if np.all(boxes[i, :3] < boxes[j, 3:]) and np.all(boxes[j, :3] < boxes[i, 3:])
    )
