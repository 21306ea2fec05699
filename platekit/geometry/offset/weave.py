"""The thorough offset: lay out every moved row, cut at every crossing, keep what is far enough.

A point belongs to the offset when it is as far from the whole ring as the offset is wide. Moved
rows and joins are laid out whole, cut wherever two of them meet, and every piece that comes nearer
to the ring than that is dropped; the pieces left are followed from end to end into rings. Rings
may so vanish, split, or close in on themselves; each row of the result knows where it came from.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace

import numpy as np
import shapely

from platekit.geometry.boxes import grown, meeting_pairs
from platekit.geometry.chords import chord_points
from platekit.geometry.distance import point_distances
from platekit.geometry.intersections import angle_ahead_rad, carrier_meetings, on_row
from platekit.geometry.offset.rows import MovedRows, RingRows, joins, meetings
from platekit.geometry.tables import (
    TAU,
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
    lengths,
    points_at,
    row_boxes,
    signed_area,
    sweeps_rad,
    tangents,
)
from platekit.geometry.tidy import whole_circle

# Cuts nearer to each other than this are one cut, ends nearer than twice this are one end.
NODE_MM = 1e-6
JOINED_MM = 1e-10  # ends this near are one point already
TOUCH_MM = 2e-7  # an end this near to another row cuts it
# How much too near still counts as far enough: what rounding loses, well under NODE_MM.
PRUNING_MM = 2e-7
SLIVER_MM = 2e-6  # a ring thinner than this on average is two edges that cancel
ROUGH_MM = 1e-3  # chords on which the first look is taken
SAMPLED_AT = np.array([0.15, 0.5, 0.85])


@dataclass(frozen=True)
class Traced:
    """One ring of an offset, and where each of its rows came from.

    Attributes:
        table: The ring, closed, shape (m, 8).
        source: The row each was, or whose end corner it joins, shape (m,).
        joining: Whether it is a join, shape (m,).
    """

    table: Table
    source: Ints
    joining: Bools


@dataclass(frozen=True)
class _Pieces:
    """Parts of moved rows and joins: each knows the uncut row it is part of."""

    table: Table
    uncut: Ints

    def picked(self, keep: Bools | Ints) -> _Pieces:
        return replace(self, table=self.table[keep], uncut=self.uncut[keep])


@dataclass(frozen=True)
class _Uncut:
    """Moved rows and joins laid out whole."""

    table: Table
    source: Ints
    joining: Bools
    ring: Ints


def woven(moved: MovedRows) -> tuple[list[Traced], ...]:
    """Return the offset of every ring: for each, the rings it became, possibly none."""
    uncut = _laid_out(moved)
    made: tuple[list[Traced], ...] = tuple([] for _ in range(moved.rows.count))
    pieces = _cut(uncut, moved)
    pieces = pieces.picked(_far_enough(pieces, uncut, moved))
    ring = uncut.ring[pieces.uncut]
    for k in np.unique(ring).tolist():
        made[k].extend(_loops(pieces.picked(ring == k), uncut))
    return made


def _laid_out(moved: MovedRows) -> _Uncut:
    table = moved.table.copy()
    table[:, R] = np.abs(table[:, R])
    solid = np.flatnonzero((table[:, TURN] == 0) | (table[:, R] > NODE_MM))
    corners = np.flatnonzero(moved.gaping)
    source = np.concatenate([solid, corners])
    joining = np.arange(len(source)) >= len(solid)
    both = np.concatenate([table[solid], joins(moved, corners)])
    long_enough = lengths(both) > NODE_MM
    source, joining, both = source[long_enough], joining[long_enough], both[long_enough]
    return _Uncut(both, source, joining, moved.rows.ring[source])


def _cut(uncut: _Uncut, moved: MovedRows) -> _Pieces:
    """Return the rows cut at every meeting with another row of their ring."""
    table = uncut.table
    boxes = grown(row_boxes(table), by_mm=NODE_MM)
    one, other = meeting_pairs(boxes, boxes)
    pick = (one < other) & (uncut.ring[one] == uncut.ring[other])
    one, other = one[pick], other[pick]
    a, b = table[one], table[other]
    where, at = [], []
    found = carrier_meetings(a, b)
    for k in range(2):
        points = found[:, k]
        hit = on_row(a, points, within_mm=TOUCH_MM) & on_row(b, points, within_mm=TOUCH_MM)
        where += [one[hit], other[hit]]
        at += [points[hit], points[hit]]
    for rows, cutters, number in ((a, b, one), (b, a, other)):
        for columns in ([X0, Y0], [X1, Y1]):
            points = cutters[:, columns]
            hit = point_distances(rows, points) <= TOUCH_MM
            where.append(number[hit])
            at.append(points[hit])
    shallow_where, shallow_at = _shallow_corners(uncut, moved)
    where.append(shallow_where)
    at.append(shallow_at)
    return _cut_at(table, np.concatenate(where), np.concatenate(at))


def _shallow_corners(uncut: _Uncut, moved: MovedRows) -> tuple[Ints, Floats]:
    """Return cuts at overlapping corners, which carriers that are nearly one find only badly."""
    corners = np.flatnonzero(moved.folded)
    points, _ = meetings(moved, corners) if len(corners) else (np.empty((0, 2)), None)
    number = np.full(len(moved.table), -1)
    number[uncut.source[~uncut.joining]] = np.flatnonzero(~uncut.joining)
    where, at = [np.empty(0, dtype=np.intp)], [np.empty((0, 2))]
    for rows in (corners, moved.rows.after[corners]):
        known = number[rows] >= 0
        lines = uncut.table[number[rows[known]]]
        hit = on_row(lines, points[known], within_mm=TOUCH_MM)
        where.append(number[rows[known]][hit])
        at.append(points[known][hit])
    return np.concatenate(where), np.concatenate(at)


def _cut_at(table: Table, where: Ints, at: Floats) -> _Pieces:
    size = lengths(table)
    along = _along(table[where], at, size[where])
    inner = (along > NODE_MM) & (along < size[where] - NODE_MM)
    n = len(table)
    row = np.concatenate([np.arange(n), where[inner], np.arange(n)])
    along = np.concatenate([np.zeros(n), along[inner], size])
    points = np.concatenate([table[:, [X0, Y0]], at[inner], table[:, [X1, Y1]]])
    order = np.lexsort((along, row))
    row, along, points = row[order], along[order], points[order]
    again = np.zeros(len(row), dtype=bool)
    again[1:] = (row[1:] == row[:-1]) & (np.diff(along) < NODE_MM)
    row, points = row[~again], points[~again]
    begins = np.flatnonzero(row[1:] == row[:-1])
    pieces = table[row[begins]]
    pieces[:, [X0, Y0]] = points[begins]
    pieces[:, [X1, Y1]] = points[begins + 1]
    return _Pieces(pieces, row[begins])


def _along(rows: Table, points: Floats, size: Floats) -> Floats:
    """Return how far along its row each point lies, mm."""
    ux, uy = rows[:, X1] - rows[:, X0], rows[:, Y1] - rows[:, Y0]
    norm = np.hypot(ux, uy)
    norm = np.where(norm == 0, 1.0, norm)
    straight = ((points[:, 0] - rows[:, X0]) * ux + (points[:, 1] - rows[:, Y0]) * uy) / norm
    ahead = angle_ahead_rad(rows, points)
    sweep = np.abs(sweeps_rad(rows))
    ahead = np.where(ahead > (sweep + TAU) / 2, 0.0, ahead)  # just behind the start
    along: Floats = np.where(is_arc(rows), ahead * rows[:, R], straight)
    return np.clip(along, 0.0, size)


def _far_enough(pieces: _Pieces, uncut: _Uncut, moved: MovedRows) -> Bools:
    """Return which pieces stay clear of their whole ring."""
    rows, reach = moved.rows, abs(moved.growth_mm)
    clear = np.ones(len(pieces.table), dtype=bool)
    middles = points_at(pieces.table, np.array([0.5]))[:, 0]
    ring = uncut.ring[pieces.uncut]
    for k in np.unique(ring).tolist():
        # Most pieces are much too near: shapely tells these on chords before anything exact.
        edge, own = rows.table[rows.first[k] : rows.first[k + 1]], np.flatnonzero(ring == k)
        line = shapely.LinearRing(_chords(edge))
        shapely.prepare(line)
        points = np.asarray(shapely.points(middles[own]))
        clear[own] = ~shapely.dwithin(line, points, max(reach - 2 * ROUGH_MM, 0.0))
    doubtful = np.flatnonzero(clear)
    clear[doubtful] = _exactly_far_enough(pieces.table[doubtful], ring[doubtful], rows, reach)
    return clear


def _chords(ring: Table) -> Floats:
    """Return a ring's chords, at least three."""
    points, _ = chord_points(ring, tolerance_mm=ROUGH_MM)
    return points if len(points) > 2 else points_at(ring, np.array([0.0, 0.5])).reshape(-1, 2)


