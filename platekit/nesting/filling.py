"""Filling one sheet: each part in turn to the leftmost, lowest place that is free."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from enum import Enum

from platekit.geometry.packing_bed import Bed, Vicinity
from platekit.nesting.occupancy import Occupancy
from platekit.nesting.poses import Kind, Pose, whole_cells

# Free cells a flush fit may still refuse (corners grown by chords): look at a few more places
# before passing the pose over.
PLACES_TRIED = 24

# A part may be larger than its room by this rounding, and a flush one is shoved out of touch by
# at most so many nudges: together less than the 1e-6 mm to which a nesting is verified.
FIT_MM = 1e-7
NUDGE_MM = 2.5e-8
NUDGES = 32

SETTLE_ROUNDS = 4  # left and down by turns, a cell at most each; wedged parts creep ever less
REACH_CELLS = SETTLE_ROUNDS + 1  # how far settling can carry a part: who may be in its way
SETTLE_HALVINGS = 9  # of a cell: to 1/512 of it


class Lean(Enum):
    """Which of its turns a copy takes when several find a place."""

    RIGHT_SIDE = "right side"  # the part's right side lies furthest left
    LEFT_SIDE = "left side"  # its left side does
    LYING = "lying"  # it is least high
    STANDING = "standing"  # it is least wide


@dataclass(frozen=True, slots=True)
class Ask:
    """One copy to be laid: which kind, and how it leans."""

    kind: int
    lean: Lean


@dataclass(frozen=True, slots=True, kw_only=True)
class Area:
    """What of a sheet may be filled.

    Attributes:
        width_mm: Extent of the sheet along x; None where it is open.
        height_mm: Extent along y.
        margin_mm: Kept free along every edge.
        gap_mm: Kept free between parts, above 0.
        cell_mm: Size of a cell.
    """

    width_mm: float | None
    height_mm: float
    margin_mm: float
    gap_mm: float
    cell_mm: float

    def admits(self, pose: Pose) -> bool:
        """Return whether the pose fits an empty sheet."""
        room = self.height_mm - 2 * self.margin_mm + FIT_MM
        fits = pose.height_mm <= room
        if self.width_mm is not None:
            fits &= pose.width_mm <= self.width_mm - 2 * self.margin_mm + FIT_MM
        return fits

    @property
    def rows(self) -> int:
        """Cells along y; the outermost half gap may hang over the margin."""
        high = self.height_mm - 2 * self.margin_mm + self.gap_mm
        return whole_cells(high, cell_mm=self.cell_mm)

    def places_up(self, pose: Pose) -> int:
        """Return how many whole-cell places the pose has along y."""
        return self._places(self.height_mm, pose.height_mm)

    def places_along(self, pose: Pose, *, used_columns: int) -> int:
        """Return how many along x, none further than just right of everything."""
        if self.width_mm is None:
            return used_columns + 1
        return min(used_columns + 1, self._places(self.width_mm, pose.width_mm))

    def _places(self, size_mm: float, part_mm: float) -> int:
        slack = size_mm - 2 * self.margin_mm - part_mm
        return int((slack + FIT_MM) // self.cell_mm) + 1


@dataclass(frozen=True, slots=True)
class Laid:
    """One copy on the sheet: which kind, in which pose, moved by how much."""

    kind: int
    pose: Pose
    dx_mm: float
    dy_mm: float

    @property
    def right_mm(self) -> float:
        """The part's right side on the sheet."""
        return self.pose.covered.bounds.right + self.dx_mm


@dataclass(slots=True)
class Filled:
    """One sheet's worth: what was laid and what is left over, in order."""

    laid: list[Laid] = field(default_factory=list)
    left: list[Ask] = field(default_factory=list)
    work: int = 0


def fill(
    area: Area,
    kinds: Sequence[Kind],
    order: Sequence[Ask],
    *,
    is_over: Callable[[], bool] = lambda: False,
) -> Filled | None:
    """Lay as many of `order` as find a place; its kinds are indices into `kinds`.

    Returns:
        What was laid and left, or None when `is_over` said to give up.
    """
    sheet = _Sheet(area)
    filled = Filled()
    hopeless: set[int] = set()  # a sheet only gets fuller: what failed once fails for good
    for ask in order:
        if is_over():
            return None
        laid = None if ask.kind in hopeless else sheet.place(ask, kinds[ask.kind])
        if laid is None:
            hopeless.add(ask.kind)
            filled.left.append(ask)
        else:
            filled.laid.append(laid)
    filled.work = sheet.cells.work
    return filled


