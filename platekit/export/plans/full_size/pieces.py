"""Pieces: what asks for room on a page in full size, with the label below it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from platekit.errors import PlatekitError
from platekit.export.plans.full_size.packing import Cell, fits
from platekit.export.plans.full_size.tiling import Tile, Tiles, strip
from platekit.export.plans.patterns import Pattern
from platekit.export.plans.printing.lettering import LEADING, SMALL_MM, TEXT_MM, broken
from platekit.export.plans.printing.paper import Paper

# Air between cells and around a part: room for a pencil and for scissors.
GAP_MM, AIR_MM = 4.0, 1.0
# A tile that shares its page is framed: its frame keeps off its edges.
STRIP_AIR_MM = 2.0
# A label narrower than this breaks into too many lines.
LABEL_MM = 42.0
LABEL_LINES = 4
# Nobody lines up more pages than this by hand (common practice, no source).
MOST_TILES = 150


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """What is written below a part: its name in bold, then what it is cut from."""

    names: tuple[str, ...] = ()
    words: tuple[str, ...] = ()

    @property
    def height_mm(self) -> float:
        """How high it stands, air above it included."""
        high = LEADING * (TEXT_MM * len(self.names) + SMALL_MM * len(self.words))
        return 1.5 + high if self.names else 0.0


NO_LABEL = Label()


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """What is to be laid on a page: a pattern, or a tile of it, with its label each way."""

    pattern: Pattern
    labels: tuple[Label, Label]
    tile: Tile | None = None
    tiles: Tiles | None = None

    @property
    def cell(self) -> Cell:
        """Return the room it asks for; a tile is not turned."""
        box = self.pattern.profile.bounds if self.tile is None else self.tile.box
        air = 2 * AIR_MM if self.tile is None else 0.0
        upright, turned = self.labels
        least = LABEL_MM if upright.names else 0.0
        size = (max(box.width_mm, least) + air, box.height_mm + air + upright.height_mm)
        if self.tile is not None:
            return Cell(size_mm=size, turned_mm=size)
        across = (max(box.height_mm, least) + air, box.width_mm + air + turned.height_mm)
        return Cell(size_mm=size, turned_mm=across)


# Pieces that lie side by side: one by itself, or the tiles of a narrow part.
Stack = tuple[Piece, ...]


def stack_cell(stack: Stack) -> Cell:
    """Return the room of pieces one below the other; of upright tiles, side by side."""
    (first, *others) = cells = [piece.cell for piece in stack]
    if not others:
        return first
    wide, high = zip(*(cell.size_mm for cell in cells), strict=True)
    gaps = GAP_MM * len(others)
    size = (max(wide), sum(high) + gaps) if is_level(stack) else (sum(wide) + gaps, max(high))
    return Cell(size_mm=size, turned_mm=size)


def is_level(stack: Stack) -> bool:
    """Return whether pieces lie one below the other."""
    tile = stack[0].tile
    return tile is None or tile.box.width_mm >= tile.box.height_mm


def whole_piece(pattern: Pattern) -> Piece:
    """Return a pattern that is whole on its page, with its labels."""
    box = pattern.profile.bounds
    upright, turned = (
        _label(pattern.name, pattern.words(turned=turned), room_mm=room)
        for turned, room in ((False, box.width_mm), (True, box.height_mm))
    )
    return Piece(pattern=pattern, labels=(upright, turned))


def _label(name: str, words: str, *, room_mm: float) -> Label:
    room = max(room_mm, LABEL_MM)
    return Label(
        names=broken(name, width_mm=room, size_mm=TEXT_MM, bold=True),
        words=broken(words, width_mm=room, size_mm=SMALL_MM),
    )


def strip_stack(pattern: Pattern, paper: Paper, overlap_mm: float) -> Stack:
    """Return the tiles of a narrow part, no larger than it needs, with their labels.

    Those that all lie on one page come before those that are fewer.

    Raises:
        PlatekitError: It takes too many.
    """
    require_few(pattern, paper)
    tries = []
    for width, height in paper.windows:
        # A label may take some lines.
        window = width, height - LABEL_LINES * LEADING * TEXT_MM
        tiles = strip(pattern.profile, window=window, overlap_mm=overlap_mm, air_mm=STRIP_AIR_MM)
        require_few(pattern, paper, tiles=len(tiles.printed))
        tries.append(tuple(_strip_pieces(pattern, tiles)))
    return min(tries, key=lambda one: (not fits(stack_cell(one), paper.windows), len(one)))


def _strip_pieces(pattern: Pattern, tiles: Tiles) -> Iterator[Piece]:
    names = [tile.name for tile in tiles.printed]
    lay = f"stick {' to '.join(names)}, cross on cross"
    for tile in tiles.printed:
        name = f"{pattern.name}, tile {tile.name}"
        level = tile.box.width_mm >= tile.box.height_mm
        room = tile.box.width_mm if level else LABEL_MM
        label = _label(name, f"{pattern.words()}; {lay}", room_mm=room)
        yield Piece(pattern=pattern, labels=(label, label), tile=tile, tiles=tiles)


def require_few(pattern: Pattern, paper: Paper, *, tiles: int = 0) -> None:
    """Raise if a part takes more tiles than anybody lines up.

    Args:
        pattern: The part.
        paper: What is printed on.
        tiles: How many it takes; before that is known, the pages that its area alone fills.

    Raises:
        PlatekitError: It does; the message says what paper to give.
    """
    page_mm2 = max(width * height for width, height in paper.windows)
    if max(tiles, pattern.profile.area_mm2 / page_mm2) > MOST_TILES:
        box = pattern.profile.bounds
        raise PlatekitError(
            f"at {box.width_mm:g} x {box.height_mm:g} mm it takes more than {MOST_TILES} pages of "
            f"{paper.name} to show it in full size",
            part=pattern.name,
            remedy="give larger paper or a roll: --paper A3, --paper WxH, --roll WIDTH",
        )
