"""Mates: which other part comes to stand at which edge of a part, by what joints cut from it."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from platekit.export.plans.drawings.title_block import called
from platekit.geometry.chains import Bounds
from platekit.panel.feature import Placed

Edge = Literal["bottom", "top", "left", "right"]
# A cut is at an edge if it comes this near to the part's end.
AT_MM = 0.05
# What reaches further in than this share of the part is at no one edge.
MOST_SHARE = 0.6


@dataclass(frozen=True, slots=True, kw_only=True)
class Mate:
    """What meets an edge.

    Attributes:
        name: Its name.
        edge: Which edge.
        from_mm: Where along the edge it begins, from the part's left or lower end.
        to_mm: Where it ends.
        deep_mm: How far into the part it takes room.
    """

    name: str
    edge: Edge
    from_mm: float
    to_mm: float
    deep_mm: float


def mates_of(box: Bounds, features: Iterable[Placed], panels: Collection[str]) -> tuple[Mate, ...]:
    """Return what meets a part's edges.

    Args:
        box: The part's bounds.
        features: What is cut from it, in its coordinates.
        panels: Names of all that joints make room for.
    """
    taken: dict[str, list[Bounds]] = {}
    for feature in features:
        if feature.of in panels:
            taken.setdefault(feature.of, []).extend(cut.bounds for cut in feature.cuts)
    found = (_mate(name, box, cuts) for name, cuts in taken.items())
    return tuple(one for one in found if one is not None)


def _mate(name: str, box: Bounds, cuts: Sequence[Bounds]) -> Mate | None:
    left, right = min(c.left for c in cuts) - box.left, max(c.right for c in cuts) - box.left
    low, high = min(c.bottom for c in cuts) - box.bottom, max(c.top for c in cuts) - box.bottom
    width, height = box.width_mm, box.height_mm
    # How far off the edge it begins, how deep it goes, how long the part is that way, where along.
    edges: dict[Edge, tuple[float, float, float, tuple[float, float]]] = {
        "bottom": (low, high, height, (left, right)),
        "top": (height - high, height - low, height, (left, right)),
        "left": (left, right, width, (low, high)),
        "right": (width - right, width - left, width, (low, high)),
    }
    at = [
        (deep, edge, along)
        for edge, (off, deep, long, along) in edges.items()
        if off < AT_MM and deep < MOST_SHARE * long
    ]
    if not at:
        return None
    deep, edge, (start, end) = min(at)
    return Mate(name=name, edge=edge, from_mm=start, to_mm=end, deep_mm=deep)


def common(several: Sequence[Sequence[Mate]]) -> tuple[Mate, ...]:
    """Return the mates of parts that share a drawing as one; names that differ are all told."""
    found: dict[tuple[object, ...], tuple[Mate, list[str]]] = {}
    for mates in several:
        for one in mates:
            key = (one.edge, round(one.from_mm, 2), round(one.to_mm, 2), round(one.deep_mm, 2))
            found.setdefault(key, (one, []))[1].append(one.name)
    return tuple(
        Mate(
            name=called(list(dict.fromkeys(names))),
            edge=one.edge,
            from_mm=one.from_mm,
            to_mm=one.to_mm,
            deep_mm=one.deep_mm,
        )
        for one, names in found.values()
    )
