"""Meshes: the surface of a thing, cleaned up, with the edges that are sharp."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from platekit.assembly.frames import NOWHERE, Vector
from platekit.assembly.proof.things import Prism, Thing
from platekit.geometry.tables import Floats, Ints

# Faces that meet at less than this are one curved face, and their edge is not drawn.
SMOOTH_DEG = 25.0
# Corners nearer than this are one.
SAME_CORNER_MM = 1e-4
# Meshes of so many shapes are remembered: of several rigs. Beyond it the oldest go.
HELD_MESHES = 1000
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


class Meshes:
    """Gives the surfaces of things, and measures those that differ by their place alone but once.

    A rig has four screws of each kind; and what a maker changes moves more than it reshapes.
    """

    def __init__(self, *, held: int = HELD_MESHES) -> None:
        self._held = held
        self._known: dict[object, Mesh] = {}

    def __call__(self, thing: Thing) -> Mesh:
        """Return the surface of a thing where it stands."""
        home = _home(thing)
        shape = (_shape(thing.prisms, home), _shape(thing.voids, home))
        mesh = self._known.pop(shape, None) or _mesh_about(thing, home)
        self._known[shape] = mesh  # as the newest: a dict keeps the order
        if len(self._known) > self._held:
            del self._known[next(iter(self._known))]
        return Mesh(mesh.corners + home, mesh.triangles, mesh.edges)


def mesh_of(thing: Thing) -> Mesh:
    """Return the surface of a thing."""
    return Meshes()(thing)


def _home(thing: Thing) -> Vector:
    """Return the place that a thing's shape is measured from."""
    return thing.prisms[0].frame.origin if thing.prisms else NOWHERE


def _shape(prisms: Iterable[Prism], home: Vector) -> tuple[object, ...]:
    """Return what is equal for prisms that differ by their place alone.

    Places are told to a nanometre: the same screw elsewhere differs by the last bits.
    """
    return tuple(
        (
            one.profile,
            one.frame.u,
            one.frame.v,
            tuple(round(a - b, 6) + 0.0 for a, b in zip(one.frame.origin, home, strict=True)),
            one.low_mm,
            one.high_mm,
        )
        for one in prisms
    )


def _mesh_about(thing: Thing, home: Vector) -> Mesh:
    """Return the surface of a thing as seen from a place of its own."""
    mesh = thing.solid.translate((-home.x, -home.y, -home.z)).to_mesh()
    corners, triangles = _merged(
        np.asarray(mesh.vert_properties, dtype=float)[:, :3], np.asarray(mesh.tri_verts)
    )
    return Mesh(corners, triangles, sharp_edges(corners, triangles))


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
