"""Sheets by outlines: deal blocks out to fewer or cheaper sheets until each holds its lot."""

from __future__ import annotations

import itertools
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
    SheetLaying,
    Task,
    score,
    used_length_mm,
)
from platekit.nesting.outlines.blocks import Block, Blocks
from platekit.nesting.outlines.combs import Bay, CombJob, Dealt, dealings
from platekit.nesting.outlines.effort import CORES, effort_for
from platekit.nesting.outlines.strips import Packed
from platekit.nesting.outlines.stuffing import all_blocks

# No sheet is dealt more than this share of its room: nobody ever packed tighter.
MOST_FILL = 0.93

# Sheets no fuller than this are packed at once.
EASY_FILL = 0.72

# How long the solver deals a few sheets out anew, and the least that is worth a start, s.
LOOK_S = 4.0
LEAST_LOOK_S = 1.2

# So many sheets at a time are dealt out anew.
GROUP_SIZES = (2, 2, 3)

# Time for one choice of sheets: a share of what is left, at least so many s.
CHOICE_SHARE = 0.9
LEAST_CHOICE_S = 6.0

# Share of the time in which fewer or cheaper sheets are sought; the rest shortens the last one.
SAVING_SHARE = 0.9

# The last sheet is asked to become this much shorter; when that fails half of it, and so on; each
# time for so much of the time that is left, until it has failed so often.
SHORTER = 0.12
LEAST_SHORTER = 0.01
SHORTEN_SHARE = 0.4
MOST_FAILURES = 12

