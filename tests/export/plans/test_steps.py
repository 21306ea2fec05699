"""Steps of assembly on paper: order, words, glue and layers, read back by pdfium."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pypdfium2
import pytest
import shapely

from platekit.export.plans.book import bound, plans_pdf
from platekit.export.plans.contents import PlansOf
from platekit.export.plans.printing.paper import MARGIN_MM, Paper
from platekit.export.plans.steps_page import steps_leaves, told_steps
from platekit.job.assembling import assembly_record
from platekit.job.resolving import resolved as given_of
from platekit.views.scene import scene_of
from platekit.views.steps import step_views
from tests.export.plans.measured import Page, pages_of
from tests.export.plans.words import letters_of, words_of
from tests.recipes.builds import assembly

# Okabe and Ito (hex from memory): blue, vermillion.
GLUE = CHECK = "#0072b2"
WAY = "#d55e00"
# The numbers of steps are the only figures higher than this.
FIGURE_MM = 2.6


def _plans(recipe: str) -> PlansOf:
    given = given_of(assembly(recipe))
    whole, done = given.whole
    proof = whole.prove(done)
    scene = scene_of(recipe, done, proof)
    return PlansOf(
        name=recipe,
        parts=done.parts,
        paper=Paper.parse("A4"),
        assembly=assembly_record(given, proof),
        scene=scene,
        step_views=step_views(scene),
    )


@pytest.fixture(scope="module")
def plans() -> PlansOf:
    """A rig with two laminates and a lid that is screwed."""
    return _plans("belt_turntable")


@pytest.fixture(scope="module")
def pages(plans) -> list[Page]:
    """The pages of its steps."""
    return pages_of(bound(list(steps_leaves(plans, told_steps(plans))), title="steps"))


def test_steps_are_told_in_their_order_and_layers_before_the_step_they_go_into(plans, pages):
    """Headings as pdfium reads them: numbers alone, or "before" and a number, never backwards."""
    text = "\n".join(page.text for page in pages)
    found = re.findall(r"^(before )?(\d{1,2})\r?$", text, re.MULTILINE)
    told = told_steps(plans)
    assert len(told) == len(plans.scene.steps) + len(plans.scene.layups)
    heads = [(bool(before), int(number)) for before, number in found]
    for one in told:
        assert (one.before, one.number) in heads
    order = [(one.number, not one.before) for one in told]
    assert order == sorted(order)
    for layup in plans.scene.layups:
        said = re.sub(r"\s+", " ", text)
        assert f"{layup.name}: glue {len(layup.layers)} layers first" in said
        assert f"{layup.layers[0].name} (1) lies down" in said


def test_what_is_glued_before_is_not_told_twice(plans):
    """The step itself says no more of layers, and of glue only where it glues."""
    laminates = {one.name for one in plans.scene.layups}
    for one in told_steps(plans):
        lines = " ".join(one.lines)
        if one.before:
            assert "clamp until it has set" in lines
        elif one.title in laminates:
            assert "glued of" not in lines
            assert ("clamp until it has set" in lines) == ("glued to" in lines)


def test_hatching_is_drawn_on_the_pages_that_glue(plans, pages):
    """Narrow blue lines, pieces of a drawing each; the same pages say what they mean."""
    leaves = list(steps_leaves(plans, told_steps(plans)))
    assert len(leaves) == len(pages)
    for page in pages:
        hatched = [
            one
            for one in page.drawn
            if one.stroked and one.stroke == GLUE and one.width_mm == pytest.approx(0.18, abs=0.01)
        ]
        says = len(re.findall(r"^glue\r?$", page.text, re.MULTILINE))
        assert bool(hatched) == bool(says)
        asked = page.text.count("clamp until it has set")
        assert says == asked
    assert sum("clamp until it has set" in page.text for page in pages) >= 2


def test_pictures_keep_to_the_page(pages):
    """Arrows and ways, what reaches furthest, stay within the margins: boxes by shapely."""
    for page in pages:
        room = shapely.box(
            MARGIN_MM, MARGIN_MM, page.width_mm - MARGIN_MM, page.height_mm - MARGIN_MM
        ).buffer(0.3)
        for one in page.drawn:
            if WAY in {one.stroke, one.fill}:
                assert room.contains(shapely.box(*one.box.reshape(-1)))


@pytest.mark.parametrize("recipe", ["belt_turntable", "rib_table"])
def test_no_picture_lies_over_the_number_of_its_step(recipe):
    """Boxes of the large figures by pdfium, lines by shapely; rib_table's first fills its frame."""
    given = _plans(recipe)
    pdf = bound(list(steps_leaves(given, told_steps(given))), title="steps")
    document = pypdfium2.PdfDocument(pdf)
    numbers = 0
    for sheet, page in zip(document, pages_of(pdf), strict=True):
        heads = [one for one in words_of(sheet) if one.box[3] - one.box[1] > FIGURE_MM]
        numbers += len(heads)
        # Ways and arrows as well, but not the marks of the check square.
        lines = shapely.union_all(
            [
                one.lines
                for one in page.drawn
                if one.stroked and one.width_mm > 0.11 and one.stroke != GLUE
            ]
        )
        for one in heads:
            assert not lines.intersects(shapely.box(*one.box))
    document.close()
    assert numbers >= len(given.step_views)


def test_arms_of_the_check_square_lie_over_no_letters():
    """On every page of a rig, by pdfium's boxes of letters: only its stubs of 0.8 mm may."""
    pdf = plans_pdf(_plans("belt_turntable"))
    document = pypdfium2.PdfDocument(pdf)
    arms = 0
    for sheet, page in zip(document, pages_of(pdf), strict=True):
        _, boxes = letters_of(sheet)
        letters = shapely.box(*boxes[np.ptp(boxes.reshape(-1, 2, 2), axis=1).min(axis=1) > 0].T)
        blue = [one for one in page.drawn if one.stroked and one.stroke == CHECK]
        square = [one for one in blue if abs(one.width_mm - 0.15) < 0.01]
        lines = [shapely.LineString(line) for one in square for line in one.chains]
        long = [line for line in lines if line.length > 1.0]
        arms += len(long)
        for line in long:
            assert not shapely.intersects(line, letters).any()
    document.close()
    assert arms > 4 * len(pages_of(pdf))


def test_on_a4_the_square_s_upper_side_runs_between_rows_of_steps(pages):
    """Its corners lie over no frame: 112 mm above the foot of the page, by pdfium."""
    frames = [one.box for page in pages for one in page.drawn if abs(one.width_mm - 0.13) < 0.005]
    frames = [box for box in frames if np.ptp(box, axis=0).min() > 60.0]
    assert len(frames) >= 18
    for (_, bottom), (_, top) in frames:
        assert not bottom < MARGIN_MM + 100.0 < top


def test_without_pictures_the_words_stand_alone(plans):
    """A rig that is not shown in space is told all the same."""
    bare = replace(plans, scene=None, step_views=())
    told = told_steps(bare)
    assert len(told) == len(plans.assembly.steps)
    assert all(one.view is None for one in told)
    assert "glued of" in " ".join(told[0].lines)
    assert pages_of(bound(list(steps_leaves(bare, told)), title="steps"))
