"""Dimensions of drawings, read back by pdfium and held against shapely's reading of the part.

What an extension line comes from, to the scale of the page, must be the figure it leads to; every
corner of an outline must be told; no two words may lie over each other, nor a number on an edge.
"""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
import shapely

from platekit.assembly import Assembly, lying, standing, tabs
from platekit.export.plans.alike import alike
from platekit.export.plans.book import bound
from platekit.export.plans.contents import PlansOf
from platekit.export.plans.drawings.page import drawing_leaves
from platekit.export.plans.printing.paper import Paper
from platekit.geometry.booleans import difference
from platekit.geometry.chains import circle, closed_polyline
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import fillet, rectangle
from platekit.job.kinds import kinds_of, of_kinds
from platekit.job.options import Options
from platekit.job.parameters import values_of
from platekit.job.purposes import purposes_of
from platekit.job.recipe import load_recipe
from platekit.job.resolving import resolved
from platekit.job.sheets import job_sheet
from platekit.materials import birch_plywood
from platekit.panel.feature import Placed
from platekit.panel.part import Part
from platekit.panel.plate import Plate
from tests.export.plans.measured import Page, pages_of
from tests.export.plans.words import Word, letters_of, overlaps, words_of

SHEET = birch_plywood(6.0)
RECIPES = sorted((Path(__file__).parents[3] / "recipes").glob("*.py"))
# Upper corners of a comb drawn by hand: teeth 20 wide, 6 proud, at places that are no pattern.
TEETH = [(15.0, 35.0), (61.5, 81.5), (104.25, 124.25)]


def drawn(parts, named=None, paper="A4") -> bytes:
    """Return the drawings of parts."""
    named = named or {}
    plans = PlansOf(name="trial", parts=tuple(parts), paper=Paper.parse(paper), named=named)
    places = {part.name: number for number, part in enumerate(parts, start=1)}
    leaves = [
        leaf
        for group in alike(parts, named)
        for leaf in drawing_leaves(group, plans=plans, numbers=[places[one.name] for one in group])
    ]
    return bound(leaves, title="trial")


@cache
def of_recipe(path: Path) -> tuple[tuple[Part, ...], dict, bytes]:
    """Return the parts of a recipe, what they are cut for, and their drawings."""
    recipe = load_recipe(path)
    made = recipe.call(
        job_sheet(recipe.sheet, options=Options()), values=values_of(recipe.parameters, chosen={})
    )
    given = resolved(made)
    parts = kinds_of(given.parts)
    named = of_kinds(purposes_of(given), parts)
    return parts, named, drawn(parts, named)


@cache
def pages(pdf: bytes) -> list[tuple[Page, list[Word]]]:
    """Return every page as paths and as words."""
    document = pypdfium2.PdfDocument(pdf)
    found = list(zip(pages_of(pdf), [words_of(page) for page in document], strict=True))
    document.close()
    return found


def scale_of(page: Page) -> float:
    """Return the scale a title block tells."""
    top, bottom = re.search(r"scale\s+([\d.]+):([\d.]+)", page.text).groups()
    return float(top) / float(bottom)


def outline_box(page: Page) -> np.ndarray:
    """Return the box of what is drawn in the line of edges: 0.35 mm."""
    edges = [one for one in page.drawn if one.stroked and 0.3 < one.width_mm < 0.4]
    return max((one.box for one in edges), key=lambda box: np.ptp(box, axis=0).prod())


def told(page: Page, words: list[Word]) -> list[tuple[str, float, str]]:
    """Return what each extension line of a running dimension tells: axis, place, its figure.

    The place is where the line begins, in millimetres of the part.
    """
    corner, scale = outline_box(page)[0], scale_of(page)
    # Extension lines have four points: part, dimension line, where they are cranked, figure.
    chains = [chain for one in page.drawn for chain in one.chains if len(chain) == 4]
    found = []
    for chain in chains:
        first, last = chain[0], chain[3]
        way = chain[3] - chain[2]
        if not 0.7 < np.hypot(*way) < 0.9:
            continue
        axis = 0 if abs(way[1]) > abs(way[0]) else 1
        beyond = last + way / np.hypot(*way) * 2.0
        near = [
            one
            for one in words
            if np.all(one.box[:2] - 0.6 < beyond) and np.all(beyond < one.box[2:] + 0.6)
        ]
        assert len(near) == 1, (last, [one.said for one in near])
        found.append(("xy"[axis], float((first - corner)[axis] / scale), near[0].said))
    return found


