"""Chaining: short stretches of line joined into long ones, so that a drawing stays small."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from itertools import pairwise

import numpy as np

from platekit.geometry.tables import Floats, Ints

# A corner this near the straight line past it is none.
STRAIGHT_MM = 0.005


def chained(ends: Ints) -> list[list[int]]:
    """Return links that hang together as walks: the nodes of each in order, each link walked once.

    Walks begin at loose ends and forks, so that a line through a node with two links goes on; what
    is left are rings, whose last node is their first.

    Args:
        ends: The two nodes of each link, shape (n, 2).
    """
    links = [(int(a), int(b)) for a, b in ends]
    at: dict[int, list[int]] = defaultdict(list)
    for link, pair in enumerate(links):
        for node in pair:
            at[node].append(link)
    forks = [(node, link) for node, some in at.items() if len(some) != 2 for link in some]
    rings = [(pair[0], link) for link, pair in enumerate(links)]
    used: set[int] = set()
    return [_walk(node, link, links, at, used) for node, link in forks + rings if link not in used]


def _walk(
    node: int,
    link: int,
    links: Sequence[tuple[int, int]],
    at: Mapping[int, Sequence[int]],
    used: set[int],
) -> list[int]:
    """Return the nodes from one along a link and on, to the next loose end or fork."""
    nodes = [node]
    while True:
        used.add(link)
        a, b = links[link]
        nodes.append(b if nodes[-1] == a else a)
        onward = [one for one in at[nodes[-1]] if one not in used]
        if len(at[nodes[-1]]) != 2 or not onward:
            return nodes
        link = onward[0]


def straightened(points: Floats) -> Floats:
    """Return a line without the corners at which it goes straight on.

    Args:
        points: Its corners, shape (n, 2), two at least.
    """
    kept: list[tuple[float, float]] = [(float(points[0, 0]), float(points[0, 1]))]
    rest: Sequence[tuple[float, float]] = [(float(x), float(y)) for x, y in points[1:]]
    for (x, y), (ahead_x, ahead_y) in pairwise(rest):
        last_x, last_y = kept[-1]
        way_x, way_y = ahead_x - last_x, ahead_y - last_y
        length = float(np.hypot(way_x, way_y))
        off = abs(way_x * (y - last_y) - way_y * (x - last_x))
        along = way_x * (x - last_x) + way_y * (y - last_y)
        if length == 0.0 or off > STRAIGHT_MM * length or not 0.0 <= along <= length * length:
            kept.append((x, y))
    kept.append(rest[-1])
    return np.array(kept)
