"""Rows moved sideways: the first step of every offset.

Each row of a ring is moved to its right by the growth (the material lies on the left), each corner
is told apart: where the moved rows gape a join fills the gap, where they overlap they are trimmed
to their meeting, where the ring runs on smoothly they meet by themselves. All rings of a profile
are one table, so a thousand slots cost little more than one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from platekit.geometry.intersections import carrier_meetings
from platekit.geometry.tables import (
    CX,
    CY,
    TURN,
    X0,
    X1,
    Y0,
    Y1,
    Bools,
    Floats,
    Ints,
    R,
    Table,
    is_arc,
    sweeps_rad,
    tangents,
)

# Columns of a row's points: slices, which numpy takes far faster than lists of columns.
START, END, CENTRE = slice(X0, Y0 + 1), slice(X1, Y1 + 1), slice(CX, CY + 1)

# A join shorter than this is no join: its ends are one point to any later reader.
SMOOTH_MM = 2e-6
# A corner this near to doubling back is a cusp: which side it gapes on may be rounding's choice.
# It gets its join whichever it is, and is looked at carefully.
CUSP_RAD = 1e-3


@dataclass(frozen=True)
class RingRows:
    """The rows of several rings in one table.

    Attributes:
        table: All rows, ring after ring, shape (n, 8).
        ring: Which ring each row belongs to, shape (n,).
        first: First row of each ring and, last, n: shape (rings + 1,).
    """

    table: Table
    ring: Ints
    first: Ints

    @classmethod
    def of(cls, rings: Sequence[Table]) -> RingRows:
        """Return the rings' rows together; no ring may be a whole circle."""
        sizes = [len(ring) for ring in rings]
        first = np.zeros(len(rings) + 1, dtype=np.intp)
        np.cumsum(sizes, out=first[1:])
        table = np.concatenate(rings) if len(rings) != 1 else rings[0]
        return cls(table, np.repeat(np.arange(len(rings)), sizes), first)

    @property
    def count(self) -> int:
        """How many rings there are."""
        return len(self.first) - 1

    @cached_property
    def after(self) -> Ints:
        """The row after each one in its ring, shape (n,)."""
        after = np.arange(1, len(self.table) + 1)
        after[self.first[1:] - 1] = self.first[:-1]
        return after

    @cached_property
    def before(self) -> Ints:
        """The row before each one in its ring, shape (n,)."""
        before = np.arange(-1, len(self.table) - 1)
        before[self.first[:-1]] = self.first[1:] - 1
        return before

    @cached_property
    def arcs(self) -> Ints:
        """Which rows are arcs."""
        return np.flatnonzero(is_arc(self.table))

    @cached_property
    def areas(self) -> Floats:
        """Signed area of each ring, mm2, shape (rings,)."""
        return ring_areas(self.table, self.ring, self.count)

    @cached_property
    def sweeps(self) -> Floats:
        """Signed sweep of each row, radians, shape (n,)."""
        swept = np.zeros(len(self.table))
        arcs = self.arcs
        swept[arcs] = sweeps_rad(self.table[arcs]) if len(arcs) else 0.0
        return swept

    @cached_property
    def lengths(self) -> Floats:
        """Length of each row, mm, shape (n,)."""
        table, arcs = self.table, self.arcs
        length: Floats = np.hypot(table[:, X1] - table[:, X0], table[:, Y1] - table[:, Y0])
        length[arcs] = table[arcs, R] * np.abs(self.sweeps[arcs])
        return length


@dataclass(frozen=True)
class MovedRows:
    """Rows moved sideways, not yet joined.

    Attributes:
        rows: What they were.
        growth_mm: How far to the right they went; below 0, to the left.
        table: Each row on its own, at its natural ends, shape (n, 8). The radius of an arc that
            turned inside out is below 0.
        begin: Unit tangent at the start of each source row, shape (n, 2).
        end: Unit tangent at its end, shape (n, 2).
        turn_rad: Signed turn at the corner that ends each row, left above 0, shape (n,).
        smooth: Whether the corner that ends each row needs no join, shape (n,).
        gaping: Whether it needs a join, shape (n,).
        folded: Whether the moved rows overlap there, shape (n,).
    """

    rows: RingRows
    growth_mm: float
    table: Table
    begin: Floats
    end: Floats
    turn_rad: Floats
    smooth: Bools
    gaping: Bools
    folded: Bools

    @property
    def cusps(self) -> Bools:
        """Whether the corner that ends each row doubles back, shape (n,)."""
        return np.abs(self.turn_rad) > np.pi - CUSP_RAD


def moved_rows(rows: RingRows, *, growth_mm: float) -> MovedRows:
    """Return every row moved to its right by `growth_mm`, and the kind of every corner.

    At a smooth corner both rows already end in the same point.
    """
    source, after = rows.table, rows.after
    begin = tangents(source, at_end=False)
    end = tangents(source, at_end=True) if is_arc(source).any() else begin
    onward = begin[after]
    turn = np.arctan2(
        end[:, 0] * onward[:, 1] - end[:, 1] * onward[:, 0],
        end[:, 0] * onward[:, 0] + end[:, 1] * onward[:, 1],
    )
    sign = 1.0 if growth_mm > 0 else -1.0
    smooth = np.abs(turn) * abs(growth_mm) <= SMOOTH_MM
    gaping = ~smooth & ((sign * turn > 0) | (np.abs(turn) > np.pi - CUSP_RAD))
    moved = _sideways(source, begin, end, growth_mm)
    if smooth.any():
        one = np.flatnonzero(smooth)
        two = after[one]
        middle = 0.5 * (moved[one, END] + moved[two, START])
        moved[one, END] = middle
        moved[two, START] = middle
    return MovedRows(rows, growth_mm, moved, begin, end, turn, smooth, gaping, ~smooth & ~gaping)


