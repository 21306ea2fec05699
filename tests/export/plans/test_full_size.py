"""Full-size plans: what a rule and a pair of hands would find, by pdfium, poppler and shapely.

The tiles are put together as a reader would: by the row and column in their heads and by laying
cross on cross. The outline they give is held against shapely's own drawing of the part.
"""

from __future__ import annotations

import re
import shutil
import subprocess
from functools import cache
from itertools import pairwise

import numpy as np
import pytest
import shapely

from platekit.errors import PlatekitError
from platekit.export.plans.book import plans_pdf
from platekit.export.plans.contents import PlansOf
from platekit.export.plans.printing.paper import Paper
from platekit.geometry.chains import Contour, circle
from platekit.geometry.motion import Motion
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import rectangle, slot
from platekit.materials import birch_plywood
from platekit.panel.part import Part
from tests.export.plans.measured import Page, pages_of, rendered
from tests.recipes.builds import resolved
from tests.recipes.chorded import polygon

SHEET = birch_plywood(6.0)
# Okabe and Ito's blue (hex from memory): the colour of the check square.
CHECK = "#0072b2"
MARGIN_MM = 12.0
FINE = 256  # chords to a quarter turn, for shapely


def plate(name: str, outer: Contour, *inners: Contour, quantity: int = 1) -> Part:
    """Return a part of 6 mm plywood."""
    return Part(name, SHEET, Profile(outer, inners), quantity=quantity)


BIG = plate(
    "big",
    rectangle(500.0, 400.0, fillet_mm=60.0),
    circle((100.0, 90.0), diameter_mm=8.5),
    circle((250.0, 200.0), diameter_mm=220.0),
    slot(90.0, 12.0, centre=(420.0, 330.0), angle_deg=30.0),
)
SMALL = (
    plate("small", rectangle(80.0, 50.0), circle((20.0, 20.0), diameter_mm=5.0), quantity=3),
    plate("disc", circle((0.0, 0.0), diameter_mm=60.0)),
    *(plate(f"strip {size}", rectangle(float(size), 24.0)) for size in (150, 120, 90, 60)),
)
PAPERS = ("A4", "A3", "Letter", "300x500", "roll 610", "roll 300")


def expected_big() -> shapely.Geometry:
    """Return the edges of the big part as shapely draws it, with arcs as fine chords."""
    outer = shapely.box(60, 60, 440, 340).buffer(60.0, quad_segs=FINE)
    hole = shapely.Point(100, 90).buffer(4.25, quad_segs=FINE)
    round_hole = shapely.Point(250, 200).buffer(110.0, quad_segs=FINE)
    reach = 39.0 * np.array([np.cos(np.radians(30)), np.sin(np.radians(30))])
    middle = np.array([420.0, 330.0])
    long = shapely.LineString([middle - reach, middle + reach]).buffer(6.0, quad_segs=FINE)
    return shapely.union_all([one.exterior for one in (outer, hole, round_hole, long)])


@cache
def pdf(paper: str, overlap_mm: float = 10.0) -> bytes:
    """Return the plans of the parts above."""
    plans = PlansOf(
        name="trial", parts=(BIG, *SMALL), paper=Paper.parse(paper), overlap_mm=overlap_mm
    )
    return plans_pdf(plans)


@cache
def full_size(paper: str, overlap_mm: float = 10.0) -> list[Page]:
    """Return its pages in full size."""
    return pages_of(pdf(paper, overlap_mm), only="scale 1:1")


def square(page: Page) -> np.ndarray:
    """Return the box round what is drawn in the check square's colour: least and greatest x, y."""
    found = [one.box for one in page.drawn if one.stroked and one.stroke == CHECK]
    assert found, page.text
    return np.array([np.min(found, axis=(0, 1)), np.max(found, axis=(0, 1))])


