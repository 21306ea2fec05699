"""Normals: what makes a mesh look round where it is round and sharp where it has an edge.

A viewer shades a face by the normals at its corners. Corners that faces share across a sharp edge
are taken apart, one for each side; across a curved face they stay one and its normal is the mean.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from platekit.geometry.tables import Bools, Floats, Ints

# A normal shorter than this has no direction: the faces around it cancel out.
LEAST_LENGTH = 1e-12


@dataclass(frozen=True, eq=False, slots=True)
class Shaded:
    """A mesh ready for a viewer.

    Attributes:
        corners: Shape (n, 3); the same place may stand here several times.
        normals: Unit vectors, one for each corner, shape (n, 3).
        triangles: Shape (m, 3), turned as they were given.
    """

    corners: Floats
    normals: Floats
    triangles: Ints


def shaded(corners: Floats, triangles: Ints, *, smooth_deg: float) -> Shaded:
    """Return a mesh with normals, taken apart along its sharp edges.

    A normal is the mean of the faces that meet there without a sharp edge between them, each
    weighted by its angle at the corner, so that it does not depend on how a flat face is cut into
    triangles.

    Args:
        corners: Shape (n, 3).
        triangles: Shape (m, 3), counter-clockwise seen from outside.
        smooth_deg: Faces that turn by less across an edge are one curved face. An edge that does
            not lie between exactly two triangles is sharp.

    Source:
        Weights by angle: G. Thuermer and C. Wuethrich, Computing vertex normals from polygonal
        facets, Journal of Graphics Tools 3 (1998); from memory.
    """
    normals = _face_normals(corners, triangles)
    groups = _groups(triangles, _smooth_pairs(triangles, normals, smooth_deg=smooth_deg))
    first, place = np.unique(groups, return_index=True, return_inverse=True)[1:]
    place = np.asarray(place).reshape(-1)
    weights = _angles(corners, triangles).reshape(-1, 1)
    summed = np.zeros((len(first), 3))
    np.add.at(summed, place, weights * np.repeat(normals, 3, axis=0))
    lengths = np.linalg.norm(summed, axis=1, keepdims=True)
    # Faces that cancel out: any unit vector will do, that of one of them is the best guess.
    own = np.repeat(normals, 3, axis=0)[first]
    mean = np.where(lengths < LEAST_LENGTH, own, summed / np.maximum(lengths, LEAST_LENGTH))
    return Shaded(
        corners=corners[triangles.reshape(-1)[first]],
        normals=mean,
        triangles=place.reshape(-1, 3).astype(np.intp),
    )


def broad_side(corners: Floats, triangles: Ints) -> Floats:
    """Return the unit vector across the broad side of a thing: the way most of its area looks."""
    a, b, c = (corners[triangles[:, k]] for k in range(3))
    doubled = np.cross(b - a, c - a)
    # Both faces of a plate count for one way: what looks down is taken as looking up.
    ways = np.round(_face_normals(corners, triangles), 3)
    first = np.argmax(ways != 0.0, axis=1)
    ways *= np.sign(np.take_along_axis(ways, first[:, None], axis=1))
    found, place = np.unique(ways, axis=0, return_inverse=True)
    areas = np.bincount(np.asarray(place).reshape(-1), weights=np.linalg.norm(doubled, axis=1))
    broad = found[int(np.argmax(areas))]
    return np.asarray(broad / np.linalg.norm(broad), dtype=float)


def _face_normals(corners: Floats, triangles: Ints) -> Floats:
    """Return a unit vector for each triangle; upright for one without area."""
    a, b, c = (corners[triangles[:, k]] for k in range(3))
    normals = np.cross(b - a, c - a)
    lengths = np.linalg.norm(normals, axis=1, keepdims=True)
    upright = np.array([0.0, 0.0, 1.0])
    return np.where(lengths > 0.0, normals / np.where(lengths > 0.0, lengths, 1.0), upright)


def _angles(corners: Floats, triangles: Ints) -> Floats:
    """Return the angle of each triangle at each of its corners, radians, shape (m, 3)."""
    found = []
    for k in range(3):
        at, one, other = (corners[triangles[:, (k + j) % 3]] for j in range(3))
        one, other = one - at, other - at
        across = np.linalg.norm(np.cross(one, other), axis=1)
        found.append(np.arctan2(across, np.einsum("ij,ij->i", one, other)))
    return np.stack(found, axis=1)


def _smooth_pairs(triangles: Ints, normals: Floats, *, smooth_deg: float) -> Ints:
    """Return which wedges are one: wedge 3 t + k is corner k of triangle t; shape (p, 2)."""
    faces = np.repeat(np.arange(len(triangles)), 3)
    begin = np.arange(3 * len(triangles))
    end = 3 * faces + (begin + 1) % 3
    flat = triangles.reshape(-1)
    turned = flat[begin] > flat[end]
    low, high = np.where(turned, end, begin), np.where(turned, begin, end)
    sides = np.stack([flat[low], flat[high]], axis=1)
    _, place, count = np.unique(sides, axis=0, return_inverse=True, return_counts=True)
    order = np.argsort(np.asarray(place).reshape(-1), kind="stable")
    start = np.concatenate([[0], np.cumsum(count)[:-1]])[count == 2]
    one, other = order[start], order[start + 1]
    cosine = np.einsum("ij,ij->i", normals[faces[one]], normals[faces[other]])
    smooth: Bools = cosine >= np.cos(np.radians(smooth_deg))
    one, other = one[smooth], other[smooth]
    return np.concatenate(
        [np.stack([low[one], low[other]], axis=1), np.stack([high[one], high[other]], axis=1)]
    )


def _groups(triangles: Ints, pairs: Ints) -> Ints:
    """Return for each wedge the least one that it is joined to."""
    labels = np.arange(3 * len(triangles))
    while True:
        least = np.minimum(labels[pairs[:, 0]], labels[pairs[:, 1]])
        known = labels.copy()
        np.minimum.at(labels, labels[pairs[:, 0]], least)
        np.minimum.at(labels, labels[pairs[:, 1]], least)
        labels = labels[labels]
        if np.array_equal(labels, known):
            return labels
