"""Meshes as the page carries them: corners on grids of their own, all numbers squeezed as one.

A thing's corners are counted in steps from the least corner of its box; a step is a power of two of
a millimetre, so fine that 16 bits reach across. Equal things, like the screws of one circle, then
come out as equal meshes, and the page carries one of each.

Neighbouring numbers are much alike, so what is kept is how far each is from one before it: a fifth
of the room. The numbers of all meshes stand in one row: first the corners of every mesh (all x, all
y, all z, each from the one before), then the triangles (their first corners, each from the one
before; how far the second corner is from the first; how far the third is from the first), then the
edges (first corners from one before; second from first). Each is made unsigned, 2n for n from 0 on
and -2n - 1 below, and written as four bytes: all lowest bytes of the row, then all second ones, and
so on; the whole is gzip (RFC 1952) in base64 (RFC 4648).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from platekit.export.page.squeezed import squeezed_bytes
from platekit.geometry.tables import Ints
from platekit.views.scene import Shown

MOST_STEPS = 65535
# No thing needs a finer grid than this, mm.
FINEST_MM = 2.0**-12


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Mesh:
    """The mesh of a thing about the least corner of its box.

    Attributes:
        per_mm: Steps to the millimetre.
        corners: Steps along x, y, z, shape (n, 3).
        triangles: Three corners each, the least first, sorted, shape (n, 3).
        edges: Two corners each, the lesser first, sorted, shape (n, 2).
    """

    per_mm: float
    corners: Ints
    triangles: Ints
    edges: Ints

    @property
    def key(self) -> tuple[float, bytes, bytes, bytes]:
        """What two equal meshes have in common."""
        return (
            self.per_mm,
            self.corners.tobytes(),
            self.triangles.tobytes(),
            self.edges.tobytes(),
        )


def mesh_table(things: Sequence[Shown]) -> tuple[list[Mesh], list[int]]:
    """Return every mesh once, and which of them each thing has."""
    meshes: list[Mesh] = []
    known: dict[tuple[float, bytes, bytes, bytes], int] = {}
    which = []
    for thing in things:
        mesh = mesh_of(thing)
        number = known.setdefault(mesh.key, len(meshes))
        if number == len(meshes):
            meshes.append(mesh)
        which.append(number)
    return meshes, which


def mesh_of(thing: Shown) -> Mesh:
    """Return the mesh of one thing, about the least corner of its box."""
    low, high = thing.box
    extent = float((high - low).max())
    step = max(FINEST_MM, 2.0 ** math.ceil(math.log2(max(extent, FINEST_MM) / MOST_STEPS)))
    return Mesh(
        per_mm=1.0 / step,
        corners=np.rint((thing.corners - low) / step).astype(np.int64),
        triangles=_sorted(_least_first(thing.triangles.astype(np.int64))),
        edges=_sorted(np.sort(thing.edges.astype(np.int64), axis=1)),
    )


def meshes_json(meshes: Sequence[Mesh]) -> dict[str, object]:
    """Return how many corners, triangles and edges each mesh has, its size, and all numbers."""
    row = [
        *(_from_before(one.corners) for one in meshes),
        *(_from_first(one.triangles) for one in meshes),
        *(_from_first(one.edges) for one in meshes),
    ]
    return {
        "each": [
            {
                "per_mm": one.per_mm,
                "size": (one.corners.max(axis=0) / one.per_mm).tolist(),
                "corners": len(one.corners),
                "triangles": len(one.triangles),
                "edges": len(one.edges),
            }
            for one in meshes
        ],
        # The page is drawn anew at every change of a recipe: the quick way costs it a hundredth.
        "numbers": squeezed_bytes(_bytes(row), level=6),
    }


def _least_first(triangles: Ints) -> Ints:
    """Return triangles that begin with their least corner and still run round the same way."""
    first = triangles.argmin(axis=1)[:, None]
    turned: Ints = np.take_along_axis(triangles, (first + np.arange(3)) % 3, axis=1)
    return turned


def _sorted(rows: Ints) -> Ints:
    ordered: Ints = rows[np.lexsort(rows.T[::-1])]
    return ordered


def _from_before(rows: Ints) -> Ints:
    """Return each number of a column less the one above it, column after column."""
    steps: Ints = np.diff(rows, axis=0, prepend=0).T.ravel()
    return steps


def _from_first(rows: Ints) -> Ints:
    """Return the first column, each from the one above, then the others, each from the first."""
    return np.concatenate([np.diff(rows[:, 0], prepend=0), (rows[:, 1:] - rows[:, :1]).T.ravel()])


def _bytes(row: Iterable[Ints]) -> bytes:
    signed = np.concatenate([*row, np.zeros(0, dtype=np.int64)])
    unsigned = np.where(signed < 0, -2 * signed - 1, 2 * signed).astype("<u4")
    return unsigned.view(np.uint8).reshape(-1, 4).T.tobytes()
