"""The first page: what the rig looks like, how to print it true, what to mind."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from platekit.export.bill import BillKind
from platekit.export.cautions import Caution
from platekit.export.figures import format_mm
from platekit.export.palette import OKABE_ITO
from platekit.export.plans.contents import SAW, PlansOf
from platekit.export.plans.line_picture import picture
from platekit.export.plans.patterns import patterns_of
from platekit.export.plans.printing.furniture import CHECK_MM, Leaf
from platekit.export.plans.printing.lettering import (
    HEAD_MM,
    LEADING,
    SMALL_MM,
    TEXT_MM,
    TITLE_MM,
    broken,
)
from platekit.export.plans.printing.paper import MARGIN_MM
from platekit.export.plans.printing.pens import FINE, MATERIAL, QUIET, Stroke
from platekit.export.plans.printing.press import Press
from platekit.panel.part import Part
from platekit.views.line_drawing import LineDrawing

AIR_MM = 6.0
# Size of the type that says what it is; how far lines hang behind their number or dash.
SAID_MM, HANG_MM = 3.8, 4.0
TIMES = " \N{MULTIPLICATION SIGN} "
DASH, DASH_MM = "\N{EN DASH}", 2.4
# Lower than this a picture says nothing.
LEAST_PICTURE_MM = 30.0
STOP = OKABE_ITO["vermillion"]
WITHHELD = (
    "No outlines, in full size or to scale: a finding says stop, and what was cut by them would be "
    "waste. The findings of the checks say why."
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
    y += 2.0
    if plans.summary:
        y = press.paragraph(plans.summary, left, y, width_mm=right - left, size_mm=SAID_MM) - 0.5
    y = press.paragraph(_facts(plans), left, y, width_mm=right - left, colour=QUIET)
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
    """Return how large it is, what it takes, and what is printed on which paper."""
    told = []
    if plans.scene is not None:
        box = np.ptp([thing.box for thing in plans.scene.things], axis=(0, 1))
        told.append(f"{TIMES.join(format_mm(float(one), decimals=0) for one in box)} mm overall")
    pieces = sum(part.quantity for part in plans.parts)
    kinds = len(patterns_of(plans.parts))
    sheets = ", ".join(dict.fromkeys(part.sheet.name for part in plans.parts))
    cut = f"{pieces} {'piece' if pieces == 1 else 'pieces'}"
    if 1 < kinds < pieces:
        cut += f" of {kinds} shapes"
    told.append(f"{cut} to cut from {sheets}")
    bought = sum(line.kind is BillKind.HARDWARE for line in plans.bill)
    if bought:
        told.append(f"{bought} {'kind' if bought == 1 else 'kinds'} of bought parts")
    steps = 0 if plans.assembly is None else len(plans.assembly.steps)
    if steps > 1:
        told.append(f"{steps} steps")
    return f"{'; '.join(told)}. {_printed_on(plans)}"


def _printed_on(plans: PlansOf) -> str:
    paper = plans.paper
    if paper.reading_mm == (paper.width_mm, paper.height_mm):
        return f"Printed on {paper.name}."
    return f"Parts in full size on {paper.name}, the rest on A4."


def _low(press: Press, leaf: Leaf, plans: PlansOf, pages: Sequence[tuple[str, int]]) -> float:
    """Draw what stands at the foot of the page; return how far up it reaches."""
    left, bottom = MARGIN_MM, MARGIN_MM
    square = bottom
    inner = CHECK_MM - 12.0
    x, y = left + 8.0, square + CHECK_MM - 3.0 - HEAD_MM
    press.text("How to print", x, y, size_mm=HEAD_MM, bold=True)
    y -= LEADING * HEAD_MM
    for number, line in enumerate(PRINTING, start=1):
        press.text(f"{number}", x, y, size_mm=SMALL_MM, bold=True)
        room = inner - HANG_MM
        y = press.paragraph(line, x + HANG_MM, y, width_mm=room, size_mm=SMALL_MM) - 0.8
    y -= LEADING * TEXT_MM
    press.text("Contents", x, y, size_mm=1.15 * SMALL_MM, bold=True)
    y -= LEADING * HEAD_MM / 1.2
    for what, page in pages:
        press.text(what, x, y, size_mm=SMALL_MM)
        press.text(f"page {page}", x + inner, y, size_mm=SMALL_MM, anchor="end", colour=QUIET)
        press.link(x, y - 0.3 * SMALL_MM, inner, LEADING * SMALL_MM, page=page)
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
        texts = [*((line, room - DASH_MM) for line in one.lines), (one.foot, room)]
        lines += 1.9 + sum(
            len(broken(said, width_mm=width, size_mm=size)) for said, width in texts if said
        )
    return LEADING * size * lines


def _cautions(
    press: Press, cautions: Sequence[Caution], x: float, top: float, room: float, *, size: float
) -> None:
    y = top - size
    for one in cautions:
        y = press.paragraph(one.title, x, y, width_mm=room, size_mm=1.15 * size, bold=True)
        for line in one.lines:
            press.text(DASH, x, y, size_mm=size)
            y = press.paragraph(line, x + DASH_MM, y, width_mm=room - DASH_MM, size_mm=size)
        if one.foot:
            y = press.paragraph(one.foot, x, y, width_mm=room, size_mm=size)
        y -= 0.5 * LEADING * size
