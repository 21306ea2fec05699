"""Placing labels: beside what they name, over nothing else."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from platekit.geometry.tables import Floats


class Ground:
    """What is taken of a page: boxes that no label may lie on."""

    def __init__(self, taken: Iterable[tuple[float, float, float, float]] = ()) -> None:
        rows = np.array(list(taken), dtype=np.float64).reshape(-1, 4)
        self._boxes: Floats = rows

    def copy(self) -> Ground:
        """Return the same ground, to be taken by others."""
        other = Ground()
        other._boxes = self._boxes
        return other

    def is_free(self, box: Sequence[float]) -> bool:
        """Return whether a box (left, bottom, right, top) meets nothing."""
        boxes = self._boxes
        hit = (
            (boxes[:, 0] < box[2])
            & (boxes[:, 2] > box[0])
            & (boxes[:, 1] < box[3])
            & (boxes[:, 3] > box[1])
        )
        return not bool(hit.any())

    def take(self, box: Sequence[float]) -> None:
        """Let a box be taken."""
        self._boxes = np.concatenate([self._boxes, np.array([box], dtype=np.float64)])

    def take_points(self, points: Floats) -> None:
        """Let points, shape (n, 2), be taken."""
        self._boxes = np.concatenate([self._boxes, np.hstack([points, points])])

    def place(
        self, candidates: Iterable[tuple[float, float]], size_mm: tuple[float, float]
    ) -> tuple[float, float] | None:
        """Return the first left lower corner at which a label is free, and take it; or None."""
        for x, y in candidates:
            box = (x, y, x + size_mm[0], y + size_mm[1])
            if self.is_free(box):
                self.take(box)
                return x, y
        return None


def around(
    centre: tuple[float, float], *, reach_mm: float, size_mm: tuple[float, float]
) -> tuple[tuple[float, float], ...]:
    """Return places for a label around a hole: right above first, then on round, then further."""
    x, y = centre
    w, h = size_mm
    places = []
    for reach in (reach_mm, reach_mm + 1.5 * h):
        slant = 0.72 * reach
        places += [
            (x + slant, y + slant),
            (x + reach, y - h / 2),
            (x + slant, y - slant - h),
            (x - slant - w, y + slant),
            (x - reach - w, y - h / 2),
            (x - slant - w, y - slant - h),
            (x - w / 2, y + reach),
            (x - w / 2, y - reach - h),
        ]
    return tuple(places)
