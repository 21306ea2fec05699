"""Rebuilding exact rings from polygon ones by provenance.

An overlay of polygonised copies says which pieces of which curves survive. Each edge of its result
lies on a chord of exactly one source row: label it so, take runs of one label as one line or arc,
and let the corners be analytic meetings of neighbouring carriers. The polygon's own coordinates
only ever choose between candidates; none of them reaches the result.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely

from platekit.geometry.chains import Contour
from platekit.geometry.chords import chord_points
from platekit.geometry.points import SAME_POINT_MM
from platekit.geometry.rebuild_corners import corners_between, nearest_meeting
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
    lengths,
    sweeps_rad,
)
from platekit.geometry.tidy import (
    CollapsedError,
    canonical,
    chord_lengths,
    merged,
    whole_circle,
)

# Not the middle: in symmetric designs an edge's middle is as near to a wrong chord as to its own.
LABEL_AT = 0.4367


class NotRebuiltError(Exception):
    """A ring's exact form failed its proof: try finer chords. Never leaves geometry."""


@dataclass(frozen=True)
class Sources:
    """The rows that a result may be made of, with their chords.

    Attributes:
        rings: Source contours.
        tolerance_mm: Chord tolerance of the polygonised copies.
    """

    rings: tuple[Contour, ...]
    tolerance_mm: float

    @cached_property
    def table(self) -> Table:
        """Every ring's rows, shape (n, 8)."""
        return np.concatenate([ring.table for ring in self.rings])

    @cached_property
    def ring_of_row(self) -> Ints:
        """Which ring each row belongs to, shape (n,)."""
        return np.repeat(np.arange(len(self.rings)), [len(ring.table) for ring in self.rings])

    @cached_property
    def next_row(self) -> Ints:
        """The row after each one in its ring, shape (n,)."""
        after = np.arange(len(self.table)) + 1
        first = 0
        for ring in self.rings:
            after[first + len(ring.table) - 1] = first
            first += len(ring.table)
        return after

    @cached_property
    def polygons(self) -> tuple[Floats, ...]:
        """Each ring's polygon points, shape (m, 2), the last not repeated."""
        points, rows = self._chords
        stops = np.flatnonzero(np.diff(self.ring_of_row[rows])) + 1
        return tuple(np.split(points, stops))

    @cached_property
    def _chords(self) -> tuple[Floats, Ints]:
        return chord_points(self.table, tolerance_mm=self.tolerance_mm)

    @cached_property
    def _tree(self) -> shapely.STRtree:
        chords = [np.stack([p, np.roll(p, -1, axis=0)], axis=1) for p in self.polygons]
        return shapely.STRtree(list(np.asarray(shapely.linestrings(np.concatenate(chords)))))

    def labels(self, edges: Floats) -> Ints:
        """Return the source row under each edge, shape (k,); edges of shape (k, 2, 2)."""
        at = (1 - LABEL_AT) * edges[:, 0] + LABEL_AT * edges[:, 1]
        picks, chords = self._tree.query_nearest(np.asarray(shapely.points(at)), all_matches=False)
        rows = np.empty(len(edges), dtype=np.intp)
        rows[picks] = self._chords[1][chords]
        return rows


def rebuild_rings(rings: Sequence[Floats], sources: Sources) -> list[Contour | None]:
    """Return the exact contours behind polygon rings, None for one that has no area.

    Args:
        rings: Points of each ring, shape (m, 2), the last not repeated; result runs the same way.
        sources: The rows they are made of.

    Raises:
        NotRebuiltError: A ring's exact form does not agree with its polygon.
    """
    if not rings:
        return []
    edges = np.concatenate([np.stack([q, np.roll(q, -1, axis=0)], axis=1) for q in rings])
    labels = sources.labels(edges)
    stops = np.cumsum([len(q) for q in rings])
    return [
        _rebuild_or_drop(q, labels[stop - len(q) : stop], sources)
        for q, stop in zip(rings, stops, strict=True)
    ]


def _rebuild_or_drop(points: Floats, labels: Ints, sources: Sources) -> Contour | None:
    try:
        return _rebuild_ring(points, labels, sources)
    except CollapsedError:
        around = float(np.sum(np.hypot(*(np.roll(points, -1, axis=0) - points).T)))
        if abs(_polygon_area(points)) > sources.tolerance_mm * around:
            raise NotRebuiltError from None
        return None


