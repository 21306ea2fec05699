"""Tiling: a part larger than a page cut into tiles that overlap, each the window of one page.

All places are plan coordinates: those of the part itself, so that a cross that stands on two tiles
is the same point of the part, and tiles are stuck together cross on cross.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product

import numpy as np

from platekit.geometry.chains import Bounds, Contour
from platekit.geometry.profile import Profile
from platekit.geometry.tables import Floats, lengths, points_at

# A cross this long is found by eye and laid on its twin to a quarter of a millimetre.
CROSS_MM = 4.0
# The two crosses along a seam stand at these shares of a tile's own length of it, the first that is
# clear of edges.
CROSSES_AT = ((0.2, 0.16, 0.24, 0.28, 0.32, 0.36), (0.8, 0.84, 0.76, 0.72, 0.68, 0.64))
# Letters of rows from above, figures of columns from the left; I and O left out (ISO 5457,
# fields of a drawing, from memory).
_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
# A part lies so far over the edge of its first and last page, or it is better moved.
SLIVER_MM = 25.0
# Places tried for a part on its pages, as shares of the room that is left over.
SHARES = (0.5, 0.25, 0.75, 0.0, 1.0)
# More tiles than this are laid in one way alone: nobody prints so many twice to see.
FEW = 40
# A strip is no thinner than two crosses one above the other ask.
THINNEST_MM = 24.0
# Edges are followed in steps of this to see which tiles they pass.
STEP_MM = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Tile:
    """One page's share of a part.

    Attributes:
        number: From 1, as the eye reads: left to right, the upper row first; 0 for a blank one.
        row: From 1, from above.
        column: From 1, from the left.
        box: What of the plan it shows.
        blank: Whether there is nothing on it to saw or to see: it needs no paper.
    """

    number: int
    row: int
    column: int
    box: Bounds
    blank: bool

    @property
    def name(self) -> str:
        """Row and column in short, as fields of a drawing are named: "B3"."""
        letters, left = "", self.row
        while left:
            left, letter = divmod(left - 1, len(_LETTERS))
            letters = _LETTERS[letter] + letters
        return f"{letters}{self.column}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Tiles:
    """A part in tiles.

    Attributes:
        rows: How many above each other.
        columns: How many beside each other.
        tiles: Every tile, those that are blank included.
        crosses: Where registration crosses stand; each is on all tiles that show the place.
        overlap_mm: By how much neighbours overlap.
    """

    rows: int
    columns: int
    tiles: tuple[Tile, ...]
    crosses: tuple[tuple[float, float], ...]
    overlap_mm: float

    @property
    def printed(self) -> tuple[Tile, ...]:
        """The tiles that need paper."""
        return tuple(tile for tile in self.tiles if not tile.blank)


def tiled(
    profile: Profile, *, windows: Sequence[tuple[float, float]], overlap_mm: float, air_mm: float
) -> Tiles:
    """Return a part in the fewest tiles, as few of its openings as can be cut by their edges.

    The way a page lies and where the part lies on the pages are chosen: by the number of pages,
    then so that no page has but a sliver of the part, then by openings that are whole on no page,
    then the middle.

    Args:
        profile: The part.
        windows: Room of a page for each way it may lie.
        overlap_mm: By how much neighbours overlap.
        air_mm: Air around the part, so that its edge is not that of the page.
    """
    edges = edge_points(profile.rings, step_mm=STEP_MM)
    openings = [ring.bounds for ring in profile.inners]

    def rank(one: tuple[float, Tiles]) -> tuple[int, int, int, float]:
        off, tiles = one
        boxes = [tile.box for tile in tiles.printed]
        return (
            len(boxes),
            sum(_is_sliver(box, profile.bounds) for box in boxes),
            sum(not any(_holds(box, opening) for box in boxes) for opening in openings),
            off,
        )

    tries = [
        (abs(x - 0.5) + abs(y - 0.5), _layout(profile, edges, window, (overlap_mm, air_mm), (x, y)))
        for window in windows
        for x, y in _shares(profile.bounds, window, overlap_mm)
    ]
    _, best = min(tries, key=rank)
    return replace(best, crosses=_crosses(best, edges))


def _shares(
    part: Bounds, window: tuple[float, float], overlap_mm: float
) -> Iterator[tuple[float, float]]:
    """Yield shares of the room left over that are tried; the middle alone where tiles are many."""
    columns, rows = (
        max(1.0, size / max(room - overlap_mm, 1.0))
        for size, room in zip((part.width_mm, part.height_mm), window, strict=True)
    )
    some = SHARES if columns * rows <= FEW else SHARES[:1]
    return product(some, some)


def strip(
    profile: Profile, *, window: tuple[float, float], overlap_mm: float, air_mm: float
) -> Tiles:
    """Return a long part in tiles side by side along its longer side, no larger than it needs.

    They are alike in size, so that several lie on one page.

    Args:
        profile: The part.
        window: Room of a page.
        overlap_mm: By how much neighbours overlap.
        air_mm: Air around the part.
    """
    box = profile.bounds
    along = 0 if box.width_mm >= box.height_mm else 1
    length = max(box.width_mm, box.height_mm) + 2 * air_mm
    across = max(min(box.width_mm, box.height_mm) + 2 * air_mm, THINNEST_MM)
    count = max(1, math.ceil((length - overlap_mm) / (window[along] - overlap_mm) - 1e-9))
    each = (length + (count - 1) * overlap_mm) / count
    size = (each, across) if along == 0 else (across, each)
    edges = edge_points(profile.rings, step_mm=STEP_MM)
    tiles = _layout(profile, edges, size, (overlap_mm, air_mm), (0.5, 0.5))
    return replace(tiles, crosses=_crosses(tiles, edges))


def _layout(
    profile: Profile,
    edges: Floats,
    window: tuple[float, float],
    overlap_air_mm: tuple[float, float],
    shares: tuple[float, float],
) -> Tiles:
    overlap_mm, air_mm = overlap_air_mm
    box = profile.bounds
    width, height = window
    columns, left = _spread(box.left - air_mm, box.right + air_mm, width, overlap_mm, shares[0])
    rows, bottom = _spread(box.bottom - air_mm, box.top + air_mm, height, overlap_mm, shares[1])
    step_x, step_y = width - overlap_mm, height - overlap_mm
    tiles: list[Tile] = []
    for row in range(rows):
        for column in range(columns):
            x, y = left + column * step_x, bottom + (rows - 1 - row) * step_y
            tile = Bounds(x, y, x + width, y + height)
            blank = _is_blank(tile, profile, edges)
            number = 0 if blank else 1 + sum(not one.blank for one in tiles)
            tiles.append(Tile(number=number, row=row + 1, column=column + 1, box=tile, blank=blank))
    return Tiles(
        rows=rows,
        columns=columns,
        tiles=tuple(tiles),
        crosses=(),
        overlap_mm=overlap_mm,
    )


def _is_sliver(tile: Bounds, part: Bounds) -> bool:
    """Return whether a tile shows but an edge of a part."""
    wide = min(tile.right, part.right) - max(tile.left, part.left)
    high = min(tile.top, part.top) - max(tile.bottom, part.bottom)
    return wide < min(SLIVER_MM, part.width_mm) or high < min(SLIVER_MM, part.height_mm)


def _holds(tile: Bounds, box: Bounds) -> bool:
    return (
        tile.left <= box.left
        and box.right <= tile.right
        and tile.bottom <= box.bottom
        and box.top <= tile.top
    )


def _spread(
    low: float, high: float, window: float, overlap_mm: float, share: float
) -> tuple[int, float]:
    """Return how many windows cover a length, and where the first begins.

    Of the room that is left over, a share stands before the length.
    """
    count = max(1, math.ceil((high - low - overlap_mm) / (window - overlap_mm) - 1e-9))
    covered = count * (window - overlap_mm) + overlap_mm
    return count, low - share * (covered - (high - low))


def _crosses(tiles: Tiles, edges: Floats) -> tuple[tuple[float, float], ...]:
    """Return crosses in the middle of every overlap, two for each pair of neighbours.

    They keep off edges, where there is room.
    """
    first, overlap_mm = tiles.tiles[-tiles.columns].box, tiles.overlap_mm
    corner, window = (first.left, first.bottom), (first.width_mm, first.height_mm)
    counts = tiles.columns, tiles.rows
    step = window[0] - overlap_mm, window[1] - overlap_mm
    seams = [
        [corner[axis] + k * step[axis] + overlap_mm / 2 for k in range(1, counts[axis])]
        for axis in (0, 1)
    ]
    crosses = []
    for axis in (0, 1):
        other = 1 - axis
        for seam in seams[axis]:
            beside = edges[np.abs(edges[:, axis] - seam) < CROSS_MM + STEP_MM]
            for k in range(counts[other]):
                begin = corner[other] + k * step[other]
                for shares in CROSSES_AT:
                    along = [begin + share * window[other] for share in shares]
                    places = [(seam, one) if axis == 0 else (one, seam) for one in along]
                    crosses.append(next((at for at in places if _is_clear(at, beside)), places[0]))
    return tuple(crosses)


def _is_clear(at: tuple[float, float], edges: Floats) -> bool:
    """Return whether a cross at a place touches no edge."""
    return not bool(np.any(np.all(np.abs(edges - at) < CROSS_MM + STEP_MM, axis=1)))


def edge_points(rings: Sequence[Contour], *, step_mm: float) -> Floats:
    """Return points along every ring, no further apart than a step, shape (n, 2)."""
    several = []
    for ring in rings:
        # Rows of about one length are followed together, in as many steps as the longest takes.
        steps = np.maximum(1, np.ceil(lengths(ring.table) / step_mm))
        about = np.ceil(np.log2(steps)).astype(int)
        for power in np.unique(about):
            shares = np.linspace(0.0, 1.0, 2 ** int(power) + 1)
            several.append(points_at(ring.table[about == power], shares).reshape(-1, 2))
    return np.concatenate(several)


def _is_blank(box: Bounds, profile: Profile, edges: Floats) -> bool:
    """Return whether no edge passes a tile and its middle is air."""
    inside = (
        (edges[:, 0] >= box.left - STEP_MM)
        & (edges[:, 0] <= box.right + STEP_MM)
        & (edges[:, 1] >= box.bottom - STEP_MM)
        & (edges[:, 1] <= box.top + STEP_MM)
    )
    return not inside.any() and not profile.contains(box.centre)
