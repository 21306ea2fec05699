"""Line drawings as elements of an SVG: tints below, lines above, as wide as on a drawing sheet."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from platekit.export.captions import CAPITAL_EM, text_line
from platekit.export.figures import format_mm
from platekit.export.markup import escaped
from platekit.export.picture import INK, PAPER
from platekit.export.rig_colours import GLUE, WAY, class_of, tint_of
from platekit.geometry.tables import Floats
from platekit.views.balloons import Balloon
from platekit.views.line_drawing import Face, LineDrawing
from platekit.views.steps import Guide

# A picture's pixel is the 96th part of an inch, as in CSS.
PX_PER_MM = 96 / 25.4
# Wide and narrow lines of one drawing are 2 to 1 (ISO 128, line groups 0.5 and 0.35; from memory):
# the wider pair where a rig fills the page, the finer one where things are small.
WIDE_GROUP_PX, FINE_GROUP_PX = 0.5 * PX_PER_MM, 0.35 * PX_PER_MM
EDGE_PX = FINE_GROUP_PX / 2
# Long-dashed dotted narrow line for axes and paths: dash 24, gap 3, dot 0.5 of its width
# (ISO 128, line 04.1; from memory).
CHAIN = tuple(share * EDGE_PX for share in (24.0, 3.0, 0.5, 3.0))
# A tenth of a pixel is a fortieth of a millimetre.
DECIMALS = 1
# A corner nearer than this to the way past it is not drawn; looked at so many times over.
FLAT_PX, PASSES = 0.12, 3

ARROW_PX, HEAD_PX = 3.0, 15.0
GLUE_PX = 1.2


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """Where a drawing comes to lie on a page.

    Attributes:
        scale: Pixels to the millimetre.
        left_px: Where its x = 0 lies.
        base_px: Where its y = 0 lies.
    """

    scale: float
    left_px: float
    base_px: float

    def place(self, x_mm: float, y_mm: float) -> tuple[float, float]:
        """Return where a spot of the drawing lies on the page."""
        return self.left_px + self.scale * x_mm, self.base_px - self.scale * y_mm


def fitted(
    box: Floats, *, left_px: float, top_px: float, width_px: float, height_px: float
) -> Spot:
    """Return where a drawing lies so that it fills a frame, in the middle of it.

    Args:
        box: Least and greatest x, y of the drawing, mm, shape (2, 2).
        left_px: Left side of the frame.
        top_px: Its upper side.
        width_px: Its width.
        height_px: Its height.
    """
    size = np.maximum(box[1] - box[0], 1e-6)
    scale = float(min(width_px / size[0], height_px / size[1]))
    middle = (box[0] + box[1]) / 2
    return Spot(
        scale=scale,
        left_px=left_px + width_px / 2 - scale * float(middle[0]),
        base_px=top_px + height_px / 2 + scale * float(middle[1]),
    )


def line_art(drawing: LineDrawing, spot: Spot, *, outline_px: float = FINE_GROUP_PX) -> list[str]:
    """Return a drawing as elements: a group for each thing that tells its name, then lines.

    Args:
        drawing: What to draw.
        spot: Where.
        outline_px: Width of outlines; edges are half as wide.
    """
    body: list[str] = []
    by_thing: dict[str, dict[str, list[Face]]] = {}
    for face in drawing.faces:
        by_thing.setdefault(face.thing, {}).setdefault(class_of(face), []).append(face)
    for thing, tints in by_thing.items():
        body.append(f"<g><title>{escaped(thing)}</title>")
        for name, faces in tints.items():
            data = "".join(
                path_of(ring, spot, closed=True) for face in faces for ring in face.rings
            )
            body.append(
                f'<path class="{name}" fill="{tint_of(faces[0])}" fill-rule="evenodd" d="{data}"/>'
            )
        body.append("</g>")
    for kind, width in (("edge", outline_px / 2), ("outline", outline_px)):
        data = "".join(path_of(one.points, spot) for one in drawing.strokes if one.kind == kind)
        if data:
            body.append(
                f'<path class="rig-line" fill="none" stroke="{INK}" stroke-width="{_px(width)}" '
                f'stroke-linecap="round" stroke-linejoin="round" pointer-events="none" d="{data}"/>'
            )
    return body


def guide_lines(guides: Iterable[Guide], spot: Spot) -> list[str]:
    """Return paths and axes as chain lines, arrows with a head."""
    known = list(guides)
    arrows = [part for one in known if one.kind == "arrow" for part in _arrow(one, spot)]
    return axis_lines([one.points for one in known if one.kind != "arrow"], spot) + arrows


def axis_lines(lines: Iterable[Floats], spot: Spot) -> list[str]:
    """Return straight lines as chain lines."""
    data = "".join(path_of(one, spot) for one in lines)
    if not data:
        return []
    dashes = " ".join(_px(one) for one in CHAIN)
    stroke = f'stroke="{WAY}" stroke-width="{_px(EDGE_PX)}" stroke-dasharray="{dashes}"'
    return [f'<path class="rig-way" fill="none" {stroke} d="{data}"/>']


def glue_lines(lines: Iterable[Floats], spot: Spot) -> list[str]:
    """Return the hatching of faces that are glued."""
    data = "".join(path_of(one, spot) for one in lines)
    if not data:
        return []
    stroke = f'stroke="{GLUE}" stroke-width="{_px(GLUE_PX)}"'
    return [f'<path class="rig-glue" fill="none" {stroke} pointer-events="none" d="{data}"/>']


def balloon_art(balloons: Iterable[Balloon], spot: Spot, *, radius_px: float) -> list[str]:
    """Return balloons as elements: leader lines that end in dots, circles, numbers."""
    body = []
    size = radius_px * 1.05
    for one in balloons:
        (x, y), (to_x, to_y) = spot.place(*one.centre), spot.place(*one.at)
        length = float(np.hypot(to_x - x, to_y - y))
        from_x, from_y = (a + (b - a) * radius_px / length for a, b in ((x, to_x), (y, to_y)))
        body += [
            f"<g><title>{escaped(one.entry.label)}</title>",
            (
                f'<path class="rig-leader" fill="none" stroke="{INK}" '
                f'stroke-width="{_px(EDGE_PX)}" '
                f'd="M{_px(from_x)} {_px(from_y)}L{_px(to_x)} {_px(to_y)}"/>'
            ),
            (
                f'<circle class="rig-dot" cx="{_px(to_x)}" cy="{_px(to_y)}" '
                f'r="{_px(2 * EDGE_PX)}" fill="{INK}"/>'
            ),
            (
                f'<circle class="rig-balloon" cx="{_px(x)}" cy="{_px(y)}" r="{_px(radius_px)}" '
                f'fill="{PAPER}" stroke="{INK}" stroke-width="{_px(EDGE_PX)}"/>'
            ),
            text_line(
                str(one.entry.number),
                x_px=x,
                y_px=y + CAPITAL_EM * size / 2,
                size_px=size,
                colour=INK,
                anchor="middle",
            ),
            "</g>",
        ]
    return body


def path_of(points: Floats, spot: Spot, *, closed: bool = False) -> str:
    """Return a line as path data: where it begins, then from corner to corner.

    Corners that a reader could not tell from a straight line are left out, and figures are of a
    tenth of a pixel, so that a picture of a whole rig stays small.

    Args:
        points: Its corners, mm on the drawing, shape (n, 2).
        spot: Where the drawing lies.
        closed: Whether it goes on from the last to the first.
    """
    on_page = np.stack(
        [spot.left_px + spot.scale * points[:, 0], spot.base_px - spot.scale * points[:, 1]], axis=1
    )
    tenths = np.rint(_thinned(on_page) * 10.0).astype(int)
    steps = np.diff(tenths, axis=0)
    steps = steps[steps.any(axis=1)]
    (x, y), way = tenths[0], "".join(f"{_signed(a)}{_signed(b)}" for a, b in steps.tolist())
    return f"M{_tenth(x)} {_tenth(y)}l{way.lstrip()}{'z' if closed else ''}" if way else ""


def _thinned(points: Floats) -> Floats:
    """Return a line without corners that lie as good as on the way past them."""
    for _ in range(PASSES):
        if len(points) < 4:
            break
        before, here, after = points[:-2], points[1:-1], points[2:]
        way, off = after - before, here - before
        length = np.hypot(way[:, 0], way[:, 1])
        aside = np.abs(way[:, 0] * off[:, 1] - way[:, 1] * off[:, 0])
        along = np.einsum("ij,ij->i", way, off)
        on_way = (aside <= FLAT_PX * length) & (along >= 0.0) & (along <= length * length)
        # Never two in a row: each is weighed between neighbours that stay.
        on_way[1::2] = False
        points = points[np.concatenate([[True], ~on_way, [True]])]
    return points


def _tenth(value: int) -> str:
    """Return so many tenths as a figure."""
    whole, rest = divmod(abs(value), 10)
    text = f"{whole or ''}.{rest}" if rest else f"{whole}"
    return f"-{text}" if value < 0 else text


def _signed(value: int) -> str:
    """Return the same, set off from what stands before it: a minus does that by itself."""
    text = _tenth(value)
    return text if text.startswith("-") else f" {text}"


def _arrow(guide: Guide, spot: Spot) -> list[str]:
    start, tip = (np.array(spot.place(*map(float, point))) for point in guide.points)
    way = (tip - start) / float(np.hypot(*(tip - start)))
    across = np.array([-way[1], way[0]])
    neck = tip - way * HEAD_PX
    head = [tip, neck + across * HEAD_PX * 0.4, neck - across * HEAD_PX * 0.4]
    corners = "L".join(f"{_px(x)} {_px(y)}" for x, y in head)
    return [
        (
            f'<path class="rig-way" fill="none" stroke="{WAY}" stroke-width="{_px(ARROW_PX)}" '
            f'd="M{_px(start[0])} {_px(start[1])}L{_px(neck[0])} {_px(neck[1])}"/>'
        ),
        f'<path class="rig-head" fill="{WAY}" d="M{corners}Z"/>',
    ]


def _px(value: float) -> str:
    return format_mm(float(value), decimals=DECIMALS if abs(value) >= 10.0 else DECIMALS + 1)
