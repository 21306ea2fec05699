"""Exact distances between shapes of lines and arcs.

Candidate pairs of segments come from their boxes; each pair's distance is analytic: an end point to
the other segment, the one stationary pair that lines and circles have, or zero where they cross.
"""

from __future__ import annotations

import numpy as np
import shapely

from platekit.geometry.boxes import grown, meeting_pairs
from platekit.geometry.chains import Chain
from platekit.geometry.intersections import carrier_meetings, foot_on_carrier, on_row
from platekit.geometry.points import Point
from platekit.geometry.profile import Profile
from platekit.geometry.tables import CX, CY, X0, X1, Y0, Y1, Floats, R, Table, is_arc, row_boxes

Shape = Profile | Chain | Point

CROSSING_MM = 1e-9  # how far past an end point two segments still count as meeting


def distance(a: Shape, b: Shape) -> float:
    """Return the least distance between two shapes, mm; 0 when they touch or overlap.

    A profile is the material it encloses: a part lying in another's hole is apart from it, a part
    lying on another's material is not. A chain or a point is only itself.
    """
    if isinstance(a, Profile) and _covers(a, b):
        return 0.0
    if isinstance(b, Profile) and _covers(b, a):
        return 0.0
    return float(np.min(_near_pair_distances(_rows(a), _rows(b))))


def point_distances(rows: Table, points: Floats) -> Floats:
    """Return the distance from each point to its row, shape (k,)."""
    foot = foot_on_carrier(rows, points)
    inside = on_row(rows, foot, within_mm=0.0)
    to_foot = np.hypot(points[:, 0] - foot[:, 0], points[:, 1] - foot[:, 1])
    centred = is_arc(rows) & (points[:, 0] == rows[:, CX]) & (points[:, 1] == rows[:, CY])
    to_foot = np.where(centred, rows[:, R], to_foot)
    to_ends = np.minimum(
        np.hypot(points[:, 0] - rows[:, X0], points[:, 1] - rows[:, Y0]),
        np.hypot(points[:, 0] - rows[:, X1], points[:, 1] - rows[:, Y1]),
    )
    return np.where(inside | centred, to_foot, to_ends)


def row_distances(a: Table, b: Table) -> Floats:
    """Return the least distance between each pair of rows, shape (k,); both of shape (k, 8)."""
    # Four times the rows in one go, for the ends and for the meetings: most calls have few.
    rows = np.concatenate([a, a, b, b])
    ends = [other[:, columns] for other in (b, a) for columns in ([X0, Y0], [X1, Y1])]
    to_ends = point_distances(rows, np.concatenate(ends)).reshape(4, -1)
    best = np.minimum(to_ends.min(axis=0), _stationary(a, b))
    first, second = carrier_meetings(a, b).swapaxes(0, 1)
    on = on_row(rows, np.concatenate([first, second, first, second]), within_mm=CROSSING_MM)
    on_a, on_b = on.reshape(2, 2, -1)
    return np.where((on_a & on_b).any(axis=0), 0.0, best)


def _stationary(a: Table, b: Table) -> Floats:
    """Return distances at inner points where both tangents are square to the way across."""
    best: Floats = np.full(len(a), np.inf)
    arc_a, arc_b = is_arc(a), is_arc(b)
    for line, arc, pick in ((a, b, ~arc_a & arc_b), (b, a, arc_a & ~arc_b)):
        if pick.any():
            rows, arcs = line[pick], arc[pick]
            foot = foot_on_carrier(rows, arcs[:, [CX, CY]])
            # Through the arc's middle no way across is single: an end point finds the distance.
            central = np.all(foot == arcs[:, [CX, CY]], axis=1)
            found = _both_on(rows, foot, arcs, foot_on_carrier(arcs, foot))
            best[pick] = np.minimum(best[pick], np.where(central, np.inf, found))
    pick = arc_a & arc_b
    if pick.any():
        p, q = a[pick], b[pick]
        way = q[:, [CX, CY]] - p[:, [CX, CY]]
        gap = np.hypot(way[:, 0], way[:, 1])
        unit = way / np.where(gap == 0, 1.0, gap)[:, None]
        for side_p in (1.0, -1.0):
            for side_q in (1.0, -1.0):
                on_p = p[:, [CX, CY]] + side_p * p[:, R, None] * unit
                on_q = q[:, [CX, CY]] + side_q * q[:, R, None] * unit
                # Concentric arcs have no single way across: an end point finds their distance.
                found = np.where(gap == 0, np.inf, _both_on(p, on_p, q, on_q))
                best[pick] = np.minimum(best[pick], found)
    return best


def _both_on(rows: Table, on: Floats, others: Table, at: Floats) -> Floats:
    valid = on_row(rows, on, within_mm=0.0) & on_row(others, at, within_mm=0.0)
    away: Floats = np.hypot(on[:, 0] - at[:, 0], on[:, 1] - at[:, 1])
    return np.where(valid, away, np.inf)


def _rows(shape: Shape) -> Table:
    if isinstance(shape, Point):
        return np.array([[shape.x, shape.y, shape.x, shape.y, 0.0, 0.0, 0.0, 0.0]])
    return shape.table


def _covers(profile: Profile, shape: Shape) -> bool:
    """Return whether one point of each connected part of `shape` lies in the material."""
    if isinstance(shape, Point):
        return profile.contains(shape)
    if isinstance(shape, Profile):
        return profile.contains(shape.outer.start)
    return profile.contains(shape.start)


def _near_pair_distances(a: Table, b: Table) -> Floats:
    """Return the distances of all pairs that could be the nearest, at least one."""
    if len(a) * len(b) <= 64:
        i, j = np.divmod(np.arange(len(a) * len(b)), len(b))
        return row_distances(a[i], b[j])
    if len(a) > len(b):
        a, b = b, a
    ends = b[:, [X0, Y0]]
    tree = shapely.STRtree(list(np.asarray(shapely.points(ends))))
    nearest = tree.nearest(np.asarray(shapely.points(a[:, [X0, Y0]])))
    reach = float(np.min(np.hypot(*(a[:, [X0, Y0]] - ends[nearest]).T)))
    i, j = meeting_pairs(grown(row_boxes(a), by_mm=reach), row_boxes(b))
    return row_distances(a[i], b[j])
