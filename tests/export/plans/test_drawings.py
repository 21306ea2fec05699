"""Dimensioned drawings: sizes, scales and hole tables, read back from the page by pdfium."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cache

import numpy as np
import pytest

from platekit.export.plans.book import plans_pdf
from platekit.export.plans.contents import PlansOf
from platekit.export.plans.drawings.hole_table import openings_of
from platekit.export.plans.drawings.scales import ALL, SCALES, scale_text
from platekit.export.plans.printing.paper import Paper
from platekit.geometry.chains import circle
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import rectangle
from platekit.materials import birch_plywood
from platekit.panel.feature import Placed
from platekit.panel.part import Part
from tests.export.plans.measured import Page, pages_of

SHEET = birch_plywood(6.0)
DIAMETER = "\N{LATIN CAPITAL LETTER O WITH STROKE}"
# Places and sizes as they are drawn below: what the table must say, worked out by hand from the
# corner at (-30, -20).
HOLES = [((10.0, 5.0), 5.5), ((90.0, 5.0), 5.5), ((40.0, 55.0), 22.0)]
ROWS = [
    f"1 40 25 {DIAMETER}5.5 foot",
    f"2 120 25 {DIAMETER}5.5 foot",
    f"3 70 75 {DIAMETER}22",
    "4 145 75 20 \N{MULTIPLICATION SIGN} 30",
]


def bracket() -> Part:
    """Return a plate of 200 x 120 mm whose corner is not the origin."""
    outer = rectangle(200.0, 120.0, centre=(70.0, 40.0))
    window = rectangle(20.0, 30.0, centre=(115.0, 55.0))
    holes = [circle(at, diameter_mm=size) for at, size in HOLES]
    return Part("bracket", SHEET, Profile(outer, (window, *holes)), quantity=4)


@cache
def drawings(paper: str = "A4") -> list[Page]:
    """Return the drawings of the bracket."""
    foot = Placed(
        name="foot", kind="hole", cuts=tuple(circle(at, diameter_mm=d) for at, d in HOLES[:2])
    )
    plans = PlansOf(
        name="trial",
        parts=(bracket(),),
        paper=Paper.parse(paper),
        named={"bracket": (foot,)},
    )
    return pages_of(plans_pdf(plans), only="bracket: drawing")


def test_scales_are_the_recommended_ones():
    """ISO 5455 (from memory): 1, 2, 5 times powers of ten, enlarged and reduced."""
    assert set(map(scale_text, SCALES)) == {
        *("50:1", "20:1", "10:1", "5:1", "2:1", "1:1", "1:2", "1:5", "1:10", "1:20"),
        *("1:50", "1:100", "1:200", "1:500", "1:1000"),
    }
    # Intermediate ones the standard allows as well; they are written as workshops write them.
    between = set(ALL) - set(SCALES)
    assert Fraction(2, 5) in between
    assert set(map(scale_text, between)) == {"1:2.5", "1:25", "1:250"}


@pytest.mark.parametrize("paper", ["A4", "A3", "Letter"])
def test_the_outline_is_drawn_to_the_scale_of_the_title_block(paper):
    """Scale times true size is what a rule finds on the page."""
    (page,) = drawings(paper)
    top, bottom = re.search(r"scale\s+([\d.]+):([\d.]+)", page.text).groups()
    scale = float(top) / float(bottom)
    edges = [one for one in page.drawn if one.stroked and abs(one.width_mm - 0.35) < 0.02]
    sizes = [np.ptp(one.box, axis=0).ravel() for one in edges]
    assert any(size == pytest.approx([200.0 * scale, 120.0 * scale], abs=0.05) for size in sizes)


def test_overall_sizes_stand_over_arrows_as_long():
    """200 and 120 mm are written, and tips of arrows lie as far apart, to scale."""
    (page,) = drawings()
    scale = 1.0 if "1:1" in page.text else 0.5
    words = page.text.split()
    assert "200" in words
    assert "120" in words
    # An arrowhead is a narrow triangle, 3 mm long and a third as wide or less.
    tips = [
        one.chains[0][0]
        for one in page.drawn
        if one.filled
        and not one.stroked
        and len(np.unique(one.chains[0], axis=0)) == 3
        and sorted(np.ptp(one.box, axis=0).ravel()) == pytest.approx([1.0, 3.0], abs=0.05)
    ]
    assert len(tips) == 4
    level, upright = np.ptp(tips[:2], axis=0), np.ptp(tips[2:], axis=0)
    assert sorted(map(float, level)) == pytest.approx([0.0, 200.0 * scale], abs=0.05)
    assert sorted(map(float, upright)) == pytest.approx([0.0, 120.0 * scale], abs=0.05)


def test_the_hole_table_has_ordinates_from_the_corner():
    """Places worked out by hand; round holes first, the bottom row first, from the left."""
    (page,) = drawings()
    told = [" ".join(line.split()) for line in page.text.splitlines()]
    joined = " ".join(told)
    for row in ROWS:
        assert row in joined


def test_the_title_block_says_what_is_made_and_of_what():
    """Part, rig, scale, unit, page, material, thickness and quantity (the fields of ISO 7200)."""
    (page,) = drawings()
    words = " ".join(page.text.split())
    for said in ("bracket", "trial", "mm", "birch plywood", "6 mm", "quantity 4", "unit mm"):
        assert said in words
    assert "1 of 1" in words


@pytest.mark.parametrize("name", ["tilt plate", "w" * 40, "an upright " * 5 + "of a rig"])
def test_a_long_name_stands_whole_in_the_title_block(name):
    """A part's name may have 64 letters; what is sawn must be told from its neighbour."""
    plans = PlansOf(
        name="rotator of a small telescope",
        parts=(Part(name, SHEET, bracket().profile),),
        paper=Paper.parse("A4"),
    )
    (page,) = (one for one in pages_of(plans_pdf(plans)) if "grain" in one.text)
    # Once in the head of the page, once in the block, where it may be broken anywhere.
    assert "".join(page.text.split()).count("".join(name.split())) == 2


