"""Stuffing: small parts laid in the holes of larger ones before anything else."""

from __future__ import annotations

from collections.abc import Iterable

from platekit.geometry.motion import Motion
from platekit.geometry.packing_covers import Cover, cover
from platekit.geometry.packing_holes import HoleRoom
from platekit.geometry.profile import Profile
from platekit.nesting.laying import Laying, Lying, left_over
from platekit.nesting.outlines.blocks import Block, Blocks


def stuffed(blocks: Blocks, lying: Iterable[Lying]) -> list[Block]:
    """Return copies as blocks, with as much as possible of them in holes of others.

    The smallest hole is stuffed first, with the largest it has room for: what fits tightly then
    finds its hole free, and what goes into a hole takes along what lies in its own.

    Args:
        blocks: Where blocks are made.
        lying: The copies; only their kind and whether they are mirrored count.
    """
    loose = {
        number: blocks.block([Lying(one.kind, 0.0, 0.0, 0.0, one.mirrored)])
        for number, one in enumerate(lying)
    }
    # What lies in a block's holes does not change its size.
    largest_first = sorted(loose, key=lambda k: (-loose[k].needed_mm2, k))
    guests = _Guests(blocks)
    gap = blocks.task.rooms[0].gap_mm
    holes = sorted(
        (abs(hole.area_mm2), number, which)
        for number, block in loose.items()
        for which, hole in enumerate(_shape(blocks, block.lying[0]).inners)
    )
    for _, number, which in holes:
        host = loose[number]
        hole = _shape(blocks, host.lying[0]).inners[which]
        room = HoleRoom(hole, gap_mm=gap)
        refused: set[tuple[int, bool]] = set()
        for guest in largest_first:
            if guest == number or guest not in loose:
                continue
            first = loose[guest].lying[0]
            key = (first.kind, first.mirrored)
            if key in refused:
                continue
            laid = guests.laid(host, loose[guest], room)
            if laid is None:
                refused.add(key)
            else:
                host = blocks.block([*host.lying, *laid])
                del loose[guest]
        loose[number] = host
    return list(loose.values())


def all_blocks(blocks: Blocks, laying: Laying) -> list[Block]:
    """Return every copy, laid or left over, as a block or in a hole of one.

    Copies too large for all of the stock are left out.
    """
    task = blocks.task
    copies = [one for sheet in laying for one in sheet.lying]
    for kind, count in left_over(task, laying).items():
        turns = task.kinds[kind].turns
        if any(turn.fits(room) for turn in turns for room in task.rooms):
            copies += [Lying(kind, 0.0, 0.0, 0.0)] * count
    return stuffed(blocks, copies)


class _Guests:
    """What may go into holes, each shape in each turn made once."""

    def __init__(self, blocks: Blocks) -> None:
        self._blocks = blocks
        self._covers: dict[tuple[int, bool, float], Cover] = {}

    def laid(self, host: Block, block: Block, room: HoleRoom) -> tuple[Lying, ...] | None:
        """Return where a block's parts lie in its host's hole, in the first turn that fits."""
        for turn in self._blocks.seats(host, block):
            if room.is_too_small(*self._blocks.size(block, turn)):
                continue
            move = room.lay(self._cover(block.lying[0], turn))
            if move is not None:
                return block.placed(turn, move)
        return None

    def _cover(self, one: Lying, rotation_deg: float) -> Cover:
        key = (one.kind, one.mirrored, rotation_deg)
        if key not in self._covers:
            turned = _shape(self._blocks, one).moved(Motion(turn_deg=rotation_deg))
            self._covers[key] = cover(turned)
        return self._covers[key]


def _shape(blocks: Blocks, one: Lying) -> Profile:
    """Return a part as it comes or mirrored, not yet turned."""
    return blocks.task.kinds[one.kind].part.profile.moved(Motion(mirrored=one.mirrored))
