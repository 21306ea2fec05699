"""Blocks: what the solver shoves about as one, a part with whatever lies in its holes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from platekit.geometry.motion import Motion
from platekit.geometry.packing_covers import outline_ring
from platekit.geometry.points import Pair, cos_sin
from platekit.nesting.laying import Lying, Task, bounds_of
from platekit.nesting.outlines.bodies import Body, Floats, body

# Chords may stand off arcs by this share of a part's longer side, at least so many mm: fewer
# corners let the solver try more arrangements.
CHORD_SHARE = 1e-3
LEAST_CHORD_MM = 2e-3


@dataclass(frozen=True, slots=True, eq=False)
class Block:
    """A part as it comes, or mirrored, not yet turned, with what lies in its holes.

    Attributes:
        lying: The part, at the origin, then what lies in it.
        rotations_deg: Turns all of them may take; None for any.
        ring: The part's outline with half the gap around it, see `outline_ring`.
    """

    lying: tuple[Lying, ...]
    rotations_deg: tuple[float, ...] | None
    ring: Floats

    @property
    def needed_mm2(self) -> float:
        """Area of the ring, mm2: what the block takes of a sheet at least."""
        x, y = self.ring[:, 0], self.ring[:, 1]
        return float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)) / 2

    def turn(self, rotation_deg: float) -> float:
        """Return the allowed turn that was meant."""
        if self.rotations_deg is None:
            return rotation_deg % 360.0
        return min(self.rotations_deg, key=lambda turn: _between(turn, rotation_deg))

    def placed(self, rotation_deg: float, at: Pair) -> tuple[Lying, ...]:
        """Return where its parts lie when it is turned about its origin and moved to `at`."""
        c, s = cos_sin(rotation_deg)
        return tuple(
            Lying(
                one.kind,
                c * one.x_mm - s * one.y_mm + at[0],
                s * one.x_mm + c * one.y_mm + at[1],
                (one.rotation_deg + rotation_deg) % 360.0,
                one.mirrored,
            )
            for one in self.lying
        )


class Blocks:
    """The blocks of a task, each made once, and their bodies in every turn.

    Args:
        task: What is to be laid.
    """

    __slots__ = ("_bodies", "_boxes", "_rings", "task")

    def __init__(self, task: Task) -> None:
        self.task = task
        self._rings: dict[tuple[int, bool], Floats] = {}
        self._bodies: dict[tuple[int, bool, float], Body] = {}
        self._boxes: dict[tuple[int, bool, float], tuple[Pair, Pair]] = {}

    def block(self, lying: Sequence[Lying]) -> Block:
        """Return the block of a part, at the origin and not turned, and of what lies in it."""
        host = lying[0]
        return Block(
            tuple(lying), self._turns(lying), self._ring(host.kind, mirrored=host.mirrored)
        )

    def sizes(self, block: Block) -> Iterator[tuple[float, float]]:
        """Return width and height of a block's part in each of its turns, mm."""
        return (self.size(block, turn) for turn in self.turns(block))

    def size(self, block: Block, rotation_deg: float) -> tuple[float, float]:
        """Return width and height of a block's part in one turn, mm."""
        host = block.lying[0]
        low, high = self._corners(host.kind, rotation_deg, mirrored=host.mirrored)
        return high[0] - low[0], high[1] - low[1]

    def turns(self, block: Block) -> tuple[float, ...]:
        """Return the turns a block may take, or where any is allowed a few that are likely."""
        if block.rotations_deg is not None:
            return block.rotations_deg
        likely = self.task.kinds[block.lying[0].kind].turns
        return tuple(turn.rotation_deg for turn in likely if not turn.mirrored)

    def seats(self, host: Block, guest: Block) -> Iterator[float]:
        """Yield turns against its host in which a guest can lie: some turn suits both then."""
        ways = (0.0,) if host.rotations_deg is None else host.rotations_deg
        seats = dict.fromkeys((turn - way) % 360.0 for turn in self.turns(guest) for way in ways)
        for seat in seats:
            seated = [*host.lying, *guest.placed(seat, (0.0, 0.0))]
            if self._turns(seated) != ():
                yield seat

    def body(self, block: Block, rotation_deg: float) -> Body:
        """Return a block as a body in one turn."""
        host = block.lying[0]
        key = (host.kind, host.mirrored, rotation_deg)
        if key not in self._bodies:
            c, s = cos_sin(rotation_deg)
            ring = block.ring @ np.array([[c, s], [-s, c]])
            low, high = self._corners(host.kind, rotation_deg, mirrored=host.mirrored)
            self._bodies[key] = body(ring, low=low, high=high)
        return self._bodies[key]

    def _corners(
        self, kind: int, rotation_deg: float, *, mirrored: bool
    ) -> tuple[tuple[float, float], tuple[float, float]]:
        """Return the exact lower left and upper right corner of a part's box in a turn."""
        key = (kind, mirrored, rotation_deg)
        if key not in self._boxes:
            box = bounds_of(self.task, Lying(kind, 0.0, 0.0, rotation_deg, mirrored=mirrored))
            self._boxes[key] = (box.left, box.bottom), (box.right, box.top)
        return self._boxes[key]

    def _ring(self, kind: int, *, mirrored: bool) -> Floats:
        key = (kind, mirrored)
        if key not in self._rings:
            profile = self.task.kinds[kind].part.profile.moved(Motion(mirrored=mirrored))
            box = profile.bounds
            self._rings[key] = outline_ring(
                profile,
                growth_mm=self.task.rooms[0].gap_mm / 2,
                tolerance_mm=max(CHORD_SHARE * max(box.width_mm, box.height_mm), LEAST_CHORD_MM),
            )
        return self._rings[key]

    def _turns(self, seated: Sequence[Lying]) -> tuple[float, ...] | None:
        """Return the turns at which everything seated lies as it may; None for any."""
        choices = [
            [(turn - one.rotation_deg) % 360.0 for turn in allowed]
            for one in seated
            for allowed in [self.task.kinds[one.kind].part.rotations_deg]
            if allowed is not None
        ]
        if not choices:
            return None
        first, *others = choices
        shared = [
            turn
            for turn in dict.fromkeys(first)
            if all(any(_between(turn, other) < 1e-9 for other in allowed) for allowed in others)
        ]
        return tuple(shared)


def _between(a: float, b: float) -> float:
    """Return the angle between two directions, degrees, 0 to 180."""
    return abs((a - b + 180.0) % 360.0 - 180.0)