@pytest.mark.parametrize("paper", PAPERS)
def test_the_check_square_measures_100_mm_on_every_page(paper):
    """By pdfium: within 0.1 mm along and across, as the scale bar; every sheet is printed alone."""
    for page in pages_of(pdf(paper)):
        box = square(page)
        assert np.ptp(box, axis=0) == pytest.approx([100.0, 100.0], abs=0.1)
        ticks = [one.box for one in page.drawn if one.filled and np.ptp(one.box[:, 1]) < 2.0]
        bars = [bar for bar in ticks if abs(np.ptp(bar[:, 0]) - 10.0) < 0.01]
        ends = min(bar[0, 0] for bar in bars), max(bar[1, 0] for bar in bars)
        assert ends == pytest.approx(box[:, 0], abs=0.1)
        assert min(bar[0, 1] for bar in bars) == pytest.approx(box[0, 1], abs=0.1)
        assert "check square: 100 mm each way" in " ".join(page.text.split())


@pytest.mark.parametrize("paper", PAPERS)
def test_the_square_lies_where_printers_print(paper):
    """Nothing of it within 11.9 mm of an edge: ink printers leave 12 mm (common practice)."""
    for page in pages_of(pdf(paper)):
        box = square(page)
        assert box[0].min() > 11.9
        assert page.width_mm - box[1, 0] > 11.9
        assert page.height_mm - box[1, 1] > 11.9


def test_the_square_is_no_line_that_somebody_saws():
    """Thinner than any outline, open between its corners: no ring, no long line (by pdfium)."""
    for page in full_size("A4"):
        for one in page.drawn:
            if one.stroked and one.stroke == CHECK:
                assert one.width_mm < 0.2
                assert max(np.ptp(chain, axis=0).max() for chain in one.chains) < 5.0


@pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="poppler is not installed")
def test_poppler_finds_the_square_as_large(tmp_path):
    """A second reader: rendered at 600 dots per inch, from middle to middle of its corners."""
    (tmp_path / "plans.pdf").write_bytes(pdf("A4"))
    number = "3"  # cover, list of parts, then full size
    subprocess.run(
        ["pdftoppm", "-r", "600", "-f", number, "-singlefile", "plans.pdf", "page"],
        cwd=tmp_path,
        check=True,
    )
    raw = (tmp_path / "page.ppm").read_bytes()
    width, height = (int(one) for one in re.match(rb"P6\s+(\d+)\s+(\d+)\s+255\s", raw).groups())
    pixels = np.frombuffer(raw[-3 * width * height :], dtype=np.uint8).reshape(height, width, 3)
    blue = pixels[:, :, 2].astype(int) - pixels[:, :, 0] > 40
    arm = 3.0 / 25.4 * 600  # an arm is 4 mm; ticks and letters are shorter
    for axis in (0, 1):
        lines = np.flatnonzero(_longest_runs(blue, axis=axis) > arm)
        first, second = np.split(lines, np.flatnonzero(np.diff(lines) > 10) + 1)
        assert (second.mean() - first.mean()) * 25.4 / 600 == pytest.approx(100.0, abs=0.1)


def _longest_runs(dots: np.ndarray, *, axis: int) -> np.ndarray:
    """Return the length of the longest unbroken run of dots along an axis."""
    longest = running = np.zeros(dots.shape[1 - axis])
    for line in dots if axis == 0 else dots.T:
        running = np.where(line, running + 1, 0)
        longest = np.maximum(longest, running)
    return longest


def crosses(page: Page) -> np.ndarray:
    """Return the middles of registration crosses: two dark right triangles meet in one."""
    corners = [
        one.chains[0][0]
        for one in page.drawn
        if one.filled and not one.stroked and len(np.unique(one.chains[0], axis=0)) == 3
    ]
    rounded, counts = np.unique(np.round(corners, 3).reshape(-1, 2), axis=0, return_counts=True)
    return rounded[counts == 2]


def outline(page: Page) -> shapely.Geometry:
    """Return black lines a quarter of a millimetre wide, inside the frame of the tile."""
    frames = [
        one.box for one in page.drawn if one.stroked and one.box[0] == pytest.approx(12.0, abs=20)
    ]
    frame = max(frames, key=lambda box: float(np.prod(np.ptp(box, axis=0))))
    lines = [
        one.lines
        for one in page.drawn
        if one.stroked and one.stroke == "#000000" and abs(one.width_mm - 0.25) < 0.01
    ]
    return shapely.union_all(lines).intersection(shapely.box(*frame.ravel()))