class _Sheet:
    """A sheet being filled: coarse cells to search, exact covers to decide."""

    def __init__(self, area: Area) -> None:
        self.area = area
        self.cells = Occupancy(rows=area.rows)
        self._bed = Bed(gap_mm=area.gap_mm)
        self._used_columns = 0

    def place(self, ask: Ask, shape: Kind) -> Laid | None:
        """Lay one copy in its best place, or return None when there is none."""
        found = [
            (self._rank(pose, place, ask.lean), pose, free)
            for pose in shape.poses
            if self.area.admits(pose)
            for free in [self._free(pose)]
            if free
            for place in [_lowest(free)]
        ]
        reach = REACH_CELLS * self.area.cell_mm
        for _, pose, free in sorted(found, key=lambda entry: entry[0]):
            for dx, dy in self._spots(pose, free):
                near = self._bed.vicinity(pose.covered, dx, dy, reach_mm=reach)
                shove = _shove(pose, dx, dy, near)
                if shove is not None:
                    return self._lay(
                        ask.kind, pose, *self._settle(pose, dx + shove, dy + shove, near)
                    )
        return None

    def _free(self, pose: Pose) -> int:
        return self.cells.free_places(
            pose.blocks,
            columns=self.area.places_along(pose, used_columns=self._used_columns),
            rows=self.area.places_up(pose),
        )

    def _rank(self, pose: Pose, place: int, lean: Lean) -> tuple[float, ...]:
        column, row = divmod(place, self.area.rows)
        right = column * self.area.cell_mm + pose.width_mm
        top = row * self.area.cell_mm + pose.height_mm
        if lean is Lean.RIGHT_SIDE:
            return (right, top, pose.rotation_deg)
        leaning = {Lean.LEFT_SIDE: 0.0, Lean.LYING: pose.height_mm, Lean.STANDING: pose.width_mm}
        return (leaning[lean], column, row, right, pose.rotation_deg)

    def _spots(self, pose: Pose, free: int) -> Iterator[tuple[float, float]]:
        """Yield the moves that bring the pose to its first free places."""
        bounds, margin, cell = pose.covered.bounds, self.area.margin_mm, self.area.cell_mm
        for _ in range(PLACES_TRIED):
            if not free:
                return
            column, row = divmod(_lowest(free), self.area.rows)
            yield margin + column * cell - bounds.left, margin + row * cell - bounds.bottom
            free &= free - 1

    def _settle(self, pose: Pose, dx: float, dy: float, near: Vicinity) -> tuple[float, float]:
        """Return the place slid left and down as far as the neighbours and the margin let it.

        The cells are coarse and stand off; this takes the slack out again, exactly.
        """
        least_x = self.area.margin_mm - pose.covered.bounds.left
        least_y = self.area.margin_mm - pose.covered.bounds.bottom
        for _ in range(SETTLE_ROUNDS):
            right = _slide(pose, dx, dy, near, (-min(dx - least_x, self.area.cell_mm), 0.0))
            dx += right
            up = _slide(pose, dx, dy, near, (0.0, -min(dy - least_y, self.area.cell_mm)))
            dy += up
            if -right - up < self.area.cell_mm / 64:
                break
        return max(dx, least_x), max(dy, least_y)

    def _lay(self, kind: int, pose: Pose, dx: float, dy: float) -> Laid:
        bounds, margin, cell = pose.covered.bounds, self.area.margin_mm, self.area.cell_mm
        column = (bounds.left + dx - margin) / cell
        row = (bounds.bottom + dy - margin) / cell
        mask, first, lowest = pose.mask_at(column, row)
        self.cells.take(mask, column=first, row=lowest)
        self._used_columns = max(self._used_columns, first + len(mask))
        self._bed.lay(pose.covered, dx, dy)
        return Laid(kind, pose, dx, dy)


def _slide(pose: Pose, dx: float, dy: float, near: Vicinity, way: tuple[float, float]) -> float:
    """Return how far of the way along one axis the pose can slide, by halving the doubt."""
    length = way[0] + way[1]
    if length == 0.0:
        return 0.0
    if near.is_clear(pose.covered, dx + way[0], dy + way[1]):
        return length
    clear, blocked = 0.0, 1.0
    for _ in range(SETTLE_HALVINGS):
        middle = (clear + blocked) / 2
        if near.is_clear(pose.covered, dx + middle * way[0], dy + middle * way[1]):
            clear = middle
        else:
            blocked = middle
    return clear * length


def _shove(pose: Pose, dx: float, dy: float, near: Vicinity) -> float | None:
    """Return how far up and right frees a pose that just touches; None when that will not do."""
    if near.is_clear(pose.covered, dx, dy):
        return 0.0
    blocked, clear = 0, NUDGES
    if not near.is_clear(pose.covered, dx + clear * NUDGE_MM, dy + clear * NUDGE_MM):
        return None
    while clear - blocked > 1:
        middle = (blocked + clear) // 2
        if near.is_clear(pose.covered, dx + middle * NUDGE_MM, dy + middle * NUDGE_MM):
            clear = middle
        else:
            blocked = middle
    return clear * NUDGE_MM


def _lowest(bits: int) -> int:
    """Return the number of the lowest bit set."""
    return (bits & -bits).bit_length() - 1
