"""Turns and poses: every part in each turn it may take, measured first, rastered if it fits."""

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
from platekit.geometry.profile import Profile
from platekit.nesting.cells.raster import TOUCH_CELLS, Block, Floats, Mask, blocks, cells_touched
from platekit.nesting.cells.rooms import Room, Sizes
from platekit.nesting.values import QUARTER_TURNS, NestPart

# A part free to take any turn is tried square to the sheet as drawn and lying on each of its
# longest sides: more turns cost time and rarely find a better place.
SIDES_TRIED = 4

# A hole counts as too small for a part only when it is so by more than every rounding.
HOLE_SLACK_MM = 1e-3


@dataclass(frozen=True)
class Turn:
    """One part in one turn, measured exactly and not rastered: it may be far too large.

    Attributes:
        rotation_deg: The turn.
        profile: The part so turned.
        mirrored: Whether it lies face down: it was mirrored before it was turned.
    """

    rotation_deg: float
    profile: Profile
    mirrored: bool = False

    @cached_property
    def width_mm(self) -> float:
        """The part's extent along x."""
        return self.profile.bounds.width_mm

    @cached_property
    def height_mm(self) -> float:
        """The part's extent along y."""
        return self.profile.bounds.height_mm

    @cached_property
    def covered(self) -> Cover:
        """The part's cover, all its holes included."""
        return cover(self.profile)

    def fits(self, room: Room) -> bool:
        """Return whether the part, so turned, fits the empty room."""
        if not room.admits(width_mm=self.width_mm, height_mm=self.height_mm):
            return False
        return room.ground is None or room.ground.admits(self.covered)


@dataclass(frozen=True, slots=True)
class Kind:
    """A part with its turns.

    Attributes:
        part: The part as given.
        turns: Those it may take.
        hull_mm2: Area of the convex hull.
    """

    part: NestPart
    turns: tuple[Turn, ...]
    hull_mm2: float

    def sizes_in(self, room: Room) -> Sizes | None:
        """Return the sizes of the turns that fit the room; None when none does."""
        sizes = tuple((turn.width_mm, turn.height_mm) for turn in self.turns if turn.fits(room))
        return Sizes(sizes, self.part.quantity) if sizes else None


@dataclass(frozen=True)
class Pose:
    """One part in one turn, on cells of one size.

    Attributes:
        rotation_deg: The turn.
        covered: The turned part's cover.
        growth_mm: Half the gap: how far the raster stands off the part.
        cell_mm: Size of a cell.
        mirrored: Whether it was mirrored first.
    """

    rotation_deg: float
    covered: Cover
    growth_mm: float
    cell_mm: float
    mirrored: bool = False

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


class Openings:
    """Which holes any part could go into, or a hole of an offcut: all others need no look.

    Args:
        turns: Every turn that fits some room.
        gap_mm: Kept free all round.
        islands: Sizes of the offcuts' holes, what is kept free around them included.
    """

    __slots__ = ("_least",)

    def __init__(
        self,
        turns: Iterable[Turn],
        *,
        gap_mm: float,
        islands: Iterable[tuple[float, float]] = (),
    ) -> None:
        around = 2 * gap_mm - HOLE_SLACK_MM
        sizes = {(turn.width_mm + around, turn.height_mm + around) for turn in turns}
        sizes |= {(width - HOLE_SLACK_MM, height - HOLE_SLACK_MM) for width, height in islands}
        self._least: list[tuple[float, float]] = []  # no size in it is within another
        for width, height in sorted(sizes):
            if not self._least or height < self._least[-1][1]:
                self._least.append((width, height))

    def without_lost_holes(self, profile: Profile) -> Profile:
        """Return the profile with only those holes that may hold a part."""
        kept = []
        for ring in profile.inners:
            box = ring.bounds
            if any(box.width_mm >= w and box.height_mm >= h for w, h in self._least):
                kept.append(ring)
        return Profile.trusted(profile.outer, kept)


def whole_cells(length_mm: float, *, cell_mm: float) -> int:
    """Return how many cells cover a length."""
    return max(int(np.ceil(length_mm / cell_mm - TOUCH_CELLS)), 1)


def kinds_of(parts: Iterable[NestPart]) -> tuple[Kind, ...]:
    """Return every part with its turns, in the order given."""
    return tuple(_kind(part) for part in parts)


def poses_in(
    kinds: Sequence[Kind], rooms: Sequence[tuple[Room, float]]
) -> tuple[tuple[tuple[Pose, ...], ...], ...]:
    """Return, for each room with its size of cell, the poses of each kind that fit it.

    Turns that leave the same cells and size are given once. Rooms with cells of one size share
    their poses.
    """
    fitting = [
        turn for kind in kinds for turn in kind.turns if any(turn.fits(room) for room, _ in rooms)
    ]
    gap = rooms[0][0].gap_mm
    grounds = [room.ground for room, _ in rooms if room.ground is not None]
    islands = [size for ground in grounds for size in ground.islands]
    openings = Openings(fitting, gap_mm=gap, islands=islands)
    made: dict[tuple[int, bool, float, float], Pose] = {}

    def pose(k: int, turn: Turn, cell: float) -> Pose:
        key = (k, turn.mirrored, turn.rotation_deg, cell)
        if key not in made:
            covered = cover(openings.without_lost_holes(turn.profile))
            made[key] = Pose(turn.rotation_deg, covered, gap / 2, cell, turn.mirrored)
        return made[key]

    return tuple(
        tuple(
            _distinct_looks(pose(k, turn, cell) for turn in kind.turns if turn.fits(room))
            for k, kind in enumerate(kinds)
        )
        for room, cell in rooms
    )


def _distinct_looks(poses: Iterable[Pose]) -> tuple[Pose, ...]:
    looks: dict[tuple[object, ...], Pose] = {}
    for pose in poses:
        looks.setdefault((pose.blocks, round(pose.width_mm, 6), round(pose.height_mm, 6)), pose)
    return tuple(looks.values())


def _kind(part: NestPart) -> Kind:
    """Return a part with its turns; those face down come last: most look like one face up."""
    upright = cover(part.profile)
    flat = (
        [float(angle) for angle in hull_edge_angles_deg(upright)[:SIDES_TRIED]]
        if part.rotations_deg is None
        else []
    )
    turns = []
    for mirrored in (False, True) if part.mirror else (False,):
        angles = part.rotations_deg
        if angles is None:  # mirrored, a side at a degrees lies at 180 - a
            sides = [angle if mirrored else -angle for angle in flat]
            angles = (*QUARTER_TURNS, *(a + q for a in sides for q in QUARTER_TURNS))
        for angle in _distinct(angles):
            motion = Motion(turn_deg=angle, mirrored=mirrored)
            turns.append(Turn(angle, part.profile.moved(motion), mirrored))
    return Kind(part, tuple(turns), hull_area_mm2(upright))


def _distinct(angles: Sequence[float]) -> list[float]:
    """Return the angles within one turn, each once, in the order given."""
    found: list[float] = []
    for angle in angles:
        turn = float(angle) % 360.0
        if all(abs(turn - other) > 1e-9 for other in found):
            found.append(turn)
    return found