def corners_of(part: Part) -> np.ndarray:
    """Return the corners of an outline, from its bounds' corner, by its own rows' ends."""
    ends = np.array([one.start for one in part.profile.outer.segments])
    box = part.profile.bounds
    return ends - [box.left, box.bottom]


def comb() -> Part:
    """Return a plate with teeth at its upper edge and a shoulder at its right."""
    points = [(0.0, 0.0), (150.0, 0.0), (150.0, 22.5), (143.5, 22.5), (143.5, 60.0)]
    for start, end in reversed(TEETH):
        points += [(end, 60.0), (end, 66.0), (start, 66.0), (start, 60.0)]
    return Part("comb", SHEET, Profile(closed_polyline([*points, (0.0, 60.0)])))


def test_a_comb_is_told_by_the_figures_it_was_drawn_with():
    """Every shoulder along x and y, worked out by hand; each figure stands where it says."""
    ((page, words),) = pages(drawn([comb()]))
    found = told(page, words)
    along_x = {said for axis, _, said in found if axis == "x"}
    along_y = {said for axis, _, said in found if axis == "y"}
    assert along_x == {"0", "15", "35", "61.5", "81.5", "104.25", "124.25", "143.5", "150"}
    assert along_y == {"0", "22.5", "60", "66"}
    for _, place, said in found:
        assert place == pytest.approx(float(said), abs=0.03 / scale_of(page))


@pytest.mark.parametrize("path", RECIPES, ids=lambda path: path.stem)
def test_every_figure_of_a_recipe_is_where_it_says_and_every_corner_is_told(path):
    """Of each part: level and upright edges by figures, screws' slots by rows of the table."""
    parts, named, pdf = of_recipe(path)
    by_name = {part.name: part for part in parts}
    groups = alike(parts, named)
    shown = [one for one in pages(pdf) if "scale" in one[0].text]
    assert len(shown) == len(groups)
    for group, (page, words) in zip(groups, shown, strict=True):
        part, found = by_name[group[0].name], told(page, words)
        for _, place, said in found:
            assert place == pytest.approx(float(said), abs=0.03 / scale_of(page)), part.name
        slots = shapely.union_all(
            [
                shapely.Polygon([one.start for one in cut.segments]).buffer(0.01)
                for feature in named.get(part.name, ())
                if feature.opens_edge
                for cut in feature.cuts
            ]
        )
        box = part.profile.bounds
        if part.profile.outer.is_circle:
            continue
        corners = corners_of(part)
        if any(segment_is_slanted(one) for one in part.profile.outer.segments):
            continue
        if not found:  # a plain plate: its two sides
            assert {word.said for word in words} >= {
                shown_mm(box.width_mm),
                shown_mm(box.height_mm),
            }
            continue
        for x, y in corners.tolist():
            if slots.covers(shapely.Point(x + box.left, y + box.bottom)):
                continue
            for axis, value in (("x", x), ("y", y)):
                figures = [float(said) for which, _, said in found if which == axis]
                whole = box.width_mm if axis == "x" else box.height_mm
                figures += [] if figures else [0.0, whole]
                assert min(abs(value - one) for one in figures) < 0.0051, (part.name, x, y)


def shown_mm(value: float) -> str:
    """Return a figure with two decimals, zeros at its end left out."""
    return f"{value:.2f}".rstrip("0").rstrip(".")


def segment_is_slanted(one) -> bool:
    """Return whether a segment runs neither level nor upright; arcs do not."""
    return min(abs(one.end.x - one.start.x), abs(one.end.y - one.start.y)) > 1e-4


@pytest.mark.parametrize("path", RECIPES, ids=lambda path: path.stem)
def test_no_words_of_a_recipe_lie_over_each_other(path):
    """Boxes around the letters as pdfium has them."""
    document = pypdfium2.PdfDocument(of_recipe(path)[2])
    for page in document:
        assert overlaps(page) == []