def put_together(pages: list[Page]) -> shapely.Geometry:
    """Return the tiles as hands lay them: neighbours cross on cross, from the first on."""
    tiles = {}
    for page in pages:
        row, column = re.search(r"row ([A-Z]), column (\d+)", page.text).groups()
        tiles["ABCDEFGHJK".index(row), int(column)] = page
    moved = {min(tiles): np.zeros(2)}
    while len(moved) < len(tiles):
        before = len(moved)
        for (row, column), page in tiles.items():
            if (row, column) in moved:
                continue
            # The left neighbour's crosses on its right seam are this one's on its left seam.
            for other, axis, side in (((row, column - 1), 0, 1), ((row - 1, column), 1, -1)):
                if other not in moved:
                    continue
                mine, theirs = crosses(page), crosses(tiles[other])
                mine = _extreme(mine, axis, -side)
                theirs = _extreme(theirs, axis, side)
                assert len(mine) == len(theirs) == 2
                shift = theirs - mine
                assert np.ptp(shift, axis=0) == pytest.approx([0.0, 0.0], abs=0.01)
                moved[row, column] = moved[other] + shift.mean(axis=0)
                break
        assert len(moved) > before
    return shapely.union_all(
        [
            shapely.transform(outline(page), lambda points, by=moved[place]: points + by)
            for place, page in tiles.items()
        ]
    )


def _extreme(points: np.ndarray, axis: int, side: int) -> np.ndarray:
    """Return the crosses of the seam at one side of a tile, in order along it."""
    far = (side * points[:, axis]).max()
    some = points[np.abs(side * points[:, axis] - far) < 0.01]
    return some[np.argsort(some[:, 1 - axis])]


@pytest.mark.parametrize(
    ("paper", "overlap_mm"),
    [("A4", 10.0), ("A4", 25.0), ("Letter", 5.0), ("A3", 10.0), ("roll 300", 10.0)],
)
def test_tiles_laid_cross_on_cross_are_the_part(paper, overlap_mm):
    """The farthest any edge lies from shapely's own: under 0.2 mm (it is a few microns)."""
    pages = [page for page in full_size(paper, overlap_mm) if "big" in page.text]
    assert len(pages) > 1
    whole = put_together(pages)
    left, bottom = whole.bounds[:2]
    laid = shapely.transform(whole, lambda points: points - [left, bottom])
    # Centre marks are lines of their own width and do not enter.
    assert shapely.hausdorff_distance(laid, expected_big(), densify=0.05) < 0.2


def test_the_tiles_of_a_real_recipe_are_its_parts():
    """Fingers and slots of every tiled part of the rib table, against fine chords by shapely."""
    parts = [
        part
        for part in resolved("rib_table").parts
        if min(part.profile.bounds.width_mm, part.profile.bounds.height_mm) > 186.0
    ]
    assert parts
    plans = PlansOf(name="trial", parts=tuple(parts), paper=Paper.parse("A4"))
    pages = pages_of(plans_pdf(plans), only="scale 1:1")
    for part in parts:
        whole = put_together([page for page in pages if f"{part.name} " in page.text])
        edges = polygon(part.profile).boundary
        laid = shapely.transform(whole, lambda points, by=whole.bounds: points - by[:2])
        there = shapely.transform(edges, lambda points, by=edges.bounds: points - by[:2])
        assert shapely.hausdorff_distance(laid, there, densify=0.05) < 0.2


def test_a_part_that_fits_is_whole_on_one_page_in_true_size():
    """Every small part once, whatever its quantity; a disc of 60 mm is 60 mm across."""
    pages = [page for page in full_size("A4") if "big" not in page.text]
    text = " ".join(page.text for page in pages)
    for part in SMALL:
        assert len(re.findall(rf"\b{part.name}\b", text)) >= 1
    assert "make 3" in text
    circles = [
        chain
        for page in pages
        for one in page.drawn
        if one.stroked and abs(one.width_mm - 0.25) < 0.01
        for chain in one.chains
        if len(chain) > 60
    ]
    sizes = sorted(float(np.ptp(chain[:, 0])) for chain in circles)
    assert sizes == pytest.approx([5.0, 60.0], abs=0.01)


