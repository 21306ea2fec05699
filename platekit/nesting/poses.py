"""Poses: every part in each turn it may take, measured and rastered once for all sheets."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from platekit.geometry.motion import Motion
from platekit.geometry.packing_covers import (
    Cover,
    cover,
    grown_rings,
    hull_area_mm2,
    hull_edge_angles_deg,
)
from platekit.nesting.raster import TOUCH_CELLS, Block, Floats, Mask, blocks, cells_touched
from platekit.nesting.values import QUARTER_TURNS, NestPart

# A part free to take any turn is tried square to the sheet as drawn and lying on each of its
# longest sides: more turns cost time and rarely find a better place.
SIDES_TRIED = 4


@dataclass(frozen=True)
class Pose:
    """One part in one turn, on cells of one size.

    Attributes:
        rotation_deg: The turn.
        covered: The turned part's cover.
        growth_mm: Half the gap: how far the raster stands off the part.
        cell_mm: Size of a cell.
    """

    rotation_deg: float
    covered: Cover
    growth_mm: float
    cell_mm: float

    @property
    def width_mm(self) -> float:
        """The part's own extent along x."""
        return self.covered.bounds.width_mm

    @property
    def height_mm(self) -> float:
        """The part's own extent along y."""
        return self.covered.bounds.height_mm

    @property
    def columns(self) -> int:
        """Cells the grown part spans along x."""
        return whole_cells(self.width_mm + 2 * self.growth_mm, cell_mm=self.cell_mm)

    @property
    def rows(self) -> int:
        """Cells the grown part spans along y."""
        return whole_cells(self.height_mm + 2 * self.growth_mm, cell_mm=self.cell_mm)

    @cached_property
    def rings(self) -> tuple[Floats, ...]:
        """Rings of the grown part in cells, its lower left corner at the origin."""
        bounds = self.covered.bounds
        corner = (bounds.left - self.growth_mm, bounds.bottom - self.growth_mm)
        grown = grown_rings(self.covered, growth_mm=self.growth_mm)
        return tuple((ring - corner) / self.cell_mm for ring in grown)

    @cached_property
    def blocks(self) -> tuple[Block, ...]:
        """The cells the grown part touches when its corner lies on a cell's corner."""
        return blocks(cells_touched(self.rings, columns=self.columns, rows=self.rows))

    def mask_at(self, column: float, row: float) -> tuple[Mask, int, int]:
        """Return the cells touched with the corner anywhere, and the first column and row.

        Args:
            column: The corner's place along x, in cells; need not be whole.
            row: The same along y.
        """
        first, columns = self._span(column, self.width_mm)
        lowest, rows = self._span(row, self.height_mm)
        moved = [ring + np.array([column - first, row - lowest]) for ring in self.rings]
        return cells_touched(moved, columns=columns, rows=rows), first, lowest

    def _span(self, start: float, size_mm: float) -> tuple[int, int]:
        """Return the first cell and the number of cells of the grown part along one axis."""
        first = int(np.floor(start + TOUCH_CELLS))
        end = start + (size_mm + 2 * self.growth_mm) / self.cell_mm
        return first, max(int(np.ceil(end - TOUCH_CELLS)) - first, 1)


@dataclass(frozen=True, slots=True)
class Kind:
    """A part with its poses.

    Attributes:
        part: The part as given.
        poses: One a turn; turns that leave the same cells and size are given once.
        hull_mm2: Area of the convex hull.
    """

    part: NestPart
    poses: tuple[Pose, ...]
    hull_mm2: float


def whole_cells(length_mm: float, *, cell_mm: float) -> int:
    """Return how many cells cover a length."""
    return max(int(np.ceil(length_mm / cell_mm - TOUCH_CELLS)), 1)


def kinds_of(parts: Iterable[NestPart], *, gap_mm: float, cell_mm: float) -> tuple[Kind, ...]:
    """Return every part with its poses, in the order given."""
    return tuple(_kind(part, gap_mm=gap_mm, cell_mm=cell_mm) for part in parts)


def _kind(part: NestPart, *, gap_mm: float, cell_mm: float) -> Kind:
    upright = cover(part.profile)
    angles = part.rotations_deg
    if angles is None:
        flat = [-float(angle) for angle in hull_edge_angles_deg(upright)[:SIDES_TRIED]]
        angles = (*QUARTER_TURNS, *(a + q for a in flat for q in QUARTER_TURNS))
    poses: list[Pose] = []
    seen: set[tuple[object, ...]] = set()
    for angle in _distinct(angles):
        turned = cover(part.profile.moved(Motion(turn_deg=angle)))
        pose = Pose(angle, turned, gap_mm / 2, cell_mm)
        look = (pose.blocks, round(pose.width_mm, 6), round(pose.height_mm, 6))
        if look not in seen:
            seen.add(look)
            poses.append(pose)
    return Kind(part, tuple(poses), hull_area_mm2(upright))


def _distinct(angles: Sequence[float]) -> list[float]:
    """Return the angles within one turn, each once, in the order given."""
    found: list[float] = []
    for angle in angles:
        turn = float(angle) % 360.0
        if all(abs(turn - other) > 1e-9 for other in found):
            found.append(turn)
    return found
