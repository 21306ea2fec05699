"""Traces of a rig taken apart: straight back along the way, through holes and not through wood."""

from __future__ import annotations

import numpy as np
import pytest
from manifold3d import Manifold, Mesh

from platekit.assembly.proof.things import ThingKind
from platekit.views.scene import Scene, Shown, scene_of
from platekit.views.traces import traces
from tests.recipes.builds import assembly, resolved

# A wire this thick goes along every trace, mm.
WIRE_MM = 0.4


@pytest.fixture(scope="module", params=["belt_turntable", "motor_stand"])
def scene(request) -> Scene:
    """A recipe's scene."""
    done = resolved(request.param)
    return scene_of(request.param, done, assembly(request.param).prove(done))


def solid(one: Shown) -> Manifold:
    """A thing as a solid of manifold3d."""
    return Manifold(Mesh(one.corners.astype(np.float32), one.triangles.astype(np.uint32)))


def wire(line) -> Manifold:
    """A thin straight rod along a line that runs along one of the axes."""
    low, high = line.min(axis=0) - WIRE_MM / 2, line.max(axis=0) + WIRE_MM / 2
    return Manifold.cube(high - low).translate(low)


def test_traces_run_along_the_ways_things_come(scene):
    """Each is parallel to some step's way or some screw's axis, and longer than a hair."""
    ways = [np.array(one.way) for one in (*scene.steps, *scene.fastenings)]
    lines = traces(scene)
    assert len(lines) > 5
    for line in lines:
        run = line[1] - line[0]
        length = np.linalg.norm(run)
        assert length > 0.01
        assert max(abs(run @ way) for way in ways) == pytest.approx(length)


def test_traces_of_screws_go_through_holes(scene):
    """By manifold3d: a wire along it cuts no plate, as the rig is taken apart."""
    plates = [solid(one) for one in scene.apart().things if one.kind is ThingKind.PLATE]
    apart = {one.name: one for one in scene.apart().things}
    found = 0
    for line in traces(scene):
        of_screw = [
            one
            for one in scene.fastenings
            if one.name in apart
            and np.abs(apart[one.name].box.mean(axis=0) - line[0])[np.array(one.way) == 0.0].max()
            < 1e-6
            and (apart[one.name].box[0] - 1e-6 <= line[0]).all()
            and (line[0] <= apart[one.name].box[1] + 1e-6).all()
        ]
        if of_screw:
            found += 1
            assert all((wire(line) ^ plate).volume() < 1e-3 for plate in plates)
    assert found > 5


def test_a_trace_ends_where_its_thing_will_stand(scene):
    """Its run is the difference of how far two things have gone: that closes the gap."""
    gone = [np.array(one.apart) for one in scene.things]
    for line in traces(scene):
        run = line[1] - line[0]
        assert min(np.abs(a - b - run).max() for a in gone for b in gone) < 1e-6
