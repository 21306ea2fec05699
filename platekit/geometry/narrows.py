"""Narrow places: where a ring comes near itself, across its material or across its void.

Two rows of one ring make a narrow place where they face each other: where going on along either
brings them no nearer, or so little nearer that a tongue between them hardly tapers. A sharp corner
is none, however thin its tip.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np
import shapely

from platekit.geometry.boxes import grown, meeting_pairs
from platekit.geometry.chords import chord_points
from platekit.geometry.distance import row_distances
from platekit.geometry.points import SAME_POINT_MM, Point, between
from platekit.geometry.profile import Profile
from platekit.geometry.tables import (
    CX,
    CY,
    TURN,
    X0,
    X1,
    Y0,
    Y1,
    Bools,
    Ints,
    R,
    Table,
    is_arc,
    row_boxes,
    sweeps_rad,
    tangents,
)

# Walls that lean towards each other by no more than twice this still face each other.
LEAN_DEG = 15.0
_LEAN = math.sin(math.radians(LEAN_DEG))
# Places are found on chords; widths are exact.
CHORDS_MM = 1e-3
# Along two facing walls the middle of what is this much wider than the narrowest, mm, is the place.
SLACK_MM = 2e-3
# As far from a corner the middle of what is within the slack can lie, on a wall that leans.
NEAR_CORNER_MM = 2 * SLACK_MM / _LEAN
HALF_TURN = math.pi - 1e-6


# Of places of one width, as along a strip, the one between the longest walls tells most.
ALIKE_DIGITS = 6


@dataclass(frozen=True, slots=True)
class _Found:
    """Two rows that face each other: how far apart, where, and along what length."""

    width_mm: float
    at: Point
    pair: tuple[int, int]
    run_mm: float

    @property
    def rank(self) -> tuple[float, float, Point]:
        """What comes first: the narrow, of these the long."""
        return round(self.width_mm, ALIKE_DIGITS), -round(self.run_mm, ALIKE_DIGITS), self.at


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Narrow:
    """A narrow place.

    Attributes:
        width_mm: Distance from one wall to the other, exact.
        at: Its middle, within hundredths of a mm.
        ring: Number of the ring in the profile, 0 the outer one.
    """

    width_mm: float
    at: Point
    ring: int


def narrows(profile: Profile, *, within_mm: float, of_void: bool = False) -> tuple[Narrow, ...]:
    """Return where a ring of a profile comes within `within_mm` of itself, narrowest first.

    Webs between different rings are `platekit.geometry.gaps`'s to find.

    Args:
        profile: The shape.
        within_mm: What is wider is no narrow place.
        of_void: Look across slots and notches instead of across the material.
    """
    tables = [ring.table for ring in profile.rings]
    rows = np.concatenate(tables)
    rings = np.repeat(np.arange(len(tables)), [len(table) for table in tables])
    walls = _Walls(rows, rings, -1.0 if of_void else 1.0)
    found = sorted(
        (
            one
            for one in (*_round(walls, within_mm), *_facing(walls, within_mm))
            if profile.contains(one.at) != of_void
        ),
        key=lambda one: one.rank,
    )
    kept: list[_Found] = []
    for one in _narrowest_of_each(found, walls):
        if all(between(one.at, k.at) > one.width_mm + k.width_mm for k in kept):
            kept.append(one)
    return tuple(
        Narrow(width_mm=one.width_mm, at=one.at, ring=int(rings[one.pair[0]])) for one in kept
    )


def _narrowest_of_each(found: Sequence[_Found], walls: _Walls) -> list[_Found]:
    """Return the first of each set of pairs that run along the same two walls, row after row."""
    places = {one.pair: place for place, one in enumerate(found)}
    told: set[int] = set()
    firsts: list[_Found] = []
    for place, one in enumerate(found):
        if place in told:
            continue
        firsts.append(one)
        told.add(place)
        waiting = [one.pair]
        while waiting:
            a, b = waiting.pop()
            for pair in product(walls.beside(a), walls.beside(b)):
                other = places.get((min(pair), max(pair)))
                if other is not None and other not in told:
                    told.add(other)
                    waiting.append(found[other].pair)
    return firsts


def _round(walls: _Walls, within_mm: float) -> Iterable[_Found]:
    """Yield arcs of half a turn and more: as wide as their diameter."""
    table = walls.table
    wide = (
        (table[:, TURN] == walls.side)
        & (np.abs(sweeps_rad(table)) >= HALF_TURN)
        & (2 * table[:, R] < within_mm)
    )
    for row in np.flatnonzero(wide).tolist():
        x, y, radius = table[row, [CX, CY, R]].tolist()
        yield _Found(2 * radius, Point(x, y), (row, row), 0.0)


class _Walls:
    """The rows of rings, for asking whether one faces what lies in some direction."""

    def __init__(self, table: Table, rings: Ints, side: float) -> None:
        """Take the rows of rings; `side` is 1 to look to the left of them, -1 to the right."""
        self.table, self.rings, self.side = table, rings, side
        self._starts, self._ends = tangents(table, at_end=False), tangents(table, at_end=True)
        first = np.searchsorted(rings, rings)
        size = np.searchsorted(rings, rings, side="right") - first
        here = np.arange(len(table)) - first
        self.after, self.before = first + (here + 1) % size, first + (here - 1) % size

    def beside(self, row: int) -> tuple[int, int, int]:
        """Return a row and those before and after it in its ring."""
        return int(self.before[row]), row, int(self.after[row])

    def faces(self, row: int, at: Point, way: tuple[float, float]) -> bool:
        """Return whether going on along the ring from `at` on a row brings what is there no nearer.

        Where the row passes square to the way, or at a corner from which both rows lead away.
        """
        along = _tangent(self.table[row], at)
        aside = self.side * (along[0] * way[1] - along[1] * way[0])
        if aside > 0.0 and abs(_dot(along, way)) <= _LEAN:
            return True
        x0, y0, x1, y1 = self.table[row, :4].tolist()
        for corner, before, after in (
            (Point(x0, y0), self.before[row], row),
            (Point(x1, y1), row, self.after[row]),
        ):
            if between(at, corner) > NEAR_CORNER_MM:
                continue
            arriving, leaving = self._ends[before].tolist(), self._starts[after].tolist()
            if _dot(arriving, way) >= -_LEAN and _dot(leaving, way) <= _LEAN:
                return True
        return False


def _facing(walls: _Walls, within_mm: float) -> Iterable[_Found]:
    """Yield pairs of rows that face each other."""
    table, rings, side = walls.table, walls.rings, walls.side
    boxes = row_boxes(table)
    one, other = meeting_pairs(grown(boxes, by_mm=within_mm), boxes)
    pick = (one < other) & (rings[one] == rings[other])
    pick &= (walls.after[one] != other) & (walls.before[one] != other)
    one, other = one[pick], other[pick]
    pick = _before(table[one], table[other], side) & _before(table[other], table[one], side)
    one, other = one[pick], other[pick]
    width = row_distances(table[one], table[other])
    near = (width > 0) & (width < within_mm)
    for a, b, width_mm in zip(
        one[near].tolist(), other[near].tolist(), width[near].tolist(), strict=True
    ):
        p, q, run_mm = _across(table[[a]], table[[b]], width_mm)
        gone = between(p, q)
        if gone == 0.0:  # nearer than their chords can tell: they all but touch
            continue
        way = ((q.x - p.x) / gone, (q.y - p.y) / gone)
        if walls.faces(a, p, way) and walls.faces(b, q, (-way[0], -way[1])):
            middle = Point((p.x + q.x) / 2, (p.y + q.y) / 2)
            yield _Found(width_mm, middle, (a, b), run_mm)


def _before(a: Table, b: Table, side: float) -> Bools:
    """Return whether some of each row of `b` lies on the side of `a` that is looked at.

    Arcs and what lies in one line are let pass: this only spares the work of looking closer.
    """
    dx, dy = a[:, X1] - a[:, X0], a[:, Y1] - a[:, Y0]
    in_line = SAME_POINT_MM * np.hypot(dx, dy)
    ends = [
        side * (dx * (b[:, y] - a[:, Y0]) - dy * (b[:, x] - a[:, X0])) > -in_line
        for x, y in ((X0, Y0), (X1, Y1))
    ]
    lines = ~is_arc(a) & ~is_arc(b)
    seen: Bools = ~lines | ends[0] | ends[1]
    return seen


def _across(a: Table, b: Table, width_mm: float) -> tuple[Point, Point, float]:
    """Return where two rows are nearest, and along what length of the first.

    The middle of it where they run side by side.
    """
    wall, facing = _line(a), _line(b)
    band = shapely.buffer(facing, width_mm + SLACK_MM, quad_segs=32)
    runs = [
        run
        for run in shapely.get_parts(shapely.intersection(wall, band))
        if isinstance(run, shapely.LineString) and run.length > 0.0
    ]
    run_mm = 0.0
    if runs:
        longest = max(runs, key=lambda run: run.length)
        run_mm = longest.length
        middle = shapely.line_interpolate_point(longest, 0.5, normalized=True)
        ends = shapely.get_coordinates(shapely.shortest_line(middle, facing))
    else:
        ends = shapely.get_coordinates(shapely.shortest_line(wall, facing))
    return Point(*ends[0].tolist()), Point(*ends[1].tolist()), run_mm


def _line(row: Table) -> shapely.LineString:
    points, _ = chord_points(row, tolerance_mm=CHORDS_MM)
    return shapely.LineString(np.vstack([points, row[:, [X1, Y1]]]))


def _tangent(row: Table, at: Point) -> tuple[float, float]:
    """Return the direction of travel where a row passes `at`."""
    x0, y0, x1, y1, cx, cy, _, turn = row.tolist()
    dx, dy = (x1 - x0, y1 - y0) if turn == 0 else (-turn * (at.y - cy), turn * (at.x - cx))
    length = math.hypot(dx, dy) or 1.0
    return dx / length, dy / length


def _dot(a: Iterable[float], b: Iterable[float]) -> float:
    return sum(x * y for x, y in zip(a, b, strict=True))
