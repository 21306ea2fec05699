"""Pointed corners: joins of at most a quarter turn drawn out to a point.

Both joins leave the same finished part: the beam's edge turns on the corner either way. Pointed
ones spare the laser small arcs and cost room: the beam reaches further into what lies beside.
"""

from __future__ import annotations

import numpy as np

from platekit.geometry.tables import (
    CX,
    CY,
    X0,
    X1,
    Y0,
    Y1,
    Bools,
    Ints,
    R,
    Table,
    is_arc,
    sweeps_rad,
)

WIDEST_RAD = np.pi / 2 + 1e-9  # beyond a quarter turn a point reaches far into the neighbour


def pointed(
    table: Table, *, joining: Bools, full: Bools, after: Ints, before: Ints
) -> tuple[Table, Ints]:
    """Return the rows with every whole join drawn out to a point.

    Args:
        table: Rows of closed rings, shape (n, 8).
        joining: Which are joins.
        full: Which joins fill their whole corner.
        after: The row after each one.
        before: The row before each one.

    Returns:
        The new rows, and for each the old row it comes from: straight neighbours are drawn out,
        other neighbours keep their ends and a straight row is put between.
    """
    sharp = joining & full & (np.abs(sweeps_rad(table)) <= WIDEST_RAD)
    corners = np.flatnonzero(sharp)
    ax, ay = table[corners, X0] - table[corners, CX], table[corners, Y0] - table[corners, CY]
    bx, by = table[corners, X1] - table[corners, CX], table[corners, Y1] - table[corners, CY]
    square = table[corners, R] ** 2
    scale = square / (square + ax * bx + ay * by)
    tips = np.stack([ax + bx, ay + by], axis=1) * scale[:, None] + table[corners][:, [CX, CY]]
    straight = ~is_arc(table)
    out = table.copy()
    slots = np.zeros((len(table), 2, 8))
    used = np.zeros((len(table), 2), dtype=bool)
    used[:, 0] = ~sharp
    for slot, beside, near, far in (
        (0, before, [X0, Y0], [X1, Y1]),
        (1, after, [X1, Y1], [X0, Y0]),
    ):
        neighbour = beside[corners]
        drawn = straight[neighbour]
        out[neighbour[drawn][:, None], far] = tips[drawn]
        kept = corners[~drawn]
        slots[kept[:, None], slot, near] = table[kept][:, near]
        slots[kept[:, None], slot, far] = tips[~drawn]
        used[kept, slot] = True
    slots[~sharp, 0] = out[~sharp]
    origin = np.repeat(np.arange(len(table)), 2).reshape(-1, 2)
    return slots[used], origin[used]
