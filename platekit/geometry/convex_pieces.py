"""Convex pieces of a polygon: what a separating line can be drawn between."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import shapely

from platekit.geometry.tables import Floats

# A turn to the right by less than this share of the two edges' lengths still counts as straight.
_STRAIGHT = 1e-12

_Ring = list[int]  # numbers of the corners, counter-clockwise


def convex_pieces(ring: Floats) -> tuple[Floats, ...]:
    """Return convex polygons that together are the inside of a simple closed ring.

    Triangles of a constrained Delaunay triangulation, merged over their inner edges, the longest
    first, as long as the result is convex. There are at most four times as many as need be.

    Args:
        ring: Its corners, counter-clockwise, shape (n, 2), the first not repeated.

    Returns:
        The corners of each, counter-clockwise, shape (k, 2).

    Source:
        S. Hertel, K. Mehlhorn, Fast triangulation of simple polygons, 1983 (from memory): the
        merging and its bound.
    """
    corners = [(float(x), float(y)) for x, y in ring]
    number = {corner: k for k, corner in enumerate(corners)}
    triangles = shapely.get_parts(shapely.constrained_delaunay_triangles(shapely.Polygon(ring)))
    pieces: list[_Ring | None] = []
    for triangle in triangles:
        points = shapely.get_coordinates(shapely.orient_polygons(triangle))[:-1]
        pieces.append([number[float(x), float(y)] for x, y in points])
    owner = {
        edge: k for k, piece in enumerate(pieces) if piece is not None for edge in _edges(piece)
    }
    inner = [(a, b) for a, b in owner if a < b and (b, a) in owner]
    inner.sort(key=lambda edge: (-math.dist(corners[edge[0]], corners[edge[1]]), edge))
    for a, b in inner:
        left, right = owner[a, b], owner[b, a]
        one, other = pieces[left], pieces[right]
        if one is None or other is None or left == right:
            continue
        merged = _merged(one, other, (a, b))
        if _turns_left(merged, merged.index(a), corners) and _turns_left(
            merged, merged.index(b), corners
        ):
            pieces[left], pieces[right] = merged, None
            owner.update(dict.fromkeys(_edges(merged), left))
    return tuple(np.array([corners[k] for k in piece]) for piece in pieces if piece is not None)


def _edges(piece: Sequence[int]) -> list[tuple[int, int]]:
    return list(zip(piece, [*piece[1:], piece[0]], strict=True))


def _merged(one: _Ring, other: _Ring, edge: tuple[int, int]) -> _Ring:
    """Return both as one: `one` runs along the edge from a to b, `other` from b to a."""
    a, b = edge
    from_b = one.index(b)
    whole = one[from_b:] + one[:from_b]  # b ... a
    from_a = other.index(a)
    rest = other[from_a:] + other[:from_a]  # a ... b
    return whole + rest[1:-1]


def _turns_left(piece: _Ring, at: int, corners: Sequence[tuple[float, float]]) -> bool:
    """Return whether the ring does not turn right at one of its corners."""
    before, here, after = (corners[piece[(at + step) % len(piece)]] for step in (-1, 0, 1))
    come = (here[0] - before[0], here[1] - before[1])
    go = (after[0] - here[0], after[1] - here[1])
    turn = come[0] * go[1] - come[1] * go[0]
    return turn >= -_STRAIGHT * math.hypot(*come) * math.hypot(*go)
