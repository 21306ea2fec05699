"""Lightening: pockets that leave a web of a given width to everything else on the plate.

Whole cells of a regular grid, rounded, of which those stay that keep clear of the edge, of every
cut and of every part's room by the web. No cell is clipped, so the webs between cells all have
one width and the pattern stays even.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from platekit.errors import PartError, UnknownNameError, concerning
from platekit.geometry.chains import Bounds, Chain, Contour, closed_polyline
from platekit.geometry.corners import fillet
from platekit.geometry.gaps import gaps_between
from platekit.geometry.motion import Motion
from platekit.geometry.shapes import rectangle, regular_polygon
from platekit.panel.feature import Feature
from platekit.panel.measures import require_length
from platekit.panel.plate import Fitted

if TYPE_CHECKING:
    from platekit.panel.plate import Plate

Pattern = Literal["triangles", "squares", "hexagons"]
PATTERNS = ("triangles", "squares", "hexagons")
MOST_CELLS = 4_000
# The grid may lie anywhere; the best of these shifts, as parts of one pitch, is kept.
SHIFTS = (0.0, 0.25, 0.5, 0.75)


@dataclass(frozen=True, slots=True)
class _Lightening:
    web_mm: float
    cell_mm: float
    fillet_mm: float
    pattern: str
    name: str

    def fitted_to(self, plate: Plate) -> Feature:
        label = self.name or "lightening"
        with concerning(feature=label):
            cells = self._cells()
            obstacles: list[Chain] = [*plate.edge.rings]
            for one in plate.features:
                obstacles += [*one.rooms, *(mark.path for mark in one.marks)]
                obstacles += [] if one.opens_edge else one.cuts
            best: list[Contour] = []
            for dx in SHIFTS:
                for dy in SHIFTS:
                    kept = self._kept(cells, plate, obstacles, dx, dy)
                    if len(kept) > len(best):
                        best = kept
            if not best:
                raise PartError(
                    f"no pocket of {self.cell_mm:g} mm fits with webs of {self.web_mm:g} mm",
                    remedy="make the pockets or the web smaller, or leave lightening out",
                )
        return Feature(
            kind="lightening",
            name=self.name,
            cuts=tuple(best),
            at=(0.0, 0.0),
            web_mm=self.web_mm,
        )

    def _cells(self) -> list[Contour]:
        """Return the shapes of the pattern about (0, 0): one, or a triangle and its opposite."""
        size = self.cell_mm
        if self.pattern == "squares":
            cells = [rectangle(size, size, centre=(0.0, 0.0))]
        elif self.pattern == "hexagons":
            cells = [regular_polygon(6, across_flats_mm=size, start_deg=30.0)]
        else:
            up = closed_polyline(
                [
                    (0.0, 2 * size / 3),
                    (-size / math.sqrt(3), -size / 3),
                    (size / math.sqrt(3), -size / 3),
                ]
            )
            cells = [up, up.moved(Motion(turn_deg=180.0))]
        if self.fillet_mm:
            cells = [fillet(cell, radius_mm=self.fillet_mm) for cell in cells]
        return cells

    def _spots(self, box: Bounds) -> Iterator[tuple[int, float, float]]:
        """Yield cell and centre all over `box` and one pitch beyond, from its middle outwards."""
        at = box.centre
        step_x, step_y, row_shift, inner = _GRIDS[self.pattern](self.cell_mm, self.web_mm)
        columns = math.ceil(box.width_mm / 2 / step_x) + 2
        rows = math.ceil(box.height_mm / 2 / step_y) + 2
        if (2 * columns + 1) * (2 * rows + 1) * len(inner) > MOST_CELLS:
            raise PartError(
                f"pockets of {self.cell_mm:g} mm would be more than {MOST_CELLS}",
                remedy="make them larger",
            )
        for j in range(-rows, rows + 1):
            for i in range(-columns, columns + 1):
                for cell, x, y in inner:
                    shift = row_shift if j % 2 else 0.0
                    yield cell, at.x + i * step_x + shift + x, at.y + j * step_y + y

    def _kept(
        self, cells: list[Contour], plate: Plate, obstacles: list[Chain], dx: float, dy: float
    ) -> list[Contour]:
        step_x, step_y, _, _ = _GRIDS[self.pattern](self.cell_mm, self.web_mm)
        edge = plate.edge
        box = edge.bounds
        placed = []
        reach = self.cell_mm  # no cell is larger across
        for cell, x, y in self._spots(box):
            cx, cy = x + dx * step_x, y + dy * step_y
            inside = (
                box.left + reach / 3 < cx < box.right - reach / 3
                and box.bottom + reach / 3 < cy < box.top - reach / 3
            )
            if inside:
                placed.append(cells[cell].moved(Motion(dx_mm=cx, dy_mm=cy)))
        # A hair inside the web: cells laid exactly a web apart must not lose to rounding.
        near = {gap.first for gap in gaps_between(placed, obstacles, within_mm=self.web_mm - 1e-9)}
        rooms = [room for one in plate.features for room in (*one.rooms, *one.cuts)]
        kept = []
        for k, pocket in enumerate(placed):
            if k in near or not edge.contains(pocket.start):
                continue
            if any(_holds(room, pocket) or _holds(pocket, room) for room in rooms):
                continue
            kept.append(pocket)
        return kept


def _holds(outer: Contour, inner: Contour) -> bool:
    a, b = outer.bounds, inner.bounds
    boxed = a.left <= b.left and a.right >= b.right and a.bottom <= b.bottom and a.top >= b.top
    return boxed and outer.encloses(inner.start)


Grid = tuple[float, float, float, tuple[tuple[int, float, float], ...]]


def _square_grid(cell: float, web: float) -> Grid:
    return cell + web, cell + web, 0.0, ((0, 0.0, 0.0),)


def _hexagon_grid(cell: float, web: float) -> Grid:
    pitch = cell + web
    return pitch, pitch * math.sqrt(3) / 2, pitch / 2, ((0, 0.0, 0.0),)


def _triangle_grid(cell: float, web: float) -> Grid:
    """Return a row of triangles up and down, `cell` high; slanting and level webs `web` wide."""
    # Up and down triangle share a slanting web: the whole lattice is one of triangles of height
    # cell + web, each shrunk about its own centre until its sides stand half a web inside.
    height = cell + 1.5 * web
    side = 2 * height / math.sqrt(3)
    return side, height, side / 2, ((0, 0.0, 0.0), (1, side / 2, height / 3))


_GRIDS = {"squares": _square_grid, "hexagons": _hexagon_grid, "triangles": _triangle_grid}


def lightening(
    *,
    web_mm: float,
    cell_mm: float,
    fillet_mm: float | None = None,
    pattern: Pattern = "triangles",
    name: str = "",
) -> Fitted:
    """Return pockets that make a plate lighter and leave a web to everything else.

    Give it last: it keeps clear of the features that are there when it is added.

    Args:
        web_mm: Least material between pockets, and from a pocket to the edge, to every cut, mark
            and part's room.
        cell_mm: Size of one pocket: height of a triangle, side of a square, hexagon from flat to
            flat.
        fillet_mm: Radius of a pocket's corners; left out, a tenth of its size. A sharp corner
            starts a crack.
        pattern: "triangles" (stiffest), "squares" or "hexagons".
        name: Name of its own.

    Raises:
        PartError: A size that cannot be, or no pocket fits (said when it is placed).
        UnknownNameError: There is no such pattern.
        GeometryError: The radius does not fit a pocket.
    """
    if pattern not in PATTERNS:
        raise UnknownNameError.among("pattern", pattern, PATTERNS)
    web = require_length(web_mm, "web_mm")
    cell = require_length(cell_mm, "cell_mm")
    radius = cell / 10 if fillet_mm is None else require_length(fillet_mm, "fillet_mm", zero=True)
    made = _Lightening(web, cell, radius, pattern, name)
    made._cells()  # noqa: SLF001 - a radius that does not fit is said here, not when placed
    return made
