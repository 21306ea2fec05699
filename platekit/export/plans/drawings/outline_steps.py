"""What an outline asks of a drawing: the ordinates of its steps, its roundings, its loose corners.

An edge that runs level or upright is told by one ordinate; a rounding between two straight edges by
its radius. What is left, the ends of slanted edges and of other arcs, is a corner with two.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np

from platekit.export.figures import format_mm
from platekit.export.plans.drawings.crossings import BESIDE_MM, Crossed, along_of
from platekit.geometry.chains import Contour
from platekit.geometry.motion import Motion
from platekit.geometry.points import Point
from platekit.geometry.tables import (
    CX,
    CY,
    TURN,
    X0,
    X1,
    Y0,
    Y1,
    Floats,
    R,
    Table,
    sweeps_rad,
)

# Edges closer to level or upright than this are.
STRAIGHT_MM = 1e-4
# An arc runs on smoothly from an edge if its tangent is as close as this, radians.
SMOOTH_RAD = 1e-4
# A rounding turns by less than half a circle; what turns further has a middle to be told.
MOST_ROUNDING_DEG = 175.0
# So many loose corners are told by figures at the sides; more are a table.
LOOSE_AT_SIDES = 12
# Of more corners nobody types a table.
MOST_CORNERS = 120
DECIMALS = 2
# Where neither side is reached, the first one, unless the other is nearer by this share.
TIE_SHARE = 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """An ordinate at one side of a part, from the left lower corner of its bounds.

    Attributes:
        at_mm: The ordinate.
        from_mm: Where along the other axis what it tells begins, nearest to that side.
    """

    at_mm: float
    from_mm: float

    @property
    def said(self) -> str:
        """Its figure."""
        return format_mm(self.at_mm, decimals=DECIMALS)


@dataclass(frozen=True, slots=True, kw_only=True)
class Rounding:
    """Arcs of one radius: their middles, each with the direction away from the arc's centre."""

    radius_mm: float
    at: tuple[tuple[Point, Point], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Corner:
    """A corner of an outline, and how the edge goes on from it: straight, or round a radius."""

    x_mm: float
    y_mm: float
    radius_mm: float = 0.0
    ccw: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Steps:
    """What a drawing tells of an outline; everything from the left lower corner of its bounds.

    Attributes:
        bottom: Ordinates along x at the lower side, from left to right.
        top: The same at the upper side; empty where the lower one tells all of them.
        left: Ordinates along y at the left side, upward.
        right: The same at the right side; empty where the left one tells all of them.
        roundings: Radii, the most frequent first.
        corners: Every corner, counter-clockwise, where it takes a table to tell them.
        listed: Sides whose ordinates find no room there and are told in a table: name, axis, steps.
        untold: How many corners an outline has that is taken from the full-size page: too many.
        diameter_mm: Of an outline that is a circle; 0 for all others.
    """

    bottom: tuple[Step, ...] = ()
    top: tuple[Step, ...] = ()
    left: tuple[Step, ...] = ()
    right: tuple[Step, ...] = ()
    roundings: tuple[Rounding, ...] = ()
    corners: tuple[Corner, ...] = ()
    listed: tuple[tuple[str, str, tuple[Step, ...]], ...] = ()
    untold: int = 0
    diameter_mm: float = 0.0

    def with_longest_listed(self) -> Steps | None:
        """Return the same with the side of the most ordinates told in a table; None if none is."""
        sides = [
            ("lower", "x", "bottom", self.bottom),
            ("upper", "x", "top", self.top),
            ("left", "y", "left", self.left),
            ("right", "y", "right", self.right),
        ]
        name, axis, field, steps = max(sides, key=lambda one: len(one[3]))
        if len(steps) <= 2:  # its two ends
            return None
        listed = (*self.listed, (name, axis, steps))
        match field:
            case "bottom":
                return replace(self, bottom=(), listed=listed)
            case "top":
                return replace(self, top=(), listed=listed)
            case "left":
                return replace(self, left=(), listed=listed)
            case _:
                return replace(self, right=(), listed=listed)


def steps_of(outer: Contour) -> Steps:
    """Return what a drawing tells of an outline, its screws' slots closed."""
    box = outer.bounds
    ring = outer.moved(Motion(dx_mm=-box.left, dy_mm=-box.bottom))
    if ring.is_circle:
        return Steps(diameter_mm=box.width_mm)
    table = ring.table
    level, upright, rounded = _kinds(table)
    loose = _loose(table, level | upright | rounded)
    if len(loose) > LOOSE_AT_SIDES:
        return (
            Steps(untold=len(table))
            if len(table) > MOST_CORNERS
            else Steps(corners=corners_of(table))
        )
    edge = Crossed(ring)
    points = [(point[0], point[1], point[1]) for point in loose]
    along_x = [(row[X0], *sorted((row[Y0], row[Y1]))) for row in table[upright].tolist()]
    along = along_of(ring)
    bottom, top = _sides([*along_x, *points, *_ends(along)], edge, length_mm=box.height_mm)
    turned = Crossed(ring, turned=True)
    across = [(row[Y0], *sorted((row[X0], row[X1]))) for row in table[level].tolist()]
    swapped = [(y, x, x) for x, y, _ in points]
    left, right = _sides(
        [*across, *swapped, *_ends(along[:, ::-1])], turned, length_mm=box.width_mm
    )
    return Steps(
        bottom=bottom,
        top=top,
        left=left,
        right=right,
        roundings=_roundings(table, np.not_equal(table[:, TURN], 0.0)),
    )


def _kinds(table: Table) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Return which rows are level edges, which upright ones, which roundings between such edges."""
    line = table[:, TURN] == 0.0
    level = line & (np.abs(table[:, Y1] - table[:, Y0]) <= STRAIGHT_MM)
    upright = line & (np.abs(table[:, X1] - table[:, X0]) <= STRAIGHT_MM)
    straight = level | upright
    small = np.abs(np.degrees(sweeps_rad(table))) < MOST_ROUNDING_DEG
    smooth = [_is_smooth(table, k) for k in range(len(table))]
    rounded = ~line & small & np.roll(straight, 1) & np.roll(straight, -1) & np.array(smooth)
    return level, upright, rounded


def _is_smooth(table: Table, k: int) -> bool:
    """Return whether an arc runs on from both its neighbours without a corner."""
    row = table[k]
    if row[TURN] == 0.0:
        return False
    for x, y, beside in ((row[X0], row[Y0], k - 1), (row[X1], row[Y1], (k + 1) % len(table))):
        other = table[beside]
        dx, dy = other[X1] - other[X0], other[Y1] - other[Y0]
        rx, ry = x - row[CX], y - row[CY]
        if abs(dx * rx + dy * ry) > SMOOTH_RAD * math.hypot(dx, dy) * row[R]:
            return False
    return True


def _loose(table: Table, told: np.ndarray) -> list[tuple[float, float]]:
    """Return both ends of every row that neither an ordinate nor a radius tells."""
    found: dict[tuple[float, float], None] = {}
    for row in table[~told].tolist():
        for x, y in ((row[X0], row[Y0]), (row[X1], row[Y1])):
            found.setdefault((round(x, 6), round(y, 6)))
    return list(found)


def _ends(points: Floats) -> list[tuple[float, float, float]]:
    """Return a point at the least ordinate and one at the greatest."""
    rows = points[[points[:, 0].argmin(), points[:, 0].argmax()]]
    return [(float(at), float(where), float(where)) for at, where in rows]


def _sides(
    edges: Iterable[tuple[float, float, float]], outline: Crossed, *, length_mm: float
) -> tuple[tuple[Step, ...], tuple[Step, ...]]:
    """Return the steps at the near side and at the far one.

    A step belongs to the side that its extension line reaches without crossing the part; where
    neither does, to the nearer one. A side whose steps all are in line with the other's is left
    out: edges in line share a figure.

    Args:
        edges: Ordinate, least and greatest place along the other axis, of each edge or corner.
        outline: The outline.
        length_mm: How far the far side is from the near one.
    """
    by_figure: dict[float, list[tuple[float, float, float]]] = {}
    for edge in edges:
        by_figure.setdefault(round(edge[0], DECIMALS) + 0.0, []).append(edge)
    near: dict[float, Step] = {}
    far: dict[float, Step] = {}
    for figure, several in sorted(by_figure.items()):
        crossed = outline.both(several[0][0])
        low = min(several, key=lambda one: one[1])
        high = max(several, key=lambda one: one[2])
        to_near = not any(start < low[1] - BESIDE_MM for start, _ in crossed)
        to_far = not any(end > high[2] + BESIDE_MM for _, end in crossed)
        is_nearer = low[1] <= length_mm - high[2] + TIE_SHARE * length_mm
        if to_near or (not to_far and is_nearer):
            near[figure] = Step(at_mm=low[0], from_mm=low[1])
        if to_far or (not to_near and not is_nearer):
            far[figure] = Step(at_mm=high[0], from_mm=high[2])
    if far.keys() <= near.keys():
        far = {}
    elif near.keys() <= far.keys():
        near = {}
    return tuple(near.values()), tuple(far.values())


def _roundings(table: Table, arcs: np.ndarray) -> tuple[Rounding, ...]:
    by_radius: dict[float, list[tuple[Point, Point]]] = {}
    sweeps = sweeps_rad(table)
    for row, sweep in zip(table[arcs].tolist(), sweeps[arcs].tolist(), strict=True):
        start = math.atan2(row[Y0] - row[CY], row[X0] - row[CX])
        away = Point(math.cos(start + sweep / 2), math.sin(start + sweep / 2))
        middle = Point(row[CX] + row[R] * away.x, row[CY] + row[R] * away.y)
        by_radius.setdefault(round(row[R], DECIMALS), []).append((middle, away))
    told = [Rounding(radius_mm=radius, at=tuple(at)) for radius, at in by_radius.items()]
    return tuple(sorted(told, key=lambda one: (-len(one.at), one.radius_mm)))


def corners_of(table: Table) -> tuple[Corner, ...]:
    """Return every corner of a closed ring in turn, from the lowest on, of these the leftmost."""
    first = min(range(len(table)), key=lambda k: (round(table[k, Y0], 3), table[k, X0]))
    turned = np.roll(table, -first, axis=0)
    return tuple(
        Corner(x_mm=row[X0], y_mm=row[Y0], radius_mm=row[R], ccw=row[TURN] >= 0.0)
        for row in turned.tolist()
    )


__all__ = ["Corner", "Rounding", "Step", "Steps", "corners_of", "steps_of"]
