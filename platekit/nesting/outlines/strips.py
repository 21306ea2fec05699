"""Strips: blocks laid by the solver, pressed tight, and told as a laying."""

from __future__ import annotations

import math
import threading
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from platekit.nesting.cells.rooms import Room
from platekit.nesting.laying import Lying
from platekit.nesting.outlines.blocks import Block, Blocks
from platekit.nesting.outlines.compaction import Strip, compact
from platekit.nesting.outlines.solving import Effort, Found, Item, Solving

# Outlines may stand off the true shapes by a little more than half the gap; the solver's strip
# gets that much more height. Compaction holds the true shapes to the true strip.
SPARE_SHARE = 2e-6

NEWS_S = 0.1

# Between two pressings, s, and as a multiple of what the last one took; each is cut short after
# this share of the time, all but the last, for which several times as much is kept.
PAUSE_S = 0.3
PAUSES = 12.0
BRIEF_SHARE = 0.02
LAST_PRESSES = 3.0


@dataclass(frozen=True, slots=True)
class Packed:
    """Blocks laid in a strip.

    Attributes:
        length_mm: From the strip's left side to the furthest right side of a part.
        lying: Every part, at its place on the sheet.
    """

    length_mm: float
    lying: tuple[Lying, ...]


class StripJob:
    """Blocks to be laid in the strip of a room.

    Args:
        blocks: Where bodies are kept.
        room: The room; its width does not count.
        lot: The blocks.
    """

    __slots__ = ("_blocks", "_counts", "_height", "_kinds", "_room", "_shift")

    def __init__(self, blocks: Blocks, room: Room, lot: Sequence[Block]) -> None:
        self._blocks = blocks
        self._room = room
        # Blocks that are one part only are all alike; the solver is told how many.
        alike: Counter[tuple[object, ...]] = Counter()
        first: dict[tuple[object, ...], Block] = {}
        for number, block in enumerate(lot):
            host = block.lying[0]
            key = (host.kind, host.mirrored) if len(block.lying) == 1 else (number,)
            alike[key] += 1
            first.setdefault(key, block)
        self._kinds = list(first.values())
        self._counts = [alike[key] for key in first]
        spare = spare_mm(blocks, self._kinds, room.inner_height_mm)
        self._height = room.inner_height_mm + 2 * spare
        self._shift = room.margin_mm - spare

    def solving(self, effort: Effort) -> Solving:
        """Return the solver at work."""
        items = [
            Item(tuple(map(tuple, block.ring.tolist())), count, block.rotations_deg)
            for block, count in zip(self._kinds, self._counts, strict=True)
        ]
        return Solving(self._height, items, effort)

    def packed(self, found: Found, *, ends: float) -> Packed | None:
        """Return what the solver found, made exact and pressed tight; None when it cannot be."""
        lot = [(self._kinds[item], turn, x, y) for item, turn, x, y in found.placed]
        return pressed(self._blocks, self._room, lot, (self._shift, self._shift), ends=ends)


def pressed(
    blocks: Blocks,
    room: Room,
    lot: Sequence[tuple[Block, float, float, float]],
    shift: tuple[float, float],
    *,
    ends: float,
) -> Packed | None:
    """Return blocks made exact and pressed tight to the left of a room; None when it cannot be.

    Args:
        blocks: Where bodies are kept.
        room: The room; its width does not count.
        lot: Each block with its turn and place.
        shift: From those places to places on the sheet.
        ends: Time of the monotonic clock after which it is pressed no further.
    """
    if not lot:
        return Packed(0.0, ())
    turns = [block.turn(turn) for block, turn, _, _ in lot]
    places = np.array([(x, y) for _, _, x, y in lot]) + shift
    bodies = [blocks.body(entry[0], turn) for entry, turn in zip(lot, turns, strict=True)]
    margin = room.margin_mm
    strip = Strip(margin, margin, margin + room.inner_height_mm)
    tight = compact(bodies, places, strip, ends=ends)
    if tight is None:
        return None
    right = max(float(at[0]) + one.high[0] for one, at in zip(bodies, tight, strict=True))
    lying = tuple(
        one
        for entry, turn, (x, y) in zip(lot, turns, tight.tolist(), strict=True)
        for one in entry[0].placed(turn, (x, y))
    )
    return Packed(float(right) - margin, lying)


def packings(
    job: StripJob, effort: Effort, *, ends: float, stop: threading.Event
) -> Iterator[Packed]:
    """Yield ever shorter packings until the solver has ended, time is up or `stop` is set.

    What the solver finds is pressed tight now and then and at the end: that takes turns with the
    solver for the cores.

    Args:
        job: What to lay.
        effort: How hard to look.
        ends: Time of the monotonic clock.
        stop: Set from another thread to make an end.
    """
    best, newest = math.inf, None
    fresh = False
    pressed_at = time.monotonic()
    briefly = BRIEF_SHARE * (ends - pressed_at)
    press_s = 0.0
    with job.solving(effort) as solving:
        while not (solving.over or stop.is_set()):
            now = time.monotonic()
            if now + LAST_PRESSES * press_s > ends:
                break
            found = solving.heard(wait_s=NEWS_S)
            newest, fresh = found or newest, fresh or found is not None
            if newest is None or not fresh:
                continue
            if now - pressed_at < max(PAUSE_S, PAUSES * press_s):
                continue
            packed, fresh = job.packed(newest, ends=now + briefly), False
            pressed_at = time.monotonic()
            press_s = pressed_at - now
            if packed is not None and packed.length_mm < best:
                best = packed.length_mm
                yield packed
    packed = job.packed(newest, ends=ends) if newest is not None else None
    if packed is not None and packed.length_mm < best:
        yield packed


def spare_mm(blocks: Blocks, lot: Sequence[Block], height_mm: float) -> float:
    """Return how much room above and below outlines are given, for standing off their parts.

    The least stand-off of any: more would let others overlap the edge. Where an outline then
    finds no room at all, the greatest.

    Args:
        blocks: Where bodies are kept.
        lot: What is to be laid.
        height_mm: Height of the room, for the true shapes.
    """
    off = [_stands_off_mm(blocks, block) for block in lot]
    tallest = max(min(height for _, height in blocks.sizes(block)) for block in lot)
    return min(off) if tallest + 2 * max(off) <= height_mm else max(off)


def _stands_off_mm(blocks: Blocks, block: Block) -> float:
    """Return how far a block's outline stands off its part, upright, and a little more."""
    body = blocks.body(block, 0.0)
    stands_off = max(
        float(body.low[1] - block.ring[:, 1].min()), float(block.ring[:, 1].max() - body.high[1])
    )
    return stands_off + SPARE_SHARE * float(np.abs(block.ring).max())