def _exactly_far_enough(table: Table, ring: Ints, rows: RingRows, reach: float) -> Bools:
    samples = points_at(table, SAMPLED_AT)
    boxes = np.concatenate([samples.min(axis=1), samples.max(axis=1)], axis=1)
    piece, row = meeting_pairs(grown(boxes, by_mm=reach), row_boxes(rows.table))
    pick = ring[piece] == rows.ring[row]
    piece, row = piece[pick], row[pick]
    clear = np.ones(len(table), dtype=bool)
    for k in range(len(SAMPLED_AT)):
        near = point_distances(rows.table[row], samples[piece, k]) < reach - PRUNING_MM
        clear[piece[near]] = False
    return clear


def _nodes(pieces: Table) -> tuple[Ints, Ints, Floats]:
    """Return the node each piece begins at, the one it ends at, and where nodes are."""
    ends = np.concatenate([pieces[:, [X0, Y0]], pieces[:, [X1, Y1]]])
    boxes = np.concatenate([ends - NODE_MM, ends + NODE_MM], axis=1)
    one, other = meeting_pairs(boxes, boxes)
    node = np.arange(len(ends))
    while True:
        before = node.copy()
        np.minimum.at(node, one, node[other])
        if np.array_equal(before, node):
            break
    return node[: len(pieces)], node[len(pieces) :], ends


