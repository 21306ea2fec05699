"""Gaps: how much material stands between rings, many rings at a time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from platekit.geometry.chains import Chain, Contour
from platekit.geometry.distance import row_distances
from platekit.geometry.tables import Floats, Ints, Table, row_boxes


@dataclass(frozen=True, slots=True, order=True)
class Gap:
    """The least distance between two chains.

    Attributes:
        width_mm: Distance, mm; 0 where they cross or touch.
        first: Number of one chain.
        second: Number of the other, above `first` within one list.
    """

    width_mm: float
    first: int
    second: int


def gaps_within(chains: Sequence[Chain], *, within_mm: float) -> tuple[Gap, ...]:
    """Return every pair of chains that come within `within_mm`, narrowest first.

    A chain is only itself: a ring inside another is as far off as its edge is.
    """
    return gaps_between(chains, None, within_mm=within_mm)


def gaps_between(
    chains: Sequence[Chain], others: Sequence[Chain] | None, *, within_mm: float
) -> tuple[Gap, ...]:
    """Return every pair of one of `chains` and one of `others` within `within_mm`.

    Without `others`, the pairs within `chains`. Exact: candidates come from boxes, distances
    from the lines and arcs themselves.
    """
    if not chains or (others is not None and not others):
        return ()
    rows, owner = _rows(chains)
    far, far_owner = (rows, owner) if others is None else _rows(others)
    grow = np.array([-within_mm, -within_mm, within_mm, within_mm])
    near = shapely.STRtree(_boxes(row_boxes(rows)))
    j, i = near.query(_boxes(row_boxes(far) + grow))
    if others is None:
        once = owner[i] < owner[j]
        i, j = i[once], j[once]
    if len(i) == 0:
        return ()
    widths = row_distances(rows[i], far[j])
    close = widths <= within_mm
    pairs = np.stack([owner[i[close]], far_owner[j[close]]], axis=1)
    if len(pairs) == 0:
        return ()
    keys, which = np.unique(pairs, axis=0, return_inverse=True)
    least = np.full(len(keys), np.inf)
    np.minimum.at(least, which.ravel(), widths[close])
    return tuple(
        sorted(
            Gap(width, first, second)
            for width, (first, second) in zip(least.tolist(), keys.tolist(), strict=True)
        )
    )


def _boxes(corners: Floats) -> NDArray[np.object_]:
    boxes: NDArray[np.object_] = np.asarray(shapely.box(*corners.T), dtype=np.object_)
    return boxes


def _rows(chains: Sequence[Chain]) -> tuple[Table, Ints]:
    rows = np.concatenate([chain.table for chain in chains])
    return rows, np.repeat(np.arange(len(chains)), [len(chain.table) for chain in chains])


def nested(rings: Sequence[Contour]) -> tuple[tuple[int, int], ...]:
    """Return (inner, outer) for every ring that begins inside another of them."""
    if len(rings) < 2:
        return ()
    boxes = np.array([[b.left, b.bottom, b.right, b.top] for b in (r.bounds for r in rings)])
    geometry = _boxes(boxes)
    inner, outer = shapely.STRtree(geometry).query(geometry, predicate="covered_by")
    return tuple(
        (a, b)
        for a, b in zip(inner.tolist(), outer.tolist(), strict=True)
        if a != b and rings[b].encloses(rings[a].start)
    )
