"""Slabs: straight blocks of a flat cross-section, as the proof draws prisms and what they pass.

Of two whose cross-sections lie in parallel planes it is enough to lay one over the other: a screw
in its hole, a plate on a plate. That is quicker than to ask the kernel.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from platekit.assembly.frames import Frame
from platekit.assembly.solids import raised
from platekit.geometry.flats import Flat
from platekit.geometry.tables import Floats

if TYPE_CHECKING:
    from manifold3d import Manifold

PARALLEL = 1e-9
# What cross-sections of so little area share is thinner than any overlap that counts: at most
# sqrt(A / pi) by the isoperimetric inequality.
SHRED_MM2 = 1e-4


@dataclass(frozen=True, slots=True, eq=False)
class Slab:
    """A flat cross-section raised along a frame's n.

    Attributes:
        section: Its cross-section in the frame's plane.
        frame: Where it lies.
        low_mm: Where it begins along the frame's n.
        high_mm: Where it ends.
    """

    section: Flat
    frame: Frame
    low_mm: float
    high_mm: float

    def solid(self) -> Manifold:
        """Return its body."""
        return raised(
            self.section.rings,
            height_mm=self.high_mm - self.low_mm,
            frame=self.frame.lifted(self.low_mm),
        )

    def clears(self, other: Slab) -> bool:
        """Return whether two share nothing that counts; False where it cannot be told so."""
        mine, theirs = self.frame, other.frame
        along = mine.n.dot(theirs.n)
        if abs(abs(along) - 1.0) > PARALLEL:
            return False
        x, y, height = mine.coordinates(theirs.origin)
        ends = sorted((height + along * other.low_mm, height + along * other.high_mm))
        if ends[0] >= self.high_mm or ends[1] <= self.low_mm:
            return True
        axes = np.array([theirs.u, theirs.v]) @ np.array([mine.u, mine.v]).T
        shared = self.section.shared_mm2(other.section, axes=axes, at=np.array([x, y]))
        return shared <= SHRED_MM2


def all_clear(
    slabs: Sequence[Slab | None],
    boxes: Floats,
    others: Sequence[Slab],
    other_boxes: Floats,
) -> bool:
    """Return whether each two whose boxes meet clear each other; False where that is not known.

    Args:
        slabs: Several slabs; None where there is only a box.
        boxes: A box around each, shape (n, 2, 3).
        others: Those they are to clear.
        other_boxes: A box around each of them.
    """
    low = np.maximum(boxes[:, None, 0], other_boxes[None, :, 0])
    high = np.minimum(boxes[:, None, 1], other_boxes[None, :, 1])
    met = np.argwhere(np.all(low < high, axis=2)).tolist()
    # The larger cross-section is laid out once; others are laid over it.
    return all((slab := slabs[i]) is not None and others[j].clears(slab) for i, j in met)
