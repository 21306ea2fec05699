"""Tidying closed chains: neighbours on one carrier made one, spikes taken off, a fixed beginning.

Working rows, not yet a contour's own, may be changed in place here.
"""

from __future__ import annotations

import numpy as np

from platekit.geometry.chains import Contour
from platekit.geometry.points import SAME_POINT_MM
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
    sweeps_rad,
)

SAME_CARRIER_MM = 1e-7  # carriers nearer than this over a row's length are one


class CollapsedError(Exception):
    """A closed chain has no area once it is tidied. Never leaves geometry."""


def whole_circle(row: Table, *, turn: float) -> Contour:
    """Return the whole circle that an arc's row lies on."""
    x, y = row[CX] + row[R], row[CY]
    return Contour.trusted(np.array([[x, y, x, y, row[CX], row[CY], row[R], turn]]))


def chord_lengths(table: Table) -> Floats:
    """Return the straight distance between each row's ends, mm, shape (n,)."""
    return np.hypot(table[:, X1] - table[:, X0], table[:, Y1] - table[:, Y0])


def merged(table: Table) -> Table:
    """Return a closed chain with neighbours on one carrier made one row, spikes taken off."""
    while len(table) > 1:
        nexts = np.roll(table, -1, axis=0)
        alike = _same_carrier(table, nexts)
        onward = _runs_on(table, nexts)
        spikes = np.flatnonzero(alike & ~onward)
        joins = np.flatnonzero(alike & onward)
        if len(joins) == 0 and len(spikes) == 0:
            return table
        if len(table) == 2:
            if np.all(is_arc(table)) and len(joins) == 2:
                return np.array(whole_circle(table[0], turn=float(table[0, TURN])).table)
            raise CollapsedError
        table = _without_spike(table, int(spikes[0])) if len(spikes) else _joined_up(table, joins)
    return table


def _joined_up(table: Table, joins: Ints) -> Table:
    """Return the chain with each row in `joins` run on to the end of the one after it."""
    keep = np.ones(len(table), dtype=bool)
    used = -1
    for k in joins.tolist():
        after = (k + 1) % len(table)
        if k == used or not keep[k] or not keep[after]:
            continue  # a longer run of one carrier takes another round
        table[k, [X1, Y1]] = table[after, [X1, Y1]]
        keep[after] = False
        used = after
    return table[keep]


def _without_spike(table: Table, k: int) -> Table:
    """Return the chain with row `k`, which the next row runs back over, shortened or gone."""
    after = (k + 1) % len(table)
    sweep = float(np.sum(sweeps_rad(table[[k, after]])))
    tip, back = table[k].copy(), table[after]
    tip[[X1, Y1]] = back[[X1, Y1]]
    tip[TURN] = np.sign(sweep) if tip[TURN] else 0.0
    keep = np.ones(len(table), dtype=bool)
    keep[after] = False
    if float(chord_lengths(tip[None, :])[0]) < SAME_POINT_MM:
        keep[k] = False
        table[(after + 1) % len(table), [X0, Y0]] = tip[[X0, Y0]]
    else:
        table[k] = tip
    return table[keep]


def _same_carrier(a: Table, b: Table) -> Bools:
    """Return whether each row of `a` lies on the same carrier as its partner in `b`."""
    arc_a, arc_b = is_arc(a), is_arc(b)
    arcs = arc_a & arc_b & (np.abs(a[:, R] - b[:, R]) <= SAME_CARRIER_MM)
    arcs &= np.hypot(a[:, CX] - b[:, CX], a[:, CY] - b[:, CY]) <= SAME_CARRIER_MM
    ux, uy = a[:, X1] - a[:, X0], a[:, Y1] - a[:, Y0]
    vx, vy = b[:, X1] - b[:, X0], b[:, Y1] - b[:, Y0]
    long = np.maximum(np.hypot(ux, uy), np.hypot(vx, vy))
    # How far the shorter row's far end stands off the longer one.
    off = np.abs(ux * vy - uy * vx) / np.where(long == 0, 1.0, long)
    both: Bools = arcs | (~arc_a & ~arc_b & (off <= SAME_CARRIER_MM))
    return both


def _runs_on(a: Table, b: Table) -> Bools:
    """Return whether each row of `b`, on its partner's carrier, goes on the same way."""
    ahead = np.sum((a[:, [X1, Y1]] - a[:, [X0, Y0]]) * (b[:, [X1, Y1]] - b[:, [X0, Y0]]), axis=1)
    on: Bools = np.where(is_arc(a), a[:, TURN] == b[:, TURN], ahead > 0)
    return on


def canonical(contour: Contour) -> Contour:
    """Return the contour begun at its lowest leftmost corner: same shape, same bytes."""
    table = contour.table
    if len(table) == 1:
        return contour
    key = np.round(table[:, [X0, Y0]], 6) + 0.0
    first = int(np.lexsort((key[:, 1], key[:, 0]))[0])
    return contour if first == 0 else Contour.trusted(np.roll(table, -first, axis=0))
