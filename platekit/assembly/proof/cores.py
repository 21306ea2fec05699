"""Cores: boxes that prisms fill.

Most questions of what stands in whose way are settled by boxes along x, y and z alone: where those
around two things do not meet, nothing does; where two that they fill share more than rounding or a
fit, the things do. Only what is left in doubt is asked of the kernel.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from platekit.assembly.frames import Vector
from platekit.assembly.proof.overlaps import RUB_MM
from platekit.assembly.proof.things import SECTIONS, Prism, section
from platekit.geometry.inner_rectangles import inner_rectangles
from platekit.geometry.profile import Profile
from platekit.geometry.tables import Bools, Floats

# A ball of this width in both of two bodies is thicker than RUB_MM all round, with room to spare
# for the rounding of either.
SURE_MM = RUB_MM + 0.01
# Finer strips settle little more, and cost more than they spare.
STRIPS = 10

NO_BOXES: Floats = np.empty((0, 2, 3))
NO_RECTANGLES: Floats = np.empty((0, 4))


def cores_of(prisms: Sequence[Prism]) -> Floats:
    """Return boxes that prisms fill, shape (n, 2, 3); none of those that lie askew."""
    upright = [prism for prism in prisms if _upright(prism)]
    if not upright:
        return NO_BOXES
    flats = [_flat_core(prism.profile) for prism in upright]
    whose = np.repeat(np.arange(len(flats)), [len(flat) for flat in flats])
    flat = np.concatenate(flats)
    frames = [prism.frame for prism in upright]
    axes = np.array([(frame.u, frame.v, frame.n) for frame in frames])[whose]
    ends = np.array([(prism.low_mm, prism.high_mm) for prism in upright])[whose]
    corners = np.empty((len(flat), 2, 3))
    corners[:, 0, :2], corners[:, 1, :2], corners[:, :, 2] = flat[:, :2], flat[:, 2:], ends
    placed = corners @ axes + np.array([frame.origin for frame in frames])[whose][:, None]
    return np.stack([placed.min(axis=1), placed.max(axis=1)], axis=1)


def drawn_out(boxes: Floats, way: Vector, length_mm: float) -> Floats:
    """Return the boxes around what boxes pass when moved along a unit vector."""
    step = np.array(way) * length_mm
    return np.stack(
        [boxes[:, 0] + np.minimum(step, 0.0), boxes[:, 1] + np.maximum(step, 0.0)], axis=1
    )


def along_axis(vector: Vector) -> bool:
    """Return whether a unit vector lies along x, y or z to the last bit."""
    return sorted(map(abs, vector)) == [0.0, 0.0, 1.0]


def sharing(boxes: Floats, others: Floats, *, over_mm: float) -> Bools:
    """Return which of `others` share more than `over_mm`, each way, with any of `boxes`."""
    if not len(boxes):
        return np.zeros(len(others), dtype=bool)
    deep = np.ones((len(boxes), len(others)), dtype=bool)
    for axis in range(3):  # one by one: numpy is slow along a short last axis
        low = np.maximum(boxes[:, None, 0, axis], others[None, :, 0, axis])
        high = np.minimum(boxes[:, None, 1, axis], others[None, :, 1, axis])
        deep &= high - low > over_mm
    return np.asarray(deep.any(axis=0))


def _upright(prism: Prism) -> bool:
    return along_axis(prism.frame.u) and along_axis(prism.frame.v)


@lru_cache(maxsize=SECTIONS)
def _flat_core(profile: Profile) -> Floats:
    """Return rectangles in a cross-section: left, bottom, right, top, shape (n, 4)."""
    flat = section(profile)
    if not flat.sound:  # what is material between rings that cross is for the kernel to say
        return NO_RECTANGLES
    return inner_rectangles(flat.rings, strips=STRIPS, least_mm=SURE_MM)
