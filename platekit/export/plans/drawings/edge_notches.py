"""Notches: what was asked for at a part's edge and cut in from it, told by its own sizes.

A screw's slot with its nut's pocket has a dozen corners within a few millimetres. Their ordinates
would hide those of the edge; its sizes are told in the table of openings instead, and the drawing
of the edge runs on as if it were closed.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from platekit.export.figures import format_mm
from platekit.geometry.chains import Contour
from platekit.geometry.points import Point, near
from platekit.geometry.tables import CX, CY, TURN, X0, X1, Y0, Y1, Bools, Floats, R, Table
from platekit.panel.feature import Placed

# An edge is a feature's if it lies on the feature's own line within this.
ON_MM = 1e-3
HALF_TURN_RATIO = 0.02
DECIMALS = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Notch:
    """A feature that is open to the edge.

    Attributes:
        mouth: Middle of its mouth, in the part's coordinates.
        inward: Unit vector from there into the part.
        size: Its sizes in words: "4.5 wide, 24 deep".
        depth_mm: How far it goes in.
        purpose: What it is for.
    """

    mouth: Point
    inward: Point
    size: str
    depth_mm: float
    purpose: str


def closed(outer: Contour, features: Iterable[Placed]) -> tuple[Contour, tuple[Notch, ...]]:
    """Return an outline without the notches whose sizes a line of words tells, and those notches.

    Args:
        outer: The outline.
        features: What was asked for on the part, in its coordinates.
    """
    found: list[Notch] = []
    for feature in features:
        if not feature.opens_edge:
            continue
        for cut in feature.cuts:
            without = _without(outer, cut, feature)
            if without is not None:
                outer, notch = without
                found.append(notch)
    return outer, tuple(found)


def _without(outer: Contour, cut: Contour, feature: Placed) -> tuple[Contour, Notch] | None:
    """Return an outline without a cut, and its notch; None where it cannot be told so."""
    table = outer.table
    on = _on(table, cut.table)
    if on.all() or not on.any():
        return None
    # Begin with the row after the one before the run.
    starts = np.flatnonzero(on & ~np.roll(on, 1))
    if len(starts) != 1:
        return None
    turned = np.roll(table, -int(starts[0]), axis=0)
    count = int(on.sum())
    run, rest = turned[:count], turned[count:]
    before, after = rest[-1], rest[0]
    if len(rest) < 2 or before[TURN] or after[TURN]:
        return None
    start, end = Point(*run[0, [X0, Y0]].tolist()), Point(*run[-1, [X1, Y1]].tolist())
    along = _unit(end.x - start.x, end.y - start.y)
    for row in (before, after):
        way = _unit(row[X1] - row[X0], row[Y1] - row[Y0])
        if not near(way, along, within_mm=ON_MM):
            return None
    size, depth = _sizes(run, start, end, along)
    if not size:
        return None
    bridge = np.array([before[X0], before[Y0], after[X1], after[Y1], 0.0, 0.0, 0.0, 0.0])
    notch = Notch(
        mouth=Point((start.x + end.x) / 2, (start.y + end.y) / 2),
        # The outline runs counter-clockwise: the part lies to the left of its edge.
        inward=Point(-along.y, along.x),
        size=size,
        depth_mm=depth,
        purpose=feature.name or feature.kind,
    )
    return Contour(np.vstack([bridge, rest[1:-1]])), notch


def _on(table: Table, cut: Table) -> Bools:
    """Return which rows lie on a cut's own line: both their ends do, and their middle."""
    middles = (table[:, [X0, Y0]] + table[:, [X1, Y1]]) / 2
    arcs = table[:, TURN] != 0.0
    on = _near(table[:, [X0, Y0]], cut) & _near(table[:, [X1, Y1]], cut)
    return np.asarray(on & (arcs | _near(middles, cut)))


def _near(points: Floats, cut: Table) -> Bools:
    found = np.zeros(len(points), dtype=bool)
    for row in cut:
        if row[TURN]:
            off = np.abs(np.hypot(points[:, 0] - row[CX], points[:, 1] - row[CY]) - row[R])
            found |= off <= ON_MM
            continue
        start, way = row[[X0, Y0]], row[[X1, Y1]] - row[[X0, Y0]]
        share = np.clip((points - start) @ way / (way @ way), 0.0, 1.0)
        off = np.hypot(*(points - start - share[:, None] * way).T)
        found |= off <= ON_MM
    return found


def _sizes(run: Table, start: Point, end: Point, along: Point) -> tuple[str, float]:
    """Return the sizes of a notch in words, and its depth; no words where it is of another shape.

    Args:
        run: Its rows, from one side of the mouth to the other.
        start: One end of the mouth.
        end: The other.
        along: Unit vector from the first to the second.
    """
    corners = np.vstack([run[:, [X0, Y0]], run[-1:, [X1, Y1]]]) - start
    a = corners @ np.array(along)
    d = corners @ np.array((-along.y, along.x))
    width = float(np.hypot(end.x - start.x, end.y - start.y))
    if not np.allclose(a, width - a[::-1], atol=ON_MM) or d.min() < -ON_MM:
        return "", 0.0
    arcs = np.not_equal(run[:, TURN], 0.0)
    deep = float(d.max())
    if not arcs.any():
        return _stepped(a, d, width), deep
    radii = sorted({round(float(radius), DECIMALS) for radius in run[arcs, R]})
    if len(run) == 5 and arcs.tolist() == [False, True, False, True, False] and len(radii) == 1:
        return f"{_mm(width)} wide, {_mm(deep)} deep, R{_mm(radii[0])} inside", deep
    if arcs.tolist() == [False, True, False] and abs(2 * radii[0] - width) < HALF_TURN_RATIO:
        deep += width / 2
        return f"{_mm(width)} wide, {_mm(deep)} deep, round end", deep
    return "", 0.0


def _stepped(a: Floats, d: Floats, width: float) -> str:
    """Return the sizes of a notch of steps, its half from the mouth to the bottom being enough."""
    half = len(a) // 2
    sides, deeps = width / 2 - a[:half], d[:half]
    level = np.abs(np.diff(deeps)) <= ON_MM
    upright = np.abs(np.diff(sides)) <= ON_MM
    if not np.all(level | upright) or np.any(np.diff(deeps) < -ON_MM):
        return ""
    said = f"{_mm(width)} wide, {_mm(float(d.max()))} deep"
    for k in np.flatnonzero(upright):
        wide = 2 * float(sides[k])
        if abs(wide - width) > ON_MM:
            said += f"; {_mm(wide)} wide from {_mm(float(deeps[k]))} to {_mm(float(deeps[k + 1]))}"
    return said


def _unit(x: float, y: float) -> Point:
    long = float(np.hypot(x, y))
    return Point(float(x) / long, float(y) / long)


def _mm(value: float) -> str:
    return format_mm(value, decimals=DECIMALS)


def in_order(notches: Sequence[Notch]) -> tuple[Notch, ...]:
    """Return notches as the eye goes round: the lower side, right, upper, left."""

    def key(one: Notch) -> tuple[int, float]:
        x, y = round(one.inward.x), round(one.inward.y)
        side = [(0, 1), (-1, 0), (0, -1), (1, 0)].index((x, y)) if (x, y) != (0, 0) else 4
        return side, one.mouth.x if side in {0, 2} else one.mouth.y

    return tuple(sorted(notches, key=key))
