"""Chains of segments: closed contours and open paths."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from typing import Self

import numpy as np

from platekit.errors import GeometryError
from platekit.geometry.curves import Arc, Line, Segment
from platekit.geometry.motion import Motion
from platekit.geometry.points import SAME_POINT_MM, Point, as_point
from platekit.geometry.sinks import Sink
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
    R,
    Table,
    falling_rows,
    first_moments,
    lengths,
    ray_crossings,
    reversed_table,
    row_boxes,
    signed_area,
)

# Beyond this no sheet reaches and doubles begin to lose the hundredth of a micron.
LARGEST_COORDINATE_MM = 1e6


@dataclass(frozen=True, slots=True)
class Bounds:
    """An upright rectangle, mm."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width_mm(self) -> float:
        """Extent along x, mm."""
        return self.right - self.left

    @property
    def height_mm(self) -> float:
        """Extent along y, mm."""
        return self.top - self.bottom

    @property
    def centre(self) -> Point:
        """Middle of the rectangle."""
        return Point((self.left + self.right) / 2, (self.bottom + self.top) / 2)

    def joined(self, other: Bounds) -> Bounds:
        """Return the least rectangle around both."""
        return Bounds(
            min(self.left, other.left),
            min(self.bottom, other.bottom),
            max(self.right, other.right),
            max(self.top, other.top),
        )


@dataclass(frozen=True, eq=False)
class Chain:
    """Segments joined end to end. Use `Contour` (closed) or `Path` (open).

    Two chains are equal when their segments are, to the last bit.

    Attributes:
        table: The segments as rows, shape (n, 8), read-only; see `platekit.geometry.tables`.
    """

    table: Table

    def __post_init__(self) -> None:
        table = np.ascontiguousarray(self.table, dtype=np.float64)
        if table is self.table and table.flags.writeable:
            table = table.copy()
        table.setflags(write=False)
        object.__setattr__(self, "table", table)
        self._require_sound()

    def _require_sound(self) -> None:
        table = self.table
        if table.ndim != 2 or table.shape[1:] != (8,) or len(table) == 0:
            raise GeometryError("a chain has no segments", remedy="give at least one segment")
        _require_within_reach(table)

    @classmethod
    def trusted(cls, table: Table) -> Self:
        """Return a chain of rows known to be sound: the engines' own results."""
        chain = object.__new__(cls)
        table.setflags(write=False)
        object.__setattr__(chain, "table", table)
        return chain

    @classmethod
    def of(cls, segments: Iterable[Segment]) -> Self:
        """Return the chain of `segments`, each beginning where the one before ends."""
        return cls(np.array([_row(segment) for segment in segments], dtype=np.float64))

    @cached_property
    def segments(self) -> tuple[Segment, ...]:
        """The segments as values."""
        return tuple(_segment(row) for row in self.table.tolist())

    @cached_property
    def length_mm(self) -> float:
        """Length along the chain, mm."""
        return float(np.sum(lengths(self.table)))

    @cached_property
    def bounds(self) -> Bounds:
        """Exact bounds, arcs' bulges included."""
        if len(self.table) == 1 and self.start == self.end:  # a circle: no need of machinery
            x, y, r = (float(value) for value in self.table[0, [CX, CY, R]])
            return Bounds(x - r, y - r, x + r, y + r)
        boxes = row_boxes(self.table)
        low, high = boxes.min(axis=0), boxes.max(axis=0)
        return Bounds(float(low[0]), float(low[1]), float(high[2]), float(high[3]))

    @property
    def start(self) -> Point:
        """Where the chain begins."""
        return Point(float(self.table[0, X0]), float(self.table[0, Y0]))

    @property
    def end(self) -> Point:
        """Where the chain ends."""
        return Point(float(self.table[-1, X1]), float(self.table[-1, Y1]))

    def moved(self, motion: Motion) -> Self:
        """Return the chain after `motion`."""
        return type(self).trusted(motion.apply_to_table(self.table))

    def reversed(self) -> Self:
        """Return the chain run backwards."""
        return type(self).trusted(reversed_table(self.table))

    def __eq__(self, other: object) -> bool:
        if type(other) is not type(self):
            return NotImplemented
        return np.array_equal(self.table, other.table)

    def __hash__(self) -> int:
        return hash((type(self).__name__, self.table.tobytes()))

    def __repr__(self) -> str:
        return f"{type(self).__name__}.of({list(self.segments)!r})"

    def _draw_segments(self, sink: Sink) -> None:
        for segment in self.segments:
            if isinstance(segment, Line):
                sink.line(segment.end)
            else:
                sink.arc(
                    segment.end,
                    centre=segment.centre,
                    radius_mm=segment.radius_mm,
                    ccw=segment.ccw,
                )


