"""Full-size plans on paper: nominal outlines for the saw, holes with centres for the drill."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from platekit.export.figures import format_mm
from platekit.export.plans.full_size import FullSizePage, Laid, words_on
from platekit.export.plans.furniture import (
    ARM_MM,
    Leaf,
    check_side_mm,
    head,
    shortened,
    square_words_mm,
)
from platekit.export.plans.lettering import CAPITAL, LEADING, SMALL_MM, TEXT_MM, width_of
from platekit.export.plans.paper import FOOT_MM, MARGIN_MM
from platekit.export.plans.placing import Ground, around
from platekit.export.plans.press import FAINT, FINE, INK, QUIET, SCORED, THIN, Press, Stroke
from platekit.export.plans.tiling import CROSS_MM, STEP_MM, Tile, Tiles, edge_points
from platekit.geometry.chains import Contour
from platekit.geometry.motion import Motion
from platekit.panel.part import Part

# A centre mark reaches so far beyond its hole, or a part of the way in a large one.
BEYOND_MM = 1.5
LARGE_MM, MARK_MM = 12.0, 4.0
HOLE_MM = 2.2  # size of the type beside holes
DIAMETER = "\N{LATIN CAPITAL LETTER O WITH STROKE}"
SEAM = Stroke(width_mm=0.18, colour=FAINT, dash_mm=(2.0, 1.5))
CROSS = Stroke(width_mm=0.18, colour=INK)
MAP_MM = (30.0, 14.0)
# Smaller type than this nobody reads: the map goes without numbers, the head has them; where there
# is no room beside the check square and its words, there is no map.
LEAST_FIGURE_MM, LEAST_MAP_MM, MAP_AIR_MM = 0.8, 10.0, 3.0
# The first that has room is said.
PRINT_AT = (
    "Print at 100 %, not fitted to the page: the check square must measure {side:g} mm.",
    "Print at 100 %; square: {side:g} mm.",
)
TILE_WORDS = (
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
    head(press, leaf, title=title, says=f"{page.called} - scale 1:1", number=number)
    _foot(press, page)
    left, bottom, right, top = page.window
    ground = Ground(_square_boxes(check_side_mm(page.width_mm, page.height_mm)))
    with press.within(left, bottom, right - left, top - bottom):
        for one in page.laid:
            _part(press, one, ground, page.window)
    if page.tile is not None and page.tiles is not None:
        _tile(press, page, page.tile, page.tiles)


def _square_boxes(side_mm: float) -> Iterator[tuple[float, float, float, float]]:
    """Yield what the upper corners of the check square take."""
    top = MARGIN_MM + side_mm
    yield MARGIN_MM, top - ARM_MM, MARGIN_MM + ARM_MM, top
    yield MARGIN_MM + side_mm - ARM_MM, top - ARM_MM, MARGIN_MM + side_mm, top


def _part(
    press: Press, laid: Laid, ground: Ground, window: tuple[float, float, float, float]
) -> None:
    rings = laid.part.profile.rings
    seen = [ring.moved(laid.motion) for ring in rings if _meets(ring, laid.motion, window)]
    press.chains(seen, stroke=THIN)
    marks = [mark for mark in laid.part.marks if not mark.is_name]
    for layer, colour in (("score", SCORED), ("note", FAINT)):
        drawn = [mark.path.moved(laid.motion) for mark in marks if mark.layer == layer]
        press.chains(drawn, stroke=Stroke(width_mm=0.18, colour=colour))
    if seen:
        points = edge_points(seen, step_mm=2 * STEP_MM)
        inside = np.all((points >= window[:2]) & (points <= window[2:]), axis=1)
        ground.take_points(points[inside])
    rounds = [ring for ring in seen if ring.is_circle]
    for ring in rounds:
        _centre_mark(press, ring)
    for ring in rounds:
        # The edge of a disc runs counter-clockwise, that of a hole the other way.
        _diameter(press, ring, ground, window, outer=ring.is_ccw)
    x, y = laid.label_at
    for k, line in enumerate(laid.label):
        y -= LEADING * (TEXT_MM if k == 0 else SMALL_MM)
        press.text(
            line,
            x,
            y + (LEADING - 1.0) * SMALL_MM,
            size_mm=TEXT_MM if k == 0 else SMALL_MM,
            bold=k == 0,
        )


def _meets(ring: Contour, motion: Motion, window: tuple[float, float, float, float]) -> bool:
    """Return whether a ring, moved by quarter turns, may be seen in a window."""
    box = ring.bounds
    x, y = zip(
        motion.apply((box.left, box.bottom)), motion.apply((box.right, box.top)), strict=True
    )
    return (
        min(x) <= window[2] and max(x) >= window[0] and min(y) <= window[3] and max(y) >= window[1]
    )


def _centre_mark(press: Press, ring: Contour) -> None:
    centre, radius = ring.bounds.centre, ring.bounds.width_mm / 2
    reach = radius + BEYOND_MM if radius < LARGE_MM else MARK_MM
    press.lines(
        (
            ((centre.x - reach, centre.y), (centre.x + reach, centre.y)),
            ((centre.x, centre.y - reach), (centre.x, centre.y + reach)),
        ),
        stroke=FINE,
    )


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
    room = right - left - (MAP_MM[0] + 4.0 if page.tile is not None else 0.0)
    press.line((left, MARGIN_MM + FOOT_MM - 1.5), (right, MARGIN_MM + FOOT_MM - 1.5), stroke=FINE)
    words = words_on(page.laid[0].part)
    side = check_side_mm(page.width_mm, page.height_mm)
    y = MARGIN_MM + FOOT_MM - 1.5 - LEADING * SMALL_MM
    for choice in (NOMINAL if page.tile is None else TILE_WORDS, PRINT_AT):
        lines = [one.format(words=words, side=side) for one in choice]
        wide = (one for one in lines if width_of(one, size_mm=SMALL_MM) <= room)
        said = shortened(next(wide, lines[-1]), width_mm=room, size_mm=SMALL_MM)
        press.text(said, left, y, size_mm=SMALL_MM, colour=QUIET)
        y -= LEADING * SMALL_MM


def _tile(press: Press, page: FullSizePage, tile: Tile, tiles: Tiles) -> None:
    """Draw a tile's frame, where its neighbours begin, its crosses and the map."""
    left, bottom, right, top = page.window
    press.box(left, bottom, right - left, top - bottom, stroke=Stroke(width_mm=0.18, colour=FAINT))
    lap = tiles.overlap_mm
    there = {(one.row, one.column) for one in tiles.printed}
    if (tile.row, tile.column - 1) in there:
        press.line((left + lap, bottom), (left + lap, top), stroke=SEAM)
    if (tile.row, tile.column + 1) in there:
        press.line((right - lap, bottom), (right - lap, top), stroke=SEAM)
    if (tile.row - 1, tile.column) in there:
        press.line((left, top - lap), (right, top - lap), stroke=SEAM)
    if (tile.row + 1, tile.column) in there:
        press.line((left, bottom + lap), (right, bottom + lap), stroke=SEAM)
    arm = min(CROSS_MM, lap / 2 - 0.5)
    motion = page.laid[0].motion
    for place in tiles.crosses:
        x, y = motion.apply(place)
        if left <= x - arm and x + arm <= right and bottom <= y - arm and y + arm <= top:
            press.lines((((x - arm, y), (x + arm, y)), ((x, y - arm), (x, y + arm))), stroke=CROSS)
            # Two dark quarters, so that nobody takes it for a hole to be drilled.
            for way in (0.6 * arm, -0.6 * arm):
                press.area((x, y), (x + way, y), (x, y + way), fill=CROSS.colour)
    _map(press, page, tile, tiles)


