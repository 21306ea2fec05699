"""Arcs as files want them: none longer than a given sweep, whole circles apart."""

from __future__ import annotations

import numpy as np

from platekit.geometry.tables import CX, CY, X0, X1, Y0, Y1, Floats, Ints, Table, sweeps_rad

# An arc a rounding error over the limit is not worth a cut.
_SLACK = 1e-9


def split_arcs(table: Table, *, most_deg: float) -> tuple[Table, Ints]:
    """Return `table` with every arc cut into equal ones of at most `most_deg`.

    Lines pass through unchanged, and so do the ends of every row: only new points between them
    are computed. Rows that are whole circles have no start to cut from and must not be given.

    Args:
        table: Rows of any number of chains; see `platekit.geometry.tables`.
        most_deg: Greatest sweep wanted, degrees, above 0.

    Returns:
        The longer table, and for each of its rows the row of `table` that it came from.
    """
    sweeps = sweeps_rad(table)
    pieces = np.maximum(np.ceil(np.abs(sweeps) / np.radians(most_deg) - _SLACK), 1).astype(np.intp)
    origin = np.repeat(np.arange(len(table)), pieces)
    if len(origin) == len(table):
        return table, origin
    long = table[origin]
    step = np.arange(len(origin)) - (np.cumsum(pieces) - pieces)[origin]
    later = np.flatnonzero(step > 0)
    row = origin[later]
    turned = sweeps[row] * step[later] / pieces[row]
    cut = _turned_start(table[row], turned)
    long[later, X0], long[later, Y0] = cut[:, 0], cut[:, 1]
    long[later - 1, X1], long[later - 1, Y1] = cut[:, 0], cut[:, 1]
    return long, origin


def bulges(table: Table) -> Floats:
    """Return the bulge of every row: 0 for a line, 1 for a half circle counter-clockwise.

    Source:
        DXF reference, group code 42 of LWPOLYLINE: tangent of a quarter of the angle swept,
        negative when clockwise (from memory; the round trip through another reader proves it).
    """
    return np.tan(sweeps_rad(table) / 4.0)


def _turned_start(table: Table, angle_rad: Floats) -> Floats:
    """Return each arc's start turned by `angle_rad` about its centre, shape (n, 2)."""
    centre, start = table[:, [CX, CY]], table[:, [X0, Y0]]
    arm = start - centre
    c, s = np.cos(angle_rad), np.sin(angle_rad)
    turned = np.stack([arm[:, 0] * c - arm[:, 1] * s, arm[:, 0] * s + arm[:, 1] * c], axis=1)
    return centre + turned