def test_holes_have_their_centres_and_diameters():
    """A cross in the middle of the hole of 5 mm, and its figure beside it."""
    (page,) = [page for page in full_size("A4") if "small" in page.text]
    assert "\N{LATIN CAPITAL LETTER O WITH STROKE}5" in page.text
    (hole,) = [
        chain
        for one in page.drawn
        if one.stroked
        for chain in one.chains
        if len(chain) > 60 and np.ptp(chain[:, 0]) < 6.0
    ]
    middle = (hole.min(axis=0) + hole.max(axis=0)) / 2
    marks = [one for one in page.drawn if len(one.chains) == 2 and len(one.chains[0]) == 2]
    centres = [one.box.mean(axis=0) for one in marks]
    assert min(np.hypot(*(at - middle)) for at in centres) < 0.01


@pytest.mark.parametrize("paper", PAPERS)
def test_nothing_prints_outside_the_margins(paper):
    """As pdfium renders it, the outer 12 mm of every page are white."""
    for page in rendered(pdf(paper)):
        edge = int((MARGIN_MM - 0.4) / 25.4 * 50.0)
        inside = np.zeros(page.shape, dtype=bool)
        inside[edge:-edge, edge:-edge] = True
        assert page[~inside].min() > 250
        assert page[inside].min() < 100


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="poppler is not installed")
@pytest.mark.parametrize("paper", ["A4", "105x148"])
def test_no_word_is_cut_off(paper, tmp_path):
    """As poppler has it, every word lies inside the margins of its page, and over no other."""
    (tmp_path / "plans.pdf").write_bytes(pdf(paper))
    subprocess.run(["pdftotext", "-bbox", "plans.pdf", "words.html"], cwd=tmp_path, check=True)
    told = (tmp_path / "words.html").read_text(encoding="utf-8")
    points = MARGIN_MM * 72.0 / 25.4
    words = 0
    for page in re.split(r"<page ", told)[1:]:
        boxes = []
        width, height = (float(one) for one in re.findall(r'"([\d.]+)"', page)[:2])
        for box in re.findall(r'xMin="(\S+)" yMin="(\S+)" xMax="(\S+)" yMax="(\S+)"', page):
            left, top, right, bottom = map(float, box)
            assert left >= points - 1.0
            assert right <= width - points + 1.0
            # Boxes of words reach a third of their size above and below the letters.
            assert top >= points - 4.0
            assert bottom <= height - points + 4.0
            # Letters fill the middle of their boxes: where those meet, words run into each other.
            slack = 0.22 * (bottom - top)
            boxes.append(shapely.box(left, top + slack, right, bottom - slack))
            words += 1
        tree = shapely.STRtree(boxes)
        one, other = tree.query(boxes, predicate="intersects")
        meet = shapely.intersection(np.array(boxes)[one], np.array(boxes)[other])
        deep = shapely.area(meet) > 1.5
        assert one[deep].tolist() == other[deep].tolist()
    assert words > 100


@pytest.mark.parametrize("diameter_mm", [3.0, 40.0, 150.0, 1200.0])
def test_circles_on_paper_are_round(diameter_mm):
    """No point of a curve, as pdfium has it, is off its circle by more than 0.002 mm."""
    part = plate("wheel", circle((0.0, 0.0), diameter_mm=diameter_mm))
    plans = PlansOf(name="trial", parts=(part,), paper=Paper.parse("1500x1500"))
    (page,) = pages_of(plans_pdf(plans), only="scale 1:1")
    (chain,) = [
        chain
        for one in page.drawn
        if one.stroked and abs(one.width_mm - 0.25) < 0.01
        for chain in one.chains
    ]
    middle = (chain.min(axis=0) + chain.max(axis=0)) / 2
    radii = np.hypot(*(chain - middle).T)
    assert radii == pytest.approx(diameter_mm / 2, abs=0.002)


def test_tiles_are_named_and_mapped():
    """Rows by letters, columns by figures (ISO 5457, from memory); every name on every map."""
    pages = [page for page in full_size("A4") if "big" in page.text]
    heads = [
        re.search(r"big (\w+): tile (\d+) of (\d+), row (\w), column (\d)", one.text)
        for one in pages
    ]
    assert [int(one[2]) for one in heads] == list(range(1, len(pages) + 1))
    assert {int(one[3]) for one in heads} == {len(pages)}
    names = [f"{one[4]}{one[5]}" for one in heads]
    assert [one[1] for one in heads] == names
    for page in pages:
        assert set(names) <= set(page.text.split())


