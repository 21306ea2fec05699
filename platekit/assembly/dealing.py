"""Dealing: the rules by which a joint shares out the length of a bar.

A rule cuts a run of the bar into stretches and gives each to one of the two panels. Blocks are
places where a third panel claims the bar too: each goes whole to whoever is dealt it, so that a
corner of three panels never falls apart into shreds.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from platekit.geometry.points import SAME_POINT_MM
from platekit.geometry.strips import Interval

# Tabs along an edge: one in every so many thicknesses (common practice, no source).
TAB_PITCH_THICKNESSES = 10.0
SCREW_PITCH_THICKNESSES = 15.0
# A finger that a third panel takes a corner block from must keep this share of the least width.
LEAST_SHARE_BESIDE_BLOCK = 0.5


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of a bar that one panel owns.

    Attributes:
        start_mm: Where it begins along the bar.
        end_mm: Where it ends.
        owner: Name of the panel that has it.
    """

    start_mm: float
    end_mm: float
    owner: str

    @property
    def width_mm(self) -> float:
        """Its length along the bar."""
        return self.end_mm - self.start_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """An unbroken length of bar to be dealt out.

    Attributes:
        start_mm: Where it begins.
        end_mm: Where it ends.
        blocks: Intervals inside it that must not be cut.
        least_mm: Least width of a finger or tab that a rule chooses by itself, room allowing.
        limit_mm: Least width the material allows at all.
        aim_mm: Width to aim at.
        thickness_mm: Thickness of the thicker panel.
        exact: Whether tabs must have the width aimed at: the recipe named it.
    """

    start_mm: float
    end_mm: float
    blocks: tuple[Interval, ...] = ()
    least_mm: float
    limit_mm: float
    aim_mm: float
    thickness_mm: float
    exact: bool = False

    @property
    def length_mm(self) -> float:
        """Length of the run."""
        return self.end_mm - self.start_mm


@dataclass(frozen=True, slots=True)
class Deal:
    """How a run was dealt.

    Attributes:
        stretches: One after the other, from the run's start to its end.
        thinnest_mm: Width of the thinnest finger or tab; what a third panel takes is left out.
        most: The most fingers, tabs or screws that would still be wide enough; 0 if not asked.
    """

    stretches: tuple[Stretch, ...]
    thinnest_mm: float
    most: int = 0

    @property
    def interlocks(self) -> bool:
        """Whether both panels have a share."""
        return len({stretch.owner for stretch in self.stretches}) > 1


def deal_whole(run: Run, *, owner: str) -> Deal:
    """Return the deal that gives the whole run to one panel."""
    return Deal((Stretch(run.start_mm, run.end_mm, owner),), run.length_mm)


def deal_fingers(run: Run, *, first: str, second: str, count: int | None) -> Deal:
    """Return the run dealt alternately in equal fingers.

    Cuts that would fall into a block move to its nearer end. Without `count`, an odd number of at
    least three whose width comes nearest the aim and whose fingers are all wide enough; two if
    there is no room for three; the whole run to `first` if there is none for two.
    """
    if count is not None:
        return replace(_fingers(run, count, first, second), most=_most_fingers(run))
    wished = run.length_mm / run.aim_mm
    for least in (run.least_mm, run.limit_mm):
        limit = int(run.length_mm / least + 1e-9)
        odd = sorted(range(3, limit + 1, 2), key=lambda n: (abs(n - wished), n))
        for tried in (*odd, 2):
            deal = _fingers(run, tried, first, second)
            if deal.thinnest_mm >= least - SAME_POINT_MM:
                return deal
    return deal_whole(run, owner=first)


def deal_tabs(run: Run, *, tabbed: str, slotted: str, count: int | None) -> Deal:
    """Return the run dealt in tabs of `tabbed` with equal gaps, shoulders at both ends.

    Without `count`, about one tab in every ten thicknesses; none when not even one fits.
    """
    if count is not None:
        deal = _tabs(replace(run, least_mm=run.limit_mm), count, tabbed, slotted)
        return replace(deal, most=_most_tabs(run))
    wished = max(1, round(run.length_mm / (TAB_PITCH_THICKNESSES * run.thickness_mm)))
    return _first_wide_enough(run, range(wished, 0, -1), tabbed, slotted)


def deal_screwed(run: Run, *, tabbed: str, slotted: str, screws: int | None) -> Deal:
    """Return the run dealt in tabs, one more than there are screws; screws go between them."""
    if screws is not None:
        deal = _tabs(replace(run, least_mm=run.limit_mm), screws + 1, tabbed, slotted)
        return replace(deal, most=max(0, _most_tabs(run) - 1))
    wished = max(1, round(run.length_mm / (SCREW_PITCH_THICKNESSES * run.thickness_mm)))
    return _first_wide_enough(run, range(wished + 1, 1, -1), tabbed, slotted)


