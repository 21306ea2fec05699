"""Glue: where two things that are glued touch, hatched on both as far as the eye sees it.

Two flat faces that look at each other and lie no further apart than the joint's clearance touch
where one covers the other. Hatching is laid over that, at half a right angle on the picture, as far
apart everywhere; lines rather than a tint, so that it reads in grey and on every ground.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from platekit.geometry.tables import Bools, Floats, Ints
from platekit.views.camera import Camera
from platekit.views.grid import counted, pairs
from platekit.views.scene import Glued, Shown
from platekit.views.sides import EDGE_ON

# Beyond the clearance: what the mesh kernel's seven figures and a rounding may add.
SLACK_MM = 0.02
# Planes whose normals differ by less than this (of 1) are parallel.
PARALLEL = 1e-3
# Stretches shorter than this are none, and with less air between them they are one.
SAME_MM = 1e-3
# Distance of the lines of hatching, in parts of a picture's diagonal.
HATCH_SHARE = 1 / 180
# Direction of the hatching on the picture, and across it.
ALONG, ACROSS = np.array([1.0, 1.0]) / np.sqrt(2), np.array([-1.0, 1.0]) / np.sqrt(2)


class Plane(NamedTuple):
    """Triangles of a thing that lie in one plane: its normal, how far out it lies, theirs."""

    normal: Floats
    offset_mm: float
    triangles: Floats


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Contact:
    """Two flat faces that touch, or would but for the clearance.

    Attributes:
        names: Of what each is a face.
        faces: Their triangles in space, mm, counter-clockwise seen from outside, shape (n, 3, 3).
    """

    names: tuple[str, str]
    faces: tuple[Floats, Floats]


def contacts(things: Mapping[str, Shown], glued: Glued) -> tuple[Contact, ...]:
    """Return the faces on which two things meet that are glued to each other.

    Args:
        things: Everything, in its place, by name.
        glued: Which two, and their clearance; none where one of them is not there.
    """
    if not all(name in things for name in glued.between):
        return ()
    first, second = (things[name] for name in glued.between)
    reach = max(glued.clearance_mm, 0.0) + SLACK_MM
    one, other = (
        tuple(_planes(_near(mine, theirs.box, reach)))
        for mine, theirs in ((first, second), (second, first))
    )
    if not one or not other:
        return ()
    normals, offsets = _as_arrays(one)
    facing, further = _as_arrays(other)
    parallel = np.abs(normals[:, None] + facing[None]).max(axis=2) < PARALLEL
    near = np.abs(offsets[:, None] + further[None]) <= reach
    return tuple(
        Contact(names=glued.between, faces=(one[k].triangles, other[j].triangles))
        for k, j in np.argwhere(parallel & near).tolist()
        if _overlap(_box(one[k].triangles), _box(other[j].triangles), reach)
    )


def hatching(contact: Contact, camera: Camera, *, apart_mm: float) -> tuple[Floats, Floats]:
    """Return hatching of each of two faces where they touch, for the eye they look at.

    Args:
        contact: The faces.
        camera: The eye.
        apart_mm: Distance of the lines on the picture.

    Returns:
        Ends of the lines on the first face and on the second, in space, shape (n, 2, 3) each; none
        on a face that is turned away or seen edge-on.
    """
    seen = [camera.seen(face.reshape(-1, 3)).reshape(-1, 3, 3) for face in contact.faces]
    spans = [_spans(face, apart_mm) for face in seen]
    mine, theirs = pairs(spans[0][0], spans[1][0])
    low = np.maximum(spans[0][1][mine, 0], spans[1][1][theirs, 0])
    high = np.minimum(spans[0][1][mine, 1], spans[1][1][theirs, 1])
    some = high > low + SAME_MM
    lines, ends = _merged(spans[0][0][mine][some], np.stack([low, high], axis=1)[some])
    flat = ends[:, :, None] * ALONG + (lines * apart_mm)[:, None, None] * ACROSS
    first, second = (_lifted(flat, face) @ camera.axes for face in seen)
    return first, second


def _as_arrays(planes: Sequence[Plane]) -> tuple[Floats, Floats]:
    return np.array([one.normal for one in planes]), np.array([one.offset_mm for one in planes])


def _near(one: Shown, box: Floats, reach_mm: float) -> Floats:
    """Return the triangles of a thing that reach a box, shape (n, 3, 3)."""
    corners = one.corners[one.triangles]
    low, high = corners.min(axis=1), corners.max(axis=1)
    met = (low <= box[1] + reach_mm).all(axis=1) & (high >= box[0] - reach_mm).all(axis=1)
    return np.asarray(corners[met])


def _box(triangles: Floats) -> Floats:
    return np.array([triangles.min(axis=(0, 1)), triangles.max(axis=(0, 1))])


def _overlap(one: Floats, other: Floats, reach_mm: float) -> bool:
    return bool((one[0] <= other[1] + reach_mm).all() and (other[0] <= one[1] + reach_mm).all())


def _planes(corners: Floats) -> Iterator[Plane]:
    """Yield the planes in which triangles lie."""
    if not len(corners):
        return
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    lengths = np.linalg.norm(normals, axis=1)
    real = lengths > 0.0
    corners, normals = corners[real], normals[real] / lengths[real, None]
    offsets = np.einsum("ij,ij->i", corners[:, 0], normals)
    key = np.round(np.column_stack([normals / PARALLEL, offsets / SLACK_MM])).astype(np.int64)
    _, place = np.unique(key, axis=0, return_inverse=True)
    place = np.asarray(place).reshape(-1)
    order = np.argsort(place, kind="stable")
    for some in np.split(order, np.flatnonzero(np.diff(place[order])) + 1):
        yield Plane(normals[some[0]], float(offsets[some[0]]), corners[some])


def _spans(seen: Floats, apart_mm: float) -> tuple[Ints, Floats]:
    """Return where hatching crosses triangles: number of the line, from where to where along it.

    Args:
        seen: Their corners as a camera sees them, shape (n, 3, 3).
        apart_mm: Distance of the lines.
    """
    across, along = seen[:, :, :2] @ ACROSS / apart_mm, seen[:, :, :2] @ ALONG
    low = np.ceil(across.min(axis=1)).astype(np.intp)
    high = np.floor(across.max(axis=1)).astype(np.intp)
    which, line = counted(low, np.maximum(high, low - 1))
    start, end = np.full(len(which), np.inf), np.full(len(which), -np.inf)
    for k in range(3):
        a, b = across[which, k], across[which, (k + 1) % 3]
        met: Bools = (np.minimum(a, b) <= line) & (line <= np.maximum(a, b)) & (a != b)
        share = (line - a) / np.where(a == b, 1.0, b - a)
        at = along[which, k] + share * (along[which, (k + 1) % 3] - along[which, k])
        start, end = (
            np.where(met, np.minimum(start, at), start),
            np.where(met, np.maximum(end, at), end),
        )
    some = end > start
    return line[some], np.stack([start, end], axis=1)[some]


def _merged(lines: Ints, spans: Floats) -> tuple[Ints, Floats]:
    """Return stretches of numbered lines with those that follow each other joined."""
    if not len(lines):
        return lines, spans
    order = np.lexsort((spans[:, 0], lines))
    lines, spans = lines[order], spans[order]
    # Lines lie one behind the other, far enough apart that one sweep does for all.
    room = float(np.ptp(spans)) + 1.0
    shifted = spans + room * (lines - lines[0])[:, None]
    reached = np.maximum.accumulate(shifted[:, 1])
    begins = np.append(True, shifted[1:, 0] > reached[:-1] + SAME_MM)
    first = np.flatnonzero(begins)
    last = np.append(first[1:], len(lines)) - 1
    end = reached[last] - room * (lines[first] - lines[0])
    return lines[first], np.stack([spans[first, 0], end], axis=1)


def _lifted(flat: Floats, face: Floats) -> Floats:
    """Return ends on a picture as a camera sees them on a flat face; none on one turned away."""
    crosses = np.cross(face[:, 1] - face[:, 0], face[:, 2] - face[:, 0])
    sizes = np.linalg.norm(crosses, axis=1)
    largest = int(np.argmax(sizes))
    a, normal = face[largest, 0], crosses[largest] / sizes[largest]
    if normal[2] <= EDGE_ON:
        return np.empty((0, 2, 3))
    near = a[2] - ((flat - a[:2]) @ normal[:2]) / normal[2]
    return np.concatenate([flat, near[:, :, None]], axis=2)