@pytest.mark.parametrize("path", RECIPES, ids=lambda path: path.stem)
def test_no_number_stands_on_an_edge(path):
    """Letters keep clear of outlines and openings, which are drawn wider than all else."""
    pdf = of_recipe(path)[2]
    document = pypdfium2.PdfDocument(pdf)
    for (page, _), raw in zip(pages(pdf), document, strict=True):
        edges = [
            shapely.LineString(chain)
            for one in page.drawn
            if one.stroked and not one.filled and one.width_mm > 0.3
            for chain in one.chains
        ]
        said, boxes = letters_of(raw)
        letters = [
            shapely.box(*box)
            for letter, box in zip(said, boxes.tolist(), strict=True)
            if not letter.isspace()
        ]
        assert not shapely.intersects(shapely.union_all(edges), shapely.union_all(letters)), (
            page.text[:60]
        )


def random_part(seed: int) -> Part:
    """Return a plate with steps, slants, holes and slots, by chance."""
    rng = np.random.default_rng(seed)
    width, height = rng.uniform(60.0, 700.0, 2)
    outer = rectangle(width, height, centre=(width / 2, height / 2))
    shape = Profile(outer)
    for _ in range(int(rng.integers(0, 25))):
        side, at = int(rng.integers(0, 4)), rng.uniform(0.05, 0.95)
        wide, deep = rng.uniform(2.0, 20.0, 2)
        centre = [
            (at * width, 0.0),
            (at * width, height),
            (0.0, at * height),
            (width, at * height),
        ][side]
        bite = Profile(rectangle(wide, deep, centre=centre))
        (shape, *_) = sorted(difference(shape, bite), key=lambda one: -one.area_mm2)
    if seed % 3 == 0:
        corner = closed_polyline([(-1.0, -1.0), (width / 3, -1.0), (-1.0, height / 4)])
        (shape, *_) = sorted(difference(shape, Profile(corner)), key=lambda one: -one.area_mm2)
    for _ in range(int(rng.integers(0, 60))):
        x, y = rng.uniform(0.1, 0.9, 2) * [width, height]
        size = float(rng.uniform(2.0, 12.0))
        hole = (
            circle((x, y), diameter_mm=size)
            if rng.random() < 0.7
            else rectangle(size, 3 * size, centre=(x, y))
        )
        (shape, *_) = sorted(difference(shape, Profile(hole)), key=lambda one: -one.area_mm2)
    return Part("trial part", SHEET, shape)


@pytest.mark.parametrize("seed", range(12))
def test_random_parts_are_told_without_a_word_over_another(seed):
    """Each corner by figures or by a row; each hole by a number on the drawing or a note."""
    part = random_part(seed)
    pdf = drawn([part])
    document = pypdfium2.PdfDocument(pdf)
    for page in document:
        assert overlaps(page) == []
    (page, words), *_ = pages(pdf)
    text = " ".join(" ".join(one.text.split()) for one, _ in pages(pdf))
    tabled = " c1 " in text
    found = [] if tabled else told(page, words)
    box = part.profile.bounds
    for x, y in corners_of(part).tolist():
        if tabled:
            assert f"{shown_mm(x)} {shown_mm(y)} " in text, (x, y)
            continue
        for axis, value in (("x", x), ("y", y)):
            figures = [float(said) for which, _, said in found if which == axis]
            whole = box.width_mm if axis == "x" else box.height_mm
            figures += [] if figures else [0.0, whole]
            assert min(abs(value - one) for one in figures) < 0.0051, (x, y)


