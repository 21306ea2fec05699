"""GLB files: read back by trimesh, weighed against the solids' kernel, held to glTF 2.0's rules.

The figures of the container and of accessors are those of the glTF 2.0 specification, sections
3.6 and 4.4 (Khronos, ISO/IEC 12113), from memory.
"""

from __future__ import annotations

import io
import json
import math
import struct
from functools import cache

import numpy as np
import pytest
import trimesh

from platekit.assembly.frames import NOWHERE
from platekit.assembly.proof.things import ThingKind, things_in
from platekit.export.finishes import CLEAR, Finish
from platekit.export.gltf import rig_glb
from platekit.export.shading import shaded
from platekit.views.meshing import sharp_edges
from platekit.views.scene import Scene, Shown, scene_of
from tests.recipes.builds import FLAGSHIP, assembly, resolved

COMPONENT_BYTES = {5121: 1, 5123: 2, 5125: 4, 5126: 4}
COMPONENTS = {"SCALAR": 1, "VEC3": 3, "VEC4": 4}
READ_AS = {5121: "u1", 5123: "<u2", 5125: "<u4", 5126: "<f4"}


@cache
def scene(name: str = FLAGSHIP) -> Scene:
    """Return a recipe as it is shown."""
    done = resolved(name)
    return scene_of(name, done, assembly(name).prove(done))


@cache
def glb() -> bytes:
    """Return the flagship's file."""
    return rig_glb(scene())


def taken_apart(raw: bytes) -> tuple[dict, bytes]:
    """Return the two chunks of a GLB, by the container's rules alone."""
    magic, version, length = struct.unpack_from("<4sII", raw)
    assert (magic, version, length) == (b"glTF", 2, len(raw))
    json_bytes, json_kind = struct.unpack_from("<I4s", raw, 12)
    assert json_kind == b"JSON"
    assert json_bytes % 4 == 0
    said = json.loads(raw[20 : 20 + json_bytes])
    at = 20 + json_bytes
    if at == len(raw):
        return said, b""
    blob_bytes, blob_kind = struct.unpack_from("<I4s", raw, at)
    assert blob_kind == b"BIN\0"
    assert blob_bytes % 4 == 0
    assert at + 8 + blob_bytes == len(raw)
    return said, raw[at + 8 :]


def rows(said: dict, blob: bytes, number: int) -> np.ndarray:
    """Return what an accessor reads."""
    accessor = said["accessors"][number]
    view = said["bufferViews"][accessor["bufferView"]]
    count = accessor["count"] * COMPONENTS[accessor["type"]]
    start = view.get("byteOffset", 0) + accessor.get("byteOffset", 0)
    flat = np.frombuffer(blob, READ_AS[accessor["componentType"]], count, start)
    return flat.reshape(accessor["count"], -1)


def test_every_thing_comes_back_with_its_name_its_volume_and_its_place():
    """Each thing is a node; volumes are manifold's, boxes are the solids', in m."""
    read = trimesh.load(io.BytesIO(glb()), file_type="glb")
    solids = {thing.name: thing.solid for thing in things_in(resolved(FLAGSHIP))}
    assert set(read.graph.nodes_geometry) == set(solids)
    for name, solid in solids.items():
        turn, mesh_name = read.graph[name]
        mesh = read.geometry[mesh_name].copy().apply_transform(turn)
        mesh.merge_vertices(merge_norm=True, merge_tex=True)
        assert mesh.volume * 1e9 == pytest.approx(solid.volume(), rel=1e-4), name
        x0, y0, z0, x1, y1, z1 = solid.bounding_box()
        expected = np.array([(x0, z0, -y1), (x1, z1, -y0)]) / 1000  # y up, front towards +z
        assert np.allclose(mesh.bounds, expected, atol=1e-6), name


def test_it_stands_upright_in_metres():
    """The rig's height, z here, is y there."""
    read = trimesh.load(io.BytesIO(glb()), file_type="glb")
    size_mm = scene().box[1] - scene().box[0]
    assert read.extents * 1000 == pytest.approx(size_mm[[0, 2, 1]], abs=1e-3)