def _loops(pieces: _Pieces, uncut: _Uncut) -> list[Traced]:
    """Return the rings that the pieces of one ring form."""
    table = pieces.table
    begin, end, places = _nodes(table)
    speck = (begin == end) & (lengths(table) < 10 * NODE_MM)
    keep = ~speck & _uncancelled(table, begin, end)
    while True:
        # A piece that nothing leads to, or that leads nowhere, is part of no ring.
        lead = np.bincount(end[keep], minlength=len(places)) > 0
        go = np.bincount(begin[keep], minlength=len(places)) > 0
        stays = keep & lead[begin] & go[end]
        if np.array_equal(stays, keep):
            break
        keep = stays
    kept = np.flatnonzero(keep)
    if len(kept) == 0:
        return []
    walks = _walks(table, begin, end, kept)
    made = [_ring(walk, pieces, uncut) for walk in walks]
    return [ring for ring in made if ring is not None]


def _uncancelled(table: Table, begin: Ints, end: Ints) -> Bools:
    """Return which pieces are left when those that run over each other are taken out.

    Two that run opposite ways bound nothing: a slot just as wide as the kerf. Two that run the
    same way are one.
    """
    keep = np.ones(len(table), dtype=bool)
    low, high = np.minimum(begin, end), np.maximum(begin, end)
    order = np.lexsort((high, low))
    same = (low[order][1:] == low[order][:-1]) & (high[order][1:] == high[order][:-1])
    if not same.any():
        return keep
    middle = points_at(table, np.array([0.5]))[:, 0]
    groups: dict[tuple[int, int], list[int]] = defaultdict(list)
    for k in order.tolist():
        groups[int(low[k]), int(high[k])].append(k)
    for group in groups.values():
        for place, k in enumerate(group):
            for other in group[place + 1 :]:
                if not (keep[k] and keep[other]):
                    continue
                if np.hypot(*(middle[k] - middle[other])) > 2 * NODE_MM:
                    continue
                keep[other] = False
                if begin[k] != begin[other]:
                    keep[k] = False
    return keep


