"""Filling one sheet: each part in turn to the leftmost, lowest place that is free."""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from itertools import chain, groupby, islice

from platekit.geometry.packing_bed import Bed, Vicinity
from platekit.nesting.cells.occupancy import Occupancy, lowest
from platekit.nesting.cells.poses import Pose, whole_cells
from platekit.nesting.cells.raster import Mask
from platekit.nesting.cells.rooms import FIT_MM, Room

# Free cells a flush fit may still refuse (corners grown by chords): look at a few more places
# before passing the pose over, and at the very last, which lies right of everything if it can.
PLACES_TRIED = 24

# A flush part is shoved out of touch by at most so many nudges: together with FIT_MM less than
# the 1e-6 mm to which a nesting is verified.
NUDGE_MM = 2.5e-8
NUDGES = 32

SETTLE_ROUNDS = 4  # left and down by turns, a cell at most each; wedged parts creep ever less
REACH_CELLS = SETTLE_ROUNDS + 1  # how far settling can carry a part: who may be in its way
SETTLE_HALVINGS = 7  # of a cell: to 1/128 of it
LEAST_STEP_MM = 1e-9  # a last step shorter than this is not worth the asking


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


@dataclass(frozen=True, slots=True)
class Area:
    """A room in cells, with the poses in which each kind of part fits it.

    Attributes:
        room: What of the sheet may be filled.
        cell_mm: Size of a cell.
        poses: The poses of each kind; empty for a kind that does not fit.
        outside: The cells that an offcut's shape forbids; None for a whole sheet or a roll.
        companies: The word by which each kind lies together with others, all of them or none;
            empty for none.
    """

    room: Room
    cell_mm: float
    poses: tuple[tuple[Pose, ...], ...]
    outside: Mask | None = None
    companies: tuple[str, ...] = ()

    @property
    def rows(self) -> int:
        """Cells along y; the outermost half gap may hang over the margin.

        One more stays free above: a part that ends flush with the room may begin in mid-cell.
        """
        return 1 + whole_cells(self.room.inner_height_mm + self.room.gap_mm, cell_mm=self.cell_mm)

    def move_to(self, pose: Pose, *, column: int, row: int) -> tuple[float, float]:
        """Return the move that brings the pose to a place: to a cell, but into the room."""
        bounds, room = pose.covered.bounds, self.room
        x = min(column * self.cell_mm, max(room.inner_width_mm - pose.width_mm, 0.0))
        y = min(row * self.cell_mm, max(room.inner_height_mm - pose.height_mm, 0.0))
        return room.margin_mm + x - bounds.left, room.margin_mm + y - bounds.bottom

    def places_up(self, pose: Pose) -> int:
        """Return how many places the pose has along y, whole cells and the flush one."""
        return self._places(self.room.inner_height_mm, pose.height_mm)

    def places_along(self, pose: Pose, *, used_columns: int) -> int:
        """Return how many along x, none further than just right of everything."""
        if self.room.width_mm is None:
            return used_columns + 1
        return min(used_columns + 1, self._places(self.room.inner_width_mm, pose.width_mm))

    def _places(self, room_mm: float, part_mm: float) -> int:
        slack = max(room_mm - part_mm, 0.0)
        return 1 + math.ceil((slack - FIT_MM) / self.cell_mm)


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


@dataclass(frozen=True, slots=True)
class Filled:
    """One sheet's worth: what was laid and what is left over, in order.

    Attributes:
        laid: The copies on the sheet.
        left: Those that found no place.
        work: Effort it took, in bytes shifted.
    """

    laid: tuple[Laid, ...]
    left: tuple[Ask, ...]
    work: int


def fill(
    area: Area,
    order: Sequence[Ask],
    *,
    is_over: Callable[[], bool] = lambda: False,
) -> Filled | None:
    """Lay as many of `order` as find a place; its kinds are indices into the area's poses.

    Returns:
        What was laid and left, or None when `is_over` said to give up.
    """
    sheet = _Sheet(area)
    done: list[Laid] = []
    left: list[Ask] = []
    hopeless: set[int] = set()  # a sheet only gets fuller: what failed once fails for good
    for asks in _companies(order, area.companies):
        if is_over():
            return None
        laid = None if hopeless.intersection(ask.kind for ask in asks) else sheet.place_all(asks)
        if laid is None:
            hopeless.update(ask.kind for ask in asks)
            left.extend(asks)
        else:
            done.extend(laid)
    return Filled(tuple(done), tuple(left), sheet.cells.work)


