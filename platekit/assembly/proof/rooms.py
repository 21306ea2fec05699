"""Rooms: what a thing passes through when it is drawn out, and whether another stands in it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from platekit.assembly.frames import Vector
from platekit.assembly.proof.cores import along_axis, cores_of, drawn_out
from platekit.assembly.proof.overlaps import RUB_MM, boxes_meet, overlaps
from platekit.assembly.proof.slabs import Slab, all_clear
from platekit.assembly.proof.sweeps import swept, swept_slab
from platekit.assembly.proof.things import Prism, Thing, boxes_of, reaching
from platekit.assembly.solids import union_solid
from platekit.geometry.tables import Floats

if TYPE_CHECKING:
    from manifold3d import Manifold

# Unit vectors with a product above this are one: 0.08 degrees apart.
ALIKE = 1.0 - 1e-6
# A screw or nut is free this far beyond its thread.
FREE_MM = 0.5


@dataclass(frozen=True, slots=True)
class Move:
    """Prisms that move together, straight and so far."""

    prisms: Sequence[Prism]
    way: Vector
    length_mm: float


@dataclass(frozen=True, eq=False)
class Room:
    """What prisms pass through in one move after the other."""

    moves: tuple[Move, ...]

    @cached_property
    def coats(self) -> Floats:
        """A box around what each prism passes through, shape (n, 2, 3)."""
        return np.concatenate(
            [drawn_out(boxes_of(one.prisms), one.way, one.length_mm) for one in self.moves]
        )

    @cached_property
    def cores(self) -> Floats:
        """Boxes that are passed through from end to end, shape (n, 2, 3)."""
        return np.concatenate([_passed(move) for move in self.moves])

    @cached_property
    def box(self) -> Floats:
        """Least and greatest x, y, z, shape (2, 3)."""
        coats = self.coats
        return np.array([coats[:, 0].min(axis=0), coats[:, 1].max(axis=0)])

    @cached_property
    def _slabs(self) -> list[Slab | None]:
        """What each prism passes through, where it is a slab."""
        return [
            swept_slab(prism, move.way, move.length_mm)
            for move in self.moves
            for prism in move.prisms
        ]

    @cached_property
    def exact(self) -> bool:
        """Whether it is no larger than what is passed through: askew, holes may be closed."""
        prisms = (prism for move in self.moves for prism in move.prisms)
        return all(
            slab is not None or not prism.profile.inners
            for slab, prism in zip(self._slabs, prisms, strict=True)
        )

    @cached_property
    def solid(self) -> Manifold:
        """Its body."""
        return self.near(self.box)

    @cached_property
    def _parts(self) -> dict[tuple[int, ...], Manifold]:
        """What some of its prisms pass through, by their numbers: where that was asked for."""
        return {}

    def near(self, box: Floats) -> Manifold:
        """Return its body as it is within a box; beyond it some may be missing."""
        met = reaching(self.coats, box)
        if met not in self._parts:
            prisms = [(prism, move) for move in self.moves for prism in move.prisms]
            pieces = (prisms[k] for k in met)
            self._parts[met] = union_solid(
                swept(prism, move.way, move.length_mm) for prism, move in pieces
            )
        return self._parts[met]

    def holds(self, thing: Thing) -> bool:
        """Return whether a thing stands in it."""
        return (
            boxes_meet(self.box, thing.box)
            and not all_clear(self._slabs, self.coats, thing.slabs, thing.coats)
            and overlaps(self.near(thing.box), thing.near(self.box), over_mm=RUB_MM)
        )


def _passed(move: Move) -> Floats:
    cores = cores_of(move.prisms)
    # What a box passes through askew is no box: it is taken where it starts.
    return drawn_out(cores, move.way, move.length_mm) if along_axis(move.way) else cores


def unscrewing(thing: Thing) -> list[Move]:
    """Return how a screw comes out of its hole, and its nut off the thread, where it has one.

    Raises:
        ValueError: It is no screw; a mistake of ours.
    """
    if thing.fastening is None:
        raise ValueError(f"{thing.name} is no screw")
    way = thing.fastening.way
    back = way.scaled(-1.0)
    heads = [prism for prism in thing.prisms if prism.frame.n.dot(way) > 0]
    ends = [prism for prism in thing.prisms if prism.frame.n.dot(way) < 0]
    tip = furthest(heads, back)
    moves = [Move(heads, way, tip + furthest(heads, way) + FREE_MM)]
    if ends:
        moves.append(Move(ends, back, tip + furthest(ends, way) + FREE_MM))
    return moves


def furthest(prisms: Sequence[Prism], way: Vector) -> float:
    """Return how far prisms reach along a unit vector that is their own n or its opposite."""
    return max(
        max(p.frame.origin.plus(p.frame.n, times=h).dot(way) for h in (p.low_mm, p.high_mm))
        for p in prisms
    )