def test_each_overlap_names_the_page_that_joins():
    """Tile A1 of 2 x 2 names A2 once more than its map does, and B1, but not B2."""
    plans = PlansOf(
        name="trial", parts=(plate("board", rectangle(350.0, 480.0)),), paper=Paper.parse("A4")
    )
    first, *others = pages_of(plans_pdf(plans), only="board A1: tile 1 of 4")
    assert not others
    words = first.text.split()
    assert [words.count(name) for name in ("A2", "B1", "B2")] == [2, 2, 1]


def test_no_page_shows_but_a_sliver():
    """A disc a little larger than a page is laid so that each of its pages has 25 mm or more."""
    wheel = plate("wheel", circle((0.0, 0.0), diameter_mm=262.0))
    plans = PlansOf(name="trial", parts=(wheel,), paper=Paper.parse("A4"))
    pages = pages_of(plans_pdf(plans), only=", column ")
    assert len(pages) == 2
    for page in pages:
        assert np.ptp(shapely.bounds(outline(page)).reshape(2, 2), axis=0).min() > 25.0


def test_openings_are_whole_on_a_page_where_they_can_be():
    """A hole where the middle of the tiles would meet: pages are laid so that one has all of it."""
    board = plate("board", rectangle(230.0, 330.0), circle((115.0, 165.0), diameter_mm=30.0))
    plans = PlansOf(name="trial", parts=(board,), paper=Paper.parse("A4"))
    pages = pages_of(plans_pdf(plans), only="board ")
    pages = [page for page in pages if "scale 1:1" in page.text]
    assert len(pages) > 1
    sizes = [
        np.ptp(one.bounds[::2])
        for page in pages
        for one in shapely.get_parts(shapely.polygonize([outline(page)]))
        if one.bounds[2] - one.bounds[0] < 40.0
    ]
    assert sizes == pytest.approx([30.0] * len(sizes), abs=0.05)
    assert sizes


def test_a_part_is_turned_where_that_saves_pages():
    """320 x 240 mm on Letter: two pages on their long sides, one above the other, hold 320 mm.

    Its sheet is 215.9 mm high so (8.5 in): less margins of 12, head of 8 and foot of 17 that is
    166.9 mm, and 2 x 166.9 - 10 = 323.8. As it lies its 240 mm take two rows either way.
    """
    board = plate("board", rectangle(320.0, 240.0))
    plans = PlansOf(name="trial", parts=(board,), paper=Paper.parse("Letter"))
    pages = pages_of(plans_pdf(plans), only=", column ")
    assert len(pages) == 2
    whole = put_together(pages)
    assert np.ptp(shapely.bounds(whole).reshape(2, 2), axis=0) == pytest.approx(
        [240.0, 320.0], abs=0.05
    )


def strips(page: Page) -> dict[str, np.ndarray]:
    """Return the frames of tiles that share a page, by name: each has its label below it."""
    frames = sorted(
        (
            one.box
            for one in page.drawn
            if one.stroked
            and len(one.chains) == 1
            and len(one.chains[0]) in {5, 6}
            and one.stroke not in {"#000000", CHECK}
        ),
        key=lambda box: (-box[1, 1], box[0, 0]),
    )
    names = re.findall(r"tile (A\d)", page.text)
    assert len(names) == len(frames)
    return dict(zip(names, frames, strict=True))


def test_tiles_of_a_narrow_part_share_a_page_and_meet_cross_on_cross():
    """A lath of 600 mm in three pieces on one page; laid on their crosses they are shapely's."""
    lath = plate("lath", rectangle(600.0, 40.0), circle((300.0, 20.0), diameter_mm=12.0))
    plans = PlansOf(name="trial", parts=(lath,), paper=Paper.parse("A4"))
    (page,) = pages_of(plans_pdf(plans), only="scale 1:1")
    frames = strips(page)
    assert sorted(frames) == [f"A{k + 1}" for k in range(len(frames))]
    assert len(frames) > 1
    edges = shapely.union_all(
        [
            one.lines
            for one in page.drawn
            if one.stroke == "#000000" and abs(one.width_mm - 0.25) < 0.01
        ]
    )
    there = crosses(page)
    laid, shift, last = [], np.zeros(2), np.zeros((2, 2))
    for k in range(1, len(frames) + 1):
        box = frames[f"A{k}"]
        mine = there[np.all((there >= box[0]) & (there <= box[1]), axis=1)]
        if k > 1:
            on_left = mine[np.argsort(mine[:, 0])][:2]
            shift = last.mean(axis=0) - on_left.mean(axis=0)
        moved = shapely.transform(
            edges.intersection(shapely.box(*box.ravel())), lambda points, by=shift: points + by
        )
        laid.append(moved)
        last = mine[np.argsort(mine[:, 0])][-2:] + shift
    whole = shapely.union_all(laid)
    left, bottom = whole.bounds[:2]
    whole = shapely.transform(whole, lambda points: points - [left, bottom])
    hole = shapely.Point(300, 20).buffer(6.0, quad_segs=FINE)
    expected = shapely.union_all([shapely.box(0, 0, 600, 40).exterior, hole.exterior])
    assert shapely.hausdorff_distance(whole, expected, densify=0.05) < 0.2


