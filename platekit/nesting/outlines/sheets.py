"""Sheets by outlines: deal blocks out to fewer or cheaper sheets until each holds its lot."""

from __future__ import annotations

import math
import random
import threading
import time
from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field

from platekit.nesting.cells.mixes import Mix, cheaper_mixes
from platekit.nesting.cells.racks import rack_of
from platekit.nesting.cells.rooms import COARSE, FIT_MM, Room
from platekit.nesting.laying import (
    Laying,
    Lying,
    SheetLaying,
    Task,
    left_over,
    score,
    used_length_mm,
)
from platekit.nesting.outlines.blocks import Block, Blocks
from platekit.nesting.outlines.combs import Bay, CombJob, dealings
from platekit.nesting.outlines.effort import CORES, effort_for
from platekit.nesting.outlines.strips import Packed, StripJob, packed_within
from platekit.nesting.outlines.stuffing import stuffed

# No sheet is dealt more than this share of its room: nobody ever packed tighter.
MOST_FILL = 0.93

# How long the solver looks at one sheet before blocks are exchanged, s.
LOOK_S = 2.6

# Time for one choice of sheets: a share of what is left, at least so many s.
CHOICE_SHARE = 0.9
LEAST_CHOICE_S = 6.0

# Share of the time in which fewer or cheaper sheets are sought; the rest shortens the last one.
SAVING_SHARE = 0.75

# The last sheet is asked to become this much shorter; when that fails a third of it.
SHORTER = 0.12
LEAST_SHORTER = 0.01

# Up to so many sheets with so many blocks are dealt out by the solver itself, for this share of
# the time; more than that it takes too long to sort.
MOST_BAYS = 6
MOST_IN_BAYS = 90
TOGETHER_SHARE = 0.8

# A packing that misses by less than this share is tried again as it is, half of the times.
NEAR_MISS = 0.01

Keep = Callable[[Laying], None]


@dataclass
class Lot:
    """Blocks dealt out to one sheet.

    Attributes:
        stock: Number of the stock.
        length_mm: How much of its room may be used.
        blocks: What it was dealt.
        packed: How it lies, once it does.
    """

    stock: int
    length_mm: float
    blocks: list[Block] = field(default_factory=list)
    packed: Packed | None = None

    @property
    def fits(self) -> bool:
        """Whether everything lies within the length."""
        return self.packed is not None and self.packed.length_mm <= self.length_mm + FIT_MM


