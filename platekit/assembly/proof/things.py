"""Things: what is picked up and brought in as one when a rig is put together.

A plate is a thing, and so is a laminate, glued before; a device; a pulley; a screw with its washers
and nut. A thing is a set of straight prisms, each along its own frame's n, from which both the
solids and the room a movement sweeps follow exactly.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING

import numpy as np

from platekit.assembly.frames import Frame, Vector
from platekit.assembly.mounting.bodies import Body, BodyKind, Fastening
from platekit.assembly.proof.slabs import Slab
from platekit.assembly.resolve import Resolved
from platekit.assembly.solids import union_solid
from platekit.geometry.chords import Side, profile_rings
from platekit.geometry.flats import Flat
from platekit.geometry.profile import Profile
from platekit.geometry.tables import Floats
from platekit.panel.part import Part

if TYPE_CHECKING:
    from manifold3d import Manifold

# Bodies of bought parts: chords this fine change no finding and keep a rig's proof quick.
BODY_TOLERANCE_MM = 0.05
# A rig has many screws and few kinds of them: so many cross-sections are remembered.
SECTIONS = 512
# With more holes than this a body is looked at piece by piece.
FEW_HOLES = 40


class ThingKind(Enum):
    """What a thing is."""

    PLATE = "plate"
    DEVICE = "device"
    PULLEY = "pulley"
    BELT = "belt"
    FASTENER = "fastener"
    CAPTIVE = "captive nut"


@dataclass(frozen=True, slots=True)
class Prism:
    """A straight prism in space.

    Attributes:
        profile: Its cross-section in the frame's plane.
        frame: Where it lies.
        low_mm: Where it begins along the frame's n.
        high_mm: Where it ends.
    """

    profile: Profile
    frame: Frame
    low_mm: float
    high_mm: float

    def solid(self) -> Manifold:
        """Return its body, never larger than it is."""
        return self.slab.solid()

    @property
    def slab(self) -> Slab:
        """The same, as it is drawn."""
        return Slab(section(self.profile), self.frame, self.low_mm, self.high_mm)


@dataclass(frozen=True, eq=False)
class Thing:
    """What is picked up as one.

    Attributes:
        name: What messages call it.
        kind: What it is.
        prisms: What it fills.
        voids: What is bored out of it.
        fastening: The screw it is; None for anything else.
        plates: Names of the plates in it.
        rides_on: Name of the thing it is clamped into for good; empty for what moves by itself.
        carries: Names of what is clamped into it.
    """

    name: str
    kind: ThingKind
    prisms: tuple[Prism, ...]
    voids: tuple[Prism, ...] = ()
    fastening: Fastening | None = None
    plates: tuple[str, ...] = ()
    rides_on: str = ""
    carries: tuple[str, ...] = ()

    @cached_property
    def solid(self) -> Manifold:
        """Its body."""
        return self._part(tuple(range(len(self.prisms))))

    @cached_property
    def box(self) -> Floats:
        """Least and greatest x, y, z, shape (2, 3)."""
        return bounds_of(self.prisms)

    @cached_property
    def coats(self) -> Floats:
        """A box around each of its prisms, shape (n, 2, 3)."""
        return boxes_of(self.prisms)

    @cached_property
    def slabs(self) -> tuple[Slab, ...]:
        """Its prisms as they are drawn."""
        return tuple(prism.slab for prism in self.prisms)

    @cached_property
    def _parts(self) -> dict[tuple[int, ...], Manifold]:
        """Bodies of some of its prisms, by their numbers: those that were asked for."""
        return {}

    def _part(self, which: tuple[int, ...]) -> Manifold:
        if which not in self._parts:
            body = union_solid(self.prisms[k].solid() for k in which)
            bored = union_solid(void.solid() for void in self.voids)
            self._parts[which] = body - bored if self.voids else body
        return self._parts[which]

    def near(self, box: Floats) -> Manifold:
        """Return its body as it is within a box; beyond it, holes and more may be missing."""
        met = reaching(self.coats, box)
        if _holes(self.prisms) > FEW_HOLES:
            inside = [_opened(self.prisms[k], box) for k in met]
            if 2 * _holes(inside) <= _holes(self.prisms):
                return replace(self, prisms=tuple(inside)).solid
        return self._part(met)


def _holes(prisms: Iterable[Prism]) -> int:
    return sum(len(prism.profile.inners) for prism in prisms)


def _opened(prism: Prism, box: Floats) -> Prism:
    """Return a prism without the holes that do not reach a box."""
    if len(prism.profile.inners) <= FEW_HOLES:
        return prism
    corners = np.array([(x, y, z) for x in box[:, 0] for y in box[:, 1] for z in box[:, 2]])
    flat = (corners - prism.frame.origin) @ np.array([prism.frame.u, prism.frame.v]).T
    (left, bottom), (right, top) = flat.min(axis=0), flat.max(axis=0)
    bounds = ((ring, ring.bounds) for ring in prism.profile.inners)
    reached = tuple(
        ring
        for ring, at in bounds
        if at.left < right and at.right > left and at.bottom < top and at.top > bottom
    )
    return replace(prism, profile=Profile(prism.profile.outer, reached))


def boxes_of(prisms: Sequence[Prism]) -> Floats:
    """Return least and greatest x, y, z of each prism, shape (n, 2, 3)."""
    sides = [prism.profile.outer.bounds for prism in prisms]
    frames = [prism.frame for prism in prisms]
    x = np.array([(box.left, box.right) for box in sides])[:, :, None, None, None]
    y = np.array([(box.bottom, box.top) for box in sides])[:, None, :, None, None]
    heights = np.array([(p.low_mm, p.high_mm) for p in prisms])[:, None, None, :, None]
    origin, u, v, n = np.array([(f.origin, f.u, f.v, f.n) for f in frames]).swapaxes(0, 1)[
        :, :, None, None, None, :
    ]
    corners = (origin + x * u + y * v + heights * n).reshape(-1, 8, 3)
    return np.stack([corners.min(axis=1), corners.max(axis=1)], axis=1)


def reaching(boxes: Floats, box: Floats) -> tuple[int, ...]:
    """Return which boxes, shape (n, 2, 3), share a volume with a box."""
    met = np.all((boxes[:, 0] < box[1]) & (boxes[:, 1] > box[0]), axis=1)
    return tuple(np.flatnonzero(met).tolist())


def bounds_of(prisms: Sequence[Prism]) -> Floats:
    """Return least and greatest x, y, z of prisms together, shape (2, 3)."""
    boxes = boxes_of(prisms)
    return np.array([boxes[:, 0].min(axis=0), boxes[:, 1].max(axis=0)])


@lru_cache(maxsize=SECTIONS)
def section(profile: Profile) -> Flat:
    """Return a cross-section as it is drawn, never larger than it is."""
    return Flat(profile_rings(profile, tolerance_mm=BODY_TOLERANCE_MM, side=Side.INSIDE))


def prisms_of(body: Body) -> tuple[Prism, ...]:
    """Return what a bought part fills."""
    return tuple(Prism(b.profile, body.frame, b.low_mm, b.high_mm) for b in body.blocks)


_KINDS = {
    BodyKind.DEVICE: ThingKind.DEVICE,
    BodyKind.PULLEY: ThingKind.PULLEY,
    BodyKind.BELT: ThingKind.BELT,
    BodyKind.NUT: ThingKind.CAPTIVE,
}


def things_of(
    placed: Iterable[tuple[Part, Frame]],
    stacks: Iterable[tuple[str, Sequence[str]]],
    bodies: Iterable[Body],
    fastenings: Iterable[Fastening],
) -> tuple[Thing, ...]:
    """Return everything a rig is put together from.

    Args:
        placed: Every finished part and where it lies.
        stacks: Every panel with the names of the plates glued into it.
        bodies: Devices, pulleys, belts.
        fastenings: Every screw with what belongs to it.
    """
    where = {part.name: (part, frame) for part, frame in placed}
    things = [
        Thing(
            name,
            ThingKind.PLATE,
            tuple(_plate(*where[plate]) for plate in plates),
            plates=tuple(plates),
        )
        for name, plates in stacks
    ]
    things += [
        Thing(
            body.name,
            _KINDS[body.kind],
            prisms_of(body),
            tuple(Prism(b.profile, body.frame, b.low_mm, b.high_mm) for b in body.voids),
            rides_on=body.rides_on,
        )
        for body in bodies
        if body.blocks
    ]
    things += [
        Thing(
            one.name,
            ThingKind.FASTENER,
            tuple(prism for body in one.bodies for prism in prisms_of(body)),
            fastening=one,
        )
        for one in fastenings
    ]
    return tuple(things)


def things_in(resolved: Resolved) -> tuple[Thing, ...]:
    """Return everything a resolved assembly is put together from."""
    return things_of(
        resolved.placed,
        [(panel.name, [plate.name for plate in panel.layers]) for panel in resolved.panels],
        resolved.bodies,
        resolved.fastenings,
    )


def as_carried(things: Sequence[Thing]) -> tuple[Thing, ...]:
    """Return the things as they are picked up: with what is clamped into them for good."""
    riders: dict[str, list[Thing]] = {}
    for thing in things:
        if thing.rides_on:
            riders.setdefault(thing.rides_on, []).append(thing)
    return tuple(
        replace(
            thing,
            prisms=(*thing.prisms, *(p for rider in riders[thing.name] for p in rider.prisms)),
            voids=(*thing.voids, *(v for rider in riders[thing.name] for v in rider.voids)),
            carries=tuple(rider.name for rider in riders[thing.name]),
        )
        if thing.name in riders
        else thing
        for thing in things
        if not thing.rides_on
    )


def _plate(part: Part, frame: Frame) -> Prism:
    return Prism(part.profile, frame, 0.0, part.sheet.thickness_mm)


def direction_name(way: Vector) -> str:
    """Return a direction in workshop words: "up", "to the left"..."""
    words = {
        (0, 0, 1): "up",
        (0, 0, -1): "down",
        (-1, 0, 0): "to the left",
        (1, 0, 0): "to the right",
        (0, -1, 0): "to the front",
        (0, 1, 0): "to the back",
    }
    rounded = (round(way.x), round(way.y), round(way.z))
    off = max(abs(a - b) for a, b in zip(way, rounded, strict=True))
    if off < 1e-9 and rounded in words:
        return words[rounded]
    return f"along ({way.x:.3g}, {way.y:.3g}, {way.z:.3g})"
