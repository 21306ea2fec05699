"""Boxes, cylinders and scenes of them by trimesh, an independent library of meshes."""

from __future__ import annotations

import numpy as np
import trimesh

from platekit.assembly.proof.things import ThingKind
from platekit.views.meshing import sharp_edges
from platekit.views.scene import Shown


def shown(name: str, mesh: trimesh.Trimesh) -> Shown:
    """A mesh as a thing."""
    corners, triangles = np.array(mesh.vertices), np.array(mesh.faces, dtype=np.intp)
    return Shown(
        name=name,
        kind=ThingKind.DEVICE,
        plates=(),
        corners=corners,
        triangles=triangles,
        edges=sharp_edges(corners, triangles),
    )


def scattered(seed: int, count: int) -> list[trimesh.Trimesh]:
    """Boxes, cylinders and tubes, turned anyhow, none touching another."""
    chance = np.random.default_rng(seed)
    found: list[trimesh.Trimesh] = []
    while len(found) < count:
        size = chance.uniform(5, 40, 3)
        kind = chance.integers(3)
        if kind == 0:
            mesh = trimesh.creation.box(size)
        elif kind == 1:
            mesh = trimesh.creation.cylinder(size[0] / 2, size[1], sections=32)
        else:
            mesh = trimesh.creation.annulus(size[0] / 4, size[0] / 2, size[1], sections=32)
        turn = trimesh.transformations.random_rotation_matrix(chance.uniform(0, 1, 3))
        mesh.apply_transform(turn)
        mesh.apply_translation(chance.uniform(-60, 60, 3))
        low, high = mesh.bounds
        if all((low > one.bounds[1]).any() or (high < one.bounds[0]).any() for one in found):
            found.append(mesh)
    return found
