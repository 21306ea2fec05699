"""Full-size plans as values: which part lies where on which page, in true size.

Parts that fit a page are packed, each pattern once however many are wanted; a part that fits no
page is tiled over several, and tiles of a narrow one share pages. Drawn they are in
``leaves``.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from platekit.export.plans.full_size.packing import Cell, Packed, fits, packed
from platekit.export.plans.full_size.pieces import (
    AIR_MM,
    GAP_MM,
    NO_LABEL,
    Label,
    Piece,
    Stack,
    is_level,
    require_few,
    stack_cell,
    strip_stack,
    whole_piece,
)
from platekit.export.plans.full_size.tiling import Tile, Tiles, tiled
from platekit.export.plans.patterns import Pattern, patterns_of
from platekit.export.plans.printing.furniture import CHECK_MM
from platekit.export.plans.printing.paper import FOOT_MM, HEAD_MM, MARGIN_MM, Paper
from platekit.geometry.motion import Motion
from platekit.panel.part import Part

# Pages of a roll are no shorter than their check square asks.
SHORTEST_MM = CHECK_MM - FOOT_MM + 2.0
# Tiles that take no more than this of a page's height or width share pages.
NARROW = 0.48


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """A pattern on a page, or a tile of it.

    Attributes:
        pattern: Which.
        motion: From the part's coordinates to the page's.
        label: What stands below it; nothing where the page's head and foot say it.
        label_at: Left upper corner of the label, in the page's coordinates.
        tile: What of it the page shows; None for all.
        tiles: All the tiles it comes in.
    """

    pattern: Pattern
    motion: Motion
    label: Label = NO_LABEL
    label_at: tuple[float, float] = (0.0, 0.0)
    tile: Tile | None = None
    tiles: Tiles | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class FullSizePage:
    """A page of plans at full size.

    Attributes:
        width_mm: Width of the page.
        height_mm: Height of the page.
        called: What is on it, in words for its head.
        laid: What is on it, in its place.
    """

    width_mm: float
    height_mm: float
    called: str
    laid: tuple[Laid, ...]

    @property
    def window(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top of what a plan may fill."""
        bottom = MARGIN_MM + FOOT_MM
        return (
            MARGIN_MM,
            bottom,
            self.width_mm - MARGIN_MM,
            self.height_mm - MARGIN_MM - HEAD_MM,
        )

    @property
    def alone(self) -> Laid | None:
        """The tile that fills the page; None for a page of several things or a whole part."""
        (first, *others) = self.laid
        return first if first.tile is not None and not others and not first.label.names else None


def full_size_pages(
    parts: Sequence[Part], *, paper: Paper, overlap_mm: float
) -> tuple[FullSizePage, ...]:
    """Return every pattern in true size on pages: those that share pages first, then the tiled.

    Args:
        parts: Every kind of part.
        paper: What is printed on.
        overlap_mm: By how much tiles overlap.

    Raises:
        PlatekitError: The paper leaves no room.
    """
    sharing: list[Stack] = []
    alone: list[Piece] = []
    large: list[Pattern] = []
    for pattern in patterns_of(parts):
        whole = whole_piece(pattern)
        if fits(whole.cell, paper.windows):
            sharing.append((whole,))
        elif not is_tiled(pattern.part, paper):
            alone.append(Piece(pattern=pattern, labels=(NO_LABEL, NO_LABEL)))
        elif _is_narrow(pattern, paper):
            sharing.append(strip_stack(pattern, paper, overlap_mm))
        else:
            large.append(pattern)
    pages = [*_packed_pages(sharing, paper)]
    for one in alone:
        pages += _packed_pages([(one,)], paper)
    for each in large:
        pages += _tile_pages(each, paper, overlap_mm)
    return tuple(pages)


def is_tiled(part: Part, paper: Paper) -> bool:
    """Return whether a part is larger than a page, however both lie."""
    box, air = part.profile.bounds, 2 * AIR_MM
    width, height = box.width_mm + air, box.height_mm + air
    return not fits(Cell(size_mm=(width, height), turned_mm=(height, width)), paper.windows)


def _is_narrow(pattern: Pattern, paper: Paper) -> bool:
    """Return whether a part's tiles are narrow enough to share pages; a roll needs no sharing."""
    if paper.height_mm is None:
        return False
    box, (width, height) = pattern.profile.bounds, paper.windows[0]
    if box.width_mm >= box.height_mm:
        return box.height_mm <= NARROW * height
    return box.width_mm <= NARROW * width


def _packed_pages(stacks: Sequence[Stack], paper: Paper) -> Iterator[FullSizePage]:
    """Yield pages of what shares them; the tiles of a part stay together if that costs no page."""
    single = [(piece,) for stack in stacks for piece in stack]
    whole = [
        some
        for stack in stacks
        for some in (
            [stack] if fits(stack_cell(stack), paper.windows) else [(one,) for one in stack]
        )
    ]
    choices = [
        (some, [stack_cell(stack) for stack in some])
        for some in ((whole,) if len(whole) == len(single) else (whole, single))
    ]
    found = [
        (packed(cells, windows=paper.windows, gap_mm=GAP_MM), some, cells)
        for some, cells in choices
    ]
    pages, some, cells = min(found, key=lambda one: len(one[0]))
    for page in pages:
        yield _packed_page(page, some, cells, is_roll=paper.height_mm is None)


