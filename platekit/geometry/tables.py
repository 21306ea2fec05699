"""Tables of curves: the form in which geometry is computed.

A chain of n segments is a float64 array of shape (n, 8), one row a segment, columns
`X0, Y0, X1, Y1` (start and end), `CX, CY, R` (centre and radius, zero for a line) and `TURN`
(+1 an arc counter-clockwise, -1 clockwise, 0 a line). A row with TURN != 0 and start equal to
end is a whole circle. Tables are read-only once a chain owns them.

Everything here works on rows, many at a time: it is what keeps a thousand slots fast.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Table = NDArray[np.float64]
Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.intp]

X0, Y0, X1, Y1, CX, CY, R, TURN = range(8)
TAU = 2.0 * np.pi


def is_arc(table: Table) -> Bools:
    """Return which rows are arcs, shape (n,)."""
    return np.not_equal(table[:, TURN], 0.0)


def sweeps_rad(table: Table) -> Floats:
    """Return the signed angle each row sweeps, radians; 0 for lines, shape (n,)."""
    turn = table[:, TURN]
    if not turn.any():
        return np.zeros(len(table))
    x0, y0, x1, y1, cx, cy, _, _ = table.T
    ax, ay, bx, by = x0 - cx, y0 - cy, x1 - cx, y1 - cy
    angle = np.arctan2(ax * by - ay * bx, ax * bx + ay * by)
    whole = (x0 == x1) & (y0 == y1)
    angle = np.where(whole, 0.0, angle)
    angle = np.where((turn > 0) & (angle <= 0), angle + TAU, angle)
    angle = np.where((turn < 0) & (angle >= 0), angle - TAU, angle)
    return np.where(turn == 0, 0.0, angle)


def lengths(table: Table) -> Floats:
    """Return each row's length, mm, shape (n,)."""
    chord: Floats = np.hypot(table[:, X1] - table[:, X0], table[:, Y1] - table[:, Y0])
    if not table[:, TURN].any():
        return chord
    return np.where(is_arc(table), table[:, R] * np.abs(sweeps_rad(table)), chord)


def points_at(table: Table, fractions: Floats) -> Floats:
    """Return points along every row: shape (n, k, 2) for `fractions` of shape (k,)."""
    arc = is_arc(table)[:, None]
    t = fractions[None, :]
    x0, y0, x1, y1 = (table[:, c, None] for c in (X0, Y0, X1, Y1))
    angle = t * sweeps_rad(table)[:, None]
    c, s = np.cos(angle), np.sin(angle)
    dx, dy = x0 - table[:, CX, None], y0 - table[:, CY, None]
    x = np.where(arc, table[:, CX, None] + dx * c - dy * s, x0 + t * (x1 - x0))
    y = np.where(arc, table[:, CY, None] + dx * s + dy * c, y0 + t * (y1 - y0))
    return np.stack([x, y], axis=2)


def tangents(table: Table, *, at_end: bool) -> Floats:
    """Return unit tangents in the direction of travel at one end of every row, shape (n, 2)."""
    px, py = (table[:, X1], table[:, Y1]) if at_end else (table[:, X0], table[:, Y0])
    dx, dy = table[:, X1] - table[:, X0], table[:, Y1] - table[:, Y0]
    turn = table[:, TURN]
    tx = np.where(turn == 0, dx, -turn * (py - table[:, CY]))
    ty = np.where(turn == 0, dy, turn * (px - table[:, CX]))
    norm = np.hypot(tx, ty)
    norm = np.where(norm == 0, 1.0, norm)
    return np.stack([tx / norm, ty / norm], axis=1)


def signed_area(table: Table) -> float:
    """Return the area enclosed by a closed chain, mm2, positive when counter-clockwise.

    Shoelace sum plus a circular segment r^2 (w - sin w) / 2 for every arc of sweep w.
    """
    ox, oy = table[0, X0], table[0, Y0]  # near the shape: large offsets must not cost digits
    cross = (table[:, X0] - ox) * (table[:, Y1] - oy) - (table[:, X1] - ox) * (table[:, Y0] - oy)
    if not table[:, TURN].any():
        return float(0.5 * np.sum(cross))
    w = sweeps_rad(table)
    return float(0.5 * np.sum(cross + table[:, R] ** 2 * (w - np.sin(w))))


def first_moments(table: Table) -> tuple[float, float, float]:
    """Return (area, integral of x, integral of y) over a closed chain's inside, signed.

    Green's theorem, row by row: area = 1/2 sum (x dy - y dx), Mx = 1/2 sum x^2 dy,
    My = -1/2 sum y^2 dx, with the arcs' trigonometric integrals in closed form.
    """
    ox, oy = table[0, X0], table[0, Y0]
    x0, y0, x1, y1 = table[:, X0] - ox, table[:, Y0] - oy, table[:, X1] - ox, table[:, Y1] - oy
    cx, cy, r = table[:, CX] - ox, table[:, CY] - oy, table[:, R]
    arc = is_arc(table)
    w = sweeps_rad(table)
    a0 = np.arctan2(y0 - cy, x0 - cx)
    a1 = a0 + w
    s0, s1, c0, c1 = np.sin(a0), np.sin(a1), np.cos(a0), np.cos(a1)
    cos2 = w / 2 + (s1 * c1 - s0 * c0) / 2
    sin2 = w / 2 - (s1 * c1 - s0 * c0) / 2
    cos3 = (s1 - s1**3 / 3) - (s0 - s0**3 / 3)
    sin3 = -((c1 - c1**3 / 3) - (c0 - c0**3 / 3))
    arc_mx = r / 2 * (cx**2 * (s1 - s0) + 2 * cx * r * cos2 + r**2 * cos3)
    arc_my = r / 2 * (-(cy**2) * (c1 - c0) + 2 * cy * r * sin2 + r**2 * sin3)
    line_mx = (y1 - y0) * (x0 * x0 + x0 * x1 + x1 * x1) / 6
    line_my = -(x1 - x0) * (y0 * y0 + y0 * y1 + y1 * y1) / 6
    area = signed_area(table)
    mx = float(np.sum(np.where(arc, arc_mx, line_mx)))
    my = float(np.sum(np.where(arc, arc_my, line_my)))
    return area, mx + ox * area, my + oy * area


