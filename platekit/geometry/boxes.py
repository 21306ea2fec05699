"""Upright boxes by the thousand: which ones meet.

A box is a row of four: least x, least y, greatest x, greatest y; boxes are arrays of shape (n, 4).
"""

from __future__ import annotations

import numpy as np
import shapely

from platekit.geometry.tables import Bools, Floats, Ints


def grown(boxes: Floats, *, by_mm: float) -> Floats:
    """Return the boxes made larger by `by_mm` on every side."""
    larger: Floats = boxes + np.array([-by_mm, -by_mm, by_mm, by_mm])
    return larger


def meeting_pairs(boxes: Floats, others: Floats) -> tuple[Ints, Ints]:
    """Return the indices of every pair, one of `boxes` and one of `others`, that meet."""
    pairs: Ints = tree_of(others).query(polygons_of(boxes))
    return pairs[0], pairs[1]


def meets(box: Floats, others: Floats) -> Bools:
    """Return which of `others` meet the one `box`, shape (n,)."""
    hit: Bools = (
        (box[0] <= others[:, 2])
        & (box[2] >= others[:, 0])
        & (box[1] <= others[:, 3])
        & (box[3] >= others[:, 1])
    )
    return hit


def tree_of(boxes: Floats) -> shapely.STRtree:
    """Return a search tree over boxes."""
    return shapely.STRtree(list(polygons_of(boxes)))


def polygons_of(boxes: Floats) -> np.typing.NDArray[np.object_]:
    """Return the boxes as shapely polygons, shape (n,)."""
    made: np.typing.NDArray[np.object_] = np.asarray(shapely.box(*boxes.T), dtype=object)
    return made