def _packed_page(
    page: Packed, stacks: Sequence[Stack], cells: Sequence[Cell], *, is_roll: bool
) -> FullSizePage:
    reach = [
        (spot.left_mm + size[0], spot.down_mm + size[1])
        for spot in page.spots
        for size in [cells[spot.cell].lying(turned=spot.turned)]
    ]
    wide, high = max(one[0] for one in reach), max(one[1] for one in reach)
    # A roll ends where its last part does; on a sheet what is laid stands in the middle.
    height = max(high, SHORTEST_MM) if is_roll else page.height_mm
    off = 0.0 if is_roll else (page.width_mm - wide) / 2, (height - high) / 2
    top = MARGIN_MM + FOOT_MM + height - off[1]
    laid: list[Laid] = []
    for spot in page.spots:
        corner = MARGIN_MM + off[0] + spot.left_mm, top - spot.down_mm
        level = is_level(stacks[spot.cell])
        for piece in stacks[spot.cell]:
            laid.append(_laid(piece, corner, turned=spot.turned))
            wide, high = piece.cell.size_mm
            corner = (
                (corner[0], corner[1] - high - GAP_MM)
                if level
                else (corner[0] + wide + GAP_MM, corner[1])
            )
    names = _names(laid)
    says = names if laid[0].label.names else f"{names}: {laid[0].pattern.words()}"
    return FullSizePage(
        width_mm=page.width_mm + 2 * MARGIN_MM,
        height_mm=height + 2 * MARGIN_MM + HEAD_MM + FOOT_MM,
        called=f"full size: {says}",
        laid=tuple(laid),
    )


def _names(laid: Sequence[Laid]) -> str:
    """Return what is on a page in words, the tiles of a part behind its name."""
    tiles: dict[str, list[str]] = {}
    for one in laid:
        tiles.setdefault(one.pattern.name, []).extend([one.tile.name] if one.tile else [])
    several = any(tiles.values())
    said = [
        f"{name}, tile{'s' if len(some) > 1 else ''} {', '.join(some)}" if some else name
        for name, some in tiles.items()
    ]
    return ("; " if several else ", ").join(said)


def _laid(piece: Piece, corner: tuple[float, float], *, turned: bool) -> Laid:
    """Return a piece with its cell's left upper corner at a place."""
    turn = 90.0 if turned else 0.0
    if piece.tile is None:
        box, air = piece.pattern.profile.moved(Motion(turn_deg=turn)).bounds, AIR_MM
    else:
        box, air = piece.tile.box, 0.0
    left, top = corner[0] + air, corner[1] - air
    return Laid(
        pattern=piece.pattern,
        motion=Motion(turn_deg=turn, dx_mm=left - box.left, dy_mm=top - box.top),
        label=piece.labels[1 if turned else 0],
        label_at=(left, top - box.height_mm - 1.0),
        tile=piece.tile,
        tiles=piece.tiles,
    )


def _tile_pages(whole: Pattern, paper: Paper, overlap_mm: float) -> Iterator[FullSizePage]:
    require_few(whole, paper)
    tries = [(_tiles(one, paper, overlap_mm), one) for one in (whole, whole.turned())]
    tiles, pattern = min(tries, key=lambda one: len(one[0].printed))
    require_few(whole, paper, tiles=len(tiles.printed))
    total = len(tiles.printed)
    for tile in tiles.printed:
        shift = Motion(dx_mm=MARGIN_MM - tile.box.left, dy_mm=MARGIN_MM + FOOT_MM - tile.box.bottom)
        width, height = tile.box.width_mm, tile.box.height_mm
        place = f"row {tile.name.rstrip('0123456789')}, column {tile.column}"
        yield FullSizePage(
            width_mm=width + 2 * MARGIN_MM,
            height_mm=height + 2 * MARGIN_MM + HEAD_MM + FOOT_MM,
            called=f"{pattern.name} {tile.name}: tile {tile.number} of {total}, {place}",
            laid=(Laid(pattern=pattern, motion=shift, tile=tile, tiles=tiles),),
        )


def _tiles(pattern: Pattern, paper: Paper, overlap_mm: float) -> Tiles:
    windows = paper.windows
    if paper.height_mm is None:  # a roll is no longer than the part
        wanted = max(pattern.profile.bounds.height_mm + 2 * AIR_MM, SHORTEST_MM)
        windows = tuple((width, min(height, wanted)) for width, height in windows)
    return tiled(pattern.profile, windows=windows, overlap_mm=overlap_mm, air_mm=AIR_MM)
