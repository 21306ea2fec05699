"""Coincidence: stretches that two rows share."""

from __future__ import annotations

import numpy as np

from platekit.geometry.boxes import grown, meeting_pairs
from platekit.geometry.tables import (
    CX,
    CY,
    TAU,
    TURN,
    X0,
    X1,
    Y0,
    Y1,
    Floats,
    Ints,
    R,
    Table,
    is_arc,
    lengths,
    row_boxes,
    sweeps_rad,
)


def coincident_lengths(table: Table, *, within_mm: float) -> tuple[Ints, Ints, Floats, Floats]:
    """Return every pair of rows that run along each other.

    Args:
        table: The rows, shape (n, 8).
        within_mm: How far apart two stretches may lie and still be one.

    Returns:
        The numbers of both rows, shape (k,) each; how long the shared stretch is, mm, shape (k,);
        a point on it, shape (k, 2). Pairs whose shared stretch has no length are left out.
    """
    boxes = grown(row_boxes(table), by_mm=within_mm)
    one, other = meeting_pairs(boxes, boxes)
    pick = (one < other) & (is_arc(table)[one] == is_arc(table)[other])
    one, other = one[pick], other[pick]
    a, b = table[one], table[other]
    shared, at = np.zeros(len(one)), np.zeros((len(one), 2))
    arcs = is_arc(a)
    for rows, measure in ((~arcs, _along_lines), (arcs, _along_arcs)):
        if rows.any():
            shared[rows], at[rows] = measure(a[rows], b[rows], within_mm)
    keep = shared > within_mm
    return one[keep], other[keep], shared[keep], at[keep]


def _along_lines(a: Table, b: Table, within_mm: float) -> tuple[Floats, Floats]:
    size = lengths(a)
    ux, uy = (a[:, X1] - a[:, X0]) / size, (a[:, Y1] - a[:, Y0]) / size
    along, aside = [], []
    for x, y in ((X0, Y0), (X1, Y1)):
        dx, dy = b[:, x] - a[:, X0], b[:, y] - a[:, Y0]
        along.append(dx * ux + dy * uy)
        aside.append(dx * uy - dy * ux)
    low = np.maximum(np.minimum(*along), 0.0)
    high = np.minimum(np.maximum(*along), size)
    # How far the other line stands off at both ends of what they share.
    span = np.where(along[1] == along[0], 1.0, along[1] - along[0])
    slope = (aside[1] - aside[0]) / span
    off = [np.abs(aside[0] + slope * (end - along[0])) for end in (low, high)]
    close = (np.maximum(*off) <= within_mm) & (high > low)
    middle = (low + high) / 2
    at = np.stack([a[:, X0] + middle * ux, a[:, Y0] + middle * uy], axis=1)
    return np.where(close, high - low, 0.0), at


def _along_arcs(a: Table, b: Table, within_mm: float) -> tuple[Floats, Floats]:
    apart = np.hypot(a[:, CX] - b[:, CX], a[:, CY] - b[:, CY]) + np.abs(a[:, R] - b[:, R])
    begin_a, sweep_a = _counter_clockwise(a)
    begin_b, sweep_b = _counter_clockwise(b)
    ahead = np.mod(begin_b - begin_a, TAU)
    # The other arc may be met twice on the way round: where it begins, and where it ends.
    first = np.minimum(sweep_a, ahead + sweep_b) - ahead
    second = np.minimum(sweep_a, ahead + sweep_b - TAU)
    shared = np.maximum(first, 0.0) + np.maximum(second, 0.0)
    middle = begin_a + np.where(first > 0, ahead + first / 2, second / 2)
    at = np.stack(
        [a[:, CX] + a[:, R] * np.cos(middle), a[:, CY] + a[:, R] * np.sin(middle)], axis=1
    )
    return np.where(apart <= within_mm, shared * a[:, R], 0.0), at


def _counter_clockwise(rows: Table) -> tuple[Floats, Floats]:
    """Return each arc's first angle and sweep when run counter-clockwise, radians."""
    back = rows[:, TURN] < 0
    x = np.where(back, rows[:, X1], rows[:, X0]) - rows[:, CX]
    y = np.where(back, rows[:, Y1], rows[:, Y0]) - rows[:, CY]
    return np.arctan2(y, x), np.abs(sweeps_rad(rows))
