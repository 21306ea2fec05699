"""Sides of a mesh: between which triangles each lies, and which of them a given eye may see."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from platekit.geometry.tables import Bools, Floats, Ints

# A face turned to the eye by less than this is seen edge-on, so that it hides nothing: the mesh
# kernel's seven figures leave a facet of a millimetre some hundred-thousandths.
EDGE_ON = 1e-4
# Further than this behind the neighbour's plane, in parts of its size, an edge is a crease.
CREASE = 1e-5
# Meshes whose sides are remembered: those of a few rigs of some hundred things each, a few MB.
REMEMBERED = 512


@dataclass(frozen=True, slots=True, eq=False)
class Sides:
    """Every side of a mesh once.

    Attributes:
        ends: Corners of each, shape (k, 2).
        faces: The two triangles it lies between; the same one twice where there is no other,
            shape (k, 2).
        beyond: The corner of the second triangle that is not on the side, shape (k,).
        plain: Whether it lies between two triangles, no more, no less; shape (k,).
    """

    ends: Ints
    faces: Ints
    beyond: Ints
    plain: Bools


class _Same:
    """An array taken for what it is, not for what stands in it."""

    __slots__ = ("array",)

    def __init__(self, array: Ints) -> None:
        self.array = array

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and self.array is other.array

    def __hash__(self) -> int:
        return id(self.array)


def sides_of(triangles: Ints) -> Sides:
    """Return the sides of a mesh; remembered, since a thing is drawn many times over.

    Args:
        triangles: Corners of each, shape (m, 3); must not be changed afterwards.
    """
    return _sides(_Same(triangles))


@lru_cache(maxsize=REMEMBERED)
def _sides(same: _Same) -> Sides:
    triangles = same.array
    sides = np.sort(
        np.concatenate([triangles[:, [0, 1]], triangles[:, [1, 2]], triangles[:, [2, 0]]]), axis=1
    ).astype(np.int64)
    count = int(triangles.max()) + 1 if len(triangles) else 1
    key = sides[:, 0] * count + sides[:, 1]
    order = np.argsort(key, kind="stable")
    first = np.flatnonzero(np.diff(key[order], prepend=-1))
    counts = np.diff(first, append=len(order))
    one = order[first]
    other = order[np.minimum(first + 1, len(order) - 1)]
    other = np.where(counts >= 2, other, one)
    faces = np.stack([one, other], axis=1) % max(len(triangles), 1)
    beyond = np.roll(triangles, 1, axis=1).T.reshape(-1)[other]
    return Sides(
        ends=sides[one].astype(np.intp),
        faces=faces.astype(np.intp),
        beyond=beyond.astype(np.intp),
        plain=counts == 2,
    )


def patches_of(triangles: Ints, sharp: Ints) -> Ints:
    """Return for each triangle the number of the smooth face it is of; remembered.

    Args:
        triangles: Corners of each, shape (m, 3); must not be changed afterwards.
        sharp: Corners of the sharp edges, shape (k, 2): no smooth face goes on across them.
    """
    return _patches(_Same(triangles), _Same(sharp))


@lru_cache(maxsize=REMEMBERED)
def _patches(triangles: _Same, sharp: _Same) -> Ints:
    sides = _sides(triangles)
    one, other = sides.faces[~_sharp(triangles, sharp)].T
    labels = np.arange(len(triangles.array), dtype=np.intp)
    while True:
        least = np.minimum(labels[one], labels[other])
        before = labels.copy()
        np.minimum.at(labels, one, least)
        np.minimum.at(labels, other, least)
        labels = labels[labels]
        if np.array_equal(labels, before):
            return labels


@lru_cache(maxsize=REMEMBERED)
def _sharp(triangles: _Same, edges: _Same) -> Bools:
    """Return which sides of a mesh are among its sharp edges, whichever way round, shape (k,)."""
    ends, sharp = _sides(triangles).ends, edges.array
    count = np.int64(max(ends.max(initial=0), sharp.max(initial=0)) + 1)
    some, others = (np.sort(one, axis=1).astype(np.int64) for one in (ends, sharp))
    return np.isin(some[:, 0] * count + some[:, 1], others[:, 0] * count + others[:, 1])


def facing(seen: Floats, triangles: Ints) -> Floats:
    """Return how far each triangle is turned to the eye: 1 square to it, negative away from it.

    Args:
        seen: Corners as a camera sees them, shape (n, 3).
        triangles: Shape (m, 3).
    """
    a, b, c = (seen[triangles[:, k]] for k in range(3))
    normal = np.cross(b - a, c - a)
    length = np.sqrt(np.einsum("ij,ij->i", normal, normal))
    return np.asarray(normal[:, 2] / np.where(length == 0.0, 1.0, length))


def seeable(seen: Floats, triangles: Ints, sharp: Ints) -> tuple[Ints, Bools]:
    """Return the sides of a closed mesh that nothing but another face can hide, and their kind.

    Those are the sharp edges with a face turned to the eye, and the sides where a smooth face
    turns away from it. In a crease the thing itself stands before such a side.

    Args:
        seen: Corners as a camera sees them, shape (n, 3).
        triangles: Shape (m, 3).
        sharp: Corners of its sharp edges, shape (k, 2).

    Returns:
        Corners of each, shape (j, 2), and whether it is an outline, where the thing ends for the
        eye, shape (j,).
    """
    sides = sides_of(triangles)
    turned = facing(seen, triangles)
    front = turned[sides.faces] > EDGE_ON
    some, both = front.any(axis=1), front.all(axis=1)
    outline = (some & ~both) | (~sides.plain & some)
    outline &= ~(sides.plain & _creased(seen, triangles, sides))
    kept = outline | (both & _sharp(_Same(triangles), _Same(sharp)))
    return sides.ends[kept], np.asarray(outline[kept])


def _creased(seen: Floats, triangles: Ints, sides: Sides) -> Bools:
    """Return which sides lie in a crease: the second face rises above the first one's plane."""
    a, b, c = (seen[triangles[sides.faces[:, 0], k]] for k in range(3))
    normal = np.cross(b - a, c - a)
    way = seen[sides.beyond] - a
    rise = np.einsum("ij,ij->i", normal, way)
    size = np.sqrt(np.einsum("ij,ij->i", normal, normal) * np.einsum("ij,ij->i", way, way))
    return np.asarray(rise > CREASE * size)
