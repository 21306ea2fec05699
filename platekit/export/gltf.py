"""GLB: a rig in space as one file that viewers open. The only module that knows pygltflib.

glTF 2.0 (ISO/IEC 12113) in its binary form: metres, y up, front towards +z; each thing a node of
its own, so that a viewer can name, hide and measure it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from pygltflib import (
    ARRAY_BUFFER,
    ELEMENT_ARRAY_BUFFER,
    FLOAT,
    GLTF2,
    UNSIGNED_BYTE,
    UNSIGNED_INT,
    UNSIGNED_SHORT,
    Accessor,
    Asset,
    Attributes,
    Buffer,
    BufferView,
    Material,
    Mesh,
    Node,
    PbrMetallicRoughness,
    Primitive,
    Scene as GltfScene,
)

from platekit.export.finishes import Finish, finish_of
from platekit.export.shading import Shaded, broad_side, shaded
from platekit.geometry.tables import Floats
from platekit.version import VERSION
from platekit.views.meshing import SMOOTH_DEG
from platekit.views.scene import Scene, Shown

MM_TO_M = 1e-3
# Every accessor begins at a multiple of the size of its figures, 4 bytes at most
# (glTF 2.0, section 3.6.2.4).
ALIGNED_BYTES = 4
# 65535 itself is kept back to end a strip of triangles (section 3.7.2.1).
SHORT_INDICES = 65535
# A side that leans by more than this against a plate's face is one that was cut.
FACE_COSINE = 0.7


def rig_glb(scene: Scene, *, materials: Mapping[str, str] | None = None) -> bytes:
    """Return a scene as the bytes of a GLB file; the same scene gives the same bytes.

    A node for each thing, under one that bears the rig's name; what it is and the step that
    brings it in stand in the node's extras.

    Args:
        scene: The rig, z up, mm.
        materials: Kind of material by name of plate: "plywood", "acrylic"...; wood where it
            is not said.
    """
    known = materials or {}
    writing = _Writing()
    nodes = [writing.node(one, _finish(one, known)) for one in scene.things]
    root = Node(name=scene.name, children=list(range(1, len(nodes) + 1)) or None)
    file = GLTF2(
        asset=Asset(version="2.0", generator=f"platekit {VERSION}"),
        scene=0,
        scenes=[GltfScene(name=scene.name, nodes=[0])],
        nodes=[root, *nodes],
        meshes=writing.meshes,
        materials=[_material(one) for one in writing.finishes],
        accessors=writing.accessors,
        bufferViews=writing.views,
        buffers=[Buffer(byteLength=len(writing.blob))] if writing.blob else [],
    )
    file.set_binary_blob(bytes(writing.blob))
    return b"".join(file.save_to_bytes())


def upright(places_mm: Floats) -> Floats:
    """Return places of a rig, z up, mm, as glTF has them: y up, metres, single precision."""
    x, y, z = places_mm.T
    return np.stack([x, z, -y], axis=1) * MM_TO_M + 0.0  # no -0.0 in the file


@dataclass
class _Writing:
    """A file as far as it is written."""

    blob: bytearray = field(default_factory=bytearray)
    views: list[BufferView] = field(default_factory=list)
    accessors: list[Accessor] = field(default_factory=list)
    meshes: list[Mesh] = field(default_factory=list)
    finishes: list[Finish] = field(default_factory=list)

    def node(self, one: Shown, finish: Finish) -> Node:
        """Return the node of a thing; its mesh goes into the file, if it has one."""
        extras: dict[str, object] = {"kind": one.kind.value}
        if one.step is not None:
            extras["step"] = one.step
        if not len(one.triangles):
            return Node(name=one.name, extras=extras)
        if finish not in self.finishes:
            self.finishes.append(finish)
        mesh = shaded(one.corners, one.triangles, smooth_deg=SMOOTH_DEG)
        places = upright(mesh.corners).astype("<f4")
        normals = (upright(mesh.normals) / MM_TO_M).astype("<f4")
        short = len(places) <= SHORT_INDICES
        seen = Attributes(
            POSITION=self._take(places, FLOAT, ARRAY_BUFFER, bounds=True),
            NORMAL=self._take(normals, FLOAT, ARRAY_BUFFER),
        )
        if finish.cut_light < 1.0:
            seen.COLOR_0 = self._take(
                _light(one, mesh, cut=finish.cut_light), UNSIGNED_BYTE, ARRAY_BUFFER
            )
        primitive = Primitive(
            attributes=seen,
            indices=self._take(
                mesh.triangles.reshape(-1).astype("<u2" if short else "<u4"),
                UNSIGNED_SHORT if short else UNSIGNED_INT,
                ELEMENT_ARRAY_BUFFER,
            ),
            material=self.finishes.index(finish),
        )
        self.meshes.append(Mesh(name=one.name, primitives=[primitive]))
        return Node(name=one.name, mesh=len(self.meshes) - 1, extras=extras)

    def _take(self, rows: np.ndarray, component: int, target: int, *, bounds: bool = False) -> int:
        """Return the number of the accessor that rows are read by, once they are written."""
        raw = rows.tobytes()
        self.views.append(
            BufferView(buffer=0, byteOffset=len(self.blob), byteLength=len(raw), target=target)
        )
        self.blob += raw + bytes(-len(raw) % ALIGNED_BYTES)
        of = {1: "SCALAR", 3: "VEC3", 4: "VEC4"}[1 if rows.ndim == 1 else rows.shape[1]]
        self.accessors.append(
            Accessor(
                bufferView=len(self.views) - 1,
                componentType=component,
                count=len(rows),
                type=of,
                normalized=component == UNSIGNED_BYTE,
                min=[float(one) for one in rows.min(axis=0)] if bounds else None,
                max=[float(one) for one in rows.max(axis=0)] if bounds else None,
            )
        )
        return len(self.accessors) - 1


def _finish(one: Shown, materials: Mapping[str, str]) -> Finish:
    said = next((materials[plate] for plate in one.plates if plate in materials), "")
    return finish_of(one.kind, material_kind=said)


def _light(one: Shown, mesh: Shaded, *, cut: float) -> np.ndarray:
    """Return how much of each colour is left at each corner of a plate, 255 all of it."""
    across = np.abs(mesh.normals @ broad_side(one.corners, one.triangles)) < FACE_COSINE
    left = np.full((len(mesh.corners), 4), 255, dtype="u1")
    left[across, :3] = round(255 * cut)
    return left


def _material(finish: Finish) -> Material:
    return Material(
        name=finish.name,
        pbrMetallicRoughness=PbrMetallicRoughness(
            baseColorFactor=[*finish.linear, finish.opacity],
            metallicFactor=1.0 if finish.metal else 0.0,
            roughnessFactor=finish.roughness,
        ),
        alphaMode="OPAQUE" if finish.opacity == 1.0 else "BLEND",
        alphaCutoff=None,
        emissiveFactor=None,
    )
