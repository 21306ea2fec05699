"""SVG files, parsed and drawn by programs that know nothing of us."""

import io
import math
import re
import xml.etree.ElementTree as ET

import numpy as np
import pytest
import svgelements
from hypothesis import HealthCheck, given, settings, strategies as st

from platekit.cutting.drawing import Drawing, Entry, Layer, Note
from platekit.export.palette import PALETTE, Palette, Pen
from platekit.export.svg import svg_text
from platekit.geometry.chains import circle, polyline
from platekit.geometry.motion import Motion
from platekit.geometry.points import Point
from tests.export.examples import (
    contours,
    distances_to,
    part_in_a_window,
    rounded_rectangle,
    sheet_of_two,
    shoelace_mm2,
)
from tests.export.pictures import needs_rsvg, rendered, where_drawn

NAMESPACE = "{http://www.w3.org/2000/svg}"


def parsed(text):
    """Return the shapes another parser finds, in millimetres.

    It takes a millimetre for 0.0393701 inch: at that many dots an inch a dot is just 1 mm.
    """
    picture = svgelements.SVG.parse(io.StringIO(text), ppi=1 / 0.0393701)
    return [shape for shape in picture.elements() if isinstance(shape, svgelements.Shape)]


def measured(shape, height_mm, *, count=8):
    """Return points on a parsed path (y up), its length and the signed area it encloses.

    Length and area are closed forms of the arcs as the parser understood them: r w and
    r^2 (w - sin w) / 2 over the chord, for a radius r and a sweep w.
    """
    points, ends = [], []
    length = caps = 0.0
    for segment in svgelements.Path(shape).reify():
        if isinstance(segment, svgelements.Move):
            continue
        curved = isinstance(segment, svgelements.Arc)
        steps = count if curved else 1
        points += [segment.point(k / steps) for k in range(steps + 1)]
        ends.append(segment.end)
        if curved:
            length += segment.rx * abs(segment.sweep)
            caps -= segment.rx**2 * (segment.sweep - math.sin(segment.sweep)) / 2
        else:
            length += segment.length()
    as_drawn = [[(p.x, height_mm - p.y) for p in some] for some in (points, ends)]
    return np.array(as_drawn[0]), length, shoelace_mm2(as_drawn[1]) + caps


def test_size_is_real():
    """Width and height are in mm, and the view box has a unit to the millimetre."""
    root = ET.fromstring(svg_text(sheet_of_two()))  # noqa: S314 - our own text
    assert (root.get("width"), root.get("height")) == ("270mm", "100mm")
    assert root.get("viewBox") == "0 0 270 100"


def test_groups_follow_the_laser():
    """One group a layer, named and titled, score before inside before outside cuts."""
    root = ET.fromstring(svg_text(sheet_of_two()))  # noqa: S314
    groups = root.findall(f"{NAMESPACE}g")
    assert [group.get("id") for group in groups] == [
        "score",
        "cut_inside",
        "cut_outside",
        "notes-text",
    ]
    assert [group.findtext(f"{NAMESPACE}title") for group in groups] == [
        "score",
        "inside cut",
        "outside cut",
        "note",
    ]
    assert [group.get("stroke") for group in groups[:3]] == [
        PALETTE.score.colour,
        PALETTE.inside_cut.colour,
        PALETTE.outside_cut.colour,
    ]
    assert [len(group) - 1 for group in groups] == [4, 16, 2, 2]


def test_a_part_in_a_window_is_cut_before_the_window():
    """Else it would drop out with the offcut: groups repeat, each with an id of its own."""
    root = ET.fromstring(svg_text(part_in_a_window()))  # noqa: S314
    groups = [
        (group.get("id"), {shape.get("data-part") for shape in group[1:]})
        for group in root.findall(f"{NAMESPACE}g")
    ]
    assert groups == [
        ("cut_inside", {"disc"}),
        ("cut_outside", {"disc"}),
        ("cut_inside-2", {"frame"}),
        ("cut_outside-2", {"frame"}),
    ]


def test_circles_stay_circles_and_arcs_stay_short():
    """Whole circles are <circle>; an A command sweeps at most 120 degrees and needs no flag."""
    text = svg_text(sheet_of_two())
    assert text.count("<circle") == 12
    flags = re.findall(r"A \S+ \S+ (\S+) (\S+) [01] ", text)
    assert flags
    assert set(flags) == {("0", "0")}
    for shape in parsed(text):
        if isinstance(shape, svgelements.Path):
            for segment in shape:
                if isinstance(segment, svgelements.Arc):
                    assert abs(segment.sweep) <= math.radians(120) + 1e-6