def sieve(places: list[tuple[float, float]]) -> list[Page]:
    """Return the drawings of a plate with holes of 4 mm."""
    holes = tuple(circle(at, diameter_mm=4.0) for at in places)
    part = Part("sieve", SHEET, Profile(rectangle(420.0, 220.0, centre=(210.0, 110.0)), holes))
    plans = PlansOf(name="trial", parts=(part,), paper=Paper.parse("A4"))
    return [
        page
        for page in pages_of(plans_pdf(plans))
        if re.search("sieve: (drawing|table)", page.text)
    ]


def test_two_hundred_holes_in_rows_are_all_in_the_table():
    """Ten rows of twenty: where they find no room one by one, each row has all its places."""
    (page,) = sieve([(11.0 + 21.0 * (k % 20), 20.0 + 20.0 * (k // 20)) for k in range(200)])
    told = " ".join(page.text.split())
    for row in range(10):
        first = 20 * row + 1
        assert re.search(rf"\b{first}\N{{EN DASH}}{first + 19} ", told)
    figures = re.findall(r"[\d.]+", told)
    for k in range(20):
        assert figures.count(f"{11 + 21 * k}") >= 10


def test_two_hundred_holes_anywhere_are_all_in_the_table():
    """Numbers 1 to 200 once each, over as many pages as it takes, none with a row or two alone."""
    rng = np.random.default_rng(7)
    grid = [(20.0 + 20.0 * (k % 20), 20.0 + 20.0 * (k // 20)) for k in range(200)]
    off = rng.uniform(-5.0, 5.0, (200, 2)).tolist()
    places = [(x + dx, y + dy) for (x, y), (dx, dy) in zip(grid, off, strict=True)]
    pages = sieve(places)
    assert len(pages) > 1
    found = []
    for page in pages[1:]:
        rows = re.findall(rf"\b(\d+)\s+([\d.]+)\s+([\d.]+)\s+{DIAMETER}4\b", page.text)
        assert len(rows) >= 10
        found += rows
    assert sorted(int(one[0]) for one in found) == list(range(1, 201))
    told = sorted((float(x), float(y)) for _, x, y in found)
    assert np.array(told) == pytest.approx(np.array(sorted(places)), abs=0.0051)


def test_holes_are_numbered_by_rows_though_a_row_is_not_quite_level():
    """A hundredth of a millimetre is no row of its own."""
    holes = (
        circle((60.0, 10.0), diameter_mm=4.0),
        circle((20.0, 10.01), diameter_mm=4.0),
        circle((20.0, 30.0), diameter_mm=4.0),
    )
    part = Part("strip", SHEET, Profile(rectangle(80.0, 40.0), holes))
    assert [(one.x_mm, round(one.y_mm)) for one in openings_of(part)] == [
        (20.0, 10),
        (60.0, 10),
        (20.0, 30),
    ]
