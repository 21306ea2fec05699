"""What a line across a part crosses: whether an extension line reaches its side unhindered."""

from __future__ import annotations

import numpy as np

from platekit.geometry.chains import Contour
from platekit.geometry.tables import TURN, Floats, points_at

# An extension line that has material on both sides, so far off it, crosses the part.
BESIDE_MM = 0.02
# Of an arc so many chords decide what an extension line crosses.
ARC_STEPS = 32


def along_of(ring: Contour) -> Floats:
    """Return points along an outline in their order: both ends of every row, more of arcs."""
    arcs = np.not_equal(ring.table[:, TURN], 0.0)
    shares = np.linspace(0.0, 1.0, ARC_STEPS + 1)
    fine, coarse = points_at(ring.table, shares), points_at(ring.table, shares[[0, -1]])
    rows = [fine[k] if arc else coarse[k] for k, arc in enumerate(arcs.tolist())]
    return np.concatenate(rows)


class Crossed:
    """An outline as a line beside it meets it."""

    def __init__(self, ring: Contour, *, turned: bool = False) -> None:
        points = along_of(ring)
        if turned:
            points = points[:, ::-1]
        points = points[np.append(True, np.any(np.diff(points, axis=0) != 0.0, axis=1))]
        self._a, self._b = points, np.roll(points, -1, axis=0)

    def inside(self, at: float) -> list[tuple[float, float]]:
        """Return where a line across the part at an ordinate is inside it."""
        a, b = self._a, self._b
        crosses = (a[:, 0] <= at) != (b[:, 0] <= at)
        a, b = a[crosses], b[crosses]
        where = np.sort(a[:, 1] + (at - a[:, 0]) / (b[:, 0] - a[:, 0]) * (b[:, 1] - a[:, 1]))
        pairs = zip(where[::2].tolist(), where[1::2].tolist(), strict=True)
        return [(one, other) for one, other in pairs]

    def both(self, at: float) -> list[tuple[float, float]]:
        """Return where a line has material on both its sides."""
        return [
            (max(a, c), min(b, d))
            for a, b in self.inside(at - BESIDE_MM)
            for c, d in self.inside(at + BESIDE_MM)
            if min(b, d) - max(a, c) > 2 * BESIDE_MM
        ]