class SheetSearch:
    """The best laying of a task on sheets, and how to find a better one.

    Args:
        task: What is to be laid on what.
        laying: The best so far.
        ends: When to end, as time of the monotonic clock.
        seed: Start of chance.
        keep: Called with every better laying.
    """

    def __init__(self, task: Task, laying: Laying, *, ends: float, seed: int, keep: Keep) -> None:
        self.task = task
        self.best = laying
        self._keep = keep
        self._began, self._ends = time.monotonic(), ends
        self._chance = random.Random(seed)  # noqa: S311 - a shuffle, not a secret
        self._blocks = Blocks(task)
        self._pool = self._all_blocks(laying)
        self._needed_mm2 = sum(block.needed_mm2 for block in self._pool)
        self._stop = threading.Event()

    def run(self) -> None:
        """Search until time is up."""
        with ThreadPoolExecutor(CORES) as workers:
            try:
                self._save_sheets(workers)
                self._shorten(workers)
            finally:
                self._stop.set()

    def _save_sheets(self, workers: ThreadPoolExecutor) -> None:
        """Try cheaper mixes of sheets, the likeliest first, as long as there is time."""
        until = self._began + SAVING_SHARE * (self._ends - self._began)
        rack = rack_of(self.task, fineness=COARSE)
        number = {stock: index for index, stock in enumerate(rack.numbers)}
        tries: dict[Mix, int] = {}
        while time.monotonic() + LOOK_S < until:
            taken = tuple(number[sheet.stock] for sheet in self.best)
            mixes = [
                mix
                for mix in cheaper_mixes(rack, taken, self._needed_mm2)
                if self._fill([rack.numbers[index] for index in mix]) <= MOST_FILL
            ]
            if not mixes:
                return
            mix = min(mixes, key=lambda mix: (tries.get(mix, 0), mixes.index(mix)))
            tries[mix] = tries.get(mix, 0) + 1
            lots = [Lot(rack.numbers[k], self._room(rack.numbers[k]).inner_width_mm) for k in mix]
            self._attempt(workers, lots, until)

    def _shorten(self, workers: ThreadPoolExecutor) -> None:
        """Ask the last sheet to become ever shorter, by giving to the others what it holds."""
        share = SHORTER
        while share >= LEAST_SHORTER and time.monotonic() + LOOK_S < self._ends:
            *others, last = self.best
            room = self._room(last.stock)
            length = used_length_mm(self.task, last) - 2 * room.margin_mm
            lots = [Lot(sheet.stock, self._room(sheet.stock).inner_width_mm) for sheet in others]
            lots.append(Lot(last.stock, length * (1.0 - share)))
            if self._overfull(lots) or not self._attempt(workers, lots, self._ends):
                share /= 3.0

    def _attempt(self, workers: ThreadPoolExecutor, lots: list[Lot], until: float) -> bool:
        """Return whether the lots were filled, and then keep the laying."""
        now = time.monotonic()
        until = min(until, now + max(CHOICE_SHARE * (until - now), LEAST_CHOICE_S))
        together = 1 < len(lots) <= MOST_BAYS and len(self._pool) <= MOST_IN_BAYS
        if not (self._deal_together(lots, until) if together else self._deal(lots)):
            return False
        while True:
            todo = [lot for lot in lots if not lot.fits]
            if not todo:
                break
            if time.monotonic() + 1.0 > until:
                return False
            self._look(workers, todo, until)
            missing = [lot for lot in todo if not lot.fits]
            for lot in missing:
                self._exchange(lot, lots)
        laying = tuple(
            SheetLaying(lot.stock, lot.packed.lying)
            for lot in sorted(lots, key=_emptiest_last)
            if lot.packed is not None and lot.packed.lying
        )
        if score(self.task, laying) < score(self.task, self.best):
            self.best = laying
            self._keep(laying)
        return True

    def _look(self, workers: ThreadPoolExecutor, todo: Sequence[Lot], until: float) -> None:
        """Let the solver look at every lot that is not packed yet, as many at once as serve."""
        alone = len(todo) == 1
        ends = min(until, time.monotonic() + LOOK_S)
        for first in range(0, len(todo), CORES):
            pair = todo[first : first + CORES]
            ends = min(until, time.monotonic() + LOOK_S)
            futures = [workers.submit(self._pack, lot, CORES if alone else 1, ends) for lot in pair]
            for lot, future in zip(pair, futures, strict=True):
                lot.packed = future.result()

    def _pack(self, lot: Lot, threads: int, ends: float) -> Packed | None:
        if not lot.blocks:
            return Packed(0.0, ())
        job = StripJob(self._blocks, self._room(lot.stock), lot.blocks)
        effort = effort_for(
            ends - time.monotonic(), workers=threads, seed=self._chance.randrange(2**31)
        )
        return packed_within(job, lot.length_mm + FIT_MM, effort, ends=ends, stop=self._stop)

    def _deal(self, lots: Sequence[Lot]) -> bool:
        """Deal all blocks out, large ones first, each to the emptiest lot it fits."""
        shuffled = [
            (block.needed_mm2 * self._chance.uniform(0.8, 1.25), number)
            for number, block in enumerate(self._pool)
        ]
        for _, number in sorted(shuffled, reverse=True):
            block = self._pool[number]
            fitting = [lot for lot in lots if self._may_take(lot, block)]
            if not fitting:
                return False
            emptiest = min(
                fitting, key=lambda lot: self._filled(lot) + self._chance.random() * 0.02
            )
            emptiest.blocks.append(block)
        return True

    def _deal_together(self, lots: Sequence[Lot], until: float) -> bool:
        """Let the solver deal all blocks out to all lots at once; the best dealing is kept."""
        job = CombJob(
            self._blocks, [Bay(self._room(lot.stock), lot.length_mm) for lot in lots], self._pool
        )
        now = time.monotonic()
        ends = now + TOGETHER_SHARE * (until - now)
        effort = effort_for(ends - now, workers=CORES, seed=self._chance.randrange(2**31))
        least = math.inf
        for dealt in dealings(job, effort, ends=ends, stop=self._stop):
            over = sum(
                max(one.packed.length_mm / lot.length_mm - 1.0, 0.0) if one.packed else 1.0
                for one, lot in zip(dealt, lots, strict=True)
            )
            if over < least:
                least = over
                for one, lot in zip(dealt, lots, strict=True):
                    lot.blocks, lot.packed = list(one.blocks), one.packed
            if all(lot.fits for lot in lots):
                break
        return least < math.inf

    def _exchange(self, lot: Lot, lots: Sequence[Lot]) -> None:
        """Swap a block of a lot that did not fit for a smaller one of another lot."""
        over = 0.05 if lot.packed is None else lot.packed.length_mm / lot.length_mm - 1.0
        if over < NEAR_MISS and self._chance.random() < 0.5:
            return
        others = [other for other in lots if other is not lot and other.blocks]
        if not others or not lot.blocks:
            return
        other = min(others, key=lambda one: self._filled(one) + self._chance.random() * 0.06)
        wanted = min(over, 0.1) * self._room_mm2(lot) * self._chance.uniform(0.3, 1.2)
        pairs = [
            (abs(mine.needed_mm2 - yours.needed_mm2 - wanted), k, m)
            for k, mine in enumerate(lot.blocks)
            for m, yours in enumerate(other.blocks)
            if self._may_take(other, mine) and self._may_take(lot, yours)
        ]
        if not pairs:
            return
        best = sorted(pairs)[: max(3, len(pairs) // 20)]
        _, k, m = self._chance.choice(best)
        lot.blocks[k], other.blocks[m] = other.blocks[m], lot.blocks[k]
        lot.packed = other.packed = None

    def _overfull(self, lots: Sequence[Lot]) -> bool:
        return self._needed_mm2 > MOST_FILL * sum(self._room_mm2(lot) for lot in lots)

    def _fill(self, stocks: Iterable[int]) -> float:
        rooms = (Lot(stock, self._room(stock).inner_width_mm) for stock in stocks)
        return self._needed_mm2 / sum(self._room_mm2(lot) for lot in rooms)

    def _filled(self, lot: Lot) -> float:
        return sum(block.needed_mm2 for block in lot.blocks) / self._room_mm2(lot)

    def _room_mm2(self, lot: Lot) -> float:
        room = self._room(lot.stock)
        return (lot.length_mm + room.gap_mm) * (room.inner_height_mm + room.gap_mm)

    def _room(self, stock: int) -> Room:
        return self.task.rooms[stock]

    def _may_take(self, lot: Lot, block: Block) -> bool:
        room = self._room(lot.stock)
        return any(
            width <= lot.length_mm + FIT_MM and height <= room.inner_height_mm + FIT_MM
            for width, height in self._blocks.sizes(block)
        )

    def _all_blocks(self, laying: Laying) -> list[Block]:
        """Return every copy, laid or left, as it is or in a hole of another."""
        copies = [one for sheet in laying for one in sheet.lying]
        for kind, count in left_over(self.task, laying).items():
            copies += [Lying(kind, 0.0, 0.0, 0.0)] * count
        return stuffed(self._blocks, copies)


def _emptiest_last(lot: Lot) -> float:
    return -lot.packed.length_mm if lot.packed is not None else 0.0
