"""Tables beside a drawing: openings with place, size and purpose; notches; corners of an outline.

Places are ordinates from the lower left corner of the part's bounds, as ISO 129-1 tabulates
coordinates (habit of the standard, from memory).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby, pairwise

from platekit.export.figures import format_mm
from platekit.export.plans.drawings.edge_notches import Notch
from platekit.export.plans.drawings.opening_shape import shape_of
from platekit.export.plans.drawings.outline_steps import Corner, corners_of
from platekit.export.plans.printing.lettering import CAPITAL, width_of
from platekit.geometry.chains import Contour
from platekit.geometry.motion import Motion
from platekit.geometry.points import Point
from platekit.panel.feature import Placed
from platekit.panel.part import Part

# Rows of holes are read together if their heights differ by less.
SAME_ROW_MM = 0.05
# A hole is what a feature asked for if both centres and sizes agree within this.
SAME_HOLE_MM = 0.01
DECIMALS = 2
# Letters that nobody takes for a figure.
LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
CORNER = "c"
# A shape of more corners than these is taken from the full-size page.
MOST_CORNERS = 40
# The smallest type of numbers, and the air around one.
LEAST_NUMBER_MM = 1.8 / CAPITAL
NUMBER_AIR_MM = 0.8


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """One hole or opening.

    Attributes:
        number: From 1, the bottom row first, from left to right; round holes before others.
        x_mm: Its centre from the left of the part's bounds.
        y_mm: Its centre from their bottom.
        centre: The same in the part's own coordinates.
        middle_mm: The middle of its bounds, from the same corner: of a slot along an arc that is
            not the centre, which its place is told by.
        size_mm: Width and height; of a round hole its diameter twice.
        is_round: Whether it is drilled or cut along a circle.
        said: Its shape and sizes in words.
        is_told: Whether these, or its corners, are enough to draw it by.
        corners: Of a shape that has no words, counter-clockwise.
        purpose: What it is for, in workshop words; empty where nobody says.
    """

    number: int
    x_mm: float
    y_mm: float
    centre: Point
    middle_mm: tuple[float, float]
    size_mm: tuple[float, float]
    is_round: bool
    said: str = ""
    is_told: bool = True
    corners: tuple[Corner, ...] = ()
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
    found = []
    for number, ring in enumerate([*rounds, *others], start=1):
        shape = shape_of(ring)
        tabled = not shape.is_told and len(ring.table) <= MOST_CORNERS
        found.append(
            Opening(
                number=number,
                x_mm=shape.centre.x - left,
                y_mm=shape.centre.y - bottom,
                centre=shape.centre,
                middle_mm=(ring.bounds.centre.x - left, ring.bounds.centre.y - bottom),
                size_mm=_size(ring),
                is_round=ring.is_circle,
                said=shape.said,
                is_told=shape.is_told or tabled,
                corners=_corners(ring, left, bottom) if tabled else (),
                purpose=_purpose(ring, known),
            )
        )
    return tuple(found)


def _corners(ring: Contour, left: float, bottom: float) -> tuple[Corner, ...]:
    turned = ring if ring.is_ccw else ring.reversed()
    return corners_of(turned.moved(Motion(dx_mm=-left, dy_mm=-bottom)).table)


def shared(several: Sequence[Sequence[Opening]]) -> tuple[Opening, ...]:
    """Return the openings of parts that are alike as one: purposes that differ are all told."""
    return tuple(
        replace(
            same[0], purpose=" / ".join(dict.fromkeys(one.purpose for one in same if one.purpose))
        )
        for same in zip(*several, strict=True)
    )


def opening_rows(openings: Iterable[Opening]) -> Iterator[tuple[str, ...]]:
    """Yield a row for each opening: number, x, y, size, purpose."""
    for one in openings:
        yield f"{one.number}", _mm(one.x_mm), _mm(one.y_mm), one.said, one.purpose


def grouped_rows(openings: Sequence[Opening]) -> Iterator[tuple[str, ...]]:
    """Yield a row for each run of openings that are alike and level: every x, one y."""
    for run in runs_of(openings):
        first = run[0]
        every_x = ", ".join(_mm(one.x_mm) for one in run)
        yield run_number(run), every_x, _mm(first.y_mm), first.said, first.purpose


def runs_of(openings: Sequence[Opening]) -> Iterator[tuple[Opening, ...]]:
    """Yield openings in turn, those that follow each other level and alike together."""
    for _, run in groupby(
        openings, key=lambda one: (_mm(one.y_mm), one.said, one.purpose, one.is_round)
    ):
        yield tuple(run)


def is_crowded(run: Sequence[Opening], scale: float) -> bool:
    """Return whether openings in a row leave no room for a number each, inside or between them."""
    if len(run) < 2:
        return False
    wide = width_of(f"{run[-1].number}", size_mm=LEAST_NUMBER_MM) + 2 * NUMBER_AIR_MM
    inside = min(run[0].size_mm) * scale
    pitch = min(b.x_mm - a.x_mm for a, b in pairwise(run)) * scale
    return wide > inside and wide > pitch - run[0].size_mm[0] * scale


def run_number(run: Sequence[Opening]) -> str:
    """Return the numbers of a run: "7", or "3 to 7" with a dash."""
    first, last = run[0].number, run[-1].number
    return f"{first}" if first == last else f"{first}\N{EN DASH}{last}"


def notch_rows(notches: Sequence[Notch], part: Part) -> Iterator[tuple[str, ...]]:
    """Yield a row for each notch: its letter, the middle of its mouth, its sizes, its purpose."""
    box = part.profile.bounds
    for k, one in enumerate(notches):
        x, y = one.mouth.x - box.left, one.mouth.y - box.bottom
        yield letter(k), _mm(x), _mm(y), one.size, one.purpose


def corner_rows(corners: Sequence[Corner], *, of: str = CORNER) -> Iterator[tuple[str, ...]]:
    """Yield a row for each corner: its number behind what it is of, x, y, how the edge goes on."""
    for k, one in enumerate(corners, start=1):
        on = "straight"
        if one.radius_mm:
            on = f"R{_mm(one.radius_mm)} {'bulging' if one.ccw else 'hollow'}"
        yield f"{of}{k}", _mm(one.x_mm), _mm(one.y_mm), on, ""


def letter(k: int) -> str:
    """Return the letter of a notch, counted from 0: A to Z without I and O, then AA."""
    more, rest = divmod(k, len(LETTERS))
    return (letter(more - 1) if more else "") + LETTERS[rest]


def _mm(value: float) -> str:
    return format_mm(value, decimals=DECIMALS)


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


__all__ = [
    "Opening",
    "corner_rows",
    "grouped_rows",
    "letter",
    "notch_rows",
    "opening_rows",
    "openings_of",
    "run_number",
    "runs_of",
    "shared",
]