def test_it_keeps_the_rules_of_the_format():
    """Accessors stay inside aligned views, bounds are exact, indices reach existing corners."""
    said, blob = taken_apart(glb())
    assert said["asset"]["version"] == "2.0"
    (buffer,) = said["buffers"]
    assert 0 <= len(blob) - buffer["byteLength"] <= 3
    for view in said["bufferViews"]:
        assert view["byteLength"] >= 1
        assert view.get("byteOffset", 0) + view["byteLength"] <= buffer["byteLength"]
    for number, accessor in enumerate(said["accessors"]):
        view = said["bufferViews"][accessor["bufferView"]]
        size = COMPONENT_BYTES[accessor["componentType"]]
        start = accessor.get("byteOffset", 0)
        assert accessor["count"] >= 1
        assert start % size == 0
        assert (view.get("byteOffset", 0) + start) % size == 0
        needed = size * COMPONENTS[accessor["type"]] * accessor["count"]
        assert start + needed <= view["byteLength"]
        if "min" in accessor:
            found = rows(said, blob, number)
            assert found.min(axis=0).tolist() == accessor["min"]
            assert found.max(axis=0).tolist() == accessor["max"]
    for mesh in said["meshes"]:
        (primitive,) = mesh["primitives"]
        assert primitive.get("mode", 4) == 4
        places = said["accessors"][primitive["attributes"]["POSITION"]]
        assert {"min", "max"} <= set(places)  # required for positions
        normals = rows(said, blob, primitive["attributes"]["NORMAL"])
        assert len(normals) == places["count"]
        assert np.linalg.norm(normals, axis=1) == pytest.approx(1.0, abs=1e-5)
        indices = rows(said, blob, primitive["indices"])
        assert said["accessors"][primitive["indices"]]["count"] % 3 == 0
        assert indices.max() < places["count"]
        top = {5123: 65535, 5125: 2**32 - 1}
        kind = said["accessors"][primitive["indices"]]["componentType"]
        assert indices.max() < top[kind]  # the greatest value of a type may not be an index
        assert 0 <= primitive["material"] < len(said["materials"])


def test_the_tree_of_nodes_is_one_tree():
    """The scene has one root; every other node has exactly one above it."""
    said, _ = taken_apart(glb())
    (root,) = said["scenes"][said["scene"]]["nodes"]
    assert said["nodes"][root]["name"] == FLAGSHIP
    below = sorted(child for node in said["nodes"] for child in node.get("children", ()))
    assert below == [number for number in range(len(said["nodes"])) if number != root]
    steps = {node["name"]: node["extras"]["step"] for node in said["nodes"][1:]}
    assert steps == {one.name: one.step for one in scene().things}


def test_the_same_rig_gives_the_same_bytes():
    """Nothing in the file depends on the run."""
    assert rig_glb(scene()) == glb()


def cylinder(count: int = 48) -> tuple[np.ndarray, np.ndarray]:
    """Return a cylinder of radius and height 1 on the plane z = 0."""
    turns = [2 * math.pi * k / count for k in range(count)]
    ring = [(math.cos(turn), math.sin(turn)) for turn in turns]
    corners = [(x, y, z) for z in (0.0, 1.0) for x, y in ring] + [(0, 0, 0), (0, 0, 1)]
    faces = [
        face
        for k in range(count)
        for j in [(k + 1) % count]
        for face in (
            (k, j, count + j),
            (k, count + j, count + k),
            (2 * count, j, k),
            (2 * count + 1, count + k, count + j),
        )
    ]
    return np.array(corners, float), np.array(faces)


def test_a_cylinder_is_round_and_its_rims_are_sharp():
    """Normals of the wall are radial, those of the ends upright: closed form."""
    corners, triangles = cylinder()
    mesh = shaded(corners, triangles, smooth_deg=25.0)
    assert len(mesh.corners) == 4 * 48 + 2  # every rim corner twice, the two centres once
    upright = np.abs(mesh.normals[:, 2]) > 0.5
    ends = np.where(mesh.corners[upright][:, 2] > 0.5, 1.0, -1.0)
    assert mesh.normals[upright][:, 2] == pytest.approx(ends)
    radial = mesh.corners[~upright] * [1.0, 1.0, 0.0]
    assert mesh.normals[~upright] == pytest.approx(radial, abs=1e-9)


