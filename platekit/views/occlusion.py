"""Occlusion: which stretches of segments nothing hides, exactly.

Seen along parallel rays, a triangle hides of a segment what lies inside its outline and behind its
plane. Both are straight, so that it is one interval between the segment's ends, found by clipping
against four linear functions; what no interval covers is seen.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from platekit.geometry.tables import Floats, Ints
from platekit.views.grid import Grid, cells_of, grid_over, pairs
from platekit.views.sides import EDGE_ON

# What lies less far behind a face lies on it: the mesh kernel keeps seven figures, so that a
# corner of a rig of a metre is a tenth of a micrometre or so off; fits begin at hundredths.
BEHIND_MM = 0.02
# A segment this near a triangle's side still counts as inside, so that none slips between two.
BESIDE_MM = 1e-5
# Gaps this short in what hides a segment are no gaps.
GAP_MM = 2e-3
# Pairs clipped at once: enough to be quick, few enough to stay near the processor.
AT_ONCE = 50_000
CELLS_AT_ONCE = 20_000


@dataclass(frozen=True, slots=True, eq=False)
class Screen:
    """Triangles turned to the eye, sorted into a grid: what hides what lies behind.

    Attributes:
        planes: For each triangle three functions that are not negative inside (a x + b y + c, mm
            from a side) and its nearness a x + b y + c, shape (m, 4, 3).
        numbers: Which of all the triangles each is, shape (m,).
        nearest: The greatest nearness of each, shape (m,).
        grid: The grid.
        of: Triangles of each entry, shape (k,).
        cells: Cells of each entry, shape (k,).
        covered: Nearness that every spot of a cell has at least, shape (cells,).
    """

    planes: Floats
    numbers: Ints
    nearest: Floats
    grid: Grid
    of: Ints
    cells: Ints
    covered: Floats


def screen_of(corners: Floats, triangles: Ints) -> Screen:
    """Return what hides; triangles turned away are left out, since a solid's front hides them.

    Args:
        corners: As a camera sees them, shape (n, 3).
        triangles: Corners of each, shape (m, 3), counter-clockwise seen from outside.
    """
    grid = grid_over(corners)
    abc = corners[triangles]
    ab, ac = abc[:, 1] - abc[:, 0], abc[:, 2] - abc[:, 0]
    normal = np.cross(ab, ac)
    front = normal[:, 2] > EDGE_ON * np.sqrt(np.einsum("ij,ij->i", normal, normal))
    abc, ab, ac, twice = abc[front], ab[front], ac[front], normal[front, 2]
    planes = np.empty((len(abc), 4, 3))
    for k in range(3):
        a, b = abc[:, k, :2], abc[:, (k + 1) % 3, :2]
        way = b - a
        length = np.hypot(way[:, 0], way[:, 1])
        planes[:, k, 0], planes[:, k, 1] = -way[:, 1] / length, way[:, 0] / length
        planes[:, k, 2] = -np.einsum("ij,ij->i", planes[:, k, :2], a)
    planes[:, 3, 0] = (ab[:, 2] * ac[:, 1] - ac[:, 2] * ab[:, 1]) / twice
    planes[:, 3, 1] = (ac[:, 2] * ab[:, 0] - ab[:, 2] * ac[:, 0]) / twice
    planes[:, 3, 2] = abc[:, 0, 2] - np.einsum("ij,ij->i", planes[:, 3, :2], abc[:, 0, :2])
    of, cells = cells_of(grid, abc[:, :, :2])
    half = grid.cell_mm / 2
    middle = grid.middles(cells)
    meets, whole = np.ones(len(of), dtype=bool), np.ones(len(of), dtype=bool)
    for k in range(3):
        a, b, c = (planes[of, k, j] for j in range(3))
        inside = a * middle[:, 0] + b * middle[:, 1] + c
        reach = half * (np.abs(a) + np.abs(b))
        meets &= inside + reach >= -BESIDE_MM
        whole &= inside - reach >= 0.0
    a, b, c = (planes[of[whole], 3, j] for j in range(3))
    least = a * middle[whole, 0] + b * middle[whole, 1] + c - half * (np.abs(a) + np.abs(b))
    covered = np.full(grid.across * grid.across, -np.inf)
    np.maximum.at(covered, cells[whole], least)
    nearest = abc[:, :, 2].max(axis=1, initial=-np.inf)
    meets &= nearest[of] >= covered[cells] - BEHIND_MM
    return Screen(planes, np.flatnonzero(front), nearest, grid, of[meets], cells[meets], covered)


def visible(segments: Floats, screen: Screen) -> tuple[Ints, Floats]:
    """Return the stretches of segments that nothing hides.

    Args:
        segments: Ends as a camera sees them, shape (n, 2, 3).
        screen: What hides.

    Returns:
        Which segment each stretch is of, and from where to where it reaches, 0 at the segment's
        first end and 1 at its second; shapes (k,) and (k, 2), in order along each.
    """
    start, way = segments[:, 0], segments[:, 1] - segments[:, 0]
    length = np.hypot(way[:, 0], way[:, 1])
    of, cells = cells_of(screen.grid, segments[:, :, :2])
    t = _within(screen.grid, cells, start[of], way[of])
    near = start[of, 2] + np.maximum(t[:, 0] * way[of, 2], t[:, 1] * way[of, 2])
    sunk = near < screen.covered[cells] - BEHIND_MM
    hidden = [(of[sunk], t[sunk])]
    of, cells, t = of[~sunk], cells[~sunk], t[~sunk]
    far = start[of, 2] + np.minimum(t[:, 0] * way[of, 2], t[:, 1] * way[of, 2])
    for low in range(0, len(of), CELLS_AT_ONCE):
        some = slice(low, low + CELLS_AT_ONCE)
        one, entry = pairs(cells[some], screen.cells)
        one = one + low
        triangle = screen.of[entry]
        behind = far[one] < screen.nearest[triangle] - BEHIND_MM
        one, triangle = one[behind], triangle[behind]
        for begin in range(0, len(one), AT_ONCE):
            part = slice(begin, begin + AT_ONCE)
            hidden.append(
                _clipped(
                    of[one[part]],
                    t[one[part]],
                    triangle[part],
                    along=(start, way),
                    planes=screen.planes,
                )
            )
    which = np.concatenate([one for one, _ in hidden])
    spans = np.concatenate([span for _, span in hidden])
    return _left_over(len(segments), which, spans, length)


def _within(grid: Grid, cells: Ints, start: Floats, way: Floats) -> Floats:
    """Return from where to where each segment runs within a cell, shape (n, 2)."""
    low = grid.middles(cells) - grid.cell_mm / 2
    t = np.stack([np.zeros(len(cells)), np.ones(len(cells))], axis=1)
    for k in range(2):
        still = np.abs(way[:, k]) < 1e-12
        speed = np.where(still, 1.0, way[:, k])
        one = (low[:, k] - start[:, k]) / speed
        other = one + grid.cell_mm / speed
        t[:, 0] = np.where(still, t[:, 0], np.maximum(t[:, 0], np.minimum(one, other)))
        t[:, 1] = np.where(still, t[:, 1], np.minimum(t[:, 1], np.maximum(one, other)))
    return np.asarray(np.maximum(t, t[:, :1]))


def _clipped(
    of: Ints, t: Floats, triangle: Ints, *, along: tuple[Floats, Floats], planes: Floats
) -> tuple[Ints, Floats]:
    """Return what triangles hide of segments: which segment, and from where to where.

    Args:
        of: Which segment of each pair.
        t: From where to where it is looked at.
        triangle: Which triangle of each pair.
        along: Where each segment begins, and the way to its end.
        planes: The triangles' functions.
    """
    s, w = along[0][of], along[1][of]
    low, high = t[:, 0].copy(), t[:, 1].copy()
    for k in range(4):
        a, b, c = (planes[triangle, k, j] for j in range(3))
        value = a * s[:, 0] + b * s[:, 1] + c
        slope = a * w[:, 0] + b * w[:, 1]
        if k == 3:
            value, slope = value - s[:, 2] - BEHIND_MM, slope - w[:, 2]
        else:
            value = value + BESIDE_MM
        flat = np.abs(slope) < 1e-12
        at = -value / np.where(flat, 1.0, slope)
        low = np.where(~flat & (slope > 0), np.maximum(low, at), low)
        high = np.where(~flat & (slope < 0), np.minimum(high, at), high)
        high = np.where(flat & (value < 0), -1.0, high)
    some = high > low
    return of[some], np.stack([low[some], high[some]], axis=1)


def _left_over(count: int, which: Ints, spans: Floats, length: Floats) -> tuple[Ints, Floats]:
    """Return what intervals leave of segments of 0 to 1, gaps and shreds closed."""
    # Every segment ends with an interval of no length at 1, so that the rest is seen as well;
    # segments lie one behind the other on a line, two apart, so that one sweep does for all.
    ends = np.arange(count)
    which = np.concatenate([which, ends, ends])
    spans = np.concatenate([spans, np.zeros((count, 2)), np.ones((count, 2))])
    line = spans + 2.0 * which[:, None]
    order = np.argsort(line[:, 0], kind="stable")
    line, which = line[order], which[order]
    reached = np.maximum.accumulate(line[:, 1])
    before, after = reached[:-1], line[1:, 0]
    same = which[:-1] == which[1:]
    gap = np.where(same, after - before, 0.0) * length[which[1:]]
    kept = gap > np.minimum(GAP_MM, 0.5 * length[which[1:]])
    offset = 2.0 * which[1:][kept]
    return which[1:][kept], np.stack([before[kept] - offset, after[kept] - offset], axis=1)


def nearest_at(points: Floats, screen: Screen) -> Ints:
    """Return which triangle is seen at each point of the picture, -1 where none is.

    Args:
        points: Shape (n, 2).
        screen: What hides.
    """
    spot = np.floor((points - [screen.grid.left, screen.grid.bottom]) / screen.grid.cell_mm)
    spot = np.clip(spot, 0, screen.grid.across - 1).astype(np.intp)
    point, entry = pairs(spot[:, 1] * screen.grid.across + spot[:, 0], screen.cells)
    triangle = screen.of[entry]
    a, b, c = (screen.planes[triangle, :, k] for k in range(3))
    value = a * points[point, :1] + b * points[point, 1:] + c
    inside = (value[:, :3] >= -BESIDE_MM).all(axis=1)
    point, triangle, near = point[inside], triangle[inside], value[inside, 3]
    order = np.lexsort((near, point))
    last = np.append(np.diff(point[order]) > 0, True)[: len(order)]
    found = np.full(len(points), -1, dtype=np.intp)
    found[point[order][last]] = screen.numbers[triangle[order][last]]
    return found
