"""Pictures of the rig in space, read back by an XML parser and by svgelements."""

from __future__ import annotations

import colorsys
import io
import re
from xml.etree import ElementTree as ET

import numpy as np
import pytest
import shapely
import svgelements

from platekit.export.picture_rig import exploded_picture, rig_picture
from platekit.export.picture_steps import layup_picture, step_picture
from platekit.views.entries import entries_of
from platekit.views.layups import layup_view
from platekit.views.scene import Scene, scene_of
from platekit.views.steps import step_view
from tests.recipes.builds import assembly, resolved

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def scene() -> Scene:
    """A rig with a motor, a shaft and a lever."""
    done = resolved("motor_stand")
    return scene_of("motor stand", done, assembly("motor_stand").prove(done))


@pytest.fixture(
    scope="module", params=["rig", "exploded", "first step", "last step", "glued step", "layers"]
)
def text(request, scene) -> str:
    """Each kind of picture."""
    last = len(scene.steps)
    return {
        "rig": lambda: rig_picture("motor stand", scene),
        "exploded": lambda: exploded_picture("motor stand", scene),
        "first step": lambda: step_picture(step_view(scene, 1), says="set the bed down"),
        "last step": lambda: step_picture(step_view(scene, last), says="bolt the motor"),
        "glued step": lambda: step_picture(step_view(scene, 2), says="glue an upright in"),
        "layers": lambda: layup_picture(layup_view(scene.layups[1]), says="glue three layers"),
    }[request.param]()


def test_it_is_sound_xml_that_says_what_it_is(text):
    """With a role, a title and a description, for whoever cannot see it."""
    root = ET.fromstring(text)  # noqa: S314 (our own file)
    assert root.tag == f"{SVG}svg"
    assert root.get("role") == "img"
    assert root.findtext(f"{SVG}title")
    assert root.findtext(f"{SVG}desc")
    assert "nan" not in text
    assert not re.search(r'\bid="', text), "two on one page must not meet"


def test_everything_lies_on_the_page(text):
    """Boxes of all elements as svgelements reckons them, half a line's width allowed."""
    svg = svgelements.SVG.parse(io.StringIO(text))
    wide, tall = float(svg.width), float(svg.height)
    for element in svg.elements(lambda one: isinstance(one, svgelements.Shape)):
        x0, y0, x1, y1 = element.bbox(with_stroke=True)
        assert -1.0 <= x0 <= x1 <= wide + 1.0
        assert -1.0 <= y0 <= y1 <= tall + 1.0


def test_letters_do_not_lie_on_each_other(text):
    """Boxes of all texts, reckoned small: 0.5 of the size to a letter (common practice)."""
    boxes = []
    for one in ET.fromstring(text).iter(f"{SVG}text"):  # noqa: S314
        size = float(one.get("font-size"))
        x, y, width = float(one.get("x")), float(one.get("y")), 0.5 * size * len(one.text)
        x -= {"middle": width / 2, "end": width}.get(one.get("text-anchor"), 0.0)
        boxes.append(shapely.box(x, y - 0.7 * size, x + width, y))
    tree = shapely.STRtree(boxes)
    pairs = tree.query(boxes, predicate="overlaps").T if boxes else np.empty((0, 2))
    assert len(pairs) == 0


def test_the_same_rig_makes_the_same_file(scene):
    """Byte for byte."""
    assert exploded_picture("a", scene) == exploded_picture("a", scene)
    assert step_picture(step_view(scene, 3)) == step_picture(step_view(scene, 3))


def test_the_rig_keeps_its_proportions(scene):
    """An isometric picture's width and height, by hand from the box: ISO 5456-3 (from memory).

    Width (x + y) cos 30, height z + (x + y) sin 30, all times sqrt(2/3); the rig fills its box.
    """
    svg = svgelements.SVG.parse(io.StringIO(rig_picture("motor stand", scene)))
    boxes = np.array(
        [one.bbox() for one in svg.elements(lambda x: isinstance(x, svgelements.Path))]
    )
    wide, tall = boxes[:, 2:].max(axis=0) - boxes[:, :2].min(axis=0)
    x, y, z = scene.box[1] - scene.box[0]
    # The bed fills the box's ground; the uprights do not reach its upper back corner.
    assert wide == pytest.approx(1136, abs=1.0)
    assert tall / wide <= (z + (x + y) / 2) / ((x + y) * np.cos(np.pi / 6)) + 1e-3
    assert tall / wide > ((x + y) / 2) / ((x + y) * np.cos(np.pi / 6))


