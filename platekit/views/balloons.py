"""Balloons: numbers beside a picture, each with a line to the thing it names.

They stand in two columns left and right of the drawing, in the order of what they point at, so that
no two touch and their lines do not cross.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from platekit.geometry.arrangement import inner_point
from platekit.views.entries import Entry
from platekit.views.line_drawing import Face, LineDrawing

# Distance of a column from the drawing and of two balloons in it, in radii.
ASIDE, APART = 3.0, 2.5
# What shows less than this of a balloon's own area counts as hidden: nobody would find it.
SLIVER = 0.05
# Rounds of taking lines out of each other's way.
ROUNDS = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class Balloon:
    """A number in a circle, and where its line ends.

    Attributes:
        entry: What it stands for.
        centre: Middle of the circle, mm on the picture, y up.
        at: The spot on the thing it points to.
    """

    entry: Entry
    centre: tuple[float, float]
    at: tuple[float, float]


def ballooned(
    drawing: LineDrawing, entries: Sequence[Entry], *, radius_mm: float
) -> tuple[Balloon, ...]:
    """Return a balloon for each entry of which enough is seen to be found, by their numbers.

    Args:
        drawing: The picture.
        entries: The parts list.
        radius_mm: Radius of the circles, on the picture.
    """
    largest = _largest(drawing)
    spots = {}
    for entry in entries:
        regions = [largest[name] for name in entry.things if name in largest]
        if regions:
            area, face = max(regions, key=lambda region: region[0])
            if area > SLIVER * math.pi * radius_mm**2:
                spots[entry] = inner_point(face.rings)
    middle = float(drawing.box[:, 0].mean())
    ranked = sorted(spots, key=lambda entry: spots[entry][0] - middle)
    half = (len(ranked) + 1) // 2
    # Each stands on its own side, unless one column would be much fuller than the other.
    left = [one for k, one in enumerate(ranked) if _goes_left(k, spots[one][0] - middle, half)]
    columns = (
        (left, float(drawing.box[0, 0]) - ASIDE * radius_mm),
        ([one for one in ranked if one not in left], float(drawing.box[1, 0]) + ASIDE * radius_mm),
    )
    made = []
    for some, x in columns:
        placed = _column({one: spots[one] for one in some}, x, drawing, radius_mm=radius_mm)
        made += [Balloon(entry=one, centre=(x, y), at=spots[one]) for one, y in placed.items()]
    return tuple(sorted(made, key=lambda one: one.entry.number))


def _largest(drawing: LineDrawing) -> dict[str, tuple[float, Face]]:
    """Return the largest region in which each thing is seen, by name, after its area."""
    found: dict[str, tuple[float, Face]] = {}
    for face in drawing.faces:
        area = face.area_mm2
        if face.thing not in found or area > found[face.thing][0]:
            found[face.thing] = (area, face)
    return found


def _goes_left(rank: int, from_middle: float, half: int) -> bool:
    """Return whether an entry stands left: by its side, held near an even share."""
    slack = max(half // 4, 1)
    if rank < half - slack:
        return True
    if rank >= half + slack:
        return False
    return from_middle < 0.0


def _column(
    spots: Mapping[Entry, tuple[float, float]],
    x: float,
    drawing: LineDrawing,
    *,
    radius_mm: float,
) -> dict[Entry, float]:
    """Return how high each balloon of a column stands."""
    order = sorted(spots, key=lambda one: -spots[one][1])
    heights = _spread([spots[one][1] for one in order], drawing, radius_mm=radius_mm)
    for _ in range(ROUNDS):
        crossed = False
        for k, j in pairwise(range(len(order))):
            one, other = spots[order[k]], spots[order[j]]
            if _cross((x, heights[k]), one, (x, heights[j]), other):
                order[k], order[j] = order[j], order[k]
                crossed = True
        if not crossed:
            break
    return dict(zip(order, heights, strict=True))


def _spread(wanted: Sequence[float], drawing: LineDrawing, *, radius_mm: float) -> list[float]:
    """Return heights near those wanted, falling, a balloon's room apart, about the drawing."""
    if not wanted:
        return []
    gap = APART * radius_mm
    top, bottom = float(drawing.box[1, 1]) - radius_mm, float(drawing.box[0, 1]) + radius_mm
    lacking = max(gap * (len(wanted) - 1) - (top - bottom), 0.0)
    top, bottom = top + lacking / 2, bottom - lacking / 2
    heights: list[float] = []
    for k, height in enumerate(wanted):
        highest = top if not heights else heights[-1] - gap
        lowest = bottom + gap * (len(wanted) - 1 - k)
        heights.append(min(highest, max(height, lowest)))
    return heights


def _cross(
    a: tuple[float, float], b: tuple[float, float], c: tuple[float, float], d: tuple[float, float]
) -> bool:
    """Return whether the lines a-b and c-d cross."""

    def side(p: tuple[float, float], q: tuple[float, float], r: tuple[float, float]) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0
