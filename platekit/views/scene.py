"""Scenes: a rig as the eye takes it, every thing a mesh with its sharp edges, in its step.

Everything that shows a rig in space begins here: line drawings, the page, files for other viewers.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from platekit.assembly.frames import NOWHERE, Vector
from platekit.assembly.mounting.bodies import Fastening
from platekit.assembly.panels import Panel
from platekit.assembly.proof import Proof, Step
from platekit.assembly.proof.things import Thing, ThingKind, things_in
from platekit.assembly.resolve import Resolved
from platekit.geometry.tables import Floats, Ints

# Faces that meet at less than this are one curved face, and their edge is not drawn.
SMOOTH_DEG = 25.0
# Corners nearer than this are one.
SAME_CORNER_MM = 1e-4
# Air between things that are shown apart: so many mm and so much of the rig's size.
APART_MM, APART_SHARE = 12.0, 0.04
# Plates go out by this share of how far they lie from the middle.
SPREAD = 0.9


@dataclass(frozen=True, eq=False, kw_only=True)
class Shown:
    """One thing as it is shown.

    Attributes:
        name: What messages and steps call it.
        kind: What it is.
        plates: Names of the plates in it: one, or the layers of a laminate; none for the bought.
        corners: Its corners in space, mm, shape (n, 3).
        triangles: Corners of each triangle, counter-clockwise seen from outside, shape (m, 3).
        edges: Corners of each sharp edge, shape (k, 2).
        step: Number of the step that brings it in, from 1; None where no step does.
        apart: Where it is moved to when the rig is shown taken apart, mm.
    """

    name: str
    kind: ThingKind
    plates: tuple[str, ...]
    corners: Floats
    triangles: Ints
    edges: Ints
    step: int | None = None
    apart: Vector = NOWHERE

    @property
    def box(self) -> Floats:
        """Least and greatest x, y, z, shape (2, 3)."""
        return np.array([self.corners.min(axis=0), self.corners.max(axis=0)])

    def moved(self, by: Vector, *, share: float = 1.0) -> Shown:
        """Return it moved by a share of a vector."""
        return replace(self, corners=self.corners + share * np.array(by))


@dataclass(frozen=True, eq=False, kw_only=True)
class Scene:
    """A rig as it is shown.

    Attributes:
        name: The rig's name.
        things: Everything in it, in the order of the rig.
        steps: The order of assembly.
        fastenings: Every screw, by name.
    """

    name: str
    things: tuple[Shown, ...]
    steps: tuple[Step, ...] = ()
    fastenings: tuple[Fastening, ...] = ()

    @property
    def box(self) -> Floats:
        """Least and greatest x, y, z of everything together, shape (2, 3)."""
        boxes = np.array([thing.box for thing in self.things])
        return np.array([boxes[:, 0].min(axis=0), boxes[:, 1].max(axis=0)])

    def apart(self, share: float = 1.0) -> Scene:
        """Return the scene taken apart: 0 as built, 1 with air between all things."""
        return replace(self, things=tuple(one.moved(one.apart, share=share) for one in self.things))

    def after(self, step: int) -> tuple[Shown, ...]:
        """Return what is there once a step is done, in the heap where it is done."""
        heap = self.steps[step - 1].heap
        return tuple(
            one
            for one in self.things
            if one.step is not None and one.step <= step and self._heap_at(one, step) == heap
        )

    def _heap_at(self, one: Shown, step: int) -> str | None:
        """Return in which heap a thing lies once a step is done; it goes on with its group."""
        number = one.step
        if number is None:
            return None
        heap = self.steps[number - 1].heap
        for later in range(number, step):
            if heap and self.steps[later].brings == heap:
                heap = self.steps[later].heap
        return heap


def scene_of(name: str, resolved: Resolved, proof: Proof) -> Scene:
    """Return a resolved assembly as it is shown, taken apart along the order of its proof."""
    things = things_in(resolved)
    numbers = _numbers(proof.steps, things)
    shown = [_shown(thing, numbers.get(thing.name)) for thing in things]
    bare = Scene(name=name, things=tuple(shown), steps=proof.steps, fastenings=resolved.fastenings)
    return replace(bare, things=_taken_apart(bare, resolved))


def _numbers(steps: Sequence[Step], things: Iterable[Thing]) -> dict[str, int]:
    """Return which step brings a thing in first, by its name."""
    numbers: dict[str, int] = {}
    for number, step in enumerate(steps, start=1):
        for name in (*step.things, *step.fasteners, *step.belts, *step.fitted):
            numbers.setdefault(name, number)
    for thing in things:
        if thing.rides_on in numbers:
            numbers.setdefault(thing.name, numbers[thing.rides_on])
        # A nut in a pocket is laid in when its screw is driven; it is called after it.
        screw = thing.name.removesuffix(" nut")
        if thing.kind is ThingKind.CAPTIVE and screw in numbers:
            numbers.setdefault(thing.name, numbers[screw])
    return numbers


def _shown(thing: Thing, step: int | None) -> Shown:
    mesh = thing.solid.to_mesh()
    corners, triangles = _merged(
        np.asarray(mesh.vert_properties, dtype=float)[:, :3], np.asarray(mesh.tri_verts)
    )
    return Shown(
        name=thing.name,
        kind=thing.kind,
        plates=thing.plates,
        corners=corners,
        triangles=triangles,
        edges=sharp_edges(corners, triangles),
        step=step,
    )


def _merged(corners: Floats, triangles: Ints) -> tuple[Floats, Ints]:
    """Return a mesh in which corners at one place are one; triangles without area are gone."""
    rounded = np.round(corners / SAME_CORNER_MM).astype(np.int64)
    _, first, place = np.unique(rounded, axis=0, return_index=True, return_inverse=True)
    moved = np.asarray(place).reshape(-1)[triangles]
    real = (
        (moved[:, 0] != moved[:, 1]) & (moved[:, 1] != moved[:, 2]) & (moved[:, 2] != moved[:, 0])
    )
    return corners[first], moved[real].astype(np.intp)


def sharp_edges(corners: Floats, triangles: Ints, *, smooth_deg: float = SMOOTH_DEG) -> Ints:
    """Return the edges of a mesh where its faces turn by more than an angle, shape (k, 2).

    An edge that does not lie between two triangles is sharp as well.

    Args:
        corners: Shape (n, 3).
        triangles: Shape (m, 3).
        smooth_deg: Edges of faces that turn by less are left out.
    """
    normals = np.cross(
        corners[triangles[:, 1]] - corners[triangles[:, 0]],
        corners[triangles[:, 2]] - corners[triangles[:, 0]],
    )
    lengths = np.linalg.norm(normals, axis=1, keepdims=True)
    normals = normals / np.where(lengths == 0.0, 1.0, lengths)
    sides = np.concatenate([triangles[:, [0, 1]], triangles[:, [1, 2]], triangles[:, [2, 0]]])
    faces = np.tile(np.arange(len(triangles)), 3)
    sides = np.sort(sides, axis=1)
    found, place, count = np.unique(sides, axis=0, return_inverse=True, return_counts=True)
    order = np.argsort(np.asarray(place).reshape(-1), kind="stable")
    start = np.concatenate([[0], np.cumsum(count)[:-1]])
    one = normals[faces[order[start]]]
    other = normals[faces[order[np.minimum(start + 1, len(order) - 1)]]]
    cosine = np.einsum("ij,ij->i", one, other)
    sharp = (count != 2) | (cosine < np.cos(np.radians(smooth_deg)))
    return np.asarray(found[sharp], dtype=np.intp)


def _taken_apart(scene: Scene, resolved: Resolved) -> tuple[Shown, ...]:
    """Return the things with where they go when the rig is shown taken apart.

    A plate goes out along its own normal, by a share of how far it lies from the rig's middle;
    pulleys and belts along their axis likewise. A device goes with its panel and on, off the face
    it stands on; a screw with what its head lies on and on, out of its hole.
    """
    low, high = scene.box
    middle = (low + high) / 2
    gap = APART_MM + APART_SHARE * float(np.linalg.norm(high - low))
    there = {thing.name: thing for thing in scene.things}
    axes = {panel.name: np.array(panel.frame.n) for panel in resolved.panels}
    axes |= {body.name: np.array(body.frame.n) for body in resolved.bodies}
    moved = {
        name: _outwards(there[name].box.mean(axis=0) - middle, axis)
        for name, axis in axes.items()
        if name in there
    }
    for one in resolved.standing:
        if one.name not in there:
            continue
        axis = np.array(one.frame.n)
        box = there[one.name].box
        reach = float(np.abs(axis) @ (box[1] - box[0]))
        own = axis * (gap + reach / 2)
        moved[one.name] = moved.get(one.panel, np.zeros(3)) + (
            np.zeros(3) if one.device.most_panel_mm is not None else own
        )
    carriers = {plate: panel.name for panel in resolved.panels for plate in _plates(panel)}
    for screw in resolved.fastenings:
        if screw.name not in there:
            continue
        held = [carriers.get(name, name) for name in screw.holds]
        base = next((moved[name] for name in held if name in moved), np.zeros(3))
        box = there[screw.name].box
        way = np.array(screw.way)
        moved[screw.name] = base + way * (gap / 2 + float(np.abs(way) @ (box[1] - box[0])))
    return tuple(
        replace(thing, apart=Vector(*map(float, moved.get(thing.name, np.zeros(3)))))
        for thing in scene.things
    )


def _outwards(from_middle: Floats, axis: Floats) -> Floats:
    return np.asarray(SPREAD * float(from_middle @ axis) * axis, dtype=float)


def _plates(panel: Panel) -> tuple[str, ...]:
    return tuple(plate.name for plate in panel.layers)
