"""The search: lay out, chase cheaper sheets, shuffle, keep the better one."""

from __future__ import annotations

import math
import random
import time
from collections.abc import Sequence
from dataclasses import dataclass, replace

from platekit.nesting.cells.filling import Ask
from platekit.nesting.cells.layout import (
    Bench,
    Layout,
    Plan,
    Taste,
    part_area_mm2,
)
from platekit.nesting.cells.mixes import Mix, area_mm2, cheaper_mixes, mix_cost, needed_mm2
from platekit.nesting.cells.orders import first_orders, gathered, put_forward, shuffled
from platekit.nesting.cells.racks import rack_of
from platekit.nesting.cells.rooms import COARSE, FINE
from platekit.nesting.laying import Laying, Lying, SheetLaying, Task, in_words
from platekit.nesting.values import Progress

# The search ends by itself after so many layouts, or so many bytes shifted: a few seconds on a
# common computer, and the same layout on every computer.
MOST_LAYOUTS = 400
MOST_WORK = 8_000_000_000

NO_TIME_S = 1e-9

# So many shuffles in a row that were tried before: few parts have few orders.
MOST_REPEATS = 12

# Shares of the effort after which cheaper sheets are no longer sought with coarse cells and no
# longer at all; the rest goes into a better layout on the sheets found.
COARSE_SHARE = 0.6
CHASE_SHARE = 0.9

# Mixes that came close, for what they save, are tried most: a mix counts as twice as far from
# holding everything after so many tries.
TRIES_TO_DOUBLE = 10
FIRST_TRIES = 6  # of each mix with the first orders, before those are shuffled
MOST_FRESH = 8  # so many mixes are given their first tries before any is shuffled
LEAST_DISTANCE = 0.01  # a single small part left over says little
LEAST_GAIN = 0.02  # to save a sheet but no area is still a gain
USUAL_FILL = 0.8  # share of a sheet that parts may cover, until more has been seen
MOST_MIXES = 200  # hunted at a time

FORWARD = 0.9  # chance that what a mix left over is moved towards the front
SWAPPED = 0.2  # chance that the sheets of a mix are filled in another order


@dataclass(slots=True)
class _Quarry:
    """A cheaper mix that is being tried.

    Attributes:
        left_mm2: Area of the parts left over by the plan that came closest; before the first a
            guess.
        plan: That plan.
        left: The copies it left over.
        tries: Tries so far.
        repeats: Shuffles in a row that had been tried before.
    """

    left_mm2: float
    plan: Plan | None = None
    left: tuple[Ask, ...] = ()
    tries: int = 0
    repeats: int = 0