def _map(press: Press, page: FullSizePage, tile: Tile, tiles: Tiles) -> None:
    """Draw the map: every tile of the part, this one dark, those that need no page left out."""
    side = check_side_mm(page.width_mm, page.height_mm)
    width = page.width_mm - 2 * MARGIN_MM - side - square_words_mm(side) - MAP_AIR_MM
    width, height = min(width, MAP_MM[0]), MAP_MM[1]
    if width < LEAST_MAP_MM:
        return
    part: Part = page.laid[0].part
    box_w = (tiles.tiles[-1].box.right - tiles.tiles[0].box.left) or 1.0
    box_h = (tiles.tiles[0].box.top - tiles.tiles[-1].box.bottom) or 1.0
    scale = min(width / box_w, height / box_h)
    left = page.width_mm - MARGIN_MM - box_w * scale
    bottom = MARGIN_MM
    origin = tiles.tiles[0].box.left, tiles.tiles[-1].box.bottom
    for one in tiles.printed:
        x = left + (one.box.left - origin[0]) * scale
        y = bottom + (one.box.bottom - origin[1]) * scale
        w, h = one.box.width_mm * scale, one.box.height_mm * scale
        here = one.number == tile.number
        press.box(x, y, w, h, stroke=FINE, fill="#d9d9d9" if here else "")
    with press.moved(left - origin[0] * scale, bottom - origin[1] * scale, scale=scale):
        outline = Stroke(width_mm=0.12 / scale)
        press.chains([part.profile.outer], stroke=outline)
    cell = tiles.tiles[0].box
    size = min(SMALL_MM, 0.5 * scale * cell.height_mm, 0.5 * scale * cell.width_mm)
    if size < LEAST_FIGURE_MM:
        return
    for one in tiles.printed:
        middle = one.box.centre
        press.text(
            f"{one.number}",
            left + (middle.x - origin[0]) * scale,
            bottom + (middle.y - origin[1]) * scale - size * CAPITAL / 2,
            size_mm=size,
            anchor="middle",
            bold=one.number == tile.number,
        )
