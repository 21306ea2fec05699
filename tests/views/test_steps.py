"""Step pictures: what stands in them, by the kernel of solids and the order of assembly itself."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
import shapely
import trimesh
from manifold3d import Manifold, Mesh

from platekit.errors import UnknownNameError
from platekit.views.camera import ISOMETRIC, Camera
from platekit.views.choosing import VIEWS, chosen_view, share_seen
from platekit.views.scene import Scene, Shown, scene_of
from platekit.views.steps import StepView, step_view
from tests.recipes.builds import assembly, resolved
from tests.views.solids import shown


@pytest.fixture(scope="module", params=["belt_turntable", "motor_stand"])
def rig(request) -> tuple[Scene, tuple[StepView, ...]]:
    """A recipe's scene and its steps."""
    done = resolved(request.param)
    scene = scene_of(request.param, done, assembly(request.param).prove(done))
    return scene, tuple(step_view(scene, k) for k in range(1, len(scene.steps) + 1))


def solid(one: Shown) -> Manifold:
    """A thing as a solid of manifold3d."""
    return Manifold(Mesh(one.corners.astype(np.float32), one.triangles.astype(np.uint32)))


def test_each_step_shows_what_is_there_and_marks_what_it_adds(rig):
    """Together the steps add everything once; what a step names is marked in it."""
    scene, views = rig
    added = [name for view in views for name in view.new]
    assert sorted(added) == sorted(one.name for one in scene.things)
    for view, step in zip(views, scene.steps, strict=True):
        assert {*step.things, *step.fasteners, *step.belts, *step.fitted} <= view.new
        assert {one.name for one in view.things} == {one.name for one in scene.after(view.number)}
        marked = {one.thing for one in view.drawing.strokes if one.new}
        assert marked <= view.new
        assert marked & set(step.things)


def test_what_is_brought_in_stands_back_along_its_way_and_touches_nothing(rig):
    """A straight move brings it home; on its way, by manifold3d, it runs through nothing."""
    scene, views = rig
    there = {one.name: one for one in scene.things}
    for view, step in zip(views, scene.steps, strict=True):
        if view.number == 1:
            assert not view.guides
            continue
        old = [solid(one) for one in view.things if one.name not in view.new]
        for one in view.things:
            if one.name in step.things:
                gone = one.corners - there[one.name].corners
                assert np.ptp(gone, axis=0) == pytest.approx(0, abs=1e-9)
                assert gone[0] @ np.array(step.way) == pytest.approx(-np.linalg.norm(gone[0]))
                assert np.linalg.norm(gone[0]) > 5.0
                assert all((solid(one) ^ body).volume() < 1.0 for body in old), one.name


def test_paths_and_arrows_lie_along_the_way(rig):
    """On the picture they are parallel to the way as the camera sees it."""
    scene, views = rig
    found = 0
    for view, step in zip(views, scene.steps, strict=True):
        x, y = view.camera.on_picture(step.way)
        for guide in view.guides:
            (a, b) = guide.points
            cross = (b - a) @ (-y, x) / np.hypot(*(b - a)) / np.hypot(x, y)
            if guide.kind in {"path", "arrow"}:
                assert cross == pytest.approx(0, abs=1e-6)
                found += 1
            if guide.kind == "arrow":
                assert (b - a) @ (x, y) > 0
                line = shapely.LineString(guide.points)
                for face in view.drawing.faces:
                    if face.new:  # it comes from behind and lies on nothing that moves
                        assert not line.intersects(shapely.Polygon(face.rings[0], face.rings[1:]))
    assert found > 2 * len(views)


def test_most_of_what_is_new_is_seen(rig):
    """From the views to choose from, some show it nearly always."""
    scene, views = rig
    shares = [
        share_seen(view.things, set(step.things), view.camera)
        for view, step in zip(views, scene.steps, strict=True)
    ]
    assert min(shares) > 0.2
    assert np.mean(np.array(shares) > 0.45) > 0.9


def test_share_seen_is_what_is_left_beside_what_stands_before():
    """Half a plate behind a screen: from the front one half, from behind all of it."""
    plate = shown("plate", trimesh.creation.box((100, 4, 100)))
    screen = shown("screen", trimesh.creation.box((100, 4, 200)).apply_translation((50, -30, 0)))
    front = Camera(azimuth_deg=0.0, elevation_deg=0.0)
    back = Camera(azimuth_deg=180.0, elevation_deg=0.0)
    assert share_seen([plate, screen], {"plate"}, front) == pytest.approx(0.5, abs=0.03)
    assert share_seen([plate, screen], {"plate"}, back) == 1.0


def test_the_usual_view_is_kept_unless_it_hides_what_matters():
    """A cube alone is seen as usual; one behind a wall is looked at from another side."""
    cube = shown("cube", trimesh.creation.box((20, 20, 20)))
    assert chosen_view([cube], {"cube"}) == VIEWS[0] == ISOMETRIC
    walls = [
        shown(str(k), trimesh.creation.box((300, 4, 300)).apply_translation((0, y, 0)))
        for k, y in enumerate((-60, -90))
    ]
    chosen = chosen_view([cube, *walls], {"cube"})
    assert chosen.azimuth_deg in {135.0, 225.0}


def test_a_step_that_is_none_is_refused(rig):
    """The message lists those there are."""
    scene, _ = rig
    for number, camera in product((0, len(scene.steps) + 1), (None, ISOMETRIC)):
        with pytest.raises(UnknownNameError, match="unknown step"):
            step_view(scene, number, camera=camera)
