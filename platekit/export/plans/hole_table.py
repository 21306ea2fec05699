"""Hole tables: every round hole of a part numbered, with its place, its size and what it is for.

Places are ordinates from the lower left corner of the part's bounds, as ISO 129-1 tabulates
coordinates (habit of the standard, from memory).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from platekit.geometry.chains import Contour
from platekit.geometry.points import Point
from platekit.panel.feature import Placed
from platekit.panel.part import Part

# Rows of holes are read together if their heights differ by less.
SAME_ROW_MM = 0.05
# A hole is what a feature asked for if both centres and sizes agree within this.
SAME_HOLE_MM = 0.01


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """One hole or opening.

    Attributes:
        number: From 1, the bottom row first, from left to right; round holes before others.
        x_mm: Its centre from the left of the part's bounds.
        y_mm: Its centre from their bottom.
        centre: The same in the part's own coordinates.
        size_mm: Width and height; of a round hole its diameter twice.
        is_round: Whether it is drilled or cut along a circle.
        purpose: What it is for, in workshop words; empty where nobody says.
    """

    number: int
    x_mm: float
    y_mm: float
    centre: Point
    size_mm: tuple[float, float]
    is_round: bool
    purpose: str = ""


def openings_of(part: Part, features: Iterable[Placed] = ()) -> tuple[Opening, ...]:
    """Return a part's holes and openings in the order they are numbered.

    Args:
        part: The part.
        features: What was asked for on it, in its coordinates.
    """
    known = [
        (cut.bounds.centre, _size(cut), feature) for feature in features for cut in feature.cuts
    ]
    rounds = _in_rows([ring for ring in part.profile.inners if ring.is_circle])
    others = _in_rows([ring for ring in part.profile.inners if not ring.is_circle])
    left, bottom = part.profile.bounds.left, part.profile.bounds.bottom
    return tuple(
        Opening(
            number=number,
            x_mm=ring.bounds.centre.x - left,
            y_mm=ring.bounds.centre.y - bottom,
            centre=ring.bounds.centre,
            size_mm=_size(ring),
            is_round=ring.is_circle,
            purpose=_purpose(ring, known),
        )
        for number, ring in enumerate([*rounds, *others], start=1)
    )


def _size(ring: Contour) -> tuple[float, float]:
    return ring.bounds.width_mm, ring.bounds.height_mm


def _in_rows(rings: Sequence[Contour]) -> list[Contour]:
    """Return rings as the eye reads, but from the bottom: rows, in each from left to right."""
    rows: list[list[Contour]] = []
    level = 0.0
    for ring in sorted(rings, key=lambda one: one.bounds.centre.y):
        if not rows or ring.bounds.centre.y - level > SAME_ROW_MM:
            rows.append([])
            level = ring.bounds.centre.y
        rows[-1].append(ring)
    return [ring for row in rows for ring in sorted(row, key=lambda one: one.bounds.centre.x)]


def _purpose(ring: Contour, known: Sequence[tuple[Point, tuple[float, float], Placed]]) -> str:
    centre, (width, height) = ring.bounds.centre, _size(ring)
    for at, size, feature in known:
        off = max(
            abs(at.x - centre.x),
            abs(at.y - centre.y),
            abs(size[0] - width),
            abs(size[1] - height),
        )
        if off <= SAME_HOLE_MM:
            return feature.name or feature.kind
    return ""
