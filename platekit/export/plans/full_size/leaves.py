"""Full-size plans on paper: nominal outlines for the saw, holes with centres for the drill."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from platekit.export.figures import format_mm
from platekit.export.plans.full_size.pages import FullSizePage, Laid
from platekit.export.plans.full_size.tile_marks import (
    MAP_AIR_MM,
    frame_of,
    map_room_mm,
    tile_map,
    tile_marks,
)
from platekit.export.plans.full_size.tiling import STEP_MM, edge_points
from platekit.export.plans.printing.furniture import (
    ARM_MM,
    Leaf,
    check_side_mm,
    head,
    shortened,
)
from platekit.export.plans.printing.lettering import CAPITAL, LEADING, SMALL_MM, TEXT_MM, width_of
from platekit.export.plans.printing.paper import FOOT_MM, MARGIN_MM
from platekit.export.plans.printing.pens import FAINT, FINE, QUIET, SCORED, THIN, Stroke
from platekit.export.plans.printing.placing import Ground, around
from platekit.export.plans.printing.press import Press
from platekit.geometry.chains import Contour
from platekit.geometry.motion import Motion

# A centre mark reaches so far beyond its hole, or a part of the way in a large one.
BEYOND_MM = 1.5
LARGE_MM, MARK_MM = 12.0, 4.0
HOLE_MM = 2.2  # size of the type beside holes
DIAMETER = "\N{LATIN CAPITAL LETTER O WITH STROKE}"
# Words at the foot keep off the ticks of the check square.
WORDS_IN_MM = 2.5
# The first that has room is said.
PRINT_AT = (
    "Print at 100 %, not fitted to the page: the check square must measure {side:g} mm.",
    "Print at 100 %; square: {side:g} mm.",
)
TILE_WORDS = (
    "{words}. Lay cross on cross and stick down; the page that joins is named in each overlap.",
    "{words}. Lay pages over each other, cross on cross, and stick them down.",
    "{words}. Lay cross on cross.",
    "{words}",
)
NOMINAL = (
    "Nominal outlines, no allowance for the saw: cut beside the line, then file to it.",
    "Nominal outlines: cut beside the line.",
)


def full_size_leaf(page: FullSizePage, *, title: str) -> Leaf:
    """Return a page of plans at full size, ready to be drawn."""

    def draw(press: Press, number: str) -> None:
        _draw(press, page, leaf, title=title, number=number)

    leaf = Leaf(width_mm=page.width_mm, height_mm=page.height_mm, called=page.called, draw=draw)
    return leaf


def _draw(press: Press, page: FullSizePage, leaf: Leaf, *, title: str, number: str) -> None:
    head(press, leaf, title=title, says=f"scale 1:1 - {page.called}", number=number)
    _foot(press, page)
    ground = Ground(_square_boxes(check_side_mm(page.width_mm, page.height_mm)))
    for one in page.laid:
        frame = frame_of(one) or page.window
        left, bottom, right, top = frame
        with press.within(left, bottom, right - left, top - bottom):
            _part(press, one, ground, frame)
        tile_marks(press, one, ground)
        _label(press, one)
    tile_map(press, page)


def _square_boxes(side_mm: float) -> Iterator[tuple[float, float, float, float]]:
    """Yield what the upper corners of the check square take."""
    top = MARGIN_MM + side_mm
    yield MARGIN_MM, top - ARM_MM, MARGIN_MM + ARM_MM, top
    yield MARGIN_MM + side_mm - ARM_MM, top - ARM_MM, MARGIN_MM + side_mm, top


def _part(
    press: Press, laid: Laid, ground: Ground, window: tuple[float, float, float, float]
) -> None:
    rings = laid.pattern.profile.rings
    seen = [ring.moved(laid.motion) for ring in rings if _meets(ring, laid.motion, window)]
    press.chains(seen, stroke=THIN)
    marks = [mark for mark in laid.pattern.part.marks if not mark.is_name]
    for layer, colour in (("score", SCORED), ("note", FAINT)):
        drawn = [mark.path.moved(laid.motion) for mark in marks if mark.layer == layer]
        press.chains(drawn, stroke=Stroke(width_mm=0.18, colour=colour))
    if seen:
        points = edge_points(seen, step_mm=STEP_MM)
        inside = np.all((points >= window[:2]) & (points <= window[2:]), axis=1)
        ground.take_points(points[inside])
    rounds = [ring for ring in seen if ring.is_circle]
    for ring in rounds:
        _centre_mark(press, ring, ground)
    for ring in rounds:
        # The edge of a disc runs counter-clockwise, that of a hole the other way.
        _diameter(press, ring, ground, window, outer=ring.is_ccw)


def _label(press: Press, laid: Laid) -> None:
    x, y = laid.label_at
    for lines, size in ((laid.label.names, TEXT_MM), (laid.label.words, SMALL_MM)):
        for line in lines:
            y -= LEADING * size
            bold = size == TEXT_MM
            press.text(line, x, y + (LEADING - 1.0) * size, size_mm=size, bold=bold)


def _meets(ring: Contour, motion: Motion, window: tuple[float, float, float, float]) -> bool:
    """Return whether a ring, moved by quarter turns, may be seen in a window."""
    box = ring.bounds
    x, y = zip(
        motion.apply((box.left, box.bottom)), motion.apply((box.right, box.top)), strict=True
    )
    return (
        min(x) <= window[2] and max(x) >= window[0] and min(y) <= window[3] and max(y) >= window[1]
    )


def _centre_mark(press: Press, ring: Contour, ground: Ground) -> None:
    centre, radius = ring.bounds.centre, ring.bounds.width_mm / 2
    reach = radius + BEYOND_MM if radius < LARGE_MM else MARK_MM
    press.lines(
        (
            ((centre.x - reach, centre.y), (centre.x + reach, centre.y)),
            ((centre.x, centre.y - reach), (centre.x, centre.y + reach)),
        ),
        stroke=FINE,
    )
    ground.take((centre.x - reach, centre.y, centre.x + reach, centre.y))
    ground.take((centre.x, centre.y - reach, centre.x, centre.y + reach))


def _diameter(
    press: Press,
    ring: Contour,
    ground: Ground,
    window: tuple[float, float, float, float],
    *,
    outer: bool,
) -> None:
    """Write a diameter beside a hole or inside a disc, where there is room.

    Only where the centre is on the page.
    """
    centre, radius = ring.bounds.centre, ring.bounds.width_mm / 2
    if not (window[0] <= centre.x <= window[2] and window[1] <= centre.y <= window[3]):
        return
    said = f"{DIAMETER}{format_mm(2 * radius, decimals=2)}"
    size = width_of(said, size_mm=HOLE_MM) + 0.6, HOLE_MM * CAPITAL + 0.6
    if outer:
        tries = [(centre.x - size[0] / 2, centre.y + s * (radius - 4.0)) for s in (1.0, -1.0)]
    else:
        inside = around((centre.x, centre.y), reach_mm=1.0, size_mm=size)
        beside = around((centre.x, centre.y), reach_mm=radius + BEYOND_MM + 0.5, size_mm=size)
        tries = [*(inside if radius > LARGE_MM else ()), *beside]
    places = [
        (x, y)
        for x, y in tries
        if window[0] <= x
        and x + size[0] <= window[2]
        and window[1] <= y
        and y + size[1] <= window[3]
    ]
    found = ground.place(places, size)
    if found is not None:
        press.text(said, found[0] + 0.3, found[1] + 0.3, size_mm=HOLE_MM)


def _foot(press: Press, page: FullSizePage) -> None:
    left, right = MARGIN_MM, page.width_mm - MARGIN_MM
    wide = map_room_mm(page)
    room = right - left - WORDS_IN_MM - (wide + MAP_AIR_MM if wide else 0.0)
    press.line((left, MARGIN_MM + FOOT_MM - 1.5), (right, MARGIN_MM + FOOT_MM - 1.5), stroke=FINE)
    words = page.laid[0].pattern.words()
    side = check_side_mm(page.width_mm, page.height_mm)
    y = MARGIN_MM + FOOT_MM - 1.5 - LEADING * SMALL_MM
    for choice in (NOMINAL if page.alone is None else TILE_WORDS, PRINT_AT):
        lines = [one.format(words=words, side=side) for one in choice]
        fitting = (one for one in lines if width_of(one, size_mm=SMALL_MM) <= room)
        said = shortened(next(fitting, lines[-1]), width_mm=room, size_mm=SMALL_MM)
        press.text(said, left + WORDS_IN_MM, y, size_mm=SMALL_MM, colour=QUIET)
        y -= LEADING * SMALL_MM
