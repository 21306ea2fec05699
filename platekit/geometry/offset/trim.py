"""The quick offset: trim where rows overlap, join where they gape, and prove it was enough.

Right for every ring on which nothing happens: no row vanishes, no two stretches of the edge that
are not neighbours come within reach of each other. That is nearly every ring of nearly every
plate. A ring about which there is the least doubt is left to `weave`.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely

from platekit.geometry.distance import row_distances
from platekit.geometry.offset.rows import END, START, MovedRows, joins, meetings
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
    points_at,
    row_boxes,
)

# What lies this near to a change of shape (a feature that vanishes, a neck that closes) is at the
# limit of the kerf: no beam is true to 2 um.
LIMIT_MM = 2e-3
LEAST_LENGTH_MM = 4e-6  # a trimmed row shorter than this may as well be gone
SQUARE = np.pi / 2 + 1e-9


@dataclass(frozen=True)
class Trimmed:
    """Every ring moved, trimmed and joined, whether or not it came out right.

    Attributes:
        table: The rows, ring after ring, shape (m, 8).
        source: The row each was, or whose end corner it joins, shape (m,).
        joining: Whether it is a join, shape (m,).
        ring: The ring each belongs to, shape (m,).
        first: First row of each ring and, last, m: shape (rings + 1,).
        sound: Whether each ring is beyond doubt as far as its own rows tell, shape (rings,).
    """

    table: Table
    source: Ints
    joining: Bools
    ring: Ints
    first: Ints
    sound: Bools


def trimmed(moved: MovedRows) -> Trimmed:
    """Return the rings trimmed and joined.

    A ring is sound when every row kept its direction and more length than the limit of the kerf
    would take, no arc turned inside out, no corner doubles back and every trimming has a clear
    meeting.
    """
    rows = moved.rows
    table = moved.table.copy()
    arcs = is_arc(table)
    doubtful = moved.cusps
    if arcs.any():
        doubtful = doubtful | (arcs & (table[:, R] <= 2 * LIMIT_MM))
        table[:, R] = np.abs(table[:, R])
    corners = np.flatnonzero(moved.folded)
    if len(corners):
        points, depth = meetings(moved, corners)
        doubtful[corners[~(depth > 3 * LIMIT_MM)]] = True
        following = rows.after[corners]
        cut_end, cut_begin = np.zeros(len(table)), np.zeros(len(table))
        cut_end[corners] = _backwards(table[corners], moved.end[corners], points, X1, Y1)
        cut_begin[following] = -_backwards(table[following], moved.begin[following], points, X0, Y0)
        table[corners, END] = points
        table[following, START] = points
        # Trimming grows about as fast as the growth itself: what the limit would still take.
        cut = cut_begin + cut_end
        spare = rows.lengths
        if arcs.any():
            spare = np.where(arcs, table[:, R] * np.abs(rows.sweeps), spare)
        needed = np.maximum(cut * (1.0 + 2 * LIMIT_MM / abs(moved.growth_mm)), cut)
        doubtful |= ~(spare - needed > LEAST_LENGTH_MM)
    sound = np.ones(rows.count, dtype=bool)
    sound[rows.ring[doubtful]] = False
    return _joined(moved, table, sound)


def _backwards(rows: Table, along: Floats, points: Floats, x: int, y: int) -> Floats:
    """Return how far, mm, each point lies behind the row's end at columns `x`, `y`."""
    ex, ey, px, py = rows[:, x], rows[:, y], points[:, 0], points[:, 1]
    back: Floats = (ex - px) * along[:, 0] + (ey - py) * along[:, 1]
    arcs = np.flatnonzero(is_arc(rows))
    if len(arcs):
        cx, cy = rows[arcs, CX], rows[arcs, CY]
        ax, ay, bx, by = px[arcs] - cx, py[arcs] - cy, ex[arcs] - cx, ey[arcs] - cy
        angle = np.arctan2(ax * by - ay * bx, ax * bx + ay * by)
        back[arcs] = rows[arcs, TURN] * angle * rows[arcs, R]
    return back