class Contour(Chain):
    """A closed chain, or a whole circle: the edge of a part or of a hole in it.

    Raises:
        GeometryError: It is open, has a segment of no length, an arc whose ends are not on its
            circle, or a coordinate that is not finite.
    """

    def _require_sound(self) -> None:
        super()._require_sound()
        object.__setattr__(self, "table", _joined(self.table, closed=True))

    @cached_property
    def is_circle(self) -> bool:
        """Whether the contour is one whole circle."""
        return len(self.table) == 1

    @cached_property
    def signed_area_mm2(self) -> float:
        """Area enclosed, mm2, positive when counter-clockwise."""
        return signed_area(self.table)

    @property
    def area_mm2(self) -> float:
        """Area enclosed, mm2."""
        return abs(self.signed_area_mm2)

    @property
    def is_ccw(self) -> bool:
        """Whether the contour runs counter-clockwise."""
        if self.is_circle:
            return bool(self.table[0, TURN] > 0)
        return self.signed_area_mm2 > 0

    @cached_property
    def centroid(self) -> Point:
        """Centroid of the area enclosed."""
        area, mx, my = first_moments(self.table)
        return Point(float(mx / area), float(my / area))

    def encloses(self, point: Point | tuple[float, float]) -> bool:
        """Return whether `point` lies inside the contour (on its very edge: either answer)."""
        x, y = point
        box = self.bounds
        if not (box.left <= x <= box.right and box.bottom <= y <= box.top):
            return False
        return bool(self.encloses_each(np.array([point], dtype=np.float64))[0])

    def encloses_each(self, points: Floats) -> Bools:
        """Return which of `points`, shape (k, 2), lie inside the contour."""
        crossings = ray_crossings(self._falling, points[:, 0], points[:, 1])
        return np.not_equal(crossings % 2, 0)

    @cached_property
    def _falling(self) -> Table:
        return falling_rows(self.table)

    def draw(self, sink: Sink) -> None:
        """Draw the contour onto `sink`."""
        if self.is_circle:
            row = self.table[0].tolist()
            sink.circle(centre=Point(row[CX], row[CY]), radius_mm=row[R], ccw=row[TURN] > 0)
            return
        sink.begin(self.start)
        self._draw_segments(sink)
        sink.close()


class Path(Chain):
    """An open chain: a scored mark, a reference line, a letter's stroke.

    Raises:
        GeometryError: Its segments do not join, or a coordinate is not finite.
    """

    def _require_sound(self) -> None:
        super()._require_sound()
        object.__setattr__(self, "table", _joined(self.table, closed=False))

    def draw(self, sink: Sink) -> None:
        """Draw the path onto `sink`."""
        sink.begin(self.start)
        self._draw_segments(sink)
        sink.end()


def circle(centre: tuple[float, float], *, diameter_mm: float) -> Contour:
    """Return a whole circle, counter-clockwise.

    Raises:
        GeometryError: The diameter is not a number above 0.
    """
    at = as_point(centre)
    radius = diameter_mm / 2
    if not 0 < radius <= LARGEST_COORDINATE_MM:
        raise GeometryError(f"diameter is {diameter_mm:g} mm", remedy="give a diameter above 0")
    x = at.x + radius
    made = Contour.trusted(np.array([[x, at.y, x, at.y, at.x, at.y, radius, 1.0]]))
    _require_within_reach(made.table)  # it joins itself: its place is all that can be wrong
    return made


def polyline(points: Iterable[tuple[float, float]]) -> Path:
    """Return the open path of straight lines through `points`."""
    at = [as_point(point) for point in points]
    return Path(_straight_rows(at))


def closed_polyline(points: Iterable[tuple[float, float]]) -> Contour:
    """Return the contour of straight lines through `points`; the first is not repeated."""
    at = [as_point(point) for point in points]
    if len(at) < 3:
        raise GeometryError(f"a polygon has {len(at)} corners", remedy="give at least three")
    return Contour(_straight_rows([*at, at[0]]))


