"""Meshes as the page carries them: corners on a grid of their own, as text of 64 letters.

A thing's corners are counted in steps from the least corner of its box; a step is a power of two of
a millimetre, so fine that 16 bits reach across. Equal things, like the screws of one circle, then
come out as equal meshes, and the page carries one of each.

Keys of a mesh: ``per_mm`` (steps to the millimetre), ``corners`` (three unsigned 16-bit counts
each), ``triangles`` (three corners each), ``edges`` (two corners each); ``wide`` says that corners
are named by 32 bits instead of 16. All little-endian, in base64 (RFC 4648).
"""

from __future__ import annotations

import base64
import math
from collections.abc import Sequence

import numpy as np

from platekit.geometry.tables import Ints
from platekit.views.scene import Shown

MOST_STEPS = 65535
# With more corners than this 16 bits do not name them all.
MOST_CORNERS = 65536
# No thing needs a finer grid than this, mm.
FINEST_MM = 2.0**-12


def mesh_table(things: Sequence[Shown]) -> tuple[list[dict[str, object]], list[int]]:
    """Return every mesh once, and which of them each thing has."""
    meshes: list[dict[str, object]] = []
    known: dict[tuple[object, ...], int] = {}
    which = []
    for thing in things:
        mesh = mesh_of(thing)
        key = tuple(mesh.values())
        if key not in known:
            known[key] = len(meshes)
            meshes.append(mesh)
        which.append(known[key])
    return meshes, which


def mesh_of(thing: Shown) -> dict[str, object]:
    """Return the mesh of one thing, about the least corner of its box."""
    low, high = thing.box
    extent = float((high - low).max())
    step = max(FINEST_MM, 2.0 ** math.ceil(math.log2(max(extent, FINEST_MM) / MOST_STEPS)))
    counts = np.rint((thing.corners - low) / step).astype("<u2")
    wide = len(counts) > MOST_CORNERS
    return {
        "per_mm": 1.0 / step,
        "wide": wide,
        "corners": _text(counts.tobytes()),
        "triangles": _names(thing.triangles, wide=wide),
        "edges": _names(thing.edges, wide=wide),
    }


def _names(corners: Ints, *, wide: bool) -> str:
    return _text(corners.astype("<u4" if wide else "<u2").tobytes())


def _text(data: bytes) -> str:
    return base64.b64encode(data).decode("ascii")
