"""One step of assembly as a picture for pages: what is new stands out by its colour."""

from __future__ import annotations

from platekit.export.figures import format_mm
from platekit.export.markup import escaped
from platekit.export.picture import NAMESPACE, PAPER
from platekit.export.picture_rig_lines import fitted, glue_lines, guide_lines, line_art
from platekit.views.steps import StepView

WIDTH_PX, TALLEST_PX = 640.0, 520.0
EDGE_ROOM_PX = 10.0


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
    low, high = view.box
    room = width_px - 2 * EDGE_ROOM_PX
    size = high - low
    height = min(tallest_px - 2 * EDGE_ROOM_PX, room * float(size[1] / max(size[0], 1e-6)))
    spot = fitted(
        view.box, left_px=EDGE_ROOM_PX, top_px=EDGE_ROOM_PX, width_px=room, height_px=height
    )
    wide, tall = (format_mm(one, decimals=0) for one in (width_px, height + 2 * EDGE_ROOM_PX))
    return "\n".join(
        [
            (
                f'<svg xmlns="{NAMESPACE}" width="{wide}" height="{tall}" '
                f'viewBox="0 0 {wide} {tall}" role="img" font-family="sans-serif">'
            ),
            f"<title>Step {view.number}</title>",
            f"<desc>{escaped(says)}</desc>" if says else "",
            f'<rect width="{wide}" height="{tall}" fill="{PAPER}"/>',
            *line_art(view.drawing, spot),
            *glue_lines(view.glue, spot),
            *guide_lines(view.guides, spot),
            "</svg>",
        ]
    )
