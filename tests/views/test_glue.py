"""Glue: hatched where bodies touch, by manifold3d and shapely, and nowhere else."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
import shapely
import trimesh
from manifold3d import Manifold, Mesh

from platekit.materials import Hold
from platekit.views.camera import ISOMETRIC, Camera
from platekit.views.glue import contacts, hatching
from platekit.views.scene import Glued, Scene, Shown, scene_of
from platekit.views.steps import StepView, step_view
from tests.recipes.builds import assembly, resolved
from tests.views.solids import shown

APART_MM = 0.2
EYES = tuple(
    Camera(azimuth_deg=turn, elevation_deg=rise)
    for turn, rise in product((30.0, 120.0, 210.0, 300.0), (40.0, -40.0))
)


@pytest.fixture(scope="module")
def flagship() -> Scene:
    """The largest recipe of the project."""
    done = resolved("dish_rotator")
    return scene_of("dish_rotator", done, assembly("dish_rotator").prove(done))


@pytest.fixture(scope="module", params=["belt_turntable", "motor_stand"])
def rig(request) -> tuple[Scene, tuple[StepView, ...], set[frozenset[str]]]:
    """A recipe's scene, its steps, and which pairs its joints glue."""
    done = resolved(request.param)
    scene = scene_of(request.param, done, assembly(request.param).prove(done))
    views = tuple(step_view(scene, k) for k in range(1, len(scene.steps) + 1))
    glued = {frozenset(one.between) for one in done.joints if one.hold is Hold.GLUED}
    return scene, views, glued


def areas_by_way(scene: Scene, glued: Glued) -> dict[tuple[float, ...], float]:
    """Return the area that touches, by the way its first face looks, mm2: by the hatching."""
    known = {one.name: one for one in scene.things}
    found: dict[tuple[float, ...], float] = {}
    for contact in contacts(known, glued):
        a, b, c = contact.faces[0][0]
        normal = np.cross(b - a, c - a)
        normal /= np.linalg.norm(normal)
        eye = max(EYES, key=lambda one: one.axes[2] @ normal)
        lines, _ = hatching(contact, eye, apart_mm=APART_MM)
        ends = eye.seen(lines.reshape(-1, 3)).reshape(-1, 2, 3)[:, :, :2]
        length = np.hypot(*(ends[:, 1] - ends[:, 0]).T).sum()
        way = tuple((np.round(normal, 3) + 0.0).tolist())
        found[way] = found.get(way, 0.0) + float(length * APART_MM / (eye.axes[2] @ normal))
    return found


def solid(one: Shown) -> Manifold:
    """A thing as a solid of manifold3d."""
    return Manifold(Mesh(one.corners.astype(np.float32), one.triangles.astype(np.uint32)))


@pytest.mark.parametrize(
    ("first", "second"),
    [("long rib", "base"), ("cross rib", "long rib"), ("tray", "front"), ("left", "head")],
)
def test_as_much_is_hatched_as_two_bodies_touch(flagship, first, second):
    """Pushed further by a little, they overlap by so much times what touched: by manifold3d.

    Where there is play between them that is gone first, so that two pushes tell what touched.
    """
    pair = next(one for one in flagship.glued if set(one.between) == {first, second})
    known = {one.name: one for one in flagship.things}
    mine, theirs = (solid(known[name]) for name in pair.between)
    touched = areas_by_way(flagship, pair)
    assert sum(touched.values()) > 200.0
    play = pair.clearance_mm
    for way in {(1.0, 0, 0), (-1.0, 0, 0), (0, 1.0, 0), (0, -1.0, 0), (0, 0, 1.0), (0, 0, -1.0)}:
        overlap = [
            (mine.translate([push * one for one in way]) ^ theirs).volume()
            for push in (play + 0.1, play + 0.3)
        ]
        area = (overlap[1] - overlap[0]) / 0.2
        assert touched.get(way, 0.0) == pytest.approx(area, rel=0.02, abs=3.0), way


def test_what_covers_half_of_a_face_is_hatched_there():
    """A board on edge across a plate's corner: shapely's intersection, on both of them."""
    plate = shown("plate", trimesh.creation.box((100, 80, 6)))
    turn = trimesh.transformations.rotation_matrix(np.radians(27), (0, 0, 1))
    board = trimesh.creation.box((60, 6, 40)).apply_transform(turn)
    there = shown("board", board.apply_translation((40, 30, 3 + 20)))
    pair = Glued(between=("board", "plate"))
    (contact,) = contacts({"plate": plate, "board": there}, pair)
    foot = shapely.affinity.translate(
        shapely.affinity.rotate(shapely.box(-30, -3, 30, 3), 27, origin=(0, 0)), 40, 30
    )
    shared = foot.intersection(shapely.box(-50, -40, 50, 40))
    beneath, above = hatching(contact, ISOMETRIC, apart_mm=0.5)
    assert len(beneath) == 0, "the board's foot looks away from the eye"
    assert np.ptp(above[:, :, 2]) == pytest.approx(0, abs=1e-9)
    for line in above:
        inside = shapely.LineString(line[:, :2])
        assert inside.length == pytest.approx(inside.intersection(shared).length, abs=1e-6)
    ends = ISOMETRIC.seen(above.reshape(-1, 3)).reshape(-1, 2, 3)[:, :, :2]
    drawn = np.hypot(*(ends[:, 1] - ends[:, 0]).T).sum() * 0.5
    assert drawn * np.sqrt(3) == pytest.approx(shared.area, rel=0.02)


def test_things_apart_or_beside_each_other_are_not_hatched():
    """A gap wider than the clearance, and two that share an edge alone."""
    plate = shown("plate", trimesh.creation.box((100, 80, 6)))
    for up, aside, clearance, touches in (
        (23.0, 0.0, 0.0, True),
        (23.1, 0.0, 0.0, False),
        (23.1, 0.0, 0.1, True),
        (23.0, 53.0, 0.0, False),
    ):
        board = trimesh.creation.box((6, 60, 40)).apply_translation((aside, 0, up))
        pair = Glued(between=("board", "plate"), clearance_mm=clearance)
        found = contacts({"plate": plate, "board": shown("board", board)}, pair)
        lines = [len(hatching(one, ISOMETRIC, apart_mm=0.5)[1]) for one in found]
        assert any(lines) == touches


def test_steps_that_close_a_glued_joint_are_hatched_and_no_others(rig):
    """By the joints as they were dealt: screwed ones without glue stay plain."""
    scene, views, glued = rig
    told = 0
    for view in views:
        there = {one.name for one in view.things}
        closes = [pair for pair in glued if pair <= there and len(pair & view.new) == 1]
        assert bool(closes) == bool(view.glue), view.number
        told += bool(closes)
    assert told
    assert told < len(scene.steps)


def test_hatching_lies_where_one_of_the_two_is_seen(rig):
    """Every line's middle lies in the face of a thing that the step glues: by shapely."""
    _, views, glued = rig
    for view in views:
        if not view.glue:
            continue
        pasted = {name for pair in glued if len(pair & view.new) == 1 for name in pair}
        faces = [one for one in view.drawing.faces if one.thing in pasted]
        tree = shapely.STRtree([shapely.Polygon(one.rings[0], one.rings[1:]) for one in faces])
        middles = shapely.points([line.mean(axis=0) for line in view.glue])
        met, _ = tree.query(middles, predicate="dwithin", distance=0.05)
        assert len(set(met.tolist())) == len(middles)