def _companies(order: Sequence[Ask], words: Sequence[str]) -> Iterator[tuple[Ask, ...]]:
    """Yield the copies that lie together or not at all: as a rule each by itself."""
    if not any(words):
        yield from ((ask,) for ask in order)
        return
    for word, asks in groupby(order, key=lambda ask: words[ask.kind]):
        if word:
            yield tuple(asks)
        else:
            yield from ((ask,) for ask in asks)


class _Sheet:
    """A sheet being filled: coarse cells to search, exact covers to decide."""

    def __init__(self, area: Area) -> None:
        self.area = area
        self.cells = Occupancy(rows=area.rows)
        self._bed = Bed(gap_mm=area.room.gap_mm, ground=area.room.ground)
        self._used_columns = 0
        if area.outside is not None:
            self.cells.take(area.outside, column=0, row=0)
            self._used_columns = len(area.outside)

    def place_all(self, asks: Sequence[Ask]) -> list[Laid] | None:
        """Lay all of these copies, or return None and leave the sheet as it was."""
        before = self.cells.taken, self._bed.count, self._used_columns
        done: list[Laid] = []
        for ask in asks:
            laid = self._place(ask)
            if laid is None:
                if done:
                    self.cells.back_to(before[0])
                    self._bed.back_to(before[1])
                    self._used_columns = before[2]
                return None
            done.append(laid)
        return done

    def _place(self, ask: Ask) -> Laid | None:
        """Lay one copy in its best place, or return None when there is none."""
        found = [
            (self._rank(pose, strip, ask.lean), pose, chain([strip], strips))
            for pose in self.area.poses[ask.kind]
            for strips in [self._strips(pose)]
            for strip in islice(strips, 1)
        ]
        reach = REACH_CELLS * self.area.cell_mm
        for _, pose, strips in sorted(found, key=lambda entry: entry[0]):
            for dx, dy in _few(self._spots(pose, strips)):
                near = self._bed.vicinity(pose.covered, dx, dy, reach_mm=reach)
                shove = _shove(pose, dx, dy, near)
                if shove is not None:
                    return self._lay(
                        ask.kind, pose, *self._settle(pose, dx + shove, dy + shove, near)
                    )
        return self._place_flush(ask)

    def _place_flush(self, ask: Ask) -> Laid | None:
        """Lay one copy flush with an edge of an offcut, where the cells are too coarse to see."""
        ground = self.area.room.ground
        if ground is None:
            return None
        reach = REACH_CELLS * self.area.cell_mm
        for pose in self.area.poses[ask.kind]:
            for dx, dy in ground.places(pose.covered):
                near = self._bed.vicinity(pose.covered, dx, dy, reach_mm=reach)
                if near.is_clear(pose.covered, dx, dy):
                    return self._lay(ask.kind, pose, *self._settle(pose, dx, dy, near))
        return None

    def _strips(self, pose: Pose) -> Iterator[tuple[int, int]]:
        return self.cells.free_strips(
            pose.blocks,
            columns=self.area.places_along(pose, used_columns=self._used_columns),
            rows=self.area.places_up(pose),
        )

    def _rank(self, pose: Pose, strip: tuple[int, int], lean: Lean) -> tuple[float, ...]:
        column, row = self._first_place(strip)
        right = column * self.area.cell_mm + pose.width_mm
        top = row * self.area.cell_mm + pose.height_mm
        if lean is Lean.RIGHT_SIDE:
            return (right, top, pose.rotation_deg)
        leaning = {Lean.LEFT_SIDE: 0.0, Lean.LYING: pose.height_mm, Lean.STANDING: pose.width_mm}
        return (leaning[lean], column, row, right, pose.rotation_deg)

    def _first_place(self, strip: tuple[int, int]) -> tuple[int, int]:
        """Return column and row of the first free place of a strip."""
        column, row = divmod(lowest(strip[1]), self.area.rows)
        return strip[0] + column, row

    def _spots(
        self, pose: Pose, strips: Iterable[tuple[int, int]]
    ) -> Iterator[tuple[float, float]]:
        """Yield the moves that bring the pose to its free places."""
        for first, places in strips:
            free = places
            while free:
                column, row = self._first_place((first, free))
                yield self.area.move_to(pose, column=column, row=row)
                free &= free - 1

    def _settle(self, pose: Pose, dx: float, dy: float, near: Vicinity) -> tuple[float, float]:
        """Return the place slid left and down as far as the neighbours and the margin let it.

        The cells are coarse and stand off; this takes the slack out again, exactly.
        """
        least_x = self.area.room.margin_mm - pose.covered.bounds.left
        least_y = self.area.room.margin_mm - pose.covered.bounds.bottom
        for _ in range(SETTLE_ROUNDS):
            right = _slide(pose, dx, dy, near, (-min(dx - least_x, self.area.cell_mm), 0.0))
            dx += right
            up = _slide(pose, dx, dy, near, (0.0, -min(dy - least_y, self.area.cell_mm)))
            dy += up
            if -right - up < self.area.cell_mm / 64:
                break
        doubt = self.area.cell_mm * 0.5**SETTLE_HALVINGS
        dx -= _last_step(pose, dx, dy, near, (-min(dx - least_x, doubt), 0.0))
        dy -= _last_step(pose, dx, dy, near, (0.0, -min(dy - least_y, doubt)))
        return max(dx, least_x), max(dy, least_y)

    def _lay(self, kind: int, pose: Pose, dx: float, dy: float) -> Laid:
        bounds, margin, cell = pose.covered.bounds, self.area.room.margin_mm, self.area.cell_mm
        column = (bounds.left + dx - margin) / cell
        row = (bounds.bottom + dy - margin) / cell
        mask, first, lowest = pose.mask_at(column, row)
        self.cells.take(mask, column=first, row=lowest)
        self._used_columns = max(self._used_columns, first + len(mask))
        self._bed.lay(pose.covered, dx, dy)
        return Laid(kind, pose, dx, dy)


