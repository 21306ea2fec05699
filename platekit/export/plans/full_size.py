"""Full-size plans as values: which part lies where on which page, in true size.

Parts that fit a page are packed, each kind once however many are wanted; a part that fits no page
is tiled over several. Drawn they are in ``full_size_page``.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from platekit.errors import PlatekitError
from platekit.export.plans.furniture import CHECK_MM
from platekit.export.plans.lettering import LEADING, SMALL_MM, TEXT_MM, broken
from platekit.export.plans.packing import Cell, Packed, fits, packed
from platekit.export.plans.paper import FOOT_MM, HEAD_MM, MARGIN_MM, Paper
from platekit.export.plans.tiling import Tile, Tiles, tiled
from platekit.geometry.motion import Motion
from platekit.geometry.profile import Profile
from platekit.panel.part import Grain, Part

# Air between cells and around a part: room for a pencil and for scissors.
GAP_MM, AIR_MM = 4.0, 1.0
# A label narrower than this breaks into too many lines.
LABEL_MM = 42.0
# Nobody lines up more pages than this by hand (common practice, no source).
MOST_TILES = 150
# Pages of a roll are no shorter than their check square asks.
SHORTEST_MM = CHECK_MM - FOOT_MM + 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """A part on a page.

    Attributes:
        part: Which.
        motion: From the part's coordinates to the page's.
        label: Lines below it, the first in bold; none where the page's head says it.
        label_at: Left upper corner of the label, in the page's coordinates.
    """

    part: Part
    motion: Motion
    label: tuple[str, ...] = ()
    label_at: tuple[float, float] = (0.0, 0.0)

    @property
    def profile(self) -> Profile:
        """The part's outline in the page's coordinates."""
        return self.part.profile.moved(self.motion)


@dataclass(frozen=True, slots=True, kw_only=True)
class FullSizePage:
    """A page of plans at full size.

    Attributes:
        width_mm: Width of the page.
        height_mm: Height of the page.
        called: What is on it.
        laid: The parts on it; of a tile, the one part, larger than the page.
        tile: Which tile it is; None for a page of whole parts.
        tiles: All the tiles of its part.
    """

    width_mm: float
    height_mm: float
    called: str
    laid: tuple[Laid, ...]
    tile: Tile | None = None
    tiles: Tiles | None = None

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


def full_size_pages(
    parts: Sequence[Part], *, paper: Paper, overlap_mm: float
) -> tuple[FullSizePage, ...]:
    """Return every kind of part in true size on pages: whole ones first, then the tiled.

    Args:
        parts: Every kind of part.
        paper: What is printed on.
        overlap_mm: By how much tiles overlap.

    Raises:
        PlatekitError: The paper leaves no room.
    """
    labelled = {part.name: _label(part, turned=False) for part in parts}
    cells = {part.name: _cell(part, labelled[part.name]) for part in parts}
    bare = {part.name: _bare(part) for part in parts}
    small = [part for part in parts if fits(cells[part.name], paper.windows)]
    alone = [part for part in parts if part not in small and fits(bare[part.name], paper.windows)]
    large = [part for part in parts if part not in small and part not in alone]
    pages = [
        _packed_page(page, small, paper)
        for page in packed([cells[one.name] for one in small], windows=paper.windows, gap_mm=GAP_MM)
    ]
    for one in alone:
        (page,) = packed([bare[one.name]], windows=paper.windows, gap_mm=GAP_MM)
        pages.append(_packed_page(page, [one], paper, labelled=False))
    for one in large:
        pages += _tile_pages(one, paper, overlap_mm)
    return tuple(pages)


def is_tiled(part: Part, paper: Paper) -> bool:
    """Return whether a part is larger than a page, however both lie."""
    return not fits(_bare(part), paper.windows)


def words_on(part: Part) -> str:
    """Return what a part is cut from and how often: "birch plywood 6 mm, make 2"."""
    return f"{part.sheet.name}, make {part.quantity}"


def _label(part: Part, *, turned: bool) -> tuple[str, ...]:
    box = part.profile.bounds
    across = box.height_mm if turned else box.width_mm
    room = max(across, LABEL_MM)
    grain = _grain(part, turned=turned)
    says = words_on(part) + (f", {grain}" if grain else "")
    return (
        *broken(part.name, width_mm=room, size_mm=TEXT_MM, bold=True),
        *broken(says, width_mm=room, size_mm=SMALL_MM),
    )


def _grain(part: Part, *, turned: bool) -> str:
    if part.grain is Grain.ANY or not part.sheet.grain:
        return ""
    level = (part.grain is Grain.ALONG_X) != turned
    return "grain left to right" if level else "grain up and down"


def label_height_mm(label: Sequence[str]) -> float:
    """Return how high a label stands, air above it included."""
    return 1.0 + LEADING * TEXT_MM * len(label) if label else 0.0


def _cell(part: Part, label: Sequence[str]) -> Cell:
    upright, turned = (label_height_mm(one) for one in (label, _label(part, turned=True)))
    box = part.profile.bounds
    air = 2 * AIR_MM
    return Cell(
        size_mm=(max(box.width_mm, LABEL_MM) + air, box.height_mm + air + upright),
        turned_mm=(max(box.height_mm, LABEL_MM) + air, box.width_mm + air + turned),
    )


def _bare(part: Part) -> Cell:
    box, air = part.profile.bounds, 2 * AIR_MM
    width, height = box.width_mm + air, box.height_mm + air
    return Cell(size_mm=(width, height), turned_mm=(height, width))


def _packed_page(
    page: Packed, parts: Sequence[Part], paper: Paper, *, labelled: bool = True
) -> FullSizePage:
    height = page.height_mm
    if paper.height_mm is None:  # a roll ends where its last part does
        used = max(_end(spot.down_mm, parts[spot.cell], turned=spot.turned) for spot in page.spots)
        height = max(used, SHORTEST_MM)
    top = MARGIN_MM + FOOT_MM + height
    laid = []
    for spot in page.spots:
        part = parts[spot.cell]
        turned = part.profile.moved(Motion(turn_deg=90.0 if spot.turned else 0.0))
        box = turned.bounds
        left, head = MARGIN_MM + spot.left_mm + AIR_MM, top - spot.down_mm - AIR_MM
        laid.append(
            Laid(
                part=part,
                motion=Motion(
                    turn_deg=90.0 if spot.turned else 0.0,
                    dx_mm=left - box.left,
                    dy_mm=head - box.top,
                ),
                label=_label(part, turned=spot.turned) if labelled else (),
                label_at=(left, head - box.height_mm - 1.0),
            )
        )
    names = ", ".join(one.part.name for one in laid)
    says = names if labelled else f"{names}: {words_on(parts[0])}"
    return FullSizePage(
        width_mm=page.width_mm + 2 * MARGIN_MM,
        height_mm=height + 2 * MARGIN_MM + HEAD_MM + FOOT_MM,
        called=f"full size: {says}",
        laid=tuple(laid),
    )


def _end(down_mm: float, part: Part, *, turned: bool) -> float:
    cell = _cell(part, _label(part, turned=False))
    return down_mm + (cell.turned_mm if turned else cell.size_mm)[1]


def _tile_pages(part: Part, paper: Paper, overlap_mm: float) -> Iterator[FullSizePage]:
    windows = paper.windows
    if paper.height_mm is None:  # a roll is no longer than the part
        wanted = max(part.profile.bounds.height_mm + 2 * AIR_MM, SHORTEST_MM)
        windows = tuple((width, min(height, wanted)) for width, height in windows)
    tiles = tiled(part.profile, windows=windows, overlap_mm=overlap_mm, air_mm=AIR_MM)
    total = len(tiles.printed)
    if total > MOST_TILES:
        box = part.profile.bounds
        raise PlatekitError(
            f"at {box.width_mm:g} x {box.height_mm:g} mm it takes {total} pages of "
            f"{paper.name} to show it in full size",
            part=part.name,
            remedy="give larger paper or a roll: --paper A3, --paper WxH, --roll WIDTH",
        )
    for tile in tiles.printed:
        shift = Motion(dx_mm=MARGIN_MM - tile.box.left, dy_mm=MARGIN_MM + FOOT_MM - tile.box.bottom)
        width, height = tile.box.width_mm, tile.box.height_mm
        yield FullSizePage(
            width_mm=width + 2 * MARGIN_MM,
            height_mm=height + 2 * MARGIN_MM + HEAD_MM + FOOT_MM,
            called=f"{part.name} {tile.number}/{total}: row {tile.row}, column {tile.column}",
            laid=(Laid(part=part, motion=shift),),
            tile=tile,
            tiles=tiles,
        )