def test_a_page_of_tiles_names_each_part_once():
    """Its head says the part, then the tiles, as the labels below them have it."""
    lath = plate("lath", rectangle(600.0, 40.0))
    plans = PlansOf(name="trial", parts=(lath,), paper=Paper.parse("A4"))
    (page,) = pages_of(plans_pdf(plans), only="scale 1:1")
    tiles = sorted(set(re.findall(r"lath, tile (A\d)", page.text)))
    assert len(tiles) > 1
    head = next(line for line in page.text.splitlines() if "scale 1:1" in line)
    assert f"full size: lath, tiles {', '.join(tiles)} " in head


def test_parts_alike_but_for_their_names_are_one_pattern():
    """One outline, every name, how many; the list of parts leads to its page from each of them."""
    rings = [plate(f"ring {k}", circle((0.0, 0.0), diameter_mm=110.0)) for k in (1, 2, 3)] + [
        plate("lid", circle((0.0, 0.0), diameter_mm=110.0), quantity=2)
    ]
    plans = PlansOf(name="trial", parts=tuple(rings), paper=Paper.parse("A4"))
    pages = pages_of(plans_pdf(plans))
    (page,) = [one for one in pages if "scale 1:1" in one.text]
    said = " ".join(page.text.split())
    assert "ring 1, 2, 3, lid" in said
    told = "make 5 (1 x ring 1, 1 x ring 2, 1 x ring 3, 2 x lid)"
    assert told.replace(" x ", " \N{MULTIPLICATION SIGN} ") in said
    large = [
        chain
        for one in page.drawn
        if one.stroked
        for chain in one.chains
        if np.ptp(chain[:, 0]) > 100.0 and np.ptp(chain[:, 1]) > 100.0
    ]
    assert len(large) == 1
    for line in pages[1].text.splitlines():
        if re.search(r"ring \d|lid", line):
            assert " 3 " in f" {line} "


def test_where_a_circle_begins_makes_no_other_pattern():
    """One hole drawn from its right, one from its left: nobody sees a difference on wood."""
    hole = circle((40.0, 30.0), diameter_mm=20.0)
    turned = hole.moved(Motion(turn_deg=180.0, dx_mm=80.0, dy_mm=60.0))
    assert not np.allclose(hole.table, turned.table)
    parts = [plate(name, rectangle(90.0, 60.0), one) for name, one in (("a", hole), ("b", turned))]
    plans = PlansOf(name="trial", parts=tuple(parts), paper=Paper.parse("A4"))
    (page,) = pages_of(plans_pdf(plans), only="scale 1:1")
    assert "make 2, one of each name" in page.text


def test_a_part_stands_in_the_middle_of_its_page():
    """As much air left as right of it, by pdfium."""
    plans = PlansOf(
        name="trial", parts=(plate("pad", rectangle(120.0, 90.0)),), paper=Paper.parse("A4")
    )
    (page,) = pages_of(plans_pdf(plans), only="scale 1:1")
    left, _, right, _ = shapely.union_all(
        [
            one.lines
            for one in page.drawn
            if one.stroke == "#000000" and abs(one.width_mm - 0.25) < 0.01
        ]
    ).bounds
    assert left == pytest.approx(page.width_mm - right, abs=0.5)


