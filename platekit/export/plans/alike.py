"""Which parts share a page: alike in all but their names and what is lettered on them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import numpy as np

from platekit.geometry.chains import Chain, Contour
from platekit.panel.feature import Placed
from platekit.panel.part import Mark, Part

# What joints dealt here or further along leave in the last bits; no caliper tells it apart.
SAME_MM = 1e-6


def alike(
    parts: Iterable[Part], named: Mapping[str, Sequence[Placed]]
) -> tuple[tuple[Part, ...], ...]:
    """Return parts in groups that one page can show, in the order in which each group begins.

    Parts of a group are equal in sheet, grain, outline, holes and marks, to a nanometre, and what
    was asked for on them is of the same kinds: names and their lettering may differ.

    Args:
        parts: Kinds of parts.
        named: What was asked for on each, by its name, in its coordinates.
    """
    groups: list[list[Part]] = []
    for part in parts:
        of = next((group for group in groups if _are_alike(group[0], part, named)), None)
        if of is None:
            groups.append([part])
        else:
            of.append(part)
    return tuple(map(tuple, groups))


def _are_alike(one: Part, other: Part, named: Mapping[str, Sequence[Placed]]) -> bool:
    return (
        one.sheet == other.sheet
        and one.grain is other.grain
        and _near(one.profile.rings, other.profile.rings)
        and _marks_alike(one, other)
        and _kinds(named.get(one.name, ())) == _kinds(named.get(other.name, ()))
    )


def _marks_alike(one: Part, other: Part) -> bool:
    mine, theirs = _unlettered(one), _unlettered(other)
    return [mark.layer for mark in mine] == [mark.layer for mark in theirs] and _near(
        [mark.path for mark in mine], [mark.path for mark in theirs]
    )


def _unlettered(part: Part) -> list[Mark]:
    return [mark for mark in part.marks if not mark.is_name]


def _kinds(features: Sequence[Placed]) -> list[tuple[str, int]]:
    return [(one.kind, len(one.cuts)) for one in features]


def _near(one: Sequence[Chain], other: Sequence[Chain]) -> bool:
    return len(one) == len(other) and all(map(_is_near, one, other))


def _is_near(one: Chain, other: Chain) -> bool:
    """Return whether two lines are the same; a full circle may begin anywhere."""
    mine, theirs = one.table, other.table
    if (
        isinstance(one, Contour)
        and isinstance(other, Contour)
        and one.is_circle
        and other.is_circle
    ):
        mine, theirs = (
            np.array([box.left, box.bottom, box.right, box.top, ring.is_ccw])
            for ring in (one, other)
            for box in [ring.bounds]
        )
    return mine.shape == theirs.shape and bool(np.all(np.abs(mine - theirs) <= SAME_MM))
