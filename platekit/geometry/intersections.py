"""Where two carriers meet: straight lines and whole circles, analytically.

The carrier of a row is the unbounded line or the whole circle it lies on. Everything works on
pairs of rows, k at a time: arguments of shape (k, 8), results of shape (k, 2, 2): up to two points
a pair, NaN where there is none. Tangents count as one meeting.
"""

from __future__ import annotations

import numpy as np

from platekit.geometry.tables import (
    CX,
    CY,
    TAU,
    TURN,
    X0,
    X1,
    Y0,
    Y1,
    Bools,
    Floats,
    R,
    Table,
    is_arc,
    sweeps_rad,
)

PARALLEL = 1e-12  # sine of the angle between lines that meet nowhere useful
TANGENT_MM = 1e-9  # a circle this near to touching touches


def carrier_meetings(a: Table, b: Table) -> Floats:
    """Return where each carrier of `a` meets its partner in `b`, shape (k, 2, 2)."""
    found = np.full((len(a), 2, 2), np.nan)
    arc_a, arc_b = is_arc(a), is_arc(b)
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        for pick, meet in (
            (~arc_a & ~arc_b, _line_line),
            (~arc_a & arc_b, _line_circle),
            (arc_a & ~arc_b, lambda p, q: _line_circle(q, p)),
            (arc_a & arc_b, _circle_circle),
        ):
            if pick.any():
                found[pick] = meet(a[pick], b[pick])
    return found


def _line_line(a: Table, b: Table) -> Floats:
    ux, uy = a[:, X1] - a[:, X0], a[:, Y1] - a[:, Y0]
    vx, vy = b[:, X1] - b[:, X0], b[:, Y1] - b[:, Y0]
    cross = ux * vy - uy * vx
    wx, wy = b[:, X0] - a[:, X0], b[:, Y0] - a[:, Y0]
    t = (wx * vy - wy * vx) / cross
    found = np.full((len(a), 2, 2), np.nan)
    found[:, 0, 0] = a[:, X0] + t * ux
    found[:, 0, 1] = a[:, Y0] + t * uy
    # An upright or level line hands on its own coordinate untouched.
    for rows, x_along, y_along in ((a, ux, uy), (b, vx, vy)):
        found[:, 0, 0] = np.where(x_along == 0, rows[:, X0], found[:, 0, 0])
        found[:, 0, 1] = np.where(y_along == 0, rows[:, Y0], found[:, 0, 1])
    lost = np.abs(cross) <= PARALLEL * np.hypot(ux, uy) * np.hypot(vx, vy)
    found[lost] = np.nan
    return found


def _line_circle(line: Table, arc: Table) -> Floats:
    ux, uy = line[:, X1] - line[:, X0], line[:, Y1] - line[:, Y0]
    norm = np.hypot(ux, uy)
    ux, uy = ux / norm, uy / norm
    along = (arc[:, CX] - line[:, X0]) * ux + (arc[:, CY] - line[:, Y0]) * uy
    foot = np.stack([line[:, X0] + along * ux, line[:, Y0] + along * uy], axis=1)
    h = np.hypot(foot[:, 0] - arc[:, CX], foot[:, 1] - arc[:, CY])
    r = arc[:, R]
    touching = np.abs(h - r) <= TANGENT_MM
    half = np.sqrt(np.where(h < r, (r - h) * (r + h), 0.0))
    half = np.where(touching, 0.0, half)
    step = np.stack([half * ux, half * uy], axis=1)
    found = np.stack([foot - step, foot + step], axis=1)
    for axis, along_axis in ((0, ux), (1, uy)):
        fixed = along_axis == 0
        found[fixed, :, axis] = line[fixed, axis, None]
    found[(h > r) & ~touching] = np.nan
    found[touching, 1] = np.nan
    return found


def _circle_circle(a: Table, b: Table) -> Floats:
    dx, dy = b[:, CX] - a[:, CX], b[:, CY] - a[:, CY]
    ra, rb = a[:, R], b[:, R]
    gap = np.hypot(dx, dy)
    ux, uy = dx / gap, dy / gap
    outer = np.abs(gap - ra - rb) <= TANGENT_MM
    inner = np.abs(gap - np.abs(ra - rb)) <= TANGENT_MM
    along = (gap * gap + (ra - rb) * (ra + rb)) / (2 * gap)
    along = np.where(outer | inner, np.copysign(ra, along), along)
    half = np.sqrt(np.maximum((ra - along) * (ra + along), 0.0))
    half = np.where(outer | inner, 0.0, half)
    foot = np.stack([a[:, CX] + along * ux, a[:, CY] + along * uy], axis=1)
    step = np.stack([-half * uy, half * ux], axis=1)
    found = np.stack([foot - step, foot + step], axis=1)
    found[(gap < TANGENT_MM) | (gap > ra + rb + TANGENT_MM)] = np.nan
    found[gap < np.abs(ra - rb) - TANGENT_MM] = np.nan
    found[outer | inner, 1] = np.nan
    return found


def on_row(rows: Table, points: Floats, *, within_mm: float) -> Bools:
    """Return whether points already on the carriers lie between the rows' ends.

    Args:
        rows: Shape (k, 8).
        points: One point a row, shape (k, 2); NaN is never on a row.
        within_mm: How far past an end still counts.
    """
    arc = is_arc(rows)
    ux, uy = rows[:, X1] - rows[:, X0], rows[:, Y1] - rows[:, Y0]
    norm = np.hypot(ux, uy)
    norm = np.where(norm == 0, 1.0, norm)
    along = ((points[:, 0] - rows[:, X0]) * ux + (points[:, 1] - rows[:, Y0]) * uy) / norm
    on_line = (along >= -within_mm) & (along <= norm + within_mm)
    ahead = angle_ahead_rad(rows, points)
    slack = within_mm / np.where(arc, rows[:, R], 1.0)
    on_arc = (ahead <= np.abs(sweeps_rad(rows)) + slack) | (ahead >= TAU - slack)
    return np.where(arc, on_arc, on_line) & ~np.isnan(points[:, 0])


def angle_ahead_rad(rows: Table, points: Floats) -> Floats:
    """Return the angle from each arc's start to a point, along its travel, in [0, tau)."""
    a0 = np.arctan2(rows[:, Y0] - rows[:, CY], rows[:, X0] - rows[:, CX])
    a = np.arctan2(points[:, 1] - rows[:, CY], points[:, 0] - rows[:, CX])
    ahead: Floats = np.mod((a - a0) * np.where(rows[:, TURN] < 0, -1.0, 1.0), TAU)
    return ahead


def foot_on_carrier(rows: Table, points: Floats) -> Floats:
    """Return the nearest point of each row's carrier to its point, shape (k, 2)."""
    arc = is_arc(rows)
    vx, vy = points[:, 0] - rows[:, CX], points[:, 1] - rows[:, CY]
    norm = np.hypot(vx, vy)
    scale = np.where(arc & (norm > 0), rows[:, R] / np.where(norm > 0, norm, 1.0), 0.0)
    ux, uy = rows[:, X1] - rows[:, X0], rows[:, Y1] - rows[:, Y0]
    square = ux * ux + uy * uy
    square = np.where(square == 0, 1.0, square)
    t = ((points[:, 0] - rows[:, X0]) * ux + (points[:, 1] - rows[:, Y0]) * uy) / square
    x = np.where(arc, rows[:, CX] + vx * scale, rows[:, X0] + t * ux)
    y = np.where(arc, rows[:, CY] + vy * scale, rows[:, Y0] + t * uy)
    return np.stack([x, y], axis=1)
