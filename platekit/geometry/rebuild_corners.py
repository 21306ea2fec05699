"""Corners of rebuilt rings: where two runs of one carrier each meet, exactly.

The polygon's own corner chooses between candidates and is then forgotten.
"""

from __future__ import annotations

import numpy as np

from platekit.geometry.intersections import carrier_meetings, foot_on_carrier
from platekit.geometry.tables import CX, CY, TURN, X0, X1, Y0, Y1, Floats, Ints, Table
from platekit.geometry.tidy import SAME_CARRIER_MM

TWINS_WITHIN_MM = 0.5  # meetings of one pair of carriers nearer than this may be mistaken
STILL_MM = 1e-12  # a step less than this is rounding
SHALLOW_REACH_MM = 2.0  # circles of a metre that just touch are told apart within this


def nearest_meeting(a: Table, b: Table, near: Floats) -> Floats:
    """Return the carriers' meeting nearest to `near`, NaN where there is none, shape (k, 2)."""
    found = carrier_meetings(a, b)
    away = np.hypot(found[..., 0] - near[:, None, 0], found[..., 1] - near[:, None, 1])
    pick = np.argmin(np.where(np.isnan(away), np.inf, away), axis=1)
    nearest: Floats = found[np.arange(len(a)), pick]
    return nearest


def _turning_meetings(
    points: Floats, starts: Ints, a: Table, b: Table, tolerance_mm: float
) -> Floats:
    """Return each corner's nearest meeting, or its twin where only that one turns as it should.

    Two curves that all but touch meet twice within microns, entering at one meeting and leaving
    at the other; the polygon's corner may stand nearer to the wrong one, but it turns the way the
    right one does.
    """
    near = points[starts]
    nearest = nearest_meeting(a, b, near)
    twins = carrier_meetings(a, b)
    apart = np.hypot(*(twins[:, 0] - twins[:, 1]).T)
    doubtful = np.flatnonzero(apart < TWINS_WITHIN_MM)  # never where there is no twin
    for k in doubtful.tolist():
        edges = [
            sign * (_further_on(points, int(starts[k]), step=sign, least_mm=4 * tolerance_mm))
            for sign in (-1, 1)
        ]
        wanted = _cross(*edges)
        fits = [
            _cross(_along(a[k], twin, edges[0]), _along(b[k], twin, edges[1])) * wanted > 0
            for twin in twins[k]
        ]
        if fits[0] != fits[1]:
            nearest[k] = twins[k, 0 if fits[0] else 1]
    return nearest


def _further_on(points: Floats, k: int, *, step: int, least_mm: float) -> Floats:
    """Return the way from point `k` to the first point along the ring that is not beside it."""
    for n in range(1, len(points)):
        way: Floats = points[(k + step * n) % len(points)] - points[k]
        if float(np.hypot(*way)) > least_mm:
            return way
    return np.zeros(2)


def _cross(a: Floats, b: Floats) -> float:
    return float(a[0] * b[1] - a[1] * b[0])


def _along(row: Floats, at: Floats, way: Floats) -> Floats:
    """Return the direction of a row's carrier at a point, the way `way` goes, shape (2,)."""
    if row[TURN] == 0.0:
        along: Floats = row[[X1, Y1]] - row[[X0, Y0]]
    else:
        along = np.array([row[CY] - at[1], at[0] - row[CX]])
    return -along if float(along @ way) < 0 else along


def corners_between(
    points: Floats,
    starts: Ints,
    *,
    table: Table,
    next_row: Ints,
    before: Ints,
    after: Ints,
    tolerance_mm: float,
) -> Floats | None:
    """Return the exact corner between each pair of neighbouring runs, None where there is none.

    Args:
        points: The polygon ring, shape (m, 2).
        starts: Where each run begins, shape (k,).
        table: The source rows.
        next_row: The row after each one in its source ring.
        before: Source row of the run that ends at each start, shape (k,).
        after: Source row of the run that begins there, shape (k,).
        tolerance_mm: Chord tolerance of the polygon.

    Returns:
        Corners, shape (k, 2).
    """
    reach = max(60 * tolerance_mm, 0.02)
    a, b = table[before], table[after]
    near = points[starts]
    corners = _turning_meetings(points, starts, a, b, tolerance_mm)
    off = np.hypot(*(corners - near).T)
    lost = ~(off <= reach)
    shallow = lost & (off <= SHALLOW_REACH_MM)
    if shallow.any():
        # All the way from the polygon's corner to the exact one the carriers may run as one.
        middle = foot_on_carrier(a[shallow], (near[shallow] + corners[shallow]) / 2)
        gap = np.hypot(*(middle - foot_on_carrier(b[shallow], middle)).T)
        lost[shallow] = gap > 4 * tolerance_mm
    if lost.any():
        # Tangent or coincident carriers: the foot on both, found by going back and forth.
        foot = near[lost]
        for _ in range(40):
            came_from = foot
            foot = foot_on_carrier(b[lost], foot_on_carrier(a[lost], foot))
            if np.all(np.abs(foot - came_from) < STILL_MM):
                break
        corners[lost] = foot
        miss = np.hypot(*(foot - foot_on_carrier(a[lost], foot)).T)
        if np.any(miss > SAME_CARRIER_MM) or np.any(np.hypot(*(foot - near[lost]).T) > reach):
            return None
    best = np.full(len(near), reach)
    for one, two in ((before, after), (after, before)):
        # A corner the source already had is taken from there, to the last bit.
        ends = table[one][:, [X1, Y1]]
        off = np.hypot(*(ends - near).T)
        own = (next_row[one] == two) & (one != two) & (off <= best)
        corners[own], best[own] = ends[own], off[own]
    return corners