def _sideways(source: Table, begin: Floats, end: Floats, growth_mm: float) -> Table:
    moved = source.copy()
    arcs = np.flatnonzero(is_arc(source))
    for x, y, along in ((X0, Y0, begin), (X1, Y1, end)):
        moved[:, x] += growth_mm * along[:, 1]
        moved[:, y] -= growth_mm * along[:, 0]
    if len(arcs):
        turn = source[arcs, TURN]
        radius = source[arcs, R] + turn * growth_mm
        moved[arcs, R] = radius
        for x, y, along in ((X0, Y0, begin), (X1, Y1, end)):
            # From the centre, so that a point is on the new circle to the last bit.
            moved[arcs, x] = source[arcs, CX] + radius * turn * along[arcs, 1]
            moved[arcs, y] = source[arcs, CY] - radius * turn * along[arcs, 0]
    return moved


def meetings(moved: MovedRows, corners: Ints) -> tuple[Floats, Floats]:
    """Return where the moved rows on both sides of overlapping corners meet.

    Args:
        moved: The rows.
        corners: The rows that end in those corners, shape (k,).

    Returns:
        Points, shape (k, 2), NaN where the carriers do not meet; how far, mm, the carriers are
        from not meeting at all, shape (k,): infinite for two lines.
    """
    source, table = moved.rows.table, moved.table
    following = moved.rows.after[corners]
    one, two = table[corners], table[following]
    vertex = source[corners, END]
    points = np.empty((len(corners), 2))
    depth = np.full(len(corners), np.inf)
    straight = ~is_arc(one) & ~is_arc(two)
    if straight.all():
        return _mitre(moved, corners, vertex), depth
    if straight.any():
        points[straight] = _mitre(moved, corners[straight], vertex[straight])
    bent = ~straight
    a, b = one[bent], two[bent]
    found = carrier_meetings(a, b)
    away = np.hypot(*np.moveaxis(found - vertex[bent][:, None, :], 2, 0))
    pick = np.argmin(np.where(np.isnan(away), np.inf, away), axis=1)
    points[bent] = found[np.arange(len(a)), pick]
    depth[bent] = overlap_depths(a, b)
    return points, depth


def _mitre(moved: MovedRows, corners: Ints, vertex: Floats) -> Floats:
    """Return where two straight neighbours meet: well conditioned at any angle but a cusp."""
    begin, end = moved.begin[moved.rows.after[corners]], moved.end[corners]
    # Right normals are (ty, -tx); their sum over one plus their product reaches the meeting.
    reach = moved.growth_mm / (1.0 + np.sum(begin * end, axis=1))
    both = begin + end
    tips: Floats = vertex + np.stack([reach * both[:, 1], -reach * both[:, 0]], axis=1)
    return tips


def overlap_depths(a: Table, b: Table) -> Floats:
    """Return by how much pairs of carriers overlap before they are tangent, mm, shape (k,)."""
    arc_a, arc_b = is_arc(a), is_arc(b)
    depth = np.full(len(a), np.inf)
    for line, arc, pick in ((a, b, ~arc_a & arc_b), (b, a, arc_a & ~arc_b)):
        if pick.any():
            u = tangents(line[pick], at_end=False)
            vx, vy = arc[pick, CX] - line[pick, X0], arc[pick, CY] - line[pick, Y0]
            depth[pick] = np.abs(arc[pick, R]) - np.abs(vx * u[:, 1] - vy * u[:, 0])
    pick = arc_a & arc_b
    if pick.any():
        gap = np.hypot(a[pick, CX] - b[pick, CX], a[pick, CY] - b[pick, CY])
        ra, rb = np.abs(a[pick, R]), np.abs(b[pick, R])
        depth[pick] = np.minimum(ra + rb - gap, gap - np.abs(ra - rb))
    return depth


def joins(moved: MovedRows, corners: Ints) -> Table:
    """Return the arcs that fill gaping corners: about the corner, radius the growth."""
    following = moved.rows.after[corners]
    made = np.empty((len(corners), 8))
    made[:, START] = moved.table[corners, END]
    made[:, END] = moved.table[following, START]
    made[:, CENTRE] = moved.rows.table[corners, END]
    made[:, R] = abs(moved.growth_mm)
    made[:, TURN] = 1.0 if moved.growth_mm > 0 else -1.0
    return made


def ring_areas(table: Table, ring: Ints, count: int) -> Floats:
    """Return the signed area of each of `count` closed rings, mm2, shape (count,)."""
    x0, y0 = table[:, X0] - table[0, X0], table[:, Y0] - table[0, Y0]
    parts = x0 * (table[:, Y1] - table[0, Y0]) - (table[:, X1] - table[0, X0]) * y0
    arcs = np.flatnonzero(is_arc(table))
    if len(arcs):
        w = sweeps_rad(table[arcs])
        parts[arcs] += table[arcs, R] ** 2 * (w - np.sin(w))
    return np.bincount(ring, weights=0.5 * parts, minlength=count).astype(np.float64)
