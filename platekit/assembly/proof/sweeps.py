"""Sweeps: the room a prism passes through when it is moved in a straight line.

Along its own axis a prism just grows longer. Square to it, its cross-section is drawn out: the
outer ring and the quadrilaterals its edges pass over. In any other direction its leading end and
its leading walls are drawn out, each to a slanting block. Never smaller than the true room; larger
only where the trailing part of a hole that the move closes is counted as closed.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from platekit.assembly.frames import Vector
from platekit.assembly.proof.slabs import Slab
from platekit.assembly.proof.things import Prism, section
from platekit.geometry.flats import Flat
from platekit.geometry.tables import Bools, Floats

if TYPE_CHECKING:
    from manifold3d import CrossSection, Manifold

ALONG = 1e-9
# Pieces of a room that would only touch reach this far into each other.
SEAM_MM = 1e-4


def swept(prism: Prism, way: Vector, length_mm: float) -> Manifold:
    """Return the room a prism passes through when moved by `length_mm` along a unit vector."""
    slab = swept_slab(prism, way, length_mm)
    return _slanting(prism, way, length_mm) if slab is None else slab.solid()


def swept_slab(prism: Prism, way: Vector, length_mm: float) -> Slab | None:
    """Return the same where it is a slab: along the prism's own axis or square to it."""
    along = prism.frame.n.dot(way)
    if abs(abs(along) - 1.0) <= ALONG:
        low = prism.low_mm - (length_mm if along < 0 else 0.0)
        high = prism.high_mm + (length_mm if along > 0 else 0.0)
        return Slab(section(prism.profile), prism.frame, low, high)
    if abs(along) <= ALONG:
        return _sideways(prism, way, length_mm)
    return None


def _slanting(prism: Prism, way: Vector, length_mm: float) -> Manifold:
    """Return the prism, its leading end drawn out, and a block for every leading edge."""
    from manifold3d import CrossSection, FillRule, Manifold, OpType

    frame, height = prism.frame, prism.high_mm - prism.low_mm
    along = way.dot(frame.n)
    sideways = np.array([way.dot(frame.u), way.dot(frame.v)])
    # As far as the prism moves to the side while it passes its own height.
    shift = height * math.hypot(*sideways) / abs(along)
    rings = [
        ring
        for ring, hole in zip(
            section(prism.profile).rings, (None, *prism.profile.inners), strict=True
        )
        if hole is None or math.hypot(hole.bounds.width_mm, hole.bounds.height_mm) > shift
    ]
    shape = CrossSection(rings, FillRule.Positive)
    axes, low = np.array([frame.u, frame.v]), frame.lifted(prism.low_mm)
    thick, step = np.array(frame.n) * height, np.array(way) * length_mm
    foot = np.array(low.origin)
    front = foot + thick if along > 0 else foot
    # Blocks that only met at their faces would leave cracks where the room falls apart.
    back = np.array(way) * SEAM_MM
    bodies = [
        _block(shape, (*axes, thick), foot),
        _block(shape, (*axes, step + back), front - back),
    ]
    seam = thick * (1.0 + SEAM_MM / height)
    for ring in rings:
        for run in _leading_runs(ring, sideways):
            start = foot if along > 0 else foot + thick - seam
            bodies.append(_wall(run @ axes + start - back, seam, step + back))
    return Manifold.batch_boolean(bodies, OpType.Add)


def _block(shape: CrossSection, axes: Sequence[Floats], at: Floats) -> Manifold:
    """Return a cross-section drawn out along three axes, which need not be square."""
    return shape.extrude(1.0).transform(np.column_stack([*axes, at]))


def _wall(line: Floats, thick: Floats, step: Floats) -> Manifold:
    """Return what a line of points passes over, drawn out along two vectors.

    Args:
        line: The points, shape (m, 3); seen along either vector the line crosses itself nowhere.
        thick: The one vector.
        step: The other.
    """
    from manifold3d import Manifold, Mesh64

    corners = np.stack([line, line + thick, line + thick + step, line + step], axis=1)
    quads = [(0, 3, 2, 1)]
    for k in range(len(line) - 1):
        quads += [
            (4 * k + j, 4 * k + (j + 1) % 4, 4 * k + 4 + (j + 1) % 4, 4 * k + 4 + j)
            for j in range(4)
        ]
    last = 4 * len(line) - 4
    quads.append((last, last + 1, last + 2, last + 3))
    sides = np.array(quads)
    if np.dot(line[-1] - line[0], np.cross(thick, step)) < 0:
        sides = sides[:, ::-1]
    triangles = np.vstack([sides[:, [0, 1, 2]], sides[:, [0, 2, 3]]])
    return Manifold(Mesh64(corners.reshape(-1, 3), triangles.astype(np.uint64)))


def _sideways(prism: Prism, way: Vector, length_mm: float) -> Slab:
    from manifold3d import CrossSection, FillRule

    frame = prism.frame
    step = np.array([way.dot(frame.u), way.dot(frame.v)]) * length_mm
    # What a hole leaves open at the start is passed over by the material behind it.
    ring = section(prism.profile).rings[0]
    shape = CrossSection([ring, *_passed(ring, step)], FillRule.NonZero)
    return Slab(Flat(shape.to_polygons()), frame, prism.low_mm, prism.high_mm)


def _leading(ring: Floats, step: Floats) -> tuple[Floats, Bools]:
    """Return the edges of a ring, and which of them lead when it moves by `step`."""
    edges = np.roll(ring, -1, axis=0) - ring
    # The material lies on the left: the outward normal of an edge is (dy, -dx).
    outward = edges[:, 1] * step[0] - edges[:, 0] * step[1]
    return edges, outward > ALONG * math.hypot(*step)


def _leading_runs(ring: Floats, step: Floats) -> list[Floats]:
    """Return the points of every unbroken run of leading edges."""
    _, leading = _leading(ring, step)
    first = int(np.flatnonzero(~leading)[0])  # a closed ring has edges that do not lead
    points, leading = np.roll(ring, -first, axis=0), np.roll(leading, -first)
    bounds = np.flatnonzero(np.diff(leading.astype(int), append=0))
    closed = np.vstack([points, points[:1]])
    return [
        closed[begin + 1 : end + 2] for begin, end in zip(bounds[::2], bounds[1::2], strict=True)
    ]


def _passed(ring: Floats, step: Floats) -> list[Floats]:
    """Return the quadrilaterals that the leading edges of a ring pass over."""
    edges, leading = _leading(ring, step)
    return [
        np.array([a, a + step, a + edge + step, a + edge])
        for a, edge in zip(ring[leading], edges[leading], strict=True)
    ]
