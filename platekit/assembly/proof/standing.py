"""Standing: everything in a rig, asked together who stands in a room."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property

import numpy as np

from platekit.assembly.proof.cores import NO_BOXES, SURE_MM, cores_of, sharing
from platekit.assembly.proof.rooms import Room
from platekit.assembly.proof.things import Thing
from platekit.geometry.tables import Bools, Floats, Ints


class Occupied:
    """A room, and who stands in it: known at once where boxes tell, else found when asked.

    Args:
        room: The room.
        standing: Everything there is.
    """

    def __init__(self, room: Room, standing: Standing) -> None:
        self._room, self._standing = room, standing

    @property
    def exact(self) -> bool:
        """Whether the room is no larger than what is passed through."""
        return self._room.exact

    @cached_property
    def _surely(self) -> set[str]:
        """Names of the things that are known to stand in it."""
        return self._standing.filling(self._room)

    @cached_property
    def _perhaps(self) -> set[str]:
        """Names of the things of which it is not known."""
        return self._standing.meeting(self._room) - self._surely

    def holds(self, name: str) -> bool:
        """Return whether a thing stands in the room."""
        if name in self._perhaps:
            self._perhaps.discard(name)
            if self._room.holds(self._standing.things[name]):
                self._surely.add(name)
        return name in self._surely

    def surely_holds(self, names: Iterable[str]) -> bool:
        """Return whether one of several things is known to stand in the room."""
        return not self._surely.isdisjoint(names)

    def holds_any(self, names: Sequence[str]) -> bool:
        """Return whether one of several things stands in the room."""
        # What is known costs nothing, and one is enough.
        return self.surely_holds(names) or any(map(self.holds, names))


class Standing:
    """Everything in a rig.

    Args:
        things: Everything in the rig, by name.
    """

    def __init__(self, things: Mapping[str, Thing]) -> None:
        self.things = things
        self._names = list(things)
        coats = [thing.coats for thing in things.values()]
        # What is bored out might lie in a core: a thing with voids is left to the kernel.
        cores = [NO_BOXES if t.voids else cores_of(t.prisms) for t in things.values()]
        self._coats, self._coated = _stacked(coats)
        self._cores, self._cored = _stacked(cores)

    def meeting(self, room: Room) -> set[str]:
        """Return the names of the things whose coats meet a room: no other stands in it."""
        near = _reaching(self._coats, room.box)
        return self._named(self._coated[near][sharing(room.coats, self._coats[near], over_mm=0.0)])

    def filling(self, room: Room) -> set[str]:
        """Return the names of the things whose cores show that they stand in a room."""
        near = _reaching(self._cores, room.box)
        if not near.any():
            return set()
        met = sharing(room.cores, self._cores[near], over_mm=SURE_MM)
        return self._named(self._cored[near][met])

    def _named(self, numbers: Ints) -> set[str]:
        return {self._names[k] for k in set(numbers.tolist())}


def _stacked(boxes: Sequence[Floats]) -> tuple[Floats, Ints]:
    """Return boxes of several things in one array, and whose each is."""
    return np.concatenate([NO_BOXES, *boxes]), np.repeat(np.arange(len(boxes)), [*map(len, boxes)])


def _reaching(boxes: Floats, box: Floats) -> Bools:
    (x0, y0, z0), (x1, y1, z1) = box
    low, high = boxes[:, 0], boxes[:, 1]
    # Column by column: `all` over three takes longer than all the rest.
    met: Bools = (low[:, 0] < x1) & (high[:, 0] > x0)
    met &= (low[:, 1] < y1) & (high[:, 1] > y0)
    met &= (low[:, 2] < z1) & (high[:, 2] > z0)
    return met