def _straight_rows(points: list[Point]) -> Table:
    """Return the rows of the straight lines from each point to the next."""
    at = np.array(points, dtype=np.float64).reshape(-1, 2)
    rows = np.zeros((max(len(at) - 1, 0), 8))
    rows[:, [X0, Y0]], rows[:, [X1, Y1]] = at[:-1], at[1:]
    return rows


def _row(segment: Segment) -> tuple[float, ...]:
    if isinstance(segment, Line):
        return (*segment.start, *segment.end, 0.0, 0.0, 0.0, 0.0)
    turn = 1.0 if segment.ccw else -1.0
    return (*segment.start, *segment.end, *segment.centre, segment.radius_mm, turn)


def _segment(row: list[float]) -> Segment:
    start, end = Point(row[X0], row[Y0]), Point(row[X1], row[Y1])
    if row[TURN] == 0.0:
        return Line(start, end)
    return Arc(start, end, Point(row[CX], row[CY]), row[R], row[TURN] > 0)


def _joined(table: Table, *, closed: bool) -> Table:
    """Return `table` with ends that meet within a nanometre made to meet exactly, or raise."""
    arc = table[:, TURN] != 0.0
    whole = arc & (table[:, X0] == table[:, X1]) & (table[:, Y0] == table[:, Y1])
    if whole.any():
        if len(table) > 1 or not closed:
            raise GeometryError(
                "a whole circle is joined to other segments", remedy="make it a contour of its own"
            )
    elif closed and len(table) == 1:
        raise GeometryError("a contour of one segment is open", remedy="close it, or use a Path")
    short = np.flatnonzero(~whole & (lengths(table) < SAME_POINT_MM))
    if len(short):
        x, y = table[short[0], X0], table[short[0], Y0]
        raise GeometryError(
            f"a segment at ({x:g}, {y:g}) has no length", remedy="leave out doubled points"
        )
    if arc.any():
        _require_on_circles(table, arc)
    if closed:
        nexts, last = np.concatenate([table[1:], table[:1]]), len(table)
    else:
        nexts, last = table[1:], len(table) - 1
    gap = np.hypot(table[:last, X1] - nexts[:, X0], table[:last, Y1] - nexts[:, Y0])
    if np.any(gap > SAME_POINT_MM):
        k = int(np.argmax(gap))
        what = "contour is open" if closed else "path is broken"
        raise GeometryError(
            f"the {what} at ({table[k, X1]:g}, {table[k, Y1]:g}): a gap of {gap[k]:g} mm",
            remedy="let each segment begin where the one before ends",
        )
    if not np.any(gap > 0.0):
        return table
    joined = table.copy()
    joined[:last, [X1, Y1]] = nexts[:, [X0, Y0]]
    joined.setflags(write=False)
    return joined


def _require_within_reach(table: Table) -> None:
    if not np.all(np.abs(table[:, :R]) <= LARGEST_COORDINATE_MM):  # False for NaN as well
        worst = table[:, :R].ravel()[np.argmax(~(np.abs(table[:, :R].ravel()) <= 1e6))]
        raise GeometryError(
            f"a coordinate is {worst:g} mm",
            remedy=f"keep every coordinate finite and within {LARGEST_COORDINATE_MM:g} mm",
        )


def _require_on_circles(table: Table, arc: Bools) -> None:
    radial = np.maximum(
        np.abs(np.hypot(table[:, X0] - table[:, CX], table[:, Y0] - table[:, CY]) - table[:, R]),
        np.abs(np.hypot(table[:, X1] - table[:, CX], table[:, Y1] - table[:, CY]) - table[:, R]),
    )
    if np.any(arc & ((radial > SAME_POINT_MM) | (table[:, R] <= 0))):
        row = table[int(np.argmax(np.where(arc, radial, -1.0)))]
        raise GeometryError(
            f"an arc about ({row[CX]:g}, {row[CY]:g}) of radius {row[R]:g} mm misses its ends",
            remedy="give start, end and centre that agree",
        )


__all__ = [
    "Bounds",
    "Chain",
    "Contour",
    "Path",
    "circle",
    "closed_polyline",
    "polyline",
]