class Search:
    """The best layout so far, and how to find a better one."""

    def __init__(
        self,
        task: Task,
        fitting: Sequence[int],
        *,
        seconds: float | None,
        seed: int,
        progress: Progress | None,
    ) -> None:
        self.task = task
        self.rack = rack = rack_of(task, fineness=COARSE)
        self._bench = Bench(rack)
        self._began = time.monotonic()
        self._ends = math.inf if seconds is None else self._began + seconds
        self._chance = random.Random(seed)  # noqa: S311 - a shuffle, not a secret
        self._progress = progress
        gap = rack.areas[0].room.gap_mm
        self._needed_mm2 = sum(
            needed_mm2(rack.kinds[k], gap_mm=gap) * rack.kinds[k].part.quantity for k in fitting
        )
        self._parts_mm2 = sum(
            rack.kinds[k].part.profile.area_mm2 * rack.kinds[k].part.quantity for k in fitting
        )
        self._orders = tuple(dict.fromkeys(first_orders(rack.kinds, fitting)))
        self._companies = [kind.part.together for kind in rack.kinds]
        self._work = 0
        self._layouts = 1
        self._tried: set[tuple[Bench, Plan]] = set()
        self._over = False
        self._best_plan = Plan(self._orders[0], Taste.FULLEST)
        first = self._bench.lay_out(self._best_plan, is_over=lambda: False)
        assert first is not None  # noqa: S101 - the first layout is never given up
        self._work = first.work
        self.best = first
        self._best_bench = self._bench
        self._score = self._scored(first)
        self._words: str | None = None  # on the best, once somebody asked
        self._held_mm2: dict[int, float] = {}
        self._learn(first)

    def run(self) -> None:
        """Search until the effort or the time is spent, or all that is left was tried."""
        self._try_openly()
        self._chase(until=COARSE_SHARE)
        if self._cheaper() and self._goes_on():  # a finer look may find the place that lacks
            self._bench = Bench(rack_of(self.task, fineness=FINE))
            self._chase(until=CHASE_SHARE)
        self._bench = self._best_bench
        repeats = 0
        while repeats <= MOST_REPEATS and self._goes_on():
            plan = self._shuffled(self._best_plan)
            if (self._bench, plan) in self._tried:
                repeats += 1
                continue
            repeats = 0
            self._lay_out(plan)

    def go_on(self, *, ends: float) -> None:
        """Search on, where time ended it before, until another time of the monotonic clock.

        Nobody hears of it: others may know better by now.
        """
        if self._over:
            self._progress = None
            self._over, self._began, self._ends = False, time.monotonic(), ends
            self.run()

    @property
    def laying(self) -> Laying:
        """The best layout so far."""
        return tuple(
            SheetLaying(
                self.rack.numbers[index],
                tuple(
                    Lying(
                        laid.kind,
                        laid.dx_mm,
                        laid.dy_mm,
                        laid.pose.rotation_deg,
                        mirrored=laid.pose.mirrored,
                    )
                    for laid in filled.laid
                ),
            )
            for index, filled in self.best.sheets
        )

    def _try_openly(self) -> None:
        """Lay the first orders out, the stock chosen sheet by sheet."""
        several = len(self.rack.stocks) > 1
        plans = (
            [Plan(order, taste) for order in self._orders[:2] for taste in Taste]
            if several  # cheaper mixes are chased afterwards, with the other orders
            else [Plan(order, Taste.FULLEST) for order in self._orders]
        )
        for plan in plans:
            if plan != self._best_plan and self._goes_on():
                self._lay_out(plan)

    def _cheaper(self) -> tuple[Mix, ...]:
        """Return the mixes that would be cheaper than what is taken now."""
        if self.best.left:  # all the stock there is does not do
            return ()
        taken = [index for index, _ in self.best.sheets]
        return cheaper_mixes(self.rack, taken, self._needed_mm2)

    def _chase(self, *, until: float) -> None:
        """Try to get by with cheaper sheets, until so much of the effort is spent."""
        hunted: dict[Mix, _Quarry] = {}
        there = self._nearest(hunted)
        while there and self._goes_on() and self._share() < until:
            fresh = [mix for mix in there[:MOST_FRESH] if hunted[mix].tries < FIRST_TRIES]
            mix = min(fresh or there, key=lambda mix: self._distance(mix, hunted[mix]))
            quarry = hunted[mix]
            plan = self._next_plan(mix, quarry)
            quarry.tries += 1
            if (self._bench, plan) in self._tried:
                quarry.repeats += 1
                if quarry.repeats > MOST_REPEATS:
                    there.remove(mix)
                continue
            quarry.repeats = 0
            found = self._lay_out(plan)
            if found is None:
                break
            left = self._left_mm2(found)
            if left == 0.0:
                there = self._nearest(hunted)
            elif quarry.plan is None or left <= quarry.left_mm2:
                quarry.plan, quarry.left, quarry.left_mm2 = plan, found.left, left

    def _nearest(self, hunted: dict[Mix, _Quarry]) -> list[Mix]:
        """Return the most promising cheaper mixes, each entered among the hunted ones."""
        there = self._cheaper()
        for mix in there:
            if mix not in hunted:
                holds = sum(
                    max(self._held_mm2.get(index, 0.0), USUAL_FILL * area_mm2(self.rack, index))
                    for index in mix
                )
                hunted[mix] = _Quarry(max(self._parts_mm2 - holds, 0.0))
        return sorted(there, key=lambda mix: (self._distance(mix, hunted[mix]), mix))[:MOST_MIXES]

    def _distance(self, mix: Mix, quarry: _Quarry) -> float:
        """Return how far a mix is from holding everything, for what it would save."""
        share = max(quarry.left_mm2 / self._parts_mm2, LEAST_DISTANCE)
        now = self._score[1]  # 0 where all the stock is paid for
        gain = 1.0 - mix_cost(self.rack, mix)[0] / now if now else 0.0
        return share * (1 + quarry.tries / TRIES_TO_DOUBLE) / max(gain, LEAST_GAIN)

    def _next_plan(self, mix: Mix, quarry: _Quarry) -> Plan:
        if quarry.plan is None or quarry.tries < FIRST_TRIES:
            return Plan(self._orders[quarry.tries % len(self._orders)], Taste.FULLEST, mix)
        plan = self._shuffled(quarry.plan)
        if self._chance.random() < FORWARD:
            order = put_forward(plan.order, quarry.left, self._chance)
            plan = replace(plan, order=gathered(order, self._companies))
        return plan

    def _lay_out(self, plan: Plan) -> Layout | None:
        """Carry out a plan and keep the layout if it is the best; None when time is over."""
        self._tried.add((self._bench, plan))
        self._layouts += 1
        found = self._bench.lay_out(plan, is_over=lambda: time.monotonic() > self._ends)
        if found is None:
            self._over = True
            return None
        self._work += found.work
        score = self._scored(found)
        if score < self._score:
            self.best, self._best_plan, self._score = found, plan, score
            self._best_bench, self._words = self._bench, None
        self._learn(found)
        return found

    def _learn(self, layout: Layout) -> None:
        """Remember the most that each stock has been seen to hold, mm2 of parts."""
        for index, filled in layout.sheets:
            held = part_area_mm2(filled, self.rack.kinds)
            self._held_mm2[index] = max(self._held_mm2.get(index, 0.0), held)

    def _share(self) -> float:
        """Return how much of the time is spent, or where none is given of the effort, 0 to 1."""
        if math.isfinite(self._ends):
            gone = time.monotonic() - self._began
            return min(gone / max(self._ends - self._began, NO_TIME_S), 1.0)
        return min(max(self._layouts / MOST_LAYOUTS, self._work / MOST_WORK), 1.0)

    def _goes_on(self) -> bool:
        """Tell how far it is, and return whether there is more to come."""
        if self._progress is not None:
            self._progress(self._share(), self._said())
        return not self._over and self._share() < 1.0

    def _shuffled(self, plan: Plan) -> Plan:
        """Return `plan` with its copies shuffled, and now and then its sheets."""
        order = gathered(shuffled(plan.order, self._chance), self._companies)
        if self.best.left:  # a sheet may be of use to another order: leave the choice open
            return Plan(order, plan.taste)
        stocks = list(plan.stocks or (index for index, _ in self.best.sheets))
        if len(set(stocks)) > 1 and self._chance.random() < SWAPPED:
            self._chance.shuffle(stocks)
        return Plan(order, plan.taste, tuple(stocks))

    def _scored(self, layout: Layout) -> tuple[float, ...]:
        """Return what makes it worse: area left over, cost, area, sheets, last length used."""
        paid = [self.rack.paid(index, filled) for index, filled in layout.sheets]
        price, area = (sum(entry[k] for entry in paid) for k in (0, 1))
        last = layout.sheets[-1][1].laid if layout.sheets else ()
        length = max((laid.right_mm for laid in last), default=0.0)
        return (self._left_mm2(layout), price, area, len(layout.sheets), length)

    def _left_mm2(self, layout: Layout) -> float:
        return sum(self.rack.kinds[ask.kind].part.profile.area_mm2 for ask in layout.left)

    def _said(self) -> str:
        if self._words is None:
            self._words = in_words(self.task, self.laying)
        return self._words