def test_a_hundred_and_fifty_holes_are_numbered_without_a_word_over_another():
    """Ten rows of fifteen."""
    holes = [
        circle((15.0 + 24.0 * (k % 15), 15.0 + 21.5 * (k // 15)), diameter_mm=5.0)
        for k in range(150)
    ]
    part = Part("sieve", SHEET, Profile(rectangle(366.0, 223.5, centre=(183.0, 111.75)), holes))
    document = pypdfium2.PdfDocument(drawn([part]))
    assert all(overlaps(page) == [] for page in document)


def test_roundings_are_told_once_with_how_often():
    """Four corners of 12 mm; the ends of the straight edges ask for no figures."""
    plate = fillet(rectangle(120.0, 80.0, centre=(60.0, 40.0)), radius_mm=12.0)
    ((page, words),) = pages(drawn([Part("plate", SHEET, Profile(plate))]))
    assert "4\N{MULTIPLICATION SIGN} R12" in " ".join(page.text.split())
    assert told(page, words) == []
    assert {"120", "80"} <= {word.said for word in words}


def test_a_disc_is_told_by_its_diameter():
    """And by nothing else."""
    disc = Part("disc", SHEET, Profile(circle((50.0, 50.0), diameter_mm=90.0)))
    ((page, words),) = pages(drawn([disc]))
    assert "\N{LATIN CAPITAL LETTER O WITH STROKE}90" in {word.said for word in words}
    assert told(page, words) == []


def test_an_outline_without_straight_sides_is_a_table_of_its_corners():
    """Corners of a star of 14 points, by polar coordinates."""
    angles = np.radians(np.arange(28) * 360.0 / 28)
    reach = np.where(np.arange(28) % 2, 40.0, 65.0)
    points = np.stack([reach * np.cos(angles), reach * np.sin(angles)], axis=1)
    part = Part("star", SHEET, Profile(closed_polyline(points.tolist())))
    text = " ".join(" ".join(page.text.split()) for page, _ in pages(drawn([part])))
    for x, y in points - points.min(axis=0):
        assert f" {shown_mm(x)} {shown_mm(y)} straight" in text


def test_figures_are_as_high_as_the_standard_has_them():
    """ISO 3098 (from memory): nominal heights 1.8, 2.5, 3.5 mm; of a capital or a figure."""
    pdf = drawn([comb()])
    page = pypdfium2.PdfDocument(pdf)[0]
    said, boxes = letters_of(page)
    word = said.index("104.25")
    box = boxes[word]  # a figure 1, upright: its height lies along x
    assert box[2] - box[0] == pytest.approx(2.5, abs=0.1)


def test_lines_have_two_widths_one_twice_the_other():
    """ISO 128-2 (from memory): 0.35 mm for edges, 0.18 mm for dimensions, of one group."""
    parts, named, pdf = of_recipe(next(path for path in RECIPES if path.stem == "dish_rotator"))
    del parts, named
    (page, _), *_ = pages(pdf)
    left, bottom = outline_box(page)[0] - 20.0
    right, top = outline_box(page)[1] + 20.0
    widths = {
        round(one.width_mm, 2)
        for one in page.drawn
        if one.stroked and np.all(one.box[0] > (left, bottom)) and np.all(one.box[1] < (right, top))
    }
    check_square = {0.15}
    assert widths - check_square == {0.35, 0.18}


def test_figures_read_from_below_or_from_the_right():
    """ISO 129-1 (from memory). An upright word's letters follow each other upward."""
    page = pypdfium2.PdfDocument(drawn([comb()]))[0]
    said, boxes = letters_of(page)
    at = said.index("104.25")
    middles = (boxes[at : at + 6, :2] + boxes[at : at + 6, 2:]) / 2
    assert np.all(np.diff(middles[:, 1]) > 0.5)
    level = said.index("22.5")
    middles = (boxes[level : level + 4, :2] + boxes[level : level + 4, 2:]) / 2
    assert np.all(np.diff(middles[:, 0]) > 0.5)


def test_openings_say_whose_tabs_go_through_them():
    """A shelf of 6 mm whose top lies 46 mm up a wall: its slots are at 43, and name it."""
    wall = Plate("wall", SHEET, rectangle(200.0, 120.0, centre=(100.0, 60.0)))
    shelf = Plate("shelf", SHEET, rectangle(200.0, 90.0, centre=(100.0, 45.0)))
    made = Assembly(
        "bracket",
        panels=(
            standing(wall, facing="front", left_mm=0.0, bottom_mm=0.0, front_mm=0.0),
            lying(shelf, left_mm=0.0, front_mm=0.0, top_mm=46.0),
        ),
        joints=(tabs("shelf", into="wall", count=2, width_mm=20.0),),
    )
    given = resolved(made)
    pdf = drawn(given.parts, purposes_of(given))
    (page,) = [page for page, _ in pages(pdf) if page.text.count("wall: drawing")]
    rows = re.findall(r"^\d ([\d.]+) ([\d.]+) (\S+ . \S+) tab of shelf", page.text, re.MULTILINE)
    assert len(rows) == 2
    assert {float(y) for _, y, _ in rows} == {43.0}
    # Places along the wall: as the wall's own outline has them, read by shapely.
    (part,) = [one for one in given.parts if one.name == "wall"]
    holes = [
        shapely.Polygon([one.start for one in ring.segments]).centroid.x
        for ring in part.profile.inners
    ]
    assert sorted(float(x) for x, _, _ in rows) == pytest.approx(sorted(holes), abs=0.0051)


def test_an_open_slot_is_told_by_its_own_sizes():
    """4.5 wide and 20 deep with a pocket 7.2 wide from 8 to 11.4: typed here, found in a row."""
    slot = closed_polyline(
        [
            *((37.75, -0.5), (42.25, -0.5), (42.25, 8.0), (43.6, 8.0), (43.6, 11.4)),
            *((42.25, 11.4), (42.25, 20.0), (37.75, 20.0), (37.75, 11.4), (36.4, 11.4)),
            *((36.4, 8.0), (37.75, 8.0)),
        ]
    )
    (shape,) = difference(Profile(rectangle(100.0, 60.0, centre=(50.0, 30.0))), Profile(slot))
    feature = Placed(name="M4 to lid 1", kind="slot", cuts=(slot,), opens_edge=True)
    part = Part("front", SHEET, shape)
    ((page, words),) = pages(drawn([part], {"front": (feature,)}))
    text = " ".join(page.text.split())
    row = r"A 40 0 4\.5 wide, 20 deep; 7\.2 (M4 to lid 1 )?wide from 8 to 11\.4"
    assert re.search(row, text)
    assert told(page, words) == []


def test_a_side_of_too_many_steps_is_told_in_a_table():
    """A hundred teeth on two metres: every place of both their flanks, typed as a rule here."""
    flanks = [20.0 * k + off for k in range(100) for off in (4.1, 12.3)]
    points = [(0.0, 0.0), (2000.0, 0.0), (2000.0, 20.0)]
    for end, start in zip(flanks[::-2], flanks[-2::-2], strict=True):
        points += [(end, 20.0), (end, 26.0), (start, 26.0), (start, 20.0)]
    strip = Part("strip", SHEET, Profile(closed_polyline([*points, (0.0, 20.0)])))
    shown = pages(drawn([strip]))
    text = " ".join(" ".join(page.text.split()) for page, _ in shown)
    figures = set(re.findall(r"[\d.]+", text))
    assert {shown_mm(at) for at in flanks} <= figures
    assert "upper x" in text
    # Heights of the teeth still stand at the side of the part.
    assert {said for axis, _, said in told(*shown[0]) if axis == "y"} == {"0", "20", "26"}


def test_an_outline_of_hundreds_of_corners_is_left_to_the_full_size_page():
    """A table of 300 corners helps nobody: the drawing says where to take it from."""
    angles = np.radians(np.arange(300) * 1.2)
    reach = 60.0 + 8.0 * np.sin(9.0 * angles)
    points = np.stack([reach * np.cos(angles), reach * np.sin(angles)], axis=1)
    part = Part("flower", SHEET, Profile(closed_polyline(points.tolist())))
    ((page, _),) = pages(drawn([part]))
    assert "The outline is made of 300 lines and arcs" in " ".join(page.text.split())


@pytest.mark.parametrize("paper", ["A3", "Letter", "105x148"])
def test_other_papers_hold_a_drawing_as_well(paper):
    """No word over another, whatever is printed on."""
    document = pypdfium2.PdfDocument(drawn([comb(), random_part(4)], paper=paper))
    assert all(overlaps(page) == [] for page in document)


@pytest.mark.parametrize(
    ("outline", "says"),
    [
        (rectangle(90.0, 90.0), "count from the ringed corner, to the middle"),
        (
            circle((50.0, 50.0), diameter_mm=90.0),
            "count from the ring (x from the part's left end, y from its lower end), to the middle",
        ),
    ],
)
def test_places_say_where_they_count_from(outline, says):
    """No drawing speaks of a corner that it has not named or has not got."""
    hole = circle(outline.bounds.centre, diameter_mm=8.0).reversed()
    ((page, _),) = pages(drawn([Part("base", SHEET, Profile(outline, (hole,)))]))
    assert says in " ".join(page.text.split())
