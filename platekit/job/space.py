"""The rig in space, for whatever shows it: its scene and the file other viewers open."""

from __future__ import annotations

from collections.abc import Callable

from platekit.assembly.proof import Proof, Thing
from platekit.job.resolving import Given
from platekit.views.meshing import Mesh
from platekit.views.scene import Scene, scene_of

RIG = "rig.glb"


def scene_for(
    given: Given, proof: Proof, *, meshes: Callable[[Thing], Mesh] | None = None
) -> Scene | None:
    """Return what a recipe gave as it is shown; None for a single plate, which its picture tells.

    Args:
        given: What the recipe gave.
        proof: The order in which it goes together.
        meshes: Gives the surfaces of things: for whoever remembers those of before.
    """
    if given.whole is None:
        return None
    assembly, done = given.whole
    return scene_of(assembly.name, done, proof, meshes=meshes)


def rig_file(given: Given, scene: Scene) -> bytes:
    """Return the rig as a GLB file, its plates looking like what they are cut from."""
    from platekit.export.gltf import rig_glb  # loads pygltflib

    return rig_glb(scene, materials={part.name: part.sheet.material.kind for part in given.parts})