def test_a_page_that_shows_nothing_needs_no_paper():
    """The middle of a wide ring is air: no tile of it is printed (800 mm outside, 740 inside)."""
    ring = plate("ring", circle((0, 0), diameter_mm=800.0), circle((0, 0), diameter_mm=740.0))
    plans = PlansOf(name="trial", parts=(ring,), paper=Paper.parse("A4"))
    pages = pages_of(plans_pdf(plans), only=", column ")
    places = [re.search(r"row (\w), column (\d+)", one.text).groups() for one in pages]
    rows, columns = ({place[k] for place in places} for k in (0, 1))
    assert len(pages) < len(rows) * len(columns)


def test_a_narrow_page_says_how_large_its_square_is():
    """105 x 148 mm has no room for 100 mm: the largest in whole tens, and the words say so."""
    for page in full_size("105x148"):
        sides = np.ptp(square(page), axis=0)
        assert sides[0] == pytest.approx(sides[1], abs=0.01)
        assert sides[0] == pytest.approx(round(sides[0], -1), abs=0.1)
        assert 50.0 <= sides[0] < 100.0
        assert f"square: {sides[0]:.0f} mm" in page.text


def test_the_same_plans_are_the_same_bytes():
    """Nothing of the day or the machine enters the file."""
    plans = PlansOf(name="trial", parts=SMALL, paper=Paper.parse("A4"))
    assert plans_pdf(plans) == plans_pdf(plans)
    assert b"CreationDate (D:2000" in plans_pdf(plans)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("A7", "unknown paper 'A7'"),
        ("100x100", "leaves no room between margins"),
        ("6000x7000", "longer than a PDF page"),
        ("210 x", "unknown paper"),
        ("8.5inx11in", "plain numbers in mm"),
        ("roll", "plain numbers in mm"),
        ("roll 60", "leaves no room"),
        ("nanx300", "leaves no room"),
        ("infxinf", "leaves no room"),
        ("", "unknown paper"),
    ],
)
def test_paper_that_cannot_be_printed_on_is_refused(text, says):
    """The message says what is wrong and what to give."""
    with pytest.raises(PlatekitError, match=re.escape(says)) as caught:
        Paper.parse(text)
    assert caught.value.remedy


@pytest.mark.parametrize("overlap_mm", [0.0, -1.0, 51.0, float("nan"), float("inf")])
def test_an_overlap_that_cannot_be_is_refused(overlap_mm):
    """5 to 50 mm."""
    plans = PlansOf(name="trial", parts=SMALL, paper=Paper.parse("A4"), overlap_mm=overlap_mm)
    with pytest.raises(PlatekitError, match="overlap of the pages"):
        plans_pdf(plans)


def test_a_part_that_would_take_hundreds_of_pages_is_refused():
    """By name, with its size and what to give instead."""
    wall = plate("wall", rectangle(4000.0, 3000.0))
    plans = PlansOf(name="trial", parts=(wall,), paper=Paper.parse("A4"))
    with pytest.raises(PlatekitError, match="wall: at 4000 x 3000 mm it takes") as caught:
        plans_pdf(plans)
    assert "--roll" in str(caught.value)


def test_paper_sizes_are_those_of_the_standards():
    """ISO 216: A0 is a square metre, 1 to the root of 2, each the next one's half (from memory).

    Letter is 8.5 x 11 in, Tabloid 11 x 17 in (ANSI/ASME Y14.1 A and B, from memory).
    """
    a_sizes = [Paper.parse(f"A{k}") for k in range(6)]
    assert a_sizes[0].width_mm * a_sizes[0].height_mm == pytest.approx(1e6, rel=1e-3)
    for one in a_sizes:
        assert one.height_mm / one.width_mm == pytest.approx(2**0.5, rel=0.005)
    for larger, half in pairwise(a_sizes):
        # Halves are rounded down to whole millimetres.
        assert (half.width_mm, half.height_mm) == (larger.height_mm // 2, larger.width_mm)
    sizes = {name: Paper.parse(name) for name in ("Letter", "Tabloid")}
    tabloid = sizes["Tabloid"].width_mm, sizes["Tabloid"].height_mm
    assert tabloid == pytest.approx((11 * 25.4, 17 * 25.4))
    letter = sizes["Letter"]
    assert (letter.width_mm, letter.height_mm) == pytest.approx((8.5 * 25.4, 11 * 25.4))
