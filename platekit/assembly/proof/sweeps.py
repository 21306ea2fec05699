"""Sweeps: the room a prism passes through when it is moved in a straight line.

Along its own axis a prism just grows longer. Square to it, its cross-section is drawn out: the
outer ring and the quadrilaterals its edges pass over. In any other direction a convex hull stands
in, which is never too small.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import numpy as np

from platekit.assembly.frames import Vector
from platekit.assembly.proof.things import BODY_TOLERANCE_MM, Prism
from platekit.geometry.chords import Side, ring_points
from platekit.geometry.tables import Floats

if TYPE_CHECKING:
    from manifold3d import Manifold

ALONG = 1e-9


def swept(prism: Prism, way: Vector, length_mm: float) -> Manifold:
    """Return the room a prism passes through when moved by `length_mm` along a unit vector."""
    along = prism.frame.n.dot(way)
    if abs(abs(along) - 1.0) <= ALONG:
        low = prism.low_mm - (length_mm if along < 0 else 0.0)
        high = prism.high_mm + (length_mm if along > 0 else 0.0)
        return Prism(prism.profile, prism.frame, low, high).solid()
    if abs(along) <= ALONG:
        return _sideways(prism, way, length_mm)
    body = prism.solid()
    moved = body.translate((way.x * length_mm, way.y * length_mm, way.z * length_mm))
    return type(body).batch_hull([body, moved])


def _sideways(prism: Prism, way: Vector, length_mm: float) -> Manifold:
    from manifold3d import CrossSection, FillRule, Manifold

    frame = prism.frame
    step = np.array([way.dot(frame.u), way.dot(frame.v)]) * length_mm
    # What a hole leaves open at the start is passed over by the material behind it.
    ring = ring_points(
        prism.profile.outer.table,
        tolerance_mm=BODY_TOLERANCE_MM,
        side=Side.INSIDE,
        material_left=True,
    )
    shape = CrossSection([ring, *_passed(ring, step)], FillRule.NonZero)
    body = Manifold.extrude(shape, prism.high_mm - prism.low_mm)
    lifted = frame.lifted(prism.low_mm)
    return body.transform(np.column_stack([lifted.u, lifted.v, lifted.n, lifted.origin]))


def _passed(ring: Floats, step: Floats) -> list[Floats]:
    """Return the quadrilaterals that the forward edges of a ring pass over."""
    after = np.roll(ring, -1, axis=0)
    edges = after - ring
    # Counter-clockwise ring: the outward normal of an edge is (dy, -dx).
    forward = edges[:, 1] * step[0] - edges[:, 0] * step[1] > ALONG * math.hypot(*step)
    return [
        np.array([a, a + step, b + step, b])
        for a, b in zip(ring[forward], after[forward], strict=True)
    ]
