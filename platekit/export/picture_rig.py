"""The rig in space on a page: as it stands, and taken apart with numbers and their list."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from platekit.export.captions import LINE_EM, text_line, text_width_px
from platekit.export.figures import format_mm
from platekit.export.picture import (
    INK,
    INNER_PX,
    MARGIN_PX,
    QUIET_INK,
    TEXT_PX,
    counted,
    heading,
    page,
    paragraph,
    together,
)
from platekit.export.picture_rig_lines import (
    WIDE_GROUP_PX,
    axis_lines,
    balloon_art,
    fitted,
    line_art,
)
from platekit.views.balloons import ballooned
from platekit.views.camera import ISOMETRIC
from platekit.views.entries import Entry, entries_of
from platekit.views.hidden import drawn, drawn_in, unhidden
from platekit.views.scene import Scene
from platekit.views.sight import sight_of
from platekit.views.traces import traces

TALLEST_PX = 1150.0
RADIUS_PX = 15.0
# Room for a column of balloons beside the drawing.
COLUMN_PX = 5.0 * RADIUS_PX
GAP_PX = 28.0
BELOW_HEAD_PX = 14.0
LIST_PX = 16.0
_TIMES = "\N{MULTIPLICATION SIGN}"


def rig_picture(title: str, scene: Scene) -> str:
    """Return a rig as it stands, seen from the front, the right and above, as an SVG file's text.

    Args:
        title: What it is.
        scene: The rig.
    """
    drawing = drawn(scene.things, ISOMETRIC)
    low, high = scene.box
    sides = [format_mm(float(one), decimals=0) for one in high - low]
    size = together(f" {_TIMES} ".join(sides) + " mm")
    facts = [
        f"{size} over all: from left to right, front to back, bottom to top",
        f"{_things(scene)}; isometric view from the front right",
    ]
    head, below = heading(title, facts, scale=None)
    top = below + BELOW_HEAD_PX
    height = min(TALLEST_PX, INNER_PX * drawing.height_mm / drawing.width_mm)
    spot = fitted(drawing.box, left_px=MARGIN_PX, top_px=top, width_px=INNER_PX, height_px=height)
    body = [*head, *line_art(drawing, spot, outline_px=WIDE_GROUP_PX)]
    return page(
        body,
        height_px=top + height + MARGIN_PX,
        title=f"{title}: the rig",
        says=f"{_things(scene)} as they stand together, hidden lines left out",
    )


def exploded_picture(title: str, scene: Scene) -> str:
    """Return a rig taken apart, each kind of thing numbered, the list below; SVG file's text.

    Args:
        title: What it is.
        scene: The rig.
    """
    sight = sight_of(scene.apart().things, ISOMETRIC)
    drawing = drawn_in(sight)
    seats = [ends for _, ends in unhidden(traces(scene), sight)]
    entries = entries_of(scene)
    facts = [f"Taken apart the way it goes together: {_things(scene)}"]
    head, below = heading(title, facts, scale=None)
    top = below + BELOW_HEAD_PX
    room = INNER_PX - 2 * COLUMN_PX
    scale = min(room / drawing.width_mm, TALLEST_PX / drawing.height_mm)
    balloons = ballooned(drawing, entries, radius_mm=RADIUS_PX / scale)
    reach = [one.centre[1] for one in balloons]
    box = drawing.box.copy()
    box[0, 1] = min([float(box[0, 1]), *(y - RADIUS_PX / scale for y in reach)])
    box[1, 1] = max([float(box[1, 1]), *(y + RADIUS_PX / scale for y in reach)])
    height = float(box[1, 1] - box[0, 1]) * scale
    spot = fitted(
        box, left_px=MARGIN_PX + COLUMN_PX, top_px=top, width_px=room, height_px=height + 1e-6
    )
    body = [
        *head,
        *line_art(drawing, spot),
        *axis_lines(seats, spot),
        *balloon_art(balloons, spot, radius_px=RADIUS_PX),
    ]
    listed, foot = _list(
        entries,
        seen={one.entry.number for one in balloons},
        steps={one.name: one.step for one in scene.things if one.step is not None},
        y_px=top + height + GAP_PX,
    )
    return page(
        [*body, *listed],
        height_px=foot + MARGIN_PX,
        title=f"{title}: taken apart",
        says=f"{_things(scene)} with air between them, numbered as listed below",
    )


def _things(scene: Scene) -> str:
    plates = sum(len(one.plates) for one in scene.things)
    bought = sum(not one.plates for one in scene.things)
    both = counted(plates, "plate")
    return both if not bought else f"{both} and {counted(bought, 'bought part')}"


def _list(
    entries: Sequence[Entry], *, seen: set[int], steps: Mapping[str, int], y_px: float
) -> tuple[list[str], float]:
    """Return the parts list in columns, and how far down it reaches.

    Args:
        entries: The list.
        seen: Numbers of the entries that have a balloon.
        steps: Which step brings a thing in, by its name.
        y_px: Where it begins.
    """
    texts = [
        (f"{one.count} {_TIMES} " if one.count > 1 else "")
        + one.label
        + ("" if one.number in seen else " *")
        for one in entries
    ]
    widest = max(text_width_px(text, size_px=LIST_PX) for text in texts) + 2.6 * LIST_PX
    columns = int(np.clip(INNER_PX // (widest + 16.0), 1, 3))
    rows = -(-len(texts) // columns)
    body = []
    y0 = y_px + LIST_PX
    for k, (entry, text) in enumerate(zip(entries, texts, strict=True)):
        x = MARGIN_PX + (k // rows) * INNER_PX / columns
        y = y0 + (k % rows) * 1.45 * LIST_PX
        number = text_line(
            str(entry.number),
            x_px=x + 1.6 * LIST_PX,
            y_px=y,
            size_px=LIST_PX,
            colour=INK,
            anchor="end",
            bold=True,
        )
        body += [
            number,
            text_line(text, x_px=x + 2.2 * LIST_PX, y_px=y, size_px=LIST_PX, colour=QUIET_INK),
        ]
    foot = y0 + (rows - 1) * 1.45 * LIST_PX
    if len(seen) < len(entries):
        more, base = paragraph(
            _hidden([one for one in entries if one.number not in seen], steps),
            x_px=MARGIN_PX,
            y_px=foot + 1.8 * LIST_PX,
            width_px=INNER_PX,
            size_px=LIST_PX,
        )
        body += more
        foot = base - LINE_EM * LIST_PX
    return body, foot + 0.3 * TEXT_PX


def _hidden(entries: Sequence[Entry], steps: Mapping[str, int]) -> str:
    """Return what is said of entries that are not seen: the steps in whose pictures they are."""
    found = sorted({steps[name] for one in entries for name in one.things if name in steps})
    where = f": see step{'' if len(found) == 1 else 's'} {', '.join(map(str, found))}"
    return f"* hidden behind others in this view{where if found else ''}"