def _rebuild_ring(points: Floats, labels: Ints, sources: Sources) -> Contour:
    whole = _verbatim(points, labels, sources)
    if whole is not None:
        return whole
    starts = np.flatnonzero(labels != np.roll(labels, 1))
    if len(starts) == 0:
        return _one_carrier(points, int(labels[0]), sources)
    labels, starts = _without_specks(points, labels, starts, sources)
    if len(starts) < 2:
        return _one_carrier(points, int(labels[0]), sources)
    rows = labels[starts]
    corners = corners_between(
        points,
        starts,
        table=sources.table,
        next_row=sources.next_row,
        before=np.roll(rows, 1),
        after=rows,
        tolerance_mm=sources.tolerance_mm,
    )
    if corners is None:
        raise NotRebuiltError
    table = _rows_between(points, starts, rows, corners, sources)
    table = merged(table)
    _require_agreement(points, table, points[starts], corners, sources.tolerance_mm)
    return canonical(Contour.trusted(table))


def _verbatim(points: Floats, labels: Ints, sources: Sources) -> Contour | None:
    """Return the source ring itself when the polygon is exactly its copy, else None."""
    k = int(sources.ring_of_row[labels[0]])
    source = sources.polygons[k]
    if len(points) != len(source) or np.any(sources.ring_of_row[labels] != k):
        return None
    same = np.array_equal(np.unique(points, axis=0), np.unique(source, axis=0))
    if not same:
        return None
    ring = sources.rings[k]
    if _polygon_area(points) * _polygon_area(source) < 0:
        return ring.reversed()
    return ring


def _one_carrier(points: Floats, row: int, sources: Sources) -> Contour:
    source = sources.table[row]
    if source[TURN] == 0.0:
        raise NotRebuiltError
    turn = 1.0 if _polygon_area(points) > 0 else -1.0
    return whole_circle(source, turn=turn)


def _without_specks(
    points: Floats, labels: Ints, starts: Ints, sources: Sources
) -> tuple[Ints, Ints]:
    """Return labels and run starts with runs too short to be real given to their neighbours.

    A speck goes when the runs beside it are one, or when their carriers meet where it stood.
    """
    edge = np.hypot(*(np.roll(points, -1, axis=0) - points).T)
    labels = labels.copy()
    kept = [int(k) for k in starts]
    k = 0
    while k < len(kept) and len(kept) > 2:
        stop = kept[(k + 1) % len(kept)]
        span = np.arange(kept[k], stop if stop > kept[k] else stop + len(points)) % len(points)
        before, after = labels[kept[k - 1]], labels[stop]
        if float(np.sum(edge[span])) >= 2 * sources.tolerance_mm:
            k += 1
            continue
        if before == after:
            labels[span] = before
            gone = {kept[k], stop}
            kept = [start for start in kept if start not in gone]
            k = max(k - 1, 0)
            continue
        at = points[kept[k]][None, :]
        found = nearest_meeting(sources.table[[before]], sources.table[[after]], at)
        if np.hypot(*(found[0] - at[0])) <= 6 * sources.tolerance_mm:
            labels[span] = after  # the following run now begins where the speck began
            kept.pop((k + 1) % len(kept))
            k = max(k - 1, 0)
            continue
        k += 1
    return labels, np.sort(np.array(kept, dtype=np.intp))


def _rows_between(
    points: Floats, starts: Ints, rows: Ints, corners: Floats, sources: Sources
) -> Table:
    """Return one row a run, from corner to corner on the run's carrier."""
    source = sources.table[rows]
    table = np.zeros((len(rows), 8))
    table[:, [X0, Y0]] = corners
    table[:, [X1, Y1]] = np.roll(corners, -1, axis=0)
    arcs = np.flatnonzero(is_arc(source))
    if len(arcs):
        for column in (CX, CY, R):
            table[arcs, column] = source[arcs, column]
        swept = _polygon_sweeps(points, starts, arcs, source)
        table[arcs, TURN] = np.where(swept > 0, 1.0, -1.0)
        # The exact sweep is the polygon's but for a little at each end, or something is wrong.
        astray = np.abs(sweeps_rad(table[arcs]) - swept) > np.pi
        turned = np.zeros(len(rows), dtype=bool)
        turned[arcs] = np.abs(swept) > np.pi
        closing = chord_lengths(table) < SAME_POINT_MM
        if np.any(closing & turned):
            if not np.all(closing):
                raise NotRebuiltError
            # A shape that only touches the circle from inside: the circle is whole after all.
            k = int(np.argmax(turned))
            return np.array(whole_circle(table[k], turn=float(table[k, TURN])).table)
        if np.any(astray & ~closing[arcs]):
            raise NotRebuiltError
    specks = chord_lengths(table) < SAME_POINT_MM
    return _closed_up(table, specks) if specks.any() else table


