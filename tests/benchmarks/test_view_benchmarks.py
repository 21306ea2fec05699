"""How long line drawings take, as ratios in one run. ``pytest tests/benchmarks --benchmark-only``.

Beside it stands what any drawing of a rig at least needs: shapely's union of every projected
triangle that faces the eye, which gives no more than the rig's outline. Nothing here fails for
being slow.
"""

import numpy as np
import pytest
import shapely

from platekit.views.camera import ISOMETRIC
from platekit.views.hidden import drawn
from platekit.views.scene import scene_of
from platekit.views.steps import step_view
from tests.benchmarks.stopwatch import best_s
from tests.recipes.builds import FLAGSHIP, assembly, resolved


@pytest.fixture(scope="module")
def scene():
    """The dish rotator."""
    done = resolved(FLAGSHIP)
    return scene_of(FLAGSHIP, done, assembly(FLAGSHIP).prove(done))


def bare_outline(things):
    """Return the outline of things by shapely."""
    facing = []
    for one in things:
        triangles = ISOMETRIC.seen(one.corners)[:, :2][one.triangles]
        (ax, ay), (bx, by) = (
            (triangles[:, 1] - triangles[:, 0]).T,
            (triangles[:, 2] - triangles[:, 0]).T,
        )
        facing.append(triangles[ax * by - ay * bx > 1e-9])
    return shapely.union_all(shapely.polygons(np.concatenate(facing)), grid_size=1e-3)


@pytest.mark.parametrize("state", ["as built", "taken apart"])
def test_a_whole_rig(benchmark, scene, state):
    """All its lines and tints against its bare outline."""
    things = scene.things if state == "as built" else scene.apart().things
    bare = best_s(lambda: bare_outline(things), rounds=3)
    benchmark.extra_info["triangles"] = sum(len(one.triangles) for one in things)
    benchmark.extra_info["strokes"] = len(drawn(things, ISOMETRIC).strokes)
    benchmark(drawn, things, ISOMETRIC)
    benchmark.extra_info["ratio to the bare outline"] = benchmark.stats["min"] / bare


def test_all_steps(benchmark, scene):
    """Every step of assembly, its view chosen, in drawings of the whole rig."""
    whole = best_s(lambda: drawn(scene.things, ISOMETRIC), rounds=3)
    count = len(scene.steps)
    benchmark.pedantic(
        lambda: [step_view(scene, number) for number in range(1, count + 1)], rounds=2
    )
    benchmark.extra_info["drawings' worth a step"] = benchmark.stats["min"] / count / whole
