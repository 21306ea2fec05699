"""What shape an opening has, in words and sizes that are enough to draw it by."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from platekit.export.figures import format_mm
from platekit.geometry.chains import Contour
from platekit.geometry.points import Point
from platekit.geometry.tables import CX, CY, TURN, X0, X1, Y0, Y1, Floats, R, Table, sweeps_rad

DIAMETER = "\N{LATIN CAPITAL LETTER O WITH STROKE}"
TIMES = "\N{MULTIPLICATION SIGN}"
OWN = "own shape"
DECIMALS = 2
SAME_MM = 2e-3
SAME_DEG = 0.01
# Regular polygons that workshops have a word for.
POLYGONS = {3: "triangle", 5: "pentagon", 6: "hexagon", 8: "octagon"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """An opening's shape.

    Attributes:
        centre: What its place is told by: a circle's centre, else the middle of its bounds.
        said: Its sizes in words: "18.05 x 6.1", "12.5 x 4.5 round ends".
        is_told: Whether they are enough to draw it by.
    """

    centre: Point
    said: str
    is_told: bool = True


def shape_of(ring: Contour) -> Shape:
    """Return the shape of an opening."""
    box = ring.bounds
    centre = box.centre
    if ring.is_circle:
        return Shape(centre=centre, said=f"{DIAMETER}{_mm(box.width_mm)}")
    table = ring.table if ring.is_ccw else ring.reversed().table
    sizes = f"{_mm(box.width_mm)} {TIMES} {_mm(box.height_mm)}"
    polygon = _polygon(table)
    if polygon:
        return Shape(centre=centre, said=f"{sizes} {polygon}")
    for turn_deg in _turns(table):
        said = _rectangle(_turned(table, turn_deg))
        if said:
            if turn_deg:
                said += f" at {_mm(turn_deg)}\N{DEGREE SIGN}"
            return Shape(centre=centre, said=said)
    return (
        _keyed(table)
        or _curved(table)
        or Shape(centre=centre, said=f"{sizes} {OWN}", is_told=False)
    )


def _polygon(table: Table) -> str:
    word = POLYGONS.get(len(table), "")
    if not word or table[:, TURN].any():
        return ""
    middle = table[:, [X0, Y0]].mean(axis=0)
    reach = np.hypot(*(table[:, [X0, Y0]] - middle).T)
    sides = np.hypot(table[:, X1] - table[:, X0], table[:, Y1] - table[:, Y0])
    level = np.degrees(np.arctan2(table[:, Y1] - table[:, Y0], table[:, X1] - table[:, X0]))
    # Only one that lies on a side or stands on a corner is told by its width and height.
    square = np.abs(level / 90.0 - np.round(level / 90.0)) * 90.0 < SAME_DEG
    if np.ptp(reach) > SAME_MM or np.ptp(sides) > SAME_MM or not square.any():
        return ""
    return word


def _turns(table: Table) -> list[float]:
    """Return the directions of straight sides, from 0 to less than 180 degrees, upright ones first.

    Of two square to each other the lesser will do, unless what is drawn is longer across it.
    """
    lines = table[table[:, TURN] == 0.0]
    if not len(lines):
        return [0.0]
    dx, dy = lines[:, X1] - lines[:, X0], lines[:, Y1] - lines[:, Y0]
    longest = int(np.argmax(np.hypot(dx, dy)))
    turn = math.degrees(math.atan2(dy[longest], dx[longest])) % 180.0
    if min(turn % 90.0, 90.0 - turn % 90.0) < SAME_DEG:
        turn = 0.0
    return [turn]


def _turned(table: Table, turn_deg: float) -> Table:
    if not turn_deg:
        return table
    c, s = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    turned = table.copy()
    for x, y in ((X0, Y0), (X1, Y1), (CX, CY)):
        turned[:, x] = c * table[:, x] + s * table[:, y]
        turned[:, y] = -s * table[:, x] + c * table[:, y]
    return turned


def _rectangle(table: Table) -> str:
    """Return the sizes of a rectangle, its corners square or round; nothing for other shapes."""
    lines = table[table[:, TURN] == 0.0]
    arcs = table[table[:, TURN] != 0.0]
    dx, dy = np.abs(lines[:, X1] - lines[:, X0]), np.abs(lines[:, Y1] - lines[:, Y0])
    if np.any(np.minimum(dx, dy) > SAME_MM) or np.any(arcs[:, TURN] < 0):
        return ""
    low, high = _reach(table)
    width, height = (high - low).tolist()
    sizes = f"{_mm(width)} {TIMES} {_mm(height)}"
    if not len(arcs):
        return sizes if len(lines) == 4 else ""
    radius = float(arcs[0, R])
    if np.ptp(arcs[:, R]) > SAME_MM or abs(float(np.sum(sweeps_rad(arcs))) - math.tau) > 1e-4:
        return ""
    # Every centre lies a radius in from two sides.
    inset = np.minimum(np.abs(arcs[:, [CX, CY]] - low), np.abs(high - arcs[:, [CX, CY]]))
    if np.any(np.abs(inset - radius) > SAME_MM):
        return ""
    if abs(min(width, height) - 2 * radius) <= SAME_MM:
        return f"{sizes} round ends"
    return f"{sizes} R{_mm(radius)}" if len(lines) == 4 and len(arcs) == 4 else ""


def _reach(table: Table) -> tuple[Floats, Floats]:
    """Return the least and the greatest x and y of a convex ring whose arcs end on its sides."""
    points = np.vstack([table[:, [X0, Y0]], table[:, [X1, Y1]]])
    arcs = table[table[:, TURN] != 0.0]
    # An arc of half a turn reaches beyond its ends; a corner's arc does not reach beyond its box.
    half = arcs[np.abs(sweeps_rad(arcs)) > math.pi / 2 + 1e-6]
    middles = _middles(half)
    points = np.vstack([points, middles])
    return points.min(axis=0), points.max(axis=0)


def _middles(arcs: Table) -> Floats:
    angle = np.arctan2(arcs[:, Y0] - arcs[:, CY], arcs[:, X0] - arcs[:, CX]) + sweeps_rad(arcs) / 2
    return np.stack(
        [arcs[:, CX] + arcs[:, R] * np.cos(angle), arcs[:, CY] + arcs[:, R] * np.sin(angle)], axis=1
    )


def _keyed(table: Table) -> Shape | None:
    """Return the shape of a circle with a flat, or with a keyway on one of its four sides."""
    arcs = table[table[:, TURN] != 0.0]
    lines = table[table[:, TURN] == 0.0]
    if len(arcs) != 1 or len(lines) not in {1, 3} or arcs[0, TURN] < 0:
        return None
    if np.any(np.minimum(*np.abs((lines[:, [X1, Y1]] - lines[:, [X0, Y0]]).T)) > SAME_MM):
        return None
    arc = arcs[0]
    centre, radius = arc[[CX, CY]], float(arc[R])
    first = int(np.argmax(table[:, TURN] != 0.0))
    flat = np.roll(table, -first - 1, axis=0)[len(lines) // 2]
    middle = (flat[[X0, Y0]] + flat[[X1, Y1]]) / 2 - centre
    if min(abs(middle)) > SAME_MM:
        return None
    over = radius + float(np.hypot(*middle))
    axis = int(np.argmax(np.abs(middle)))
    where = (("left", "right"), ("below", "above"))[axis][int(middle[axis] > 0)]
    said = f"{DIAMETER}{_mm(2 * radius)}"
    if len(lines) == 1:
        said += f" flat {where}, {_mm(over)} over it"
    else:
        wide = float(np.hypot(*(flat[[X1, Y1]] - flat[[X0, Y0]])))
        said += f", key {_mm(wide)} wide {where}, {_mm(over)} over it"
    return Shape(centre=Point(*centre.tolist()), said=said)


def _curved(table: Table) -> Shape | None:
    """Return the shape of a slot along an arc, round at both ends; its place is the arc's centre.

    The angles are those of the middles of its ends, counter-clockwise from the right.
    """
    if len(table) != 4 or not table[:, TURN].all():
        return None
    outer = int(np.argmax(table[:, R]))
    turned = np.roll(table, -outer, axis=0)
    far, end, inner, start = turned
    width = float(far[R] - inner[R])
    centres = turned[:, [CX, CY]]
    mean = float(far[R] + inner[R]) / 2
    reach = np.hypot(*(centres[[1, 3]] - centres[0]).T)
    if (
        far[TURN] < 0
        or inner[TURN] > 0
        or np.hypot(*(centres[2] - centres[0])) > SAME_MM
        or np.any(np.abs(np.array([end[R], start[R]]) - width / 2) > SAME_MM)
        or np.any(np.abs(reach - mean) > SAME_MM)
    ):
        return None
    away = centres[[3, 1]] - centres[0]
    a, b = np.degrees(np.arctan2(away[:, 1], away[:, 0])) % 360.0
    said = f"{_mm(width)} wide on R{_mm(mean)}, {_deg(a)} to {_deg(b if b > a else b + 360.0)}"
    return Shape(centre=Point(*centres[0].tolist()), said=said)


def _deg(value: float) -> str:
    return f"{_mm(float(value))}\N{DEGREE SIGN}"


def _mm(value: float) -> str:
    return format_mm(value, decimals=DECIMALS)
