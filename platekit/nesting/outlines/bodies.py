"""Bodies: outlines in one turn, as convex pieces between which separating lines can be drawn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from platekit.geometry.convex_pieces import convex_pieces

Floats = NDArray[np.float64]
Whole = NDArray[np.intp]


@dataclass(frozen=True, slots=True, eq=False)
class Body:
    """One outline in one turn, its place not yet given.

    Attributes:
        corners: Corners of its convex pieces, shape (pieces, most corners, 2); a piece with
            fewer repeats its last.
        normals: Outward normal of the edge that leaves each corner, same shape; 0 for repeats.
        levels: How far out each edge lies along its normal, shape (pieces, most corners);
            infinite for repeats.
        low: Least x and y of the true shape.
        high: Greatest x and y of the true shape.
    """

    corners: Floats
    normals: Floats
    levels: Floats
    low: Floats
    high: Floats


def body(ring: Floats, *, low: tuple[float, float], high: tuple[float, float]) -> Body:
    """Return the body of a closed ring.

    Args:
        ring: Corners of the outline, counter-clockwise, shape (n, 2), the first not repeated.
        low: Least x and y of the true shape, which the outline may exceed.
        high: Greatest x and y of the true shape.
    """
    pieces = convex_pieces(ring)
    most = max(map(len, pieces))
    shape = (len(pieces), most, 2)
    corners, normals = np.empty(shape), np.zeros(shape)
    levels = np.full(shape[:2], np.inf)
    for k, piece in enumerate(pieces):
        count = len(piece)
        corners[k, :count], corners[k, count:] = piece, piece[-1]
        along = np.roll(piece, -1, axis=0) - piece
        outward = np.stack([along[:, 1], -along[:, 0]], axis=1)
        outward /= np.hypot(along[:, 0], along[:, 1])[:, None]
        normals[k, :count] = outward
        levels[k, :count] = np.sum(outward * piece, axis=1)
    return Body(corners, normals, levels, np.array(low), np.array(high))


class Crowd:
    """Several bodies lying about, their pieces in one table.

    Args:
        bodies: The bodies.
    """

    __slots__ = ("_corners", "_high", "_levels", "_low", "_normals", "_owner", "high", "low")

    def __init__(self, bodies: Sequence[Body]) -> None:
        most = max(one.corners.shape[1] for one in bodies)
        self._corners = np.concatenate([_widened(one.corners, most) for one in bodies])
        self._normals = np.concatenate([_padded(one.normals, most, 0.0) for one in bodies])
        self._levels = np.concatenate([_padded(one.levels, most, np.inf) for one in bodies])
        self._owner = np.repeat(np.arange(len(bodies)), [len(one.corners) for one in bodies])
        self._low, self._high = self._corners.min(axis=1), self._corners.max(axis=1)
        self.low = np.stack([one.low for one in bodies])
        self.high = np.stack([one.high for one in bodies])

    def count_near(self, places: Floats, *, within_mm: float) -> int:
        """Return how many pairs of pieces `separations` would look at."""
        return len(self._near(places, within_mm)[0])

    def separations(self, places: Floats, *, within_mm: float) -> tuple[Whole, Floats, Floats]:
        """Return the best separating line of every two pieces that are near each other.

        Args:
            places: Where the bodies lie, shape (bodies, 2).
            within_mm: Only pieces whose bounds are this near, and no further apart.

        Returns:
            The two bodies' numbers, shape (n, 2); the line's normal from the first to the
            second, shape (n, 2); how far apart they are along it, below 0 where they overlap.
        """
        first, second = self._near(places, within_mm)
        moves = places[self._owner[second]] - places[self._owner[first]]
        there = self._beyond(first, second, moves)
        back = self._beyond(second, first, -moves)
        forward = there[1] >= back[1]
        normals = np.where(forward[:, None], there[0], -back[0])
        apart = np.where(forward, there[1], back[1])
        near = apart <= within_mm
        pairs = np.stack([self._owner[first], self._owner[second]], axis=1)
        return pairs[near], normals[near], apart[near]

    def _near(self, places: Floats, within_mm: float) -> tuple[Whole, Whole]:
        """Return the pieces of different bodies whose bounds are near each other."""
        at = places[self._owner]
        low, high = self._low + at - within_mm, self._high + at
        by_left = np.argsort(low[:, 0], kind="stable")
        reach = np.searchsorted(low[by_left, 0], high[by_left, 0], side="right")
        counts = np.maximum(reach - np.arange(len(by_left)) - 1, 0)
        first = np.repeat(np.arange(len(by_left)), counts)
        second = np.arange(len(first)) - np.repeat(np.cumsum(counts) - counts, counts) + first + 1
        one, other = by_left[first], by_left[second]
        near = (
            (self._owner[one] != self._owner[other])
            & (low[one, 1] <= high[other, 1])
            & (low[other, 1] <= high[one, 1])
        )
        return one[near], other[near]

    def _beyond(self, fixed: Whole, moved: Whole, moves: Floats) -> tuple[Floats, Floats]:
        """Return for each pair the edge of `fixed` beyond which `moved` lies furthest."""
        normals = self._normals[fixed]
        corners = self._corners[moved] + moves[:, None, :]
        reached = np.matmul(normals, corners.transpose(0, 2, 1)).min(axis=2)
        beyond = reached - self._levels[fixed]
        best = beyond.argmax(axis=1)
        rows = np.arange(len(best))
        return normals[rows, best], beyond[rows, best]


def _widened(corners: Floats, most: int) -> Floats:
    last = np.repeat(corners[:, -1:], most - corners.shape[1], axis=1)
    return np.concatenate([corners, last], axis=1)


def _padded(values: Floats, most: int, filler: float) -> Floats:
    missing = most - values.shape[1]
    widths = [(0, 0), (0, missing)] + [(0, 0)] * (values.ndim - 2)
    return np.pad(values, widths, constant_values=filler)