def _walks(table: Table, begin: Ints, end: Ints, kept: Ints) -> list[list[int]]:
    """Return closed walks over the kept pieces: at a branch the leftmost way, cut where they meet.

    The material is on the left, so the leftmost way stays with the same material.
    """
    leave = np.arctan2(*tangents(table, at_end=False).T[::-1])
    arrive = np.arctan2(*tangents(table, at_end=True).T[::-1])
    ways: dict[int, list[int]] = defaultdict(list)
    for k in kept.tolist():
        ways[int(begin[k])].append(k)
    begins, ends = begin.tolist(), end.tolist()
    used: set[int] = set()
    walks = []
    for first in kept.tolist():
        if first in used:
            continue
        used.add(first)
        walk, seen = [first], {begins[first]: 0}
        while walk:
            here = ends[walk[-1]]
            if here in seen:
                start = seen[here]
                walks.append(walk[start:])
                for k in walk[start:]:
                    seen.pop(begins[k], None)
                del walk[start:]
                if not walk:
                    break
            choices = [k for k in ways[here] if k not in used]
            if not choices:
                break
            best = choices[0]
            if len(choices) > 1:
                best = max(choices, key=lambda k: _left(arrive[walk[-1]], leave[k]))
            seen[here] = len(walk)
            walk.append(best)
            used.add(best)
    return walks


def _left(arriving_rad: float, leaving_rad: float) -> float:
    """Return how far left the way turns, radians; doubling back counts as furthest right."""
    turn = float(np.mod(leaving_rad - arriving_rad + np.pi, TAU) - np.pi)
    return -np.pi if turn > np.pi - 1e-6 else turn


def _ring(walk: list[int], pieces: _Pieces, uncut: _Uncut) -> Traced | None:
    """Return the walk as a ring, or None when it encloses nothing."""
    number = pieces.uncut[walk]
    # Begin where an uncut row begins, at the earliest source row: same input, same bytes.
    fresh = np.flatnonzero(number != np.roll(number, 1))
    if len(fresh) == 0:
        row = pieces.table[walk[0]]
        if row[TURN] == 0.0:
            return None
        table = np.array(whole_circle(row, turn=float(row[TURN])).table)
        picked = number[:1]
        return Traced(table, uncut.source[picked], uncut.joining[picked])
    rank = 2 * uncut.source[number[fresh]] + uncut.joining[number[fresh]]
    shift = int(fresh[np.argmin(rank)])
    walk = walk[shift:] + walk[:shift]
    number = np.roll(number, -shift)
    fresh = np.flatnonzero(np.concatenate([[True], number[1:] != number[:-1]]))
    table = pieces.table[np.array(walk)[fresh]]
    last = np.concatenate([fresh[1:], [len(walk)]]) - 1
    ends = pieces.table[np.array(walk)[last]][:, [X1, Y1]]
    table[:, [X0, Y0]] = _corners(table, np.roll(ends, 1, axis=0))
    table[:, [X1, Y1]] = np.roll(table[:, [X0, Y0]], -1, axis=0)
    size = lengths(table)
    if abs(signed_area(table)) <= SLIVER_MM * float(np.sum(size)) / 2:
        return None
    picked = number[fresh]
    return Traced(table, uncut.source[picked], uncut.joining[picked])


def _corners(table: Table, arrivals: Floats) -> Floats:
    """Return where each row begins: where the row before arrives, to the last bit if it can.

    Ends that are one node may be a micron's thousandth apart, when a speck between them was
    dropped; their carriers still meet in one point.
    """
    starts = table[:, [X0, Y0]]
    apart = np.flatnonzero(np.hypot(*(starts - arrivals).T) > JOINED_MM)
    if len(apart):
        found = carrier_meetings(np.roll(table, 1, axis=0)[apart], table[apart])
        away = np.hypot(*np.moveaxis(found - starts[apart][:, None, :], 2, 0))
        away = np.where(np.isnan(away), np.inf, away)
        pick = np.argmin(away, axis=1)
        near = away[np.arange(len(apart)), pick] <= 10 * NODE_MM
        starts[apart[near]] = found[near, pick[near]]
    return starts
