"""The search by outlines: ever better layings of a task until time is up."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable

from platekit.nesting.laying import Laying, SheetLaying, Task, in_words, score
from platekit.nesting.outlines.blocks import Blocks
from platekit.nesting.outlines.effort import CORES, effort_for
from platekit.nesting.outlines.portions import is_whole, portion_of
from platekit.nesting.outlines.proof import is_sound
from platekit.nesting.outlines.sheets import SheetSearch
from platekit.nesting.outlines.strips import StripJob, packings
from platekit.nesting.outlines.stuffing import all_blocks
from platekit.nesting.values import Progress, Roll

# Less time than this is not worth starting the solver.
LEAST_S = 2.0

# A long search is several shorter ones, each from another start, for one by itself gets stuck: so
# many seconds for each block, with a least.
ROUND_S_PER_BLOCK = 0.3
LEAST_ROUND_S = 10.0

# Sheets are first sought by cells for this share of the time, which knows mixes of sheets well;
# on a roll the solver is better from the start.
CELLS_SHARE = 0.12

# What goes on offcuts, and where parts with wishes go, only the cells find out.
MIXED_CELLS_SHARE = 0.25

NO_TIME_S = 1e-9

Keep = Callable[[Laying], None]


def cells_share(task: Task, *, seconds: float) -> float:
    """Return for which share of a time the search by cells comes first."""
    if seconds < LEAST_S:
        return 1.0
    if any(isinstance(one, Roll) for one in task.stocks):
        return 0.0
    return CELLS_SHARE if is_whole(task) else MIXED_CELLS_SHARE


def improved(
    task: Task, laying: Laying, *, ends: float, seed: int, progress: Progress | None
) -> tuple[Laying, bool]:
    """Return the best sound laying found in a time, and whether the user interrupted it.

    Args:
        task: What is to be laid on what.
        laying: A sound laying to begin with.
        ends: When to end, as time of the monotonic clock.
        seed: Start of chance.
        progress: Called with the share of the time and a line on the best so far.
    """
    began = time.monotonic()
    kept = [laying]

    def tell() -> None:
        if progress is not None:
            gone = (time.monotonic() - began) / max(ends - began, NO_TIME_S)
            progress(min(gone, 1.0), in_words(task, kept[-1]))

    def keep(found: Laying) -> None:
        if score(task, found) < score(task, kept[-1]):
            kept.append(found)
        tell()

    interrupted = False
    try:
        tell()
        _improve(task, laying, ends=ends, seed=seed, keep=keep)
    except KeyboardInterrupt:  # there is a layout: whoever will not wait may have it
        interrupted = True
    except OSError:  # no other process is to be had: what is there must do
        pass
    while len(kept) > 1 and not is_sound(task, kept[-1]):
        kept.pop()
    return kept[-1], interrupted


def _improve(task: Task, laying: Laying, *, ends: float, seed: int, keep: Keep) -> None:
    portion = portion_of(task, laying)
    if portion is None or ends - time.monotonic() < LEAST_S:
        return

    def keep_joined(found: Laying) -> None:
        keep(portion.joined(found))

    if isinstance(portion.task.stocks[portion.laying[-1].stock], Roll):
        _improve_roll(portion.task, portion.laying, ends=ends, seed=seed, keep=keep_joined)
    else:
        SheetSearch(portion.task, portion.laying, ends=ends, seed=seed, keep=keep_joined).run()


def _improve_roll(task: Task, laying: Laying, *, ends: float, seed: int, keep: Keep) -> None:
    blocks = Blocks(task)
    (sheet,) = laying
    lot = all_blocks(blocks, laying)
    job = StripJob(blocks, task.rooms[sheet.stock], lot)
    round_s = max(LEAST_ROUND_S, ROUND_S_PER_BLOCK * len(lot))
    rounds = max(1, round((ends - time.monotonic()) / round_s))
    stop = threading.Event()
    for number in range(rounds):
        now = time.monotonic()
        until = now + (ends - now) / (rounds - number)
        effort = effort_for(until - now, workers=CORES, seed=seed + number)
        for packed in packings(job, effort, ends=until, stop=stop):
            keep((SheetLaying(sheet.stock, packed.lying),))