def test_the_list_below_names_every_entry(scene):
    """Numbers in circles are those of the list."""
    root = ET.fromstring(exploded_picture("motor stand", scene))  # noqa: S314
    texts = [one.text for one in root.iter(f"{SVG}text")]
    entries = entries_of(scene)
    for entry in entries:
        said = entry.label if entry.count == 1 else f"{entry.count} \N{MULTIPLICATION SIGN} "
        assert any(said in text for text in texts)
        assert texts.count(str(entry.number)) in {1, 2}
    circles = [one for one in root.iter(f"{SVG}circle") if float(one.get("r")) > 5]
    starred = sum(text.endswith(" *") for text in texts)
    assert len(circles) + starred == len(entries)


def test_new_things_alone_are_amber(scene):
    """By the standard library's hues: about 41 degrees, that of the orange of Okabe and Ito.

    Plates that stand are blue, about 202 degrees as their sky blue, and what is bought is grey.
    """
    for number in (7, 10):
        view = step_view(scene, number)
        kinds = {one.name: one.kind.value for one in scene.things}
        for group in ET.fromstring(step_picture(view)).iter(f"{SVG}g"):  # noqa: S314
            name = group.findtext(f"{SVG}title")
            for path in group.iter(f"{SVG}path"):
                hue, _, strength = _hue_deg(path.get("fill"))
                if name in view.new:
                    assert hue == pytest.approx(41, abs=2)
                elif kinds[name] == "plate":
                    assert hue == pytest.approx(202, abs=4)
                else:
                    assert strength == 0


def _hue_deg(colour: str) -> tuple[float, float, float]:
    hue, light, strength = colorsys.rgb_to_hls(*(one / 255 for one in bytes.fromhex(colour[1:])))
    return 360 * hue, light, strength


def test_every_mark_of_a_rig_can_be_given_another_colour(text):
    """Whatever is painted has a class a style sheet can find, but the ground and the letters."""
    for one in ET.fromstring(text).iter():  # noqa: S314
        if one.tag in {f"{SVG}path", f"{SVG}circle"}:
            assert one.get("class", "").startswith("rig-")


def test_hatching_is_explained_where_there_is_any_and_lies_above_the_words(scene):
    """By svgelements: the key's sample and its word stand below everything else."""
    for view in (step_view(scene, number) for number in (2, 4)):
        svg = svgelements.SVG.parse(io.StringIO(text := step_picture(view)))
        hatched = [
            one
            for one in svg.elements(lambda x: isinstance(x, svgelements.Path))
            if one.values.get("class") == "rig-glue"
        ]
        assert len(hatched) == (2 if view.glue else 0)
        assert (">glue</text>" in text) == bool(view.glue)
        if hatched:
            drawn, sample = hatched
            assert sample.bbox()[1] > drawn.bbox()[3]
            assert sample.bbox()[3] <= float(svg.height)


def test_layers_are_numbered_as_their_words_say(scene):
    """Every number of the list stands once in a balloon."""
    for layup in scene.layups:
        view = layup_view(layup)
        root = ET.fromstring(layup_picture(view))  # noqa: S314
        texts = [one.text for one in root.iter(f"{SVG}text")]
        assert texts == [*(str(k) for k in range(1, len(view.layers) + 1)), "glue"]


def test_what_is_hidden_names_the_steps_that_show_it(scene):
    """The near bearing lies between uprights: the step that brings it in is told."""
    root = ET.fromstring(exploded_picture("motor stand", scene))  # noqa: S314
    texts = [one.text for one in root.iter(f"{SVG}text")]
    hidden = {
        one.removesuffix(" *").split("\N{MULTIPLICATION SIGN} ")[-1]
        for one in texts
        if one.endswith(" *")
    }
    (said,) = [one for one in texts if one.startswith("* hidden")]
    steps = {int(one) for one in re.findall(r"\d+", said)}
    things = {name for one in entries_of(scene) if one.label in hidden for name in one.things}
    assert things
    for name in things:
        (number,) = [
            k
            for k, step in enumerate(scene.steps, start=1)
            if name in {*step.things, *step.fasteners, *step.belts, *step.fitted}
        ]
        assert number in steps
