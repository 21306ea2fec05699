"""Combs: several sheets as one strip, so that the solver moves parts from sheet to sheet.

The sheets' rooms lie above each other in a strip. One item more is as high as the strip: a comb,
whose back closes the rooms on the left and whose teeth keep them apart. A strip no longer than
the comb is a packing of all the sheets; rooms shorter than the longest have a thicker back.
"""

from __future__ import annotations

import math
import threading
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from platekit.nesting.cells.rooms import Room
from platekit.nesting.outlines.blocks import Block, Blocks
from platekit.nesting.outlines.solving import Effort, Found, Item, Solving
from platekit.nesting.outlines.strips import NEWS_S, Packed, pressed, spare_mm

# Thickness of the comb's back and teeth, as a share of the strip's height.
THICK_SHARE = 2e-3

# Layouts longer than the comb by more than this share are not pressed: that seldom helps.
PRESSED_BELOW = 1.06
PAUSE_S = 0.4


@dataclass(frozen=True, slots=True)
class Bay:
    """One sheet's room in the strip.

    Attributes:
        room: The room on the sheet.
        length_mm: How much of it may be used.
    """

    room: Room
    length_mm: float


@dataclass(frozen=True, slots=True)
class Dealt:
    """What a bay was dealt.

    Attributes:
        blocks: The blocks.
        packed: How they lie, or None when they could not be pressed.
    """

    blocks: tuple[Block, ...]
    packed: Packed | None


class CombJob:
    """Blocks to be laid in several bays at once.

    Args:
        blocks: Where bodies are kept.
        bays: The bays.
        lot: The blocks.

    Attributes:
        height_mm: Height of the strip.
        length_mm: Length of the comb: no longer is a packing.
    """

    __slots__ = (
        "_back",
        "_bays",
        "_blocks",
        "_floors",
        "_items",
        "_lot",
        "_spare",
        "height_mm",
        "length_mm",
    )

    def __init__(self, blocks: Blocks, bays: Sequence[Bay], lot: Sequence[Block]) -> None:
        self._blocks, self._bays, self._lot = blocks, bays, lot
        lowest = min(bay.room.inner_height_mm for bay in bays)
        self._spare = spare_mm(blocks, lot, lowest)
        heights = [bay.room.inner_height_mm + 2 * self._spare for bay in bays]
        thick = THICK_SHARE * sum(heights)
        floors, up = [], 0.0
        for height in heights:
            floors.append(up)
            up += height + thick
        self._floors = floors
        self.height_mm = up - thick
        longest = max(bay.length_mm for bay in bays)
        self._back = [thick + longest - bay.length_mm for bay in bays]
        self.length_mm = thick + longest + 2 * self._spare
        comb = self._comb(heights, self.length_mm)
        self._items = [
            Item(tuple(map(tuple, block.ring.tolist())), 1, block.rotations_deg) for block in lot
        ]
        if len(bays) > 1:
            self._items.append(Item(tuple(comb), 1, (0.0,)))
        else:
            self.length_mm -= thick
            self._back = [0.0]

    def solving(self, effort: Effort) -> Solving:
        """Return the solver at work."""
        slack = 1e-6 * self.height_mm  # the comb must find its place in single precision
        return Solving(self.height_mm + slack, self._items, effort)

    def dealt(self, found: Found, *, ends: float) -> list[Dealt]:
        """Return what each bay was dealt, made exact and pressed tight."""
        comb = len(self._lot)
        left, bottom = next(((x, y) for item, _, x, y in found.placed if item == comb), (0.0, 0.0))
        there: list[list[tuple[Block, float, float, float]]] = [[] for _ in self._bays]
        for item, turn, x, y in found.placed:
            if item == comb:
                continue
            block = self._lot[item]
            body = self._blocks.body(block, block.turn(turn))
            middle = y - bottom + float(body.low[1] + body.high[1]) / 2
            number = max(k for k, floor in enumerate(self._floors) if k == 0 or floor <= middle)
            there[number].append((block, turn, x, y))
        done = []
        for bay, lot, floor, back in zip(self._bays, there, self._floors, self._back, strict=True):
            margin = bay.room.margin_mm
            shift = (
                margin - left - back - self._spare,
                margin - bottom - floor - self._spare,
            )
            packed = pressed(self._blocks, bay.room, lot, shift, ends=ends)
            done.append(Dealt(tuple(entry[0] for entry in lot), packed))
        return done

    def _comb(self, heights: Sequence[float], length: float) -> list[tuple[float, float]]:
        """Return the comb's corners, counter-clockwise."""
        ring = [(0.0, 0.0)]
        for k, (floor, height, back) in enumerate(
            zip(self._floors, heights, self._back, strict=True)
        ):
            if k:
                ring.append((length, floor))
            ring += [(back, floor), (back, floor + height)]
            if k < len(heights) - 1:
                ring.append((length, floor + height))
        ring.append((0.0, self.height_mm))
        return [corner for k, corner in enumerate(ring) if corner != ring[k - 1]]


def dealings(
    job: CombJob, effort: Effort, *, ends: float, stop: threading.Event
) -> Iterator[list[Dealt]]:
    """Yield ever tighter dealings until the solver has ended, time is up or `stop` is set."""
    found: Found | None = None
    pressed_at, press_s = -math.inf, 0.0
    with job.solving(effort) as solving:
        while not (solving.over or stop.is_set()):
            now = time.monotonic()
            if now + 1.5 * press_s > ends:
                break
            found = solving.heard(wait_s=NEWS_S) or found
            fits = found is not None and found.length_mm <= job.length_mm * (1 + 1e-6)
            if found is None or not (fits or now - pressed_at >= PAUSE_S + 4 * press_s):
                continue
            if found.length_mm <= PRESSED_BELOW * job.length_mm:
                yield job.dealt(found, ends=ends)
                pressed_at = time.monotonic()
                press_s = pressed_at - now
            found = None
    if found is not None:
        yield job.dealt(found, ends=ends)