def deal_tongue(run: Run, *, tabbed: str, slotted: str, shoulder_mm: float | None) -> Deal:
    """Return the run dealt as one tongue with a shoulder at both ends."""
    shoulder = shoulder_mm
    if shoulder is None:
        shoulder = min(2 * run.thickness_mm, run.length_mm / 4)
    start, end = run.start_mm + shoulder, run.end_mm - shoulder
    start, end = _moved(start, run), _moved(end, run)
    if end - start < SAME_POINT_MM:
        return Deal(deal_whole(run, owner=slotted).stretches, max(0.0, end - start))
    stretches = _alternating([run.start_mm, start, end, run.end_mm], slotted, tabbed)
    return Deal(stretches, end - start)


def deal_halves(run: Run, *, lower: str, upper: str) -> Deal:
    """Return the run dealt in two halves: `lower` owns the half with the lesser s."""
    middle = _moved((run.start_mm + run.end_mm) / 2, run)
    stretches = _alternating([run.start_mm, middle, run.end_mm], lower, upper)
    return Deal(stretches, min(stretch.width_mm for stretch in stretches))


def blocks_within(
    blocks: Iterable[Interval], start_mm: float, end_mm: float
) -> tuple[Interval, ...]:
    """Return the blocks cut to a run."""
    return tuple(
        (max(a, start_mm), min(b, end_mm))
        for a, b in blocks
        if min(b, end_mm) - max(a, start_mm) > SAME_POINT_MM
    )


def _most_fingers(run: Run) -> int:
    limit = int(run.length_mm / run.limit_mm + 1e-9)
    for tried in range(limit, 1, -1):
        if _fingers(run, tried, "a", "b").thinnest_mm >= run.limit_mm - SAME_POINT_MM:
            return tried
    return 1


def _most_tabs(run: Run) -> int:
    """Return how many tabs of the least width fit with gaps of half of it."""
    room = run.length_mm - run.limit_mm / 2
    return max(0, int(room / (1.5 * run.limit_mm) + 1e-9))


def _first_wide_enough(run: Run, counts: Iterable[int], tabbed: str, slotted: str) -> Deal:
    tries = tuple(counts)
    for least in (run.least_mm, run.limit_mm):
        for tried in tries:
            deal = _tabs(replace(run, least_mm=least), tried, tabbed, slotted)
            if deal.interlocks and deal.thinnest_mm >= least - SAME_POINT_MM:
                return deal
    return deal_whole(run, owner=slotted)


def _fingers(run: Run, count: int, first: str, second: str) -> Deal:
    step = run.length_mm / count
    cuts = [_moved(run.start_mm + k * step, run) for k in range(1, count)]
    stretches = _alternating([run.start_mm, *cuts, run.end_mm], first, second)
    thinnest = _thinnest(stretches, run) if len(stretches) == count else 0.0
    return Deal(stretches, thinnest)


def _tabs(run: Run, count: int, tabbed: str, slotted: str) -> Deal:
    """Tabs as wide as the aim; unless that is exact, no wider than two fifths of their pitch."""
    width = run.aim_mm
    if not run.exact:
        width = min(width, max(run.least_mm, 0.4 * run.length_mm / count))
    gap = (run.length_mm - count * width) / (count + 1)
    if gap < run.least_mm / 2 - SAME_POINT_MM:
        gap = run.least_mm / 2
        width = (run.length_mm - (count + 1) * gap) / count
    cuts = []
    for k in range(count):
        start = run.start_mm + gap + k * (width + gap)
        cuts += [_moved(start, run), _moved(start + width, run)]
    if any(b - a < SAME_POINT_MM for a, b in pairwise([run.start_mm, *cuts, run.end_mm])):
        return replace(deal_whole(run, owner=slotted), thinnest_mm=0.0)
    stretches = _alternating([run.start_mm, *cuts, run.end_mm], slotted, tabbed)
    return Deal(stretches, _thinnest(stretches[1::2], run))


def _alternating(cuts: Sequence[float], first: str, second: str) -> tuple[Stretch, ...]:
    return tuple(
        Stretch(start, end, second if k % 2 else first)
        for k, (start, end) in enumerate(pairwise(cuts))
        if end - start > SAME_POINT_MM
    )


def _moved(cut: float, run: Run) -> float:
    """Return a cut moved out of any block, never onto an end of the run."""
    for start, end in run.blocks:
        if start + SAME_POINT_MM < cut < end - SAME_POINT_MM:
            ends = [
                edge
                for edge in (start, end)
                if run.start_mm + SAME_POINT_MM < edge < run.end_mm - SAME_POINT_MM
            ]
            if ends:
                return min(ends, key=lambda edge: abs(edge - cut))
    return cut


def _thinnest(stretches: Sequence[Stretch], run: Run) -> float:
    """Return the least width; beside a block, what is left must be worth half the least."""
    widths = [math.inf]
    for stretch in stretches:
        widths.append(stretch.width_mm)
        taken = sum(
            min(b, stretch.end_mm) - max(a, stretch.start_mm)
            for a, b in run.blocks
            if min(b, stretch.end_mm) > max(a, stretch.start_mm)
        )
        if taken > 0:
            widths.append((stretch.width_mm - taken) / LEAST_SHARE_BESIDE_BLOCK)
    return min(widths)
