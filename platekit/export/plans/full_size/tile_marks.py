"""Marks of a tile: its frame, where its neighbours begin and which they are, crosses, the map."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from platekit.export.plans.full_size.pages import FullSizePage, Laid
from platekit.export.plans.full_size.tiling import CROSS_MM, Tile, Tiles
from platekit.export.plans.printing.furniture import check_side_mm, square_words_mm
from platekit.export.plans.printing.lettering import CAPITAL, SMALL_MM, width_of
from platekit.export.plans.printing.paper import MARGIN_MM
from platekit.export.plans.printing.pens import FAINT, FINE, INK, QUIET, Stroke
from platekit.export.plans.printing.placing import Ground
from platekit.export.plans.printing.press import Press

Box = tuple[float, float, float, float]

FRAME = Stroke(width_mm=0.18, colour=FAINT)
SEAM = Stroke(width_mm=0.18, colour=FAINT, dash_mm=(2.0, 1.5))
CROSS = Stroke(width_mm=0.18, colour=INK)
HERE = "#d9d9d9"
MAP_MM = (36.0, 15.0)
# Smaller type than this nobody reads: the map goes without names, the head has them; where there is
# no room beside the check square and its words, there is no map.
LEAST_NAME_MM, LEAST_MAP_MM, MAP_AIR_MM = 0.8, 9.0, 3.0
# Where along a seam its neighbour's name may stand, as shares of its length.
NAMED_AT = (0.5, 0.4, 0.6, 0.3, 0.7, 0.1, 0.9)


def frame_of(laid: Laid) -> Box | None:
    """Return left, bottom, right and top of a tile on its page; None of a whole part."""
    if laid.tile is None:
        return None
    (left, bottom), (right, top) = (
        laid.motion.apply(corner)
        for box in [laid.tile.box]
        for corner in ((box.left, box.bottom), (box.right, box.top))
    )
    return left, bottom, right, top


def tile_marks(press: Press, laid: Laid, ground: Ground) -> None:
    """Draw a tile's frame, its seams with the names of its neighbours, and its crosses."""
    tile, tiles, frame = laid.tile, laid.tiles, frame_of(laid)
    if tile is None or tiles is None or frame is None:
        return
    left, bottom, right, top = frame
    press.box(left, bottom, right - left, top - bottom, stroke=FRAME)
    arm = min(CROSS_MM, tiles.overlap_mm / 2 - 0.5)
    for place in tiles.crosses:
        x, y = laid.motion.apply(place)
        if left <= x - arm and x + arm <= right and bottom <= y - arm and y + arm <= top:
            ground.take((x - arm, y - arm, x + arm, y + arm))
            press.lines((((x - arm, y), (x + arm, y)), ((x, y - arm), (x, y + arm))), stroke=CROSS)
            # Two dark quarters, so that nobody takes it for a hole to be drilled.
            for way in (0.6 * arm, -0.6 * arm):
                press.area((x, y), (x + way, y), (x, y + way), fill=CROSS.colour)
    for line, strip, name in _seams(tile, tiles, frame):
        press.line(*line, stroke=SEAM)
        _name(press, name, strip, ground)


def _seams(
    tile: Tile, tiles: Tiles, frame: Box
) -> Iterator[tuple[tuple[tuple[float, float], tuple[float, float]], Box, str]]:
    """Yield where a neighbour begins, the strip that both show, and the neighbour's name."""
    left, bottom, right, top = frame
    lap = tiles.overlap_mm
    there = {(one.row, one.column): one.name for one in tiles.printed}
    row, column = tile.row, tile.column
    for place, line, strip in (
        (
            (row, column - 1),
            ((left + lap, bottom), (left + lap, top)),
            (left, bottom, left + lap, top),
        ),
        (
            (row, column + 1),
            ((right - lap, bottom), (right - lap, top)),
            (right - lap, bottom, right, top),
        ),
        ((row - 1, column), ((left, top - lap), (right, top - lap)), (left, top - lap, right, top)),
        (
            (row + 1, column),
            ((left, bottom + lap), (right, bottom + lap)),
            (left, bottom, right, bottom + lap),
        ),
    ):
        if place in there:
            yield line, strip, there[place]


def _name(press: Press, name: str, strip: Box, ground: Ground) -> None:
    """Write a neighbour's name into the strip that both show, where nothing else stands."""
    size = width_of(name, size_mm=SMALL_MM) + 1.0, SMALL_MM * CAPITAL + 1.0
    spare = np.array([strip[2] - strip[0] - size[0], strip[3] - strip[1] - size[1]])
    level = spare[0] > spare[1]
    tries = [
        (
            strip[0] + (share if level else 0.5) * spare[0],
            strip[1] + (0.5 if level else share) * spare[1],
        )
        for share in NAMED_AT
    ]
    at = ground.place(tries, size)
    if at is not None:
        press.text(name, at[0] + 0.5, at[1] + 0.5, size_mm=SMALL_MM, colour=QUIET)


def map_room_mm(page: FullSizePage) -> float:
    """Return how wide a map of the tiles may be at the foot of a page; 0 for no map."""
    side = check_side_mm(page.width_mm, page.height_mm)
    room = page.width_mm - 2 * MARGIN_MM - side - square_words_mm(side) - MAP_AIR_MM
    return 0.0 if room < LEAST_MAP_MM or page.alone is None else min(room, MAP_MM[0])


def tile_map(press: Press, page: FullSizePage) -> None:
    """Draw every tile of the page's part, its own grey; tiles that need no page are left out."""
    laid = page.alone
    if laid is None or laid.tile is None or laid.tiles is None or not map_room_mm(page):
        return
    tiles, profile = laid.tiles, laid.pattern.profile
    low, high = tiles.tiles[-tiles.columns].box, tiles.tiles[tiles.columns - 1].box
    wide, tall = high.right - low.left, high.top - low.bottom
    scale = min(map_room_mm(page) / wide, MAP_MM[1] / tall)
    left, bottom = page.width_mm - MARGIN_MM - wide * scale, MARGIN_MM + FINE.width_mm / 2

    def at(x: float, y: float) -> tuple[float, float]:
        return left + (x - low.left) * scale, bottom + (y - low.bottom) * scale

    for one in tiles.printed:
        here = one.number == laid.tile.number
        x, y = at(one.box.left, one.box.bottom)
        w, h = one.box.width_mm * scale, one.box.height_mm * scale
        press.box(x, y, w, h, stroke=FRAME, fill=HERE if here else "")
    with press.moved(left - low.left * scale, bottom - low.bottom * scale, scale=scale):
        press.chains([profile.outer], stroke=Stroke(width_mm=0.15 / scale))
    size = min(SMALL_MM, 0.5 * scale * low.height_mm, 0.35 * scale * low.width_mm)
    if size < LEAST_NAME_MM:
        return
    for one in tiles.printed:
        x, y = at(one.box.centre.x, one.box.centre.y)
        bold = one.number == laid.tile.number
        press.text(one.name, x, y - size * CAPITAL / 2, size_mm=size, anchor="middle", bold=bold)
