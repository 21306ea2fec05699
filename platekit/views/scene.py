"""Scenes: a rig as the eye takes it, every thing a mesh with its sharp edges, in its step.

Everything that shows a rig in space begins here: line drawings, the page, files for other viewers.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from platekit.assembly.frames import NOWHERE, Frame, Vector
from platekit.assembly.mounting.bodies import Fastening
from platekit.assembly.proof import Proof, Step
from platekit.assembly.proof.things import Thing, ThingKind, things_in, things_of
from platekit.assembly.resolve import Resolved
from platekit.geometry.tables import Floats, Ints
from platekit.panel.part import Part
from platekit.views.apart import taken_apart

# Faces that meet at less than this are one curved face, and their edge is not drawn.
SMOOTH_DEG = 25.0
# Corners nearer than this are one.
SAME_CORNER_MM = 1e-4
# What 64 bits hold, with room to spare.
MOST_NUMBERS = 2**62


@dataclass(frozen=True, eq=False, slots=True)
class Mesh:
    """The surface of a thing.

    Attributes:
        corners: Its corners in space, mm, shape (n, 3).
        triangles: Corners of each triangle, counter-clockwise seen from outside, shape (m, 3).
        edges: Corners of each sharp edge, shape (k, 2).
    """

    corners: Floats
    triangles: Ints
    edges: Ints


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


def mesh_of(thing: Thing) -> Mesh:
    """Return the surface of a thing."""
    mesh = thing.solid.to_mesh()
    corners, triangles = _merged(
        np.asarray(mesh.vert_properties, dtype=float)[:, :3], np.asarray(mesh.tri_verts)
    )
    return Mesh(corners, triangles, sharp_edges(corners, triangles))


def scene_of(
    name: str, resolved: Resolved, proof: Proof, *, mesh: Callable[[Thing], Mesh] = mesh_of
) -> Scene:
    """Return a resolved assembly as it is shown, taken apart along the order of its proof.

    Args:
        name: The rig's name.
        resolved: Its plates and all that is bought.
        proof: The order in which it goes together.
        mesh: Gives the surface of a thing: for whoever remembers those that have not changed.
    """
    things = things_in(resolved)
    numbers = _numbers(proof.steps, things)
    shown = [_shown(thing, numbers.get(thing.name), mesh(thing)) for thing in things]
    bare = Scene(name=name, things=tuple(shown), steps=proof.steps, fastenings=resolved.fastenings)
    apart = taken_apart(
        {one.name: one.box for one in shown},
        steps=proof.steps,
        fastenings=resolved.fastenings,
        plates={plate: one.name for one in shown for plate in one.plates},
        riding={thing.name: thing.rides_on for thing in things if thing.rides_on},
    )
    return replace(bare, things=tuple(replace(one, apart=apart[one.name]) for one in shown))


def scene_of_part(part: Part) -> Scene:
    """Return a single part as it is shown: lying on the bench, its good face up."""
    things = things_of([(part, Frame())], [(part.name, [part.name])], (), ())
    return Scene(
        name=part.name, things=tuple(_shown(thing, None, mesh_of(thing)) for thing in things)
    )


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


def _shown(thing: Thing, step: int | None, mesh: Mesh) -> Shown:
    return Shown(
        name=thing.name,
        kind=thing.kind,
        plates=thing.plates,
        corners=mesh.corners,
        triangles=mesh.triangles,
        edges=mesh.edges,
        step=step,
    )


def _merged(corners: Floats, triangles: Ints) -> tuple[Floats, Ints]:
    """Return a mesh in which corners at one place are one; triangles without area are gone."""
    rounded = np.round(corners / SAME_CORNER_MM).astype(np.int64)
    _, first, place = np.unique(_numbered(rounded), return_index=True, return_inverse=True)
    moved = np.asarray(place).reshape(-1)[triangles]
    real = (
        (moved[:, 0] != moved[:, 1]) & (moved[:, 1] != moved[:, 2]) & (moved[:, 2] != moved[:, 0])
    )
    return corners[first], moved[real].astype(np.intp)


def _numbered(rows: Ints) -> Ints:
    """Return a number for each row of whole numbers, in the order of the rows, equal for equal.

    To sort numbers takes a tenth of the time it takes to sort rows.
    """
    numbers = np.zeros(len(rows), dtype=np.int64)
    if not len(rows):
        return numbers
    for column in (rows - rows.min(axis=0)).T.astype(np.int64):
        size = int(column.max()) + 1
        if (int(numbers.max()) + 1) * size > MOST_NUMBERS:
            numbers = np.unique(numbers, return_inverse=True)[1].reshape(-1)
        numbers = numbers * size + column
    return numbers


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
    numbers = _numbered(sides)
    order = np.argsort(numbers, kind="stable")
    _, start, count = np.unique(numbers[order], return_index=True, return_counts=True)
    found = sides[order[start]]
    one = normals[faces[order[start]]]
    other = normals[faces[order[np.minimum(start + 1, len(order) - 1)]]]
    cosine = np.einsum("ij,ij->i", one, other)
    sharp = (count != 2) | (cosine < np.cos(np.radians(smooth_deg)))
    return np.asarray(found[sharp], dtype=np.intp)
