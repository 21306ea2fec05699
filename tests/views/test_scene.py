"""Scenes: meshes against the solids they show, edges against shapes with known ones."""

from __future__ import annotations

import math
from itertools import combinations

import numpy as np
import pytest
from manifold3d import Manifold, Mesh

from platekit.assembly.proof.things import things_in
from platekit.views.meshing import sharp_edges
from platekit.views.scene import Scene, scene_of
from tests.recipes.builds import FLAGSHIP, assembly, resolved


@pytest.fixture(scope="module")
def scene() -> Scene:
    """The dish rotator."""
    done = resolved(FLAGSHIP)
    return scene_of(FLAGSHIP, done, assembly(FLAGSHIP).prove(done))


def volume_mm3(corners, triangles) -> float:
    """Volume of a closed mesh by the divergence theorem: sum of a . (b x c) / 6, textbook."""
    a, b, c = (corners[triangles[:, k]] for k in range(3))
    return float(np.einsum("ij,ij->", a, np.cross(b, c)) / 6)


def test_every_thing_is_a_closed_mesh_of_its_own_volume(scene):
    """Every side has two triangles, turned outwards; the volume is the kernel's own."""
    solids = {thing.name: thing.solid for thing in things_in(resolved(FLAGSHIP))}
    assert [one.name for one in scene.things] == list(solids)
    for one in scene.things:
        sides = np.concatenate([one.triangles[:, [0, 1]], one.triangles[:, [1, 2]],
                                one.triangles[:, [2, 0]]])  # fmt: skip
        _, counts = np.unique(np.sort(sides, axis=1), axis=0, return_counts=True)
        assert np.mean(counts % 2 == 0) > 0.99, one.name
        found = volume_mm3(one.corners, one.triangles)
        assert found == pytest.approx(solids[one.name].volume(), rel=1e-4), one.name


def test_a_box_has_twelve_edges_and_a_cylinder_two_rings():
    """Diagonals of flat faces and the facets of a bore are no edges."""
    corners = np.array([(x, y, z) for x in (0, 1) for y in (0, 1) for z in (0, 1)], float)
    faces = [(0, 1, 3, 2), (4, 6, 7, 5), (0, 4, 5, 1), (2, 3, 7, 6), (0, 2, 6, 4), (1, 5, 7, 3)]
    triangles = np.array([t for a, b, c, d in faces for t in ((a, b, c), (a, c, d))])
    assert volume_mm3(corners, triangles) == pytest.approx(1.0)
    assert len(sharp_edges(corners, triangles)) == 12
    n = 48
    ring = [(math.cos(2 * math.pi * k / n), math.sin(2 * math.pi * k / n)) for k in range(n)]
    corners = np.array([(x, y, z) for z in (0.0, 1.0) for x, y in ring] + [(0, 0, 0), (0, 0, 1)])
    triangles = np.array(
        [
            t
            for k in range(n)
            for j in [(k + 1) % n]
            for t in ((k, j, n + j), (k, n + j, n + k), (2 * n, j, k), (2 * n + 1, n + k, n + j))
        ]
    )
    assert len(sharp_edges(corners, triangles)) == 2 * n


def test_everything_comes_in_at_a_step(scene):
    """The last step has the whole rig; a heap apart is by itself until it is brought in."""
    assert all(one.step is not None for one in scene.things)
    last = len(scene.steps)
    assert {one.name for one in scene.after(last)} == {one.name for one in scene.things}
    for number, step in enumerate(scene.steps, start=1):
        there = {one.name for one in scene.after(number)}
        assert set(step.things) <= there
        if step.heap:  # it is put together apart: nothing of the rig itself is in the picture
            rig = {
                name for one in scene.steps if not (one.heap or one.brings) for name in one.things
            }
            assert not there & rig


def test_taken_apart_things_have_gone_back_the_way_they_came(scene):
    """The right wall goes right, the turntable up; screws leave their holes as they came."""
    apart = {one.name: np.array(one.apart) for one in scene.things}
    assert apart["right"] @ (1, 0, 0) > 50
    assert apart["turntable"] @ (0, 0, 1) > 50
    assert apart["stop"] == pytest.approx(apart["front"])  # clamped into it
    for screw in scene.fastenings:
        if screw.name.startswith("hub screw"):
            assert (apart[screw.name] - apart["turntable"]) @ np.array(screw.way) > 10
    assert scene.apart(0.0).box == pytest.approx(scene.box)
    whole, spread = scene.box, scene.apart(1.0).box
    assert np.all(spread[1] - spread[0] >= whole[1] - whole[0])


def test_taken_apart_nothing_runs_through_anything(scene):
    """Volumes of what any two things share, by manifold3d."""
    things = scene.apart(1.0).things
    solids = [
        Manifold(Mesh(one.corners.astype(np.float32), one.triangles.astype(np.uint32)))
        for one in things
    ]
    for (one, body), (other, second) in combinations(zip(things, solids, strict=True), 2):
        low = np.maximum(one.box[0], other.box[0])
        high = np.minimum(one.box[1], other.box[1])
        if np.all(high > low):
            assert (body ^ second).volume() < 1.0, (one.name, other.name)
