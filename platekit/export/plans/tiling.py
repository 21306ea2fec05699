"""Tiling: a part larger than a page cut into tiles that overlap, each the window of one page.

All places are plan coordinates: those of the part itself, so that a cross that stands on two tiles
is the same point of the part, and tiles are stuck together cross on cross.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from platekit.geometry.chains import Bounds, Contour
from platekit.geometry.profile import Profile
from platekit.geometry.tables import Floats, lengths, points_at

# A cross this long is found by eye and laid on its twin to a quarter of a millimetre.
CROSS_MM = 4.0
# Crosses along a seam stand at these shares of a tile's own length of it.
CROSSES_AT = (0.2, 0.8)
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
    """Return a part in the fewest tiles; the way of a page that needs fewer sheets is taken.

    Args:
        profile: The part.
        windows: Room of a page for each way it may lie.
        overlap_mm: By how much neighbours overlap.
        air_mm: Air around the part, so that its edge is not that of the page.
    """
    layouts = [_layout(profile, window, overlap_mm, air_mm) for window in windows]
    return min(layouts, key=lambda one: len(one.printed))


def _layout(
    profile: Profile, window: tuple[float, float], overlap_mm: float, air_mm: float
) -> Tiles:
    box = profile.bounds
    width, height = window
    columns, left = _spread(box.left - air_mm, box.right + air_mm, width, overlap_mm)
    rows, bottom = _spread(box.bottom - air_mm, box.top + air_mm, height, overlap_mm)
    step_x, step_y = width - overlap_mm, height - overlap_mm
    edges = edge_points(profile.rings, step_mm=STEP_MM)
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
        crosses=_crosses((left, bottom), (columns, rows), window, overlap_mm),
        overlap_mm=overlap_mm,
    )


def _spread(low: float, high: float, window: float, overlap_mm: float) -> tuple[int, float]:
    """Return how many windows cover a length, and where the first begins, the part amidst them."""
    count = max(1, math.ceil((high - low - overlap_mm) / (window - overlap_mm) - 1e-9))
    covered = count * (window - overlap_mm) + overlap_mm
    return count, (low + high - covered) / 2


def _crosses(
    corner: tuple[float, float],
    counts: tuple[int, int],
    window: tuple[float, float],
    overlap_mm: float,
) -> tuple[tuple[float, float], ...]:
    """Return crosses in the middle of every overlap, two for each pair of neighbours."""
    step = window[0] - overlap_mm, window[1] - overlap_mm
    seams = [
        [corner[axis] + k * step[axis] + overlap_mm / 2 for k in range(1, counts[axis])]
        for axis in (0, 1)
    ]
    along = [
        [
            corner[axis] + k * step[axis] + share * window[axis]
            for k in range(counts[axis])
            for share in CROSSES_AT
        ]
        for axis in (0, 1)
    ]
    upright = [(x, y) for x in seams[0] for y in along[1]]
    level = [(x, y) for y in seams[1] for x in along[0]]
    return (*upright, *level)


def edge_points(rings: Sequence[Contour], *, step_mm: float) -> Floats:
    """Return points along every ring, no further apart than a step, shape (n, 2)."""
    several = []
    for ring in rings:
        longest = float(np.max(lengths(ring.table)))
        count = max(2, math.ceil(longest / step_mm) + 1)
        several.append(points_at(ring.table, np.linspace(0.0, 1.0, count)).reshape(-1, 2))
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
