"""Cut order: what comes first so that nothing is cut after it came loose.

Within a part: scored marks, then holes, then the outside. Between parts: one that lies in another's
hole comes before the other, for the hole would free it. Whatever is still open goes by the
shortest next way.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from platekit.geometry.chains import Contour
from platekit.geometry.points import Point
from platekit.geometry.profile import Profile


def nearest_first(starts: Sequence[Point], *, begin: Point) -> list[int]:
    """Return the numbers of `starts`, each the nearest to the one before; ties by number.

    Args:
        starts: Where each closed contour begins, and so ends.
        begin: Where the beam is at first.
    """
    if not starts:
        return []
    at = np.array(starts, dtype=np.float64).reshape(-1, 2)
    left = np.ones(len(at), dtype=bool)
    here = np.array(begin, dtype=np.float64)
    order = []
    for _ in range(len(at)):
        away = np.where(left, np.hypot(*(at - here).T), np.inf)
        # Rounded, so that equal distances stay equal on every machine.
        k = int(np.argmin(np.round(away, 6)))
        order.append(k)
        left[k] = False
        here = at[k]
    return order


def part_order(parts: Sequence[Profile], *, begin: Point) -> list[int]:
    """Return the numbers of `parts` in cut order: inner ones first, then the nearest next.

    Args:
        parts: The parts where they lie, none over another.
        begin: Where the beam is at first.
    """
    if not parts:
        return []
    frees = [list[int]() for _ in parts]  # the parts that each one no longer keeps waiting
    waiting = np.zeros(len(parts), dtype=np.intp)
    for outside, inside in _nested(parts):
        frees[inside].append(outside)
        waiting[outside] += 1
    starts = np.array([part.outer.start for part in parts], dtype=np.float64)
    left = np.ones(len(parts), dtype=bool)
    here, order = np.array(begin, dtype=np.float64), list[int]()
    for _ in parts:
        away = np.where(left & (waiting == 0), np.hypot(*(starts - here).T), np.inf)
        k = int(np.argmin(np.round(away, 6)))
        order.append(k)
        left[k] = False
        waiting[frees[k]] -= 1
        here = starts[k]
    return order


def _nested(parts: Sequence[Profile]) -> list[tuple[int, int]]:
    """Return the pairs (part, another part that lies in a hole of it)."""
    boxes = np.array([_box(part.outer) for part in parts])
    pairs = []
    for k, part in enumerate(parts):
        if not part.inners:
            continue
        within = np.all(boxes[:, :2] >= boxes[k, :2], axis=1)
        within &= np.all(boxes[:, 2:] <= boxes[k, 2:], axis=1)
        within[k] = False
        pairs += [
            (k, other)
            for other in np.flatnonzero(within).tolist()
            if any(_holds(hole, parts[other]) for hole in part.inners)
        ]
    return pairs


def _box(ring: Contour) -> tuple[float, float, float, float]:
    box = ring.bounds
    return box.left, box.bottom, box.right, box.top


def _holds(hole: Contour, part: Profile) -> bool:
    around, box = hole.bounds, part.bounds
    beside = (
        around.left > box.left
        or around.right < box.right
        or around.bottom > box.bottom
        or around.top < box.top
    )
    return not beside and hole.encloses(part.outer.start)