def test_a_box_has_a_corner_for_each_of_its_three_faces():
    """24 corners, each normal along an axis, however the faces are cut into triangles."""
    box = trimesh.creation.box()
    mesh = shaded(np.array(box.vertices), np.array(box.faces), smooth_deg=25.0)
    assert len(mesh.corners) == 24
    assert np.sort(np.abs(mesh.normals), axis=1) == pytest.approx(np.tile([0.0, 0.0, 1.0], (24, 1)))


def test_a_large_thing_gets_wide_indices_and_one_without_body_no_mesh():
    """Beyond 65535 corners indices are of 4 bytes; an empty thing is a bare node."""
    ball = trimesh.creation.uv_sphere(count=(260, 260))
    corners, triangles = np.array(ball.vertices), np.array(ball.faces)
    big = shown("ball", corners, triangles)
    empty = shown("nothing", np.empty((0, 3)), np.empty((0, 3), int))
    said, _ = taken_apart(raw := rig_glb(Scene(name="two", things=(big, empty))))
    assert len(ball.vertices) > 65535
    wide = said["meshes"][0]["primitives"][0]["indices"]
    assert said["accessors"][wide]["componentType"] == 5125
    assert said["nodes"][2]["name"] == "nothing"
    assert "mesh" not in said["nodes"][2]
    read = trimesh.load(io.BytesIO(raw), file_type="glb")
    assert len(read.geometry["ball"].faces) == len(triangles)


def test_a_plate_looks_like_what_it_is_made_of():
    """Clear plastic lets light through; plywood and what nobody named do not."""
    corners, triangles = cylinder()
    one = shown("window", corners, triangles, plates=("window",))
    rig = Scene(name="one", things=(one,))
    said, _ = taken_apart(rig_glb(rig, materials={"window": "acrylic"}))
    assert said["materials"][0]["name"] == CLEAR.name
    assert said["materials"][0]["alphaMode"] == "BLEND"
    said, _ = taken_apart(rig_glb(rig))
    assert said["materials"][0]["name"] == "wood"
    assert said["materials"][0].get("alphaMode", "OPAQUE") == "OPAQUE"


def test_the_sides_the_beam_went_along_are_dark():
    """On a board of 1 x 1 x 0.1 the four narrow sides: 16 of the 24 corners of its faces."""
    board = trimesh.creation.box(extents=(1.0, 1.0, 0.1))
    board.apply_transform(trimesh.transformations.rotation_matrix(0.7, (1.0, 2.0, 3.0)))
    one = shown("shelf", np.array(board.vertices), np.array(board.faces))
    said, blob = taken_apart(rig_glb(Scene(name="one", things=(one,))))
    seen = said["meshes"][0]["primitives"][0]["attributes"]
    light = rows(said, blob, seen["COLOR_0"])
    assert said["accessors"][seen["COLOR_0"]]["normalized"] is True
    assert np.all(light[:, 3] == 255)
    normals = rows(said, blob, seen["NORMAL"])
    x, y, z = board.face_normals[np.argmax(board.area_faces)]  # y is up in the file
    broad = np.abs(normals @ (x, z, -y)) > 0.99
    assert broad.sum() == 8
    assert np.all(light[broad] == 255)
    assert np.all(light[~broad, :3] < 100)


def test_colours_are_amounts_of_light():
    """The grey #bcbcbc of sRGB reflects half the light of white (IEC 61966-2-1, from memory)."""
    assert Finish("grey", "#bcbcbc").linear == pytest.approx((0.5, 0.5, 0.5), abs=0.005)
    assert Finish("black", "#000000").linear == (0.0, 0.0, 0.0)
    assert Finish("white", "#ffffff").linear == (1.0, 1.0, 1.0)


def shown(name, corners, triangles, *, plates=()) -> Shown:
    """Return a mesh as a plate."""
    return Shown(
        name=name,
        kind=ThingKind.PLATE,
        plates=plates,
        corners=corners,
        triangles=triangles,
        edges=sharp_edges(corners, triangles) if len(triangles) else np.empty((0, 2), int),
        apart=NOWHERE,
    )
