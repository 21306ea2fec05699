"""The first page: what it is, how large, on which paper; by pdfium, whatever the paper."""

from __future__ import annotations

import ctypes
import re
from pathlib import Path

import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from platekit.export.plans.book import plans_pdf
from platekit.export.plans.contents import PlansOf
from platekit.export.plans.printing.paper import Paper
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import rectangle
from platekit.job.options import Options
from platekit.job.planning import OnPaper, plan
from platekit.job.recipe import load_recipe
from platekit.materials import birch_plywood
from platekit.panel.part import Part
from tests.export.plans.measured import Page, pages_of

# A floor and two walls of 6 mm: 120 x 90 mm over all, walls 50 mm high stand on the floor.
RIG = '''
"""A trough."""

from platekit import Assembly, Plate, Sheet, birch_plywood, lying, rectangle, standing


def trough(sheet: Sheet = birch_plywood(6.0)) -> Assembly:
    """Trough for a bench.

    More about it.
    """
    floor = Plate("floor", sheet, rectangle(120.0, 90.0))
    walls = [Plate(f"wall {k}", sheet, rectangle(120.0, 50.0)) for k in "ab"]
    return Assembly("bench trough").with_panels(
        lying(floor, bottom_mm=0.0),
        standing(walls[0], facing="front", front_mm=0.0, bottom_mm=6.0),
        standing(walls[1], facing="front", front_mm=84.0, bottom_mm=6.0),
    )
'''


def cover(paper: str, *parts: Part) -> Page:
    """Return the cover of plates on a paper."""
    return pages_of(plans_pdf(PlansOf(name="trial", parts=parts, paper=Paper.parse(paper))))[0]


def pad(name: str, width_mm: float, *, quantity: int = 1) -> Part:
    """Return a plate 50 mm high."""
    profile = Profile(rectangle(width_mm, 50.0))
    return Part(name, birch_plywood(6.0), profile, quantity=quantity)


def test_a_rig_is_named_summed_up_and_measured(tmp_path: Path):
    """Its title, the first line of its docstring, its size over all: 120 x 90 x (6 + 50)."""
    path = tmp_path / "trough.py"
    path.write_text(RIG, encoding="utf-8")
    planned = plan(load_recipe(path), Options(), on=OnPaper())
    said = " ".join(pages_of(planned.pdf)[0].text.split())
    times = "\N{MULTIPLICATION SIGN}"
    assert said.startswith("bench trough ") or " bench trough " in said
    assert "Trough for a bench." in said
    assert f"120 {times} 90 {times} 56 mm overall" in said
    assert "3 pieces of 2 shapes to cut from birch plywood 6 mm" in said


@pytest.mark.parametrize(
    ("paper", "says"),
    [
        ("A4", "Printed on A4."),
        ("Letter", "Printed on Letter."),
        ("A1", "Parts in full size on A1, the rest on A4."),
        ("roll 610", "Parts in full size on roll 610 mm, the rest on A4."),
        ("105x148", "Parts in full size on 105 x 148 mm, the rest on A4."),
    ],
)
def test_the_cover_says_which_paper_is_wanted(paper: str, says: str):
    """A roll and large sheets are for full size alone."""
    page = cover(paper, pad("pad", 80.0))
    assert says in " ".join(page.text.split())
    whole = {"Letter": (215.9, 279.4)}.get(paper, (210.0, 297.0))
    assert (page.width_mm, page.height_mm) == pytest.approx(whole, abs=0.01)


def test_contents_lead_to_their_pages_on_a_screen():
    """By pdfium: a link over each line of the contents, to the page that it names."""
    plans = PlansOf(name="trial", parts=(pad("pad", 80.0),), paper=Paper.parse("A4"))
    document = pypdfium2.PdfDocument(plans_pdf(plans))
    cover_page = document[0]  # links die with it
    text = cover_page.get_textpage()
    start, link, found = ctypes.c_int(0), pdfium.FPDF_LINK(), {}
    while pdfium.FPDFLink_Enumerate(cover_page.raw, start, link):
        box = pdfium.FS_RECTF()
        pdfium.FPDFLink_GetAnnotRect(link, box)
        said = text.get_text_bounded(box.left, box.bottom, box.right, box.top)
        to = pdfium.FPDFLink_GetDest(document.raw, link)
        found[said] = pdfium.FPDFDest_GetDestPageIndex(document.raw, to) + 1
    document.close()
    assert len(found) == 5
    for said, page in found.items():
        assert re.search(r"page (\d+)", said)[1] == str(page)


def test_pieces_and_shapes_are_counted():
    """Five pieces of two shapes: two names with one outline are one shape."""
    page = cover("A4", pad("pad", 80.0, quantity=3), pad("twin", 80.0), pad("strip", 140.0))
    assert "5 pieces of 2 shapes to cut" in " ".join(page.text.split())
