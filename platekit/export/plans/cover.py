"""The first page: what the rig looks like, how to print it true, what to mind."""

from __future__ import annotations

from collections.abc import Sequence

from platekit.export.cautions import Caution
from platekit.export.palette import OKABE_ITO
from platekit.export.plans.contents import SAW, PlansOf
from platekit.export.plans.furniture import CHECK_MM, Leaf
from platekit.export.plans.lettering import HEAD_MM, LEADING, SMALL_MM, TEXT_MM, TITLE_MM, broken
from platekit.export.plans.line_picture import picture
from platekit.export.plans.paper import MARGIN_MM
from platekit.export.plans.press import FINE, MATERIAL, QUIET, Press, Stroke
from platekit.panel.part import Part
from platekit.views.line_drawing import LineDrawing

AIR_MM = 6.0
# Lower than this a picture says nothing.
LEAST_PICTURE_MM = 30.0
STOP = OKABE_ITO["vermillion"]
WITHHELD = (
    "No outlines, in full size or to scale: a finding says stop, and what was cut by them would be "
    "waste. The last pages say why."
)
PRINTING = (
    "Print at 100 %: switch off every fitting, shrinking or enlarging to the page.",
    "Measure check square and bar with a steel rule, along and across: 100 mm each.",
    "More than half a millimetre off: mend the printer's settings before you cut.",
    "Larger parts are tiled: lay pages over each other, cross on cross, stick them together.",
    "Outlines are nominal: nothing is added for a saw or a beam.",
)


def cover_leaf(
    plans: PlansOf, *, drawing: LineDrawing | None, pages: Sequence[tuple[str, int]]
) -> Leaf:
    """Return the first page.

    Args:
        plans: What the plans are of.
        drawing: The rig as built; None for none.
        pages: What begins on which page.
    """
    width, height = plans.paper.reading_mm
    leaf = Leaf(
        width_mm=width,
        height_mm=height,
        called="cover",
        draw=lambda press, number: _draw(press, leaf, plans, drawing, (number, pages)),
    )
    return leaf


def _draw(
    press: Press,
    leaf: Leaf,
    plans: PlansOf,
    drawing: LineDrawing | None,
    paging: tuple[str, Sequence[tuple[str, int]]],
) -> None:
    number, pages = paging
    left, right = MARGIN_MM, leaf.width_mm - MARGIN_MM
    top = leaf.height_mm - MARGIN_MM
    press.text(number, right, top - TEXT_MM, anchor="end", colour=QUIET)
    y = top - TITLE_MM
    lines = broken(plans.name, width_mm=right - left - 30.0, size_mm=TITLE_MM, bold=True)
    for line in lines:
        press.text(line, left, y, size_mm=TITLE_MM, bold=True)
        y -= LEADING * TITLE_MM
    y = press.paragraph(_facts(plans), left, y + 3.0, width_mm=right - left, colour=QUIET)
    if plans.withheld:
        y = press.paragraph(WITHHELD, left, y, width_mm=right - left, bold=True, colour=STOP)
    low = _low(press, leaf, plans, pages)
    room = (left, low + AIR_MM, right - left, y - low - 2 * AIR_MM)
    if room[3] < LEAST_PICTURE_MM:
        return
    if drawing is not None:
        picture(press, drawing, room=room)
    elif len(plans.parts) == 1 and not plans.withheld:
        _plate(press, plans.parts[0], room)


def _plate(press: Press, part: Part, room: tuple[float, float, float, float]) -> None:
    """Draw a lone plate amidst a room, its marks left out."""
    box = part.profile.bounds
    scale = min(room[2] / box.width_mm, room[3] / box.height_mm, 1.0)
    x, y = room[0] + room[2] / 2, room[1] + room[3] / 2
    with press.moved(x - box.centre.x * scale, y - box.centre.y * scale, scale=scale):
        press.chains(part.profile.rings, stroke=Stroke(width_mm=0.35 / scale), fill=MATERIAL)


def _facts(plans: PlansOf) -> str:
    pieces = sum(part.quantity for part in plans.parts)
    sheets = dict.fromkeys(part.sheet.name for part in plans.parts)
    said = f"{pieces} {'piece' if pieces == 1 else 'pieces'}"
    kinds = len(plans.parts)
    if kinds > 1:
        said += f" of {kinds} kinds"
    return f"Plans on paper: {said}, from {', '.join(sheets)}. Printed on {plans.paper.name}."


def _low(press: Press, leaf: Leaf, plans: PlansOf, pages: Sequence[tuple[str, int]]) -> float:
    """Draw what stands at the foot of the page; return how far up it reaches."""
    left, bottom = MARGIN_MM, MARGIN_MM
    square = bottom
    inner = CHECK_MM - 12.0
    x, y = left + 8.0, square + CHECK_MM - 3.0 - HEAD_MM
    press.text("How to print", x, y, size_mm=HEAD_MM, bold=True)
    y -= LEADING * HEAD_MM
    for line in PRINTING:
        y = press.paragraph(line, x, y, width_mm=inner, size_mm=SMALL_MM) - 1.0
    y -= 1.5
    for what, page in pages:
        press.text(what, x, y, size_mm=SMALL_MM)
        press.text(f"page {page}", x + inner, y, size_mm=SMALL_MM, anchor="end", colour=QUIET)
        y -= LEADING * SMALL_MM
    x = left + CHECK_MM + AIR_MM
    room = leaf.width_mm - MARGIN_MM - x
    cautions = (SAW, *plans.cautions)
    size = next(
        (size for size in (SMALL_MM, 2.3, 2.1) if _tall(cautions, room, size) < CHECK_MM + 8.0), 1.9
    )
    top = max(square + CHECK_MM, bottom + _tall(cautions, room, size))
    _cautions(press, cautions, x, top, room, size=size)
    press.line((left, top + 3.0), (leaf.width_mm - MARGIN_MM, top + 3.0), stroke=FINE)
    return top + 3.0


def _tall(cautions: Sequence[Caution], room: float, size: float) -> float:
    lines = 0.0
    for one in cautions:
        texts = [*(f"- {line}" for line in one.lines), one.foot]
        lines += 1.9 + sum(len(broken(said, width_mm=room, size_mm=size)) for said in texts if said)
    return LEADING * size * lines


def _cautions(
    press: Press, cautions: Sequence[Caution], x: float, top: float, room: float, *, size: float
) -> None:
    y = top - size
    for one in cautions:
        y = press.paragraph(one.title, x, y, width_mm=room, size_mm=1.15 * size, bold=True)
        for line in one.lines:
            y = press.paragraph(f"- {line}", x, y, width_mm=room, size_mm=size)
        if one.foot:
            y = press.paragraph(one.foot, x, y, width_mm=room, size_mm=size)
        y -= 0.5 * LEADING * size