@settings(
    max_examples=60, derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow]
)
@given(shapes=st.lists(contours(), min_size=1, max_size=4))
def test_another_parser_finds_the_same_curves(shapes):
    """Any contour comes back within 0.0001 mm, its area as close, right way up."""
    entries = tuple(Entry(Layer.INSIDE_CUT, shape, "") for shape in shapes)
    found = parsed(svg_text(Drawing(400, 300, entries)))
    assert len(found) == len(shapes)
    for shape, contour in zip(found, shapes, strict=True):
        if contour.is_circle:
            arc = contour.segments[0]
            assert isinstance(shape, svgelements.Circle)
            assert (shape.cx, 300 - shape.cy) == pytest.approx(tuple(arc.centre), abs=1e-6)
            assert shape.rx == pytest.approx(arc.radius_mm, abs=1e-6)
            continue
        points, length, area = measured(shape, 300)
        assert distances_to(contour, points).max() <= 1e-4
        assert length == pytest.approx(contour.length_mm, abs=1e-4)
        assert abs(area - contour.signed_area_mm2) <= 1e-4 * contour.length_mm


def test_other_colours_on_request():
    """A palette of the maker's own renames the group and recolours it."""
    own = Palette(score=Pen("MARK", "#123456"))
    assert '<g id="mark" fill="none" stroke="#123456"' in svg_text(sheet_of_two(), palette=own)


def test_any_text_is_escaped():
    """Signs with a meaning in XML, and those XML forbids, come back as text or as a space."""
    hostile = "a<b>&\"'\x00\x1b\n]]>\ufffeØ"
    drawing = Drawing(
        10,
        10,
        (Entry(Layer.SCORE, polyline([(0, 0), (1, 1)]), hostile),),
        (Note(hostile, Point(1, 1), 3),),
    )
    root = ET.fromstring(svg_text(drawing))  # noqa: S314
    expected = "a<b>&\"' ]]> Ø"
    assert [text.text for text in root.iter(f"{NAMESPACE}text")] == [expected]
    assert [path.get("data-part") for path in root.iter(f"{NAMESPACE}path")] == [expected]


def test_same_drawing_same_text():
    """Nothing but the drawing decides."""
    assert svg_text(sheet_of_two()) == svg_text(sheet_of_two())


@needs_rsvg
def test_drawn_size_is_right_to_the_pixel(tmp_path):
    """At ten dots a millimetre rsvg draws the plate 120.0 x 80.0 mm at (20, 30), y up."""
    motion = Motion(dx_mm=20, dy_mm=30)
    drawing = Drawing(
        200,
        150,
        (
            Entry(Layer.INSIDE_CUT, circle((60, 50), diameter_mm=20), "plate"),
            Entry(Layer.OUTSIDE_CUT, rounded_rectangle(120, 80, 8).moved(motion), "plate"),
        ),
    )
    pixels = rendered(svg_text(drawing), tmp_path)
    assert pixels.shape == (1500, 2000, 3)
    for layer, (left, bottom, right, top) in (
        (Layer.OUTSIDE_CUT, (20, 30, 140, 110)),
        (Layer.INSIDE_CUT, (50, 40, 70, 60)),
    ):
        drawn = where_drawn(pixels, PALETTE.of(layer).colour)
        expected = (10 * left, 1500 - 10 * top, 10 * right, 1500 - 10 * bottom)
        assert np.abs(np.array(drawn) - expected).max() <= 1


@needs_rsvg
def test_notes_are_not_mirrored(tmp_path):
    """The letter F has its stem on the left and its long bar on top."""
    drawing = Drawing(40, 40, (), (Note("F", Point(10, 10), 20),))
    pixels = rendered(svg_text(drawing), tmp_path)
    left, top, right, bottom = where_drawn(pixels, PALETTE.note.colour)
    ink = (255 - pixels[top : bottom + 1, left : right + 1]).sum(axis=2)
    half_wide, half_high = ink.shape[1] // 2, ink.shape[0] // 2
    assert ink[:, :half_wide].sum() > 1.5 * ink[:, half_wide:].sum()
    assert ink[:half_high].sum() > 1.5 * ink[half_high:].sum()
    assert abs(bottom + 1 - 300) <= 2  # it stands on its base line: 10 mm up of 40, ten dots a mm
    assert abs((bottom + 1 - top) / 10 - 20) <= 1.5  # a capital is about 20 mm high


@needs_rsvg
def test_a_turned_note_reads_upwards(tmp_path):
    """The stem of an F on its back lies below, from the left end of its line towards the left."""
    drawing = Drawing(40, 40, (), (Note("F", Point(30, 10), 20, 90.0),))
    pixels = rendered(svg_text(drawing), tmp_path)
    left, top, right, bottom = where_drawn(pixels, PALETTE.note.colour)
    ink = (255 - pixels[top : bottom + 1, left : right + 1]).sum(axis=2)
    half_wide, half_high = ink.shape[1] // 2, ink.shape[0] // 2
    assert ink[half_high:].sum() > 1.5 * ink[:half_high].sum()  # the stem
    assert ink[:, :half_wide].sum() > 1.5 * ink[:, half_wide:].sum()  # the bar at its top
    assert abs(right + 1 - 300) <= 2  # it stands on its base line: 30 mm from the left
    assert abs((right + 1 - left) / 10 - 20) <= 1.5
