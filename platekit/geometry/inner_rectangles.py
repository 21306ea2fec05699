"""Rectangles in a polygon: what is material for certain, in a form that is quick to compare."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from platekit.geometry.tables import Floats

# Rounding may not carry a rectangle over an edge.
_INSET_MM = 1e-6


def inner_rectangles(rings: Sequence[Floats], *, strips: int, least_mm: float) -> Floats:
    """Return rectangles that lie within a polygon: left, bottom, right, top, shape (k, 4).

    The polygon is cut into level strips; in each, what lies between two neighbouring edges is
    material all the way across or none. Most of a plate is found, not all.

    Args:
        rings: The corners of each ring, shape (n, 2), the first not repeated; none crosses another.
        strips: Into how many strips it is cut; where it has fewer heights of its own, at those.
        least_mm: What is narrower or lower than this is left out.
    """
    start = np.concatenate(rings)
    end = np.concatenate([np.concatenate([ring[1:], ring[:1]]) for ring in rings])
    low, high = _levels(start[:, 1], strips)
    x0, y0 = start.T
    x1, y1 = end.T
    least, most = np.minimum(y0, y1), np.maximum(y0, y1)
    met = (least < high) & (most > low)
    with np.errstate(divide="ignore", invalid="ignore"):
        run = np.where(y0 == y1, 0.0, (x1 - x0) / (y1 - y0))
    # A level edge is all in one strip, with both its ends.
    enters = np.where(y0 == y1, x0, x0 + (np.clip(low, least, most) - y0) * run)
    leaves = np.where(y0 == y1, x1, x0 + (np.clip(high, least, most) - y0) * run)
    left = np.where(met, np.minimum(enters, leaves), np.inf)
    right = np.where(met, np.maximum(enters, leaves), -np.inf)
    middle = (low + high) / 2
    crosses = (y0 <= middle) != (y1 <= middle)
    order = np.argsort(left, axis=1)
    left = np.take_along_axis(left, order, axis=1)
    passed = np.maximum.accumulate(np.take_along_axis(right, order, axis=1), axis=1)
    inside = np.cumsum(np.take_along_axis(crosses, order, axis=1), axis=1) % 2 == 1
    room = left[:, 1:] - passed[:, :-1]
    wide = np.isfinite(room) & (room > least_mm) & (high - low > least_mm)
    strip, gap = np.nonzero(inside[:, :-1] & wide)
    sides = (
        passed[strip, gap] + _INSET_MM,
        low[strip, 0] + _INSET_MM,
        left[strip, gap + 1] - _INSET_MM,
        high[strip, 0] - _INSET_MM,
    )
    return np.stack(sides, axis=1)


def _levels(heights: Floats, strips: int) -> tuple[Floats, Floats]:
    """Return where strips begin and end, each of shape (k, 1)."""
    levels = np.unique(heights)
    if len(levels) > strips + 1:
        levels = np.linspace(levels[0], levels[-1], strips + 1)
    return levels[:-1, None], levels[1:, None]
