"""Steps of assembly, and layers to be glued, as pictures: what is new stands out by its colour."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from platekit.export.captions import CAPITAL_EM, text_line
from platekit.export.figures import format_mm
from platekit.export.markup import escaped
from platekit.export.picture import INK, NAMESPACE, PAPER
from platekit.export.picture_rig_lines import (
    Spot,
    axis_lines,
    balloon_art,
    fitted,
    glue_lines,
    guide_lines,
    line_art,
)
from platekit.geometry.tables import Floats
from platekit.views.layups import LayUpView
from platekit.views.steps import StepView

WIDTH_PX, TALLEST_PX = 640.0, 520.0
EDGE_ROOM_PX = 10.0
# The line below a picture that says what hatching means: its height, its letters, a sample.
KEY_PX, KEY_TEXT_PX, SAMPLE_PX = 24.0, 14.0, (34.0, 12.0)
SAMPLE_LINES = 8


def step_picture(
    view: StepView,
    *,
    says: str = "",
    width_px: float = WIDTH_PX,
    tallest_px: float = TALLEST_PX,
) -> str:
    """Return a step as an SVG element, to stand in a page or a file of its own.

    It has a white ground of its own, and no ids that could meet those of another picture.

    Args:
        view: The step.
        says: What is done, in words, for whoever cannot see it.
        width_px: Width of the picture.
        tallest_px: Its greatest height.
    """

    def art(spot: Spot) -> list[str]:
        return [
            *line_art(view.drawing, spot),
            *glue_lines(view.glue, spot),
            *guide_lines(view.guides, spot),
        ]

    return _framed(
        art,
        view.box,
        title=f"Step {view.number}",
        says=says,
        size_px=(width_px, tallest_px),
        glued=bool(view.glue),
    )


def layup_picture(
    view: LayUpView,
    *,
    says: str = "",
    width_px: float = WIDTH_PX,
    tallest_px: float = TALLEST_PX,
) -> str:
    """Return layers that are to be glued as an SVG element, like that of a step.

    Args:
        view: The layers.
        says: What is done, in words, for whoever cannot see it.
        width_px: Width of the picture.
        tallest_px: Its greatest height.
    """

    def art(spot: Spot) -> list[str]:
        radius = view.radius_mm * spot.scale
        return [
            *line_art(view.drawing, spot),
            *glue_lines(view.glue, spot),
            *axis_lines(view.axes, spot),
            *balloon_art(view.balloons, spot, radius_px=radius),
        ]

    return _framed(
        art,
        view.box,
        title=f"Layers of {view.name}",
        says=says,
        size_px=(width_px, tallest_px),
        glued=bool(view.glue),
    )


def _framed(
    art: Callable[[Spot], Sequence[str]],
    box: Floats,
    *,
    title: str,
    says: str,
    size_px: tuple[float, float],
    glued: bool,
) -> str:
    key = KEY_PX if glued else 0.0
    room = size_px[0] - 2 * EDGE_ROOM_PX
    size = box[1] - box[0]
    height = min(size_px[1] - 2 * EDGE_ROOM_PX - key, room * float(size[1] / max(size[0], 1e-6)))
    spot = fitted(box, left_px=EDGE_ROOM_PX, top_px=EDGE_ROOM_PX, width_px=room, height_px=height)
    foot = height + 2 * EDGE_ROOM_PX
    wide, tall = (format_mm(one, decimals=0) for one in (size_px[0], foot + key))
    return "\n".join(
        [
            (
                f'<svg xmlns="{NAMESPACE}" width="{wide}" height="{tall}" '
                f'viewBox="0 0 {wide} {tall}" role="img" font-family="sans-serif">'
            ),
            f"<title>{escaped(title)}</title>",
            f"<desc>{escaped(says)}</desc>" if says else "",
            f'<rect width="{wide}" height="{tall}" fill="{PAPER}"/>',
            *art(spot),
            *(_key(foot) if glued else ()),
            "</svg>",
        ]
    )


def _key(top_px: float) -> list[str]:
    """Return a sample of hatching with the word for it."""
    width, height = SAMPLE_PX
    left, base = EDGE_ROOM_PX, top_px + height
    foot = left + np.arange(SAMPLE_LINES) * (width - height) / (SAMPLE_LINES - 1)
    lines = [np.array([[x, -base], [x + height, -base + height]]) for x in foot]
    return [
        *glue_lines(lines, Spot(scale=1.0, left_px=0.0, base_px=0.0)),
        text_line(
            "glue",
            x_px=left + width + 6.0,
            y_px=base - height / 2 + CAPITAL_EM * KEY_TEXT_PX / 2,
            size_px=KEY_TEXT_PX,
            colour=INK,
        ),
    ]