# Up to so many sheets with so many blocks are first dealt out all at once, for this share of the
# time; more than that it takes too long to sort.
MOST_BAYS = 5
MOST_IN_BAYS = 90
FIRST_SHARE = 0.6
ONLY_SHARE = 0.95  # where another try would deal out all of them again

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
        self._seeds = itertools.count(seed)
        self._blocks = Blocks(task)
        # In the order of their kinds, so that the solver is asked the same wherever they lie.
        self._pool = sorted(all_blocks(self._blocks, laying), key=lambda one: one.lying[0].kind)
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
        while time.monotonic() + LEAST_LOOK_S < until:
            taken = tuple(number[sheet.stock] for sheet in self.best)
            fills = {
                mix: self._fill([rack.numbers[index] for index in mix])
                for mix in cheaper_mixes(rack, taken, self._needed_mm2)
            }
            hopeful = [mix for mix, fill in fills.items() if fill <= MOST_FILL]
            if not hopeful:
                return
            easy = [mix for mix in hopeful if fills[mix] <= EASY_FILL and mix not in tries]
            # The cheapest of those that are sure to do, then the least full of the others.
            mix = easy[0] if easy else min(hopeful, key=lambda m: (tries.get(m, 0), fills[m]))
            tries[mix] = tries.get(mix, 0) + 1
            lots = [Lot(rack.numbers[k], self._room(rack.numbers[k]).inner_width_mm) for k in mix]
            self._attempt(workers, lots, until)

    def _shorten(self, workers: ThreadPoolExecutor) -> None:
        """Ask the last sheet to become ever shorter, by giving to the others what it holds."""
        share, failures = SHORTER, 0
        while failures <= MOST_FAILURES:
            now = time.monotonic()
            if now + LEAST_LOOK_S > self._ends:
                return
            *others, last = self.best
            room = self._room(last.stock)
            length = used_length_mm(self.task, last) - 2 * room.margin_mm
            lots = [Lot(sheet.stock, self._room(sheet.stock).inner_width_mm) for sheet in others]
            lots.append(Lot(last.stock, length * (1.0 - share)))
            until = now + max(LOOK_S, SHORTEN_SHARE * (self._ends - now))
            if self._overfull(lots) or not self._attempt(workers, lots, min(until, self._ends)):
                share, failures = max(share / 2.0, LEAST_SHORTER), failures + 1

    def _attempt(self, workers: ThreadPoolExecutor, lots: list[Lot], until: float) -> bool:
        """Return whether the lots were filled, and then keep the laying."""
        now = time.monotonic()
        until = min(until, now + max(CHOICE_SHARE * (until - now), LEAST_CHOICE_S))
        if not self._deal(lots):
            return False
        if len(lots) <= MOST_BAYS and len(self._pool) <= MOST_IN_BAYS:
            groups = [list(range(len(lots)))]
            share = FIRST_SHARE if len(lots) > max(GROUP_SIZES) else ONLY_SHARE
            look_s = share * max(LOOK_S, until - now)
        else:
            groups, look_s = self._groups(lots), LOOK_S
        while groups:
            now = time.monotonic()
            if now + LEAST_LOOK_S > until:
                return False
            ends = min(now + look_s, until)
            threads = max(CORES // len(groups), 1)
            tried = [
                workers.submit(self._dealt, [lots[k] for k in group], threads, ends)
                for group in groups
            ]
            for group, future in zip(groups, tried, strict=True):
                self._take([lots[k] for k in group], future.result())
            groups, look_s = self._groups(lots), LOOK_S
        laying = tuple(
            SheetLaying(lot.stock, lot.packed.lying)
            for lot in sorted(lots, key=_emptiest_last)
            if lot.packed is not None and lot.packed.lying
        )
        if score(self.task, laying) < score(self.task, self.best):
            self.best = laying
            self._keep(laying)
        return True

    def _groups(self, lots: Sequence[Lot]) -> list[list[int]]:
        """Return the lots to deal anew: those that do not fit, each with another or two.

        Several groups at once where there are enough of them, none if everything fits.
        """
        missing = [k for k, lot in enumerate(lots) if not lot.fits]
        fitting = [k for k, lot in enumerate(lots) if lot.fits]
        self._chance.shuffle(missing)
        # What is not full, or may become shorter, has room to give.
        fitting.sort(key=lambda k: self._filled(lots[k]) + self._chance.uniform(0.0, 0.05))
        queue = missing + fitting
        groups: list[list[int]] = []
        while missing and queue and len(groups) < CORES:
            size = self._chance.choice(GROUP_SIZES)
            group, queue = queue[:size], queue[size:]
            if not any(k in missing for k in group):
                break
            groups.append(group)
        return groups

    def _dealt(self, lots: Sequence[Lot], threads: int, ends: float) -> list[Dealt]:
        """Let the solver deal the blocks of some lots out to them anew; return the best dealing."""
        bays = [Bay(self._room(lot.stock), lot.length_mm) for lot in lots]
        dealt_out = {id(block) for lot in lots for block in lot.blocks}
        job = CombJob(self._blocks, bays, [one for one in self._pool if id(one) in dealt_out])
        effort = effort_for(
            ends - time.monotonic(), workers=threads, seed=next(self._seeds) % 2**31
        )
        best: list[Dealt] = []
        least = math.inf
        for dealt in dealings(job, effort, ends=ends, stop=self._stop):
            over = _over([one.packed for one in dealt], lots)
            if over < least:
                best, least = dealt, over
            if over == 0.0:
                break
        return best

    def _take(self, lots: Sequence[Lot], dealt: Sequence[Dealt]) -> None:
        """Take over a dealing if more of it lies within the lots' lengths."""
        if dealt and _over([one.packed for one in dealt], lots) <= _over(
            [lot.packed for lot in lots], lots
        ):
            for lot, one in zip(lots, dealt, strict=True):
                lot.blocks, lot.packed = list(one.blocks), one.packed

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
                fitting, key=lambda one: self._filled(one) + self._chance.uniform(0.0, 0.02)
            )
            emptiest.blocks.append(block)
        return True

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


def _over(packed: Sequence[Packed | None], lots: Sequence[Lot]) -> float:
    """Return by how much lots are overrun, as shares of their lengths added up."""
    return sum(
        1.0 if one is None else max(one.length_mm - FIT_MM - lot.length_mm, 0.0) / lot.length_mm
        for one, lot in zip(packed, lots, strict=True)
    )


def _emptiest_last(lot: Lot) -> float:
    return -lot.packed.length_mm if lot.packed is not None else 0.0
