"""Line drawings of a rig on paper: tinted faces, visible lines, new things set off."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from platekit.export.picture import PAPER
from platekit.export.plans.printing.lettering import CAPITAL, SMALL_MM
from platekit.export.plans.printing.pens import INK, Stroke
from platekit.export.plans.printing.press import Press
from platekit.export.rig_colours import GLUE, WAY, tint_of
from platekit.geometry.tables import Floats
from platekit.views.layups import LayUpView
from platekit.views.line_drawing import LineDrawing
from platekit.views.steps import Guide

OUTLINE_MM, EDGE_MM = 0.25, 0.13
PATH = Stroke(width_mm=0.13, colour=WAY, dash_mm=(1.2, 0.8))
AXIS = Stroke(width_mm=0.13, colour=WAY, dash_mm=(2.4, 0.6, 0.5, 0.6))
ARROW = Stroke(width_mm=0.6, colour=WAY)
HEAD_MM = 2.6
HATCH = Stroke(width_mm=0.18, colour=GLUE)
LEADER = Stroke(width_mm=0.13, colour=INK)
NUMBER_MM = 2.6
# A sample of hatching and the word for it: height of the line, width of the sample, its lines.
KEY_MM, SAMPLE_MM, SAMPLE_LINES = 4.0, 7.0, 8
# Nothing is drawn larger than this, and nothing counts as flatter.
LARGEST, LEAST_MM = 2.0, 1.0


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Fitted:
    """How a picture comes to lie on a page: its scale, its middle and where that goes."""

    scale: float
    middle: Floats
    home: Floats

    def at(self, points: Floats) -> list[tuple[float, float]]:
        """Return where points of the picture lie on the page, mm."""
        placed = np.round((points - self.middle) * self.scale + self.home, 3)
        return [(float(x), float(y)) for x, y in placed]


def fitted(
    drawing: LineDrawing, room: tuple[float, float, float, float], *, guides: Sequence[Guide] = ()
) -> Fitted:
    """Return how a drawing fits a room (left, bottom, width, height), amidst it."""
    return _fitted(drawing.box, [one.points for one in guides], room)


def reaches(
    drawing: LineDrawing,
    fit: Fitted,
    rect: tuple[float, float, float, float],
    *,
    guides: Sequence[Guide] = (),
) -> bool:
    """Return whether a line of a picture enters a rectangle (left, bottom, width, height)."""
    left, bottom, width, height = rect
    box = np.array([[left, bottom], [left + width, bottom + height]])
    lines = [one.points for one in drawing.strokes] + [one.points for one in guides]
    return any(_enters(np.array(fit.at(one)), box) for one in lines)


def _enters(points: Floats, box: Floats) -> bool:
    """Return whether a line through points enters a box: each piece is cut by its two slabs."""
    start, way = points[:-1], np.diff(points, axis=0)
    with np.errstate(divide="ignore", invalid="ignore"):
        cuts = (box[:, None, :] - start) / way
    # What runs along a slab is in it from end to end, or never.
    level = way == 0.0
    inside = (start >= box[0]) & (start <= box[1])
    first = np.where(level, np.where(inside, 0.0, 2.0), cuts.min(axis=0)).max(axis=1)
    last = np.where(level, 1.0, cuts.max(axis=0)).min(axis=1)
    return bool(np.any(np.maximum(first, 0.0) <= np.minimum(last, 1.0)))


def _fitted(box: Floats, more: Sequence[Floats], room: tuple[float, float, float, float]) -> Fitted:
    left, bottom, width, height = room
    corners = np.concatenate([box, *more])
    low, high = corners.min(axis=0), corners.max(axis=0)
    size = np.maximum(high - low, LEAST_MM)
    return Fitted(
        scale=min(float(width / size[0]), float(height / size[1]), LARGEST),
        middle=(low + high) / 2,
        home=np.array([left + width / 2, bottom + height / 2]),
    )


def picture(
    press: Press,
    drawing: LineDrawing,
    *,
    room: tuple[float, float, float, float],
    guides: Sequence[Guide] = (),
    glue: Sequence[Floats] = (),
    clear: tuple[float, float, float, float] | None = None,
) -> None:
    """Draw a picture amidst a room (left, bottom, width, height).

    Args:
        press: What is drawn on.
        drawing: What is seen.
        room: Where.
        guides: Lines that show which way things go.
        glue: Hatching where glue goes; a line at the foot of the room says so.
        clear: What stands in an upper corner of the room, likewise (left, bottom, width, height):
            the picture ends below it where it would lie over it.
    """
    if glue:
        room = _with_key(press, room)
    fit = fitted(drawing, room, guides=guides)
    if clear is not None and reaches(drawing, fit, clear, guides=guides):
        left, bottom, width, _ = room
        fit = fitted(drawing, (left, bottom, width, clear[1] - bottom), guides=guides)
    _draw(press, drawing, fit.at, guides=guides, glue=glue)


def layup_picture(
    press: Press, view: LayUpView, *, room: tuple[float, float, float, float]
) -> None:
    """Draw the layers of a laminate amidst a room (left, bottom, width, height)."""
    room = _with_key(press, room)
    fit = _fitted(view.box, (), room)
    axes = [Guide(points=one, kind="axis") for one in view.axes]
    _draw(press, view.drawing, fit.at, guides=axes, glue=view.glue)
    radius = view.radius_mm * fit.scale
    for one in view.balloons:
        (x, y), to = fit.at(np.array([one.centre, one.at]))
        press.line((x, y), to, stroke=LEADER)
        press.disc(*to, radius_mm=0.35, fill=INK)
        press.disc(x, y, radius_mm=radius, fill=PAPER)
        press.dot(x, y, radius_mm=radius, stroke=LEADER)
        size = min(NUMBER_MM, 1.2 * radius)
        foot = y - CAPITAL * size / 2
        press.text(str(one.entry.number), x, foot, size_mm=size, anchor="middle")


def _with_key(
    press: Press, room: tuple[float, float, float, float]
) -> tuple[float, float, float, float]:
    """Draw what hatching means at the left foot of a room; return what is left above."""
    left, bottom, width, height = room
    tall = 0.5 * KEY_MM
    shifts = (SAMPLE_MM - tall) * np.arange(SAMPLE_LINES) / (SAMPLE_LINES - 1)
    lines = [[(left + x, bottom), (left + x + tall, bottom + tall)] for x in shifts.tolist()]
    press.polylines(lines, stroke=HATCH)
    foot = bottom + (tall - CAPITAL * SMALL_MM) / 2
    press.text("glue", left + SAMPLE_MM + 1.5, foot, size_mm=SMALL_MM)
    return left, bottom + KEY_MM, width, height - KEY_MM


def _draw(
    press: Press,
    drawing: LineDrawing,
    at: Callable[[Floats], list[tuple[float, float]]],
    *,
    guides: Sequence[Guide],
    glue: Sequence[Floats],
) -> None:
    areas: dict[str, list[list[tuple[float, float]]]] = {}
    for face in drawing.faces:
        areas.setdefault(tint_of(face), []).extend(at(ring) for ring in face.rings)
    for fill, rings in areas.items():
        press.rings(rings, fill=fill)
    for kind, width_mm in (("edge", EDGE_MM), ("outline", OUTLINE_MM)):
        press.polylines(
            [at(one.points) for one in drawing.strokes if one.kind == kind],
            stroke=Stroke(width_mm=width_mm, colour=INK),
        )
    press.polylines([at(one) for one in glue], stroke=HATCH)
    for kind, pen in (("path", PATH), ("axis", AXIS)):
        press.polylines([at(one.points) for one in guides if one.kind == kind], stroke=pen)
    for one in guides:
        if one.kind == "arrow":
            _arrow(press, *at(one.points))


def _arrow(press: Press, start: tuple[float, float], tip: tuple[float, float]) -> None:
    """Draw an arrow with a filled head, its tip where it points."""
    along = np.array(tip) - start
    length = float(np.hypot(*along)) or 1.0
    along = along / length
    across = np.array([-along[1], along[0]])
    head = min(HEAD_MM, 0.6 * length)
    neck = np.array(tip) - head * along
    press.line(start, (float(neck[0]), float(neck[1])), stroke=ARROW)
    sides = [neck + 0.4 * head * across, neck - 0.4 * head * across]
    press.area(tip, *((float(x), float(y)) for x, y in sides), fill=ARROW.colour)