def row_boxes(table: Table) -> Floats:
    """Return each row's bounds, shape (n, 4): least x, least y, greatest x, greatest y."""
    starts, ends = table[:, [X0, Y0]], table[:, [X1, Y1]]
    box: Floats = np.hstack([np.minimum(starts, ends), np.maximum(starts, ends)])
    arcs = np.flatnonzero(is_arc(table))
    if len(arcs):
        rows = table[arcs]
        w = sweeps_rad(rows)
        a0 = np.arctan2(rows[:, Y0] - rows[:, CY], rows[:, X0] - rows[:, CX])
        for quarter, column, sign in ((0, 2, 1), (1, 3, 1), (2, 0, -1), (3, 1, -1)):
            ahead = np.mod((quarter * np.pi / 2 - a0) * rows[:, TURN], TAU)
            hit = arcs[ahead <= np.abs(w)]
            centre = table[hit, CX if column % 2 == 0 else CY]
            reach = centre + sign * table[hit, R]
            box[hit, column] = (
                np.maximum(box[hit, column], reach)
                if sign > 0
                else np.minimum(box[hit, column], reach)
            )
    return box


def reversed_table(table: Table) -> Table:
    """Return the chain run backwards."""
    back = table[::-1].copy()
    back[:, [X0, Y0, X1, Y1]] = back[:, [X1, Y1, X0, Y0]]
    back[:, TURN] = -back[:, TURN] + 0.0
    return back


def falling_rows(table: Table) -> Table:
    """Return a closed chain in pieces that only rise or only fall, shape (m, 7).

    Arcs are cut at their highest and lowest points; level pieces are left out. Columns: heights
    at start and end; then for a line x at its start, its extent along x, 0, 0, 0; for an arc CX,
    0, CY, R, and the side it bulges to, +1 towards +x or -1.
    """
    lines = table[~is_arc(table)]
    lines = lines[lines[:, Y0] != lines[:, Y1]]
    pieces = np.zeros((len(lines), 7))
    pieces[:, 0], pieces[:, 1], pieces[:, 2] = lines[:, Y0], lines[:, Y1], lines[:, X0]
    pieces[:, 3] = lines[:, X1] - lines[:, X0]
    arcs = table[is_arc(table)]
    if len(arcs) == 0:
        return pieces
    cy, r, turn = arcs[:, CY], arcs[:, R], arcs[:, TURN]
    w = np.abs(sweeps_rad(arcs))
    a0 = np.arctan2(arcs[:, Y0] - cy, arcs[:, X0] - arcs[:, CX])
    ahead = np.mod(np.stack([np.pi / 2 - a0, -np.pi / 2 - a0]) * turn, TAU)
    ahead = np.sort(np.where((ahead > 0.0) & (ahead < w), ahead, w), axis=0)
    stops = np.stack([np.zeros_like(w), *ahead, w])
    tops = np.where(np.sin(a0 + turn * ahead) > 0, cy + r, cy - r)
    tops = np.where(ahead < w, tops, arcs[:, Y1])
    heights = np.stack([arcs[:, Y0], *tops, arcs[:, Y1]])
    none = np.zeros_like(r)
    for k in range(3):
        side = np.where(np.cos(a0 + turn * (stops[k] + stops[k + 1]) / 2) > 0, 1.0, -1.0)
        piece = np.stack([heights[k], heights[k + 1], arcs[:, CX], none, cy, r, side], axis=1)
        pieces = np.concatenate([pieces, piece[heights[k] != heights[k + 1]]])
    return pieces


def ray_crossings(falling: Table, x: Floats, y: Floats) -> Ints:
    """Return how often the ray from each (x, y) towards +x crosses a chain, shape of `x`.

    Half-open in y, so a ray through a corner counts once.

    Args:
        falling: The chain from `falling_rows`: each piece is crossed at most once.
        x: Where the rays begin, shape (k,).
        y: The same, shape (k,).
    """
    ray, piece = np.nonzero(
        (falling[None, :, 0] <= y[:, None]) != (falling[None, :, 1] <= y[:, None])
    )
    rows, level = falling[piece], y[ray]
    off = level - rows[:, 4]
    half = np.sqrt(np.maximum(rows[:, 5] ** 2 - off * off, 0.0))
    share = (level - rows[:, 0]) / (rows[:, 1] - rows[:, 0])
    straight = rows[:, 2] + share * rows[:, 3]
    at = np.where(rows[:, 6] == 0.0, straight, rows[:, 2] + rows[:, 6] * half)
    return np.bincount(ray[at > x[ray]], minlength=len(x))


def crossings_right_of(table: Table, x: float, y: float) -> int:
    """Return how often the ray from one point towards +x crosses a closed chain."""
    return int(ray_crossings(falling_rows(table), np.array([x]), np.array([y]))[0])