def _closed_up(table: Table, specks: Bools) -> Table:
    """Drop rows of no length and let the next begin where the one before ends."""
    kept = table[~specks]
    if len(kept) < 2:
        raise CollapsedError
    kept[:, [X0, Y0]] = np.roll(kept[:, [X1, Y1]], 1, axis=0)
    return kept


def _polygon_sweeps(points: Floats, starts: Ints, arcs: Ints, source: Table) -> Floats:
    """Return the angle that the polygon itself turns about each arc run's centre, radians."""
    n = len(points)
    swept = np.empty(len(arcs))
    for out, k in enumerate(arcs):
        first, stop = int(starts[k]), int(starts[(k + 1) % len(starts)])
        span = np.arange(first, (stop if stop > first else stop + n) + 1) % n
        v = points[span] - source[k, [CX, CY]]
        cross = v[:-1, 0] * v[1:, 1] - v[:-1, 1] * v[1:, 0]
        swept[out] = np.sum(np.arctan2(cross, np.sum(v[:-1] * v[1:], axis=1)))
    return swept


def _require_agreement(
    points: Floats, table: Table, near: Floats, corners: Floats, tolerance_mm: float
) -> None:
    """Raise unless the exact ring and its polygon lie within a few chord tolerances.

    Where two curves cross at a shallow angle the polygon's corner stands well off the exact one;
    around such a corner the two rings may differ by as much as the corners do.
    """
    radial = np.abs(
        np.hypot(table[:, [X0, X1]] - table[:, [CX]], table[:, [Y0, Y1]] - table[:, [CY]])
        - table[:, [R]]
    )
    if np.any(radial[is_arc(table)] > 2 * SAME_POINT_MM):
        raise NotRebuiltError
    if np.any(lengths(table) < SAME_POINT_MM):
        raise NotRebuiltError
    copy, _ = chord_points(table, tolerance_mm=tolerance_mm)
    if len(copy) < 3:
        raise NotRebuiltError
    moved = np.hypot(*(corners - near).T)
    allowed_mm = 4 * tolerance_mm
    # A spike taken off leaves the polygon's tip behind: its corner is in the chain no more.
    to_corner = corners[:, None, :] - table[None, :, [X0, Y0]]
    kept = np.min(np.hypot(to_corner[..., 0], to_corner[..., 1]), axis=1) < SAME_POINT_MM
    moved = np.where(kept, moved, moved + 2 * allowed_mm)
    far = moved > allowed_mm
    for samples, ring in ((copy, points), (points, copy)):
        line = shapely.LinearRing(ring)
        shapely.prepare(line)
        astray = samples[~shapely.dwithin(line, np.asarray(shapely.points(samples)), allowed_mm)]
        for corner, by in zip(corners[far], moved[far], strict=True):
            astray = astray[np.hypot(*(astray - corner).T) > 2 * by]
        if len(astray):
            raise NotRebuiltError
    bent = float(np.sum(lengths(table)[is_arc(table)]))
    slack = tolerance_mm * (2 * bent + 4 * float(np.sum(moved)) + 4 * tolerance_mm)
    slack += 1e-6 * float(np.sum(lengths(table)))
    if abs(_polygon_area(points) - _polygon_area(copy)) > slack:
        raise NotRebuiltError


def polyline_ring(points: Floats) -> Contour:
    """Return a polygon ring as it is, all straight: the last resort."""
    table = np.zeros((len(points), 8))
    table[:, [X0, Y0]] = points
    table[:, [X1, Y1]] = np.roll(points, -1, axis=0)
    return Contour.trusted(table[lengths(table) >= SAME_POINT_MM])


def _polygon_area(points: Floats) -> float:
    x, y = points[:, 0] - points[0, 0], points[:, 1] - points[0, 1]
    return float(0.5 * np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y))