def _joined(moved: MovedRows, table: Table, sound: Bools) -> Trimmed:
    rows = moved.rows
    corners = np.flatnonzero(moved.gaping)
    n, k = len(table), len(corners)
    every = np.arange(n)
    if k == 0:
        return Trimmed(table, every, moved.gaping, rows.ring, rows.first, sound)
    # A row goes to its own number plus how many joins come before it.
    past = np.zeros(n + 1, dtype=np.intp)
    np.cumsum(moved.gaping, out=past[1:])
    place = every + past[:-1]
    source = np.empty(n + k, dtype=np.intp)
    source[place] = every
    source[place[corners] + 1] = corners
    out = table[source]
    out[place[corners] + 1] = joins(moved, corners)
    joining = np.ones(n + k, dtype=bool)
    joining[place] = False
    first = rows.first + past[rows.first]
    return Trimmed(out, source, joining, rows.ring[source], first, sound)


def clear_rings(moved: MovedRows, *, reach_mm: float) -> Bools:
    """Return which rings keep all their stretches beyond each other's reach, shape (rings,).

    Two stretches are beyond reach when they are further apart than twice `reach_mm`, or are
    neighbours, or when the ring turns by at most a quarter on the way from one to the other: such
    a bend cannot run back into itself as long as none of its rows vanishes.
    """
    stretches = _Stretches.of(moved)
    table, ring = stretches.table, stretches.ring
    boxes = row_boxes(table)
    boxes[:, :2] -= reach_mm
    boxes[:, 2:] += reach_mm
    # Only the envelopes matter to the tree: two corners of each box are enough.
    corners = np.asarray(shapely.linestrings(boxes.reshape(-1, 2, 2)))
    one, other = shapely.STRtree(list(corners)).query(corners)
    pick = (one < other) & (ring[one] == ring[other])
    pick &= (stretches.after[one] != other) & (stretches.after[other] != one)
    one, other = one[pick], other[pick]
    if len(one):
        pick = ~stretches.bend_gently(one, other)
        one, other = one[pick], other[pick]
    clear = np.ones(moved.rows.count, dtype=bool)
    if len(one):
        near = row_distances(table[one], table[other]) <= 2 * reach_mm
        clear[ring[one[near]]] = False
    return clear


@dataclass(frozen=True)
class _Stretches:
    """Rows with their arcs cut into at most quarter turns.

    Attributes:
        table: The stretches, shape (m, 8).
        ring: The ring each belongs to, shape (m,).
        after: The stretch after each one in its ring, shape (m,).
        bend: How much each bends, radians, not signed, shape (m,).
        corner: How much the corner after each turns, radians, not signed, shape (m,).
    """

    table: Table
    ring: Ints
    after: Ints
    bend: Floats
    corner: Floats

    @classmethod
    def of(cls, moved: MovedRows) -> _Stretches:
        rows = moved.rows
        bend, corner = np.abs(rows.sweeps), np.abs(moved.turn_rad)
        wide = bend > SQUARE
        if not wide.any():
            return cls(rows.table, rows.ring, rows.after, bend, corner)
        parts = np.ones(len(rows.table), dtype=np.intp)
        parts[wide] = np.ceil(bend[wide] / SQUARE).astype(np.intp)
        source = np.repeat(np.arange(len(parts)), parts)
        last = np.cumsum(parts) - 1
        table = rows.table[source]
        for count in np.unique(parts[wide]).tolist():
            whole = np.flatnonzero(parts == count)
            points = points_at(rows.table[whole], np.arange(1, count) / count)
            for k in range(count - 1):
                at = last[whole] - count + 1 + k
                table[at, END] = points[:, k]
                table[at + 1, START] = points[:, k]
        corners = np.zeros(len(source))
        corners[last] = corner
        after = np.arange(1, len(source) + 1)
        ends = last[rows.first[1:] - 1]
        after[ends] = np.concatenate([[0], ends[:-1] + 1])
        return cls(table, rows.ring[source], after, (bend / parts)[source], corners)

    def bend_gently(self, one: Ints, other: Ints) -> Bools:
        """Return which pairs, `one` before `other` in a ring, lie in one gentle bend."""
        step = self.bend + self.corner
        until = np.cumsum(step) - step
        whole = np.bincount(self.ring, weights=step)
        between = until[other] - until[one]
        onward = between + self.bend[other] <= SQUARE
        around = whole[self.ring[one]] - between + self.bend[one] <= SQUARE
        gentle: Bools = onward | around
        return gentle
