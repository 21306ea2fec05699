"""Laminates before they are glued: order, dowels and glue, by the recipe's own panels."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from platekit.export.step_table import layup_words
from platekit.views.layups import LayUpView, layup_view
from platekit.views.scene import Scene, scene_of
from platekit.views.steps import step_views
from tests.recipes.builds import assembly, resolved
from tests.recipes.chorded import polygon


@pytest.fixture(scope="module")
def scene() -> Scene:
    """A rig with two plates of which a ring is glued on."""
    done = resolved("belt_turntable")
    return scene_of("belt_turntable", done, assembly("belt_turntable").prove(done))


@pytest.fixture(scope="module")
def views(scene) -> tuple[LayUpView, ...]:
    """Its laminates."""
    return tuple(map(layup_view, scene.layups))


def test_every_laminate_is_laid_up_as_the_recipe_has_it(scene, views):
    """Names, order, heights and volumes are those of the panels, the joints cut.

    A volume is the area of the finished profile, by shapely, times the sheet's thickness.
    """
    done = resolved("belt_turntable")
    panels = [one for one in done.panels if len(one.layers) > 1]
    assert [one.name for one in scene.layups] == [one.name for one in panels]
    cut = {part.name: part for part in done.parts}
    for panel, layup, view in zip(panels, scene.layups, views, strict=True):
        assert view.layers == tuple(plate.name for plate in panel.layers)
        height = 0.0
        for plate, layer in zip(panel.layers, layup.layers, strict=True):
            assert layer.box[:, 2] == pytest.approx(
                [height, height + plate.sheet.thickness_mm], abs=1e-4
            )
            height += plate.sheet.thickness_mm
            a, b, c = (layer.corners[layer.triangles[:, k]] for k in range(3))
            volume = np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6
            # Bodies of the proof are drawn by chords 0.05 mm within.
            outline = polygon(cut[plate.name].profile)
            away = 0.05 * outline.length * plate.sheet.thickness_mm
            assert volume == pytest.approx(outline.area * plate.sheet.thickness_mm, abs=away)


def test_the_lowest_lies_still_and_the_others_hang_above_in_their_order(views):
    """Balloon 1 is the lowest: what stands and what is new says which is laid down first."""
    for view in views:
        new = {one.thing: one.new for one in view.drawing.faces if one.thing in view.layers}
        assert [new[name] for name in view.layers] == [False, *[True] * (len(view.layers) - 1)]
        numbers = [one.entry.number for one in view.balloons]
        assert numbers == list(range(1, len(view.layers) + 1))
        heights = [
            np.mean([one.rings[0][:, 1].mean() for one in view.drawing.faces if one.thing == name])
            for name in view.layers
        ]
        assert heights == sorted(heights)


def test_glue_goes_on_every_layer_but_the_uppermost(views):
    """Hatching lies in faces of those layers alone, and some in each: by shapely."""
    for view in views:
        seen = shapely.STRtree(
            faces := [
                shapely.Polygon(one.rings[0], one.rings[1:]).buffer(0.05)
                for one in view.drawing.faces
            ]
        )
        assert faces
        middles = shapely.points([line.mean(axis=0) for line in view.glue])
        _, met = seen.query(middles, predicate="intersects")
        names = {view.drawing.faces[k].thing for k in met}
        assert set(view.layers[:-1]) <= names


def test_dowels_stand_in_the_lowest_and_their_axes_rise(scene, views):
    """As many as the record tells to buy; their axes are upright on the picture."""
    bought = {
        one.note: one for one in resolved("belt_turntable").items if "dowel" in one.designation
    }
    for part in resolved("belt_turntable").parts:
        bought |= {one.note: one for one in part.items if "dowel" in one.designation}
    for layup, view in zip(scene.layups, views, strict=True):
        assert view.dowels == len(layup.dowels) >= 1
        assert any(layup.name in note for note in bought)
        assert view.axes
        for line in view.axes:
            assert line[1, 0] - line[0, 0] == pytest.approx(0, abs=1e-6)
            assert line[1, 1] > line[0, 1]


def test_a_step_shows_the_layers_of_what_it_brings_in(scene):
    """Each laminate once, at its own step; the words name the layers in their order."""
    found = [(view.number, view.layup.name) for view in step_views(scene) if view.layup is not None]
    assert sorted(name for _, name in found) == sorted(one.name for one in scene.layups)
    for number, name in found:
        assert name in scene.steps[number - 1].things


def test_the_words_say_which_lies_down(views):
    """First the lowest, by its number on the picture."""
    for view in views:
        said = layup_words(view)
        assert said.startswith(f"{view.layers[0]} (1) lies down, on it ")
        places = [said.index(f"{name} ({k})") for k, name in enumerate(view.layers, start=1)]
        assert places == sorted(places)