def _few(spots: Iterator[tuple[float, float]]) -> Iterator[tuple[float, float]]:
    """Yield the first few of the spots and the last."""
    yield from islice(spots, PLACES_TRIED)
    yield from deque(spots, maxlen=1)


def _slide(pose: Pose, dx: float, dy: float, near: Vicinity, way: tuple[float, float]) -> float:
    """Return how far of the way along one axis the pose can slide, by halving the doubt."""
    length = way[0] + way[1]
    if length == 0.0:
        return 0.0
    if near.is_clear(pose.covered, dx + way[0], dy + way[1]):
        return length
    least = 0.5**SETTLE_HALVINGS  # most parts have been slid home already: ask that first
    if not near.is_clear(pose.covered, dx + least * way[0], dy + least * way[1]):
        return 0.0
    clear, blocked = least, 1.0
    for _ in range(SETTLE_HALVINGS - 1):
        middle = (clear + blocked) / 2
        if near.is_clear(pose.covered, dx + middle * way[0], dy + middle * way[1]):
            clear = middle
        else:
            blocked = middle
    return clear * length


def _last_step(pose: Pose, dx: float, dy: float, near: Vicinity, way: tuple[float, float]) -> float:
    """Return how far along a way too short for halving the pose can go until it just touches.

    Exact where straight edges that lie across the way meet, so that rows of parts can fill a
    sheet to its end; never too far elsewhere.
    """
    length = -way[0] - way[1]
    if length < LEAST_STEP_MM:
        return 0.0
    covered = pose.covered
    here, there = covered.moved(dx, dy), covered.moved(dx + way[0], dy + way[1])
    step = min(near.spare_mm(here, there), length)
    if step < LEAST_STEP_MM:
        return 0.0
    part = step / length
    return step if near.is_clear(covered, dx + part * way[0], dy + part * way[1]) else 0.0


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
