"""Marks: crosses, reference lines, lettering and arrows that do not cut through."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from platekit.errors import PartError
from platekit.geometry.chains import polyline
from platekit.geometry.points import SAME_POINT_MM, Point, between
from platekit.panel.feature import Feature
from platekit.panel.lettering import centred_text
from platekit.panel.measures import require_angle, require_length
from platekit.panel.naming import double_arrow
from platekit.panel.part import Mark, MarkLayer
from platekit.panel.places import MIDDLE, PlaceOrPoint, spots_at
from platekit.panel.plate import Fitted

if TYPE_CHECKING:
    from platekit.panel.plate import Plate


def centre_mark(
    *,
    size_mm: float = 6.0,
    at: PlaceOrPoint = MIDDLE,
    layer: MarkLayer = "score",
    name: str = "",
) -> Feature:
    """Return a cross that marks a point, for a drill or a compass.

    Args:
        size_mm: Length of both its lines.
        at: Where; several places give several crosses.
        layer: "score" to burn it in, "note" only to show it in the file.
        name: Name of its own.

    Raises:
        PartError: A size not above 0.
    """
    half = require_length(size_mm, "size_mm") / 2
    lines = (polyline([(-half, 0.0), (half, 0.0)]), polyline([(0.0, -half), (0.0, half)]))
    marks = tuple(Mark(line, layer) for line in lines)
    return Feature(kind="centre mark", name=name, marks=marks, at=at)


@dataclass(frozen=True, slots=True)
class _LineBetween:
    start: PlaceOrPoint
    end: PlaceOrPoint
    layer: MarkLayer
    name: str

    def fitted_to(self, plate: Plate) -> Feature:
        starts, ends = (spots_at(place, plate.frame) for place in (self.start, self.end))
        if len(starts) != len(ends):
            raise PartError(
                f"a line leads from {len(starts)} places to {len(ends)}",
                feature=self.name or "reference line",
                remedy="give as many ends as starts",
            )
        marks = []
        for spot, goal in zip(starts, ends, strict=True):
            a, b = Point(spot.dx_mm, spot.dy_mm), Point(goal.dx_mm, goal.dy_mm)
            if between(a, b) <= SAME_POINT_MM:
                raise PartError(
                    f"a line begins and ends at ({a.x:g}, {a.y:g})",
                    feature=self.name or "reference line",
                    remedy="give two different places",
                )
            marks.append(Mark(polyline([a, b]), self.layer))
        return Feature(kind="reference line", name=self.name, marks=tuple(marks), at=(0.0, 0.0))


def reference_line(
    start: PlaceOrPoint, end: PlaceOrPoint, *, layer: MarkLayer = "score", name: str = ""
) -> Fitted:
    """Return a straight line between two places: where another plate stands, or a fold of cloth.

    Args:
        start: Where it begins.
        end: Where it ends; as many places as `start` has.
        layer: "score" to burn it in, "note" only to show it in the file.
        name: Name of its own.
    """
    return _LineBetween(start, end, layer, name)


def lettering(
    text: str,
    *,
    height_mm: float = 5.0,
    at: PlaceOrPoint = MIDDLE,
    turn_deg: float = 0.0,
    layer: MarkLayer = "score",
    name: str = "",
) -> Feature:
    """Return a line of single-stroke text, its middle at the place; it is never mirrored.

    Args:
        text: Letters, digits, space and ``- _ . , : / + = ( ) #``; small letters become capitals.
        height_mm: Height of a letter.
        at: Where.
        turn_deg: Turned by this much, counter-clockwise.
        layer: "score" to burn it in, "note" only to show it in the file.
        name: Name of its own.

    Raises:
        PartError: No text, a letter without strokes, or a height not above 0.
    """
    if not text.strip():
        raise PartError("there is nothing to write", remedy="give a text")
    marks = tuple(Mark(path, layer) for path in centred_text(text, height_mm=height_mm))
    turn = require_angle(turn_deg, "turn_deg")
    return Feature(kind="lettering", name=name, marks=marks, at=at, turn_deg=turn, upright=True)


def grain_arrow(
    *, length_mm: float = 14.0, at: PlaceOrPoint = MIDDLE, turn_deg: float = 0.0, name: str = ""
) -> Feature:
    """Return the two-headed arrow that shows how the face grain runs.

    A plate with a grain of its own gets one by itself where it has room; this puts one where
    you want it.

    Args:
        length_mm: Length of the arrow.
        at: Its middle.
        turn_deg: Direction, counter-clockwise from +x.
        name: Name of its own.

    Raises:
        PartError: A length not above 0.
    """
    length = require_length(length_mm, "length_mm")
    marks = tuple(Mark(path) for path in double_arrow(length, head_mm=length / 5))
    turn = require_angle(turn_deg, "turn_deg")
    return Feature(kind="grain arrow", name=name, marks=marks, at=at, turn_deg=turn)
