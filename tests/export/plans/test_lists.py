"""Lists on paper: what a buyer and a checker read, by pdfium; areas by shapely."""

from __future__ import annotations

import re

import numpy as np
import pytest
import shapely

from platekit.checks.examine import Report
from platekit.export.bill import BillKind, BillLine
from platekit.export.build_checks import checks_record
from platekit.export.plans.book import bound, plans_pdf
from platekit.export.plans.contents import PlansOf
from platekit.export.plans.lists import lists_leaves
from platekit.export.plans.printing.paper import Paper
from platekit.findings import Finding, Severity
from platekit.geometry.chains import circle
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import rectangle
from platekit.materials import birch_plywood
from platekit.panel.part import Part
from tests.export.plans.measured import Page, pages_of

A4 = Paper.parse("A4")
# Okabe and Ito (hex from memory): vermillion, orange.
STOP, WARNING = "#d55e00", "#e69f00"


def plate(name: str, width_mm: float, *, quantity: int = 1) -> Part:
    """Return a plate 300 mm high with a hole of 200 mm."""
    profile = Profile(
        rectangle(width_mm, 300.0), (circle((width_mm / 2, 150.0), diameter_mm=200.0),)
    )
    return Part(name, birch_plywood(6.0), profile, quantity=quantity)


def found(severity: Severity, number: int = 1) -> Finding:
    """Return a finding of a weight."""
    return Finding(
        severity=severity,
        part=f"plate {number}",
        measure="width of a web",
        value=2.0,
        limit=3.0,
        unit="mm",
        margin=0.67,
        remedy=f"widen it, remedy {number}.",
        source="a table",
        check="made.webs",
    )


def page_with(pages: list[Page], words: str) -> Page:
    """Return the one page of lists that says something."""
    (page,) = [one for one in pages if words in one.text and "How to print" not in one.text]
    return page


def test_the_bill_says_how_much_sheet_the_parts_take():
    """In square metres, holes taken off, by shapely; nothing is said about sheets to buy."""
    parts = (plate("wide", 400.0, quantity=3), plate("narrow", 250.0))
    page = page_with(
        pages_of(plans_pdf(PlansOf(name="trial", parts=parts, paper=A4))), "bill of materials"
    )
    hole = shapely.Point(0, 0).buffer(100.0, quad_segs=256).area
    area = 3 * (400.0 * 300.0 - hole) + 250.0 * 300.0 - hole
    said = " ".join(page.text.split())
    assert f"{area / 1e6:.2f} m\N{SUPERSCRIPT TWO} birch plywood 6 mm" in said
    assert "4 pieces, the largest 400 \N{MULTIPLICATION SIGN} 300 mm; waste not counted" in said


def test_small_pieces_are_told_in_square_centimetres():
    """A square of 50 mm is 25 square centimetres."""
    pad = Part("pad", birch_plywood(6.0), Profile(rectangle(50.0, 50.0)))
    page = page_with(
        pages_of(plans_pdf(PlansOf(name="trial", parts=(pad,), paper=A4))), "bill of materials"
    )
    assert "25 cm\N{SUPERSCRIPT TWO}" in page.text


def test_lists_share_pages_and_those_that_go_on_have_their_heads_again():
    """Ninety bought things: every one is there, its head on each page, and no row is torn apart."""
    bill = tuple(
        BillLine(
            kind=BillKind.HARDWARE,
            name=f"thing no. {k} with a name that is long enough to be broken into lines",
            quantity=k,
            note=f"note no. {k}: " + "words " * 12 + f"end of {k}.",
        )
        for k in range(1, 91)
    )
    pages = pages_of(
        plans_pdf(PlansOf(name="trial", parts=(plate("wide", 400.0),), paper=A4, bill=bill))
    )
    lists = [
        page for page in pages if "bill of materials" in page.text and "Contents" not in page.text
    ]
    assert len(lists) > 1
    assert "list of parts" in lists[0].text
    everything = "".join(page.text for page in lists)
    for k in range(1, 91):
        (home,) = [page for page in lists if f"note no. {k}:" in page.text]
        assert f"end of {k}." in home.text
        assert everything.count(f"thing no. {k} ") == 1
    for page in lists:
        assert "where, and what to mind" in page.text
    for page in lists[1:]:
        assert "bill of materials, continued" in page.text


@pytest.mark.parametrize("parts", range(40, 60))
def test_a_short_list_is_not_torn_over_two_pages(parts):
    """Five bought things begin on the next page where this one has no room for all of them."""
    bill = tuple(
        BillLine(kind=BillKind.HARDWARE, name=f"thing no. {k}", quantity=k, note="")
        for k in range(1, 6)
    )
    several = tuple(plate(f"plate {k}", 100.0 + k) for k in range(parts))
    plans = PlansOf(name="trial", parts=several, paper=A4, bill=bill)
    leaves, _ = lists_leaves(plans, full_size={}, drawing={})
    pages = pages_of(bound(leaves, title="lists"))
    assert not any("bill of materials, continued" in page.text for page in pages)
    (home,) = [page for page in pages if "thing no. 1" in page.text]
    assert "thing no. 5" in home.text


def test_findings_are_told_by_word_and_by_shape():
    """An octagon for a stop, a triangle for a warning (signs of roads, ISO 7010, from memory)."""
    findings = tuple(found(one) for one in (Severity.STOP, Severity.WARNING, Severity.NOTE))
    plans = PlansOf(name="trial", parts=(plate("wide", 150.0),), paper=A4, findings=findings)
    page = page_with(pages_of(plans_pdf(plans)), "findings of the checks")
    for word in ("STOP", "warning", "note", "margin 0.67", "remedy 1."):
        assert word in page.text
    corners = {
        colour: [
            len(np.unique(np.round(one.chains[0], 3), axis=0))
            for one in page.drawn
            if one.filled and one.fill == colour
        ]
        for colour in (STOP, WARNING)
    }
    assert corners == {STOP: [8], WARNING: [3]}


def test_nothing_found_is_said():
    """No empty table: a line says so."""
    plans = PlansOf(name="trial", parts=(plate("wide", 150.0),), paper=A4)
    assert "found nothing" in page_with(pages_of(plans_pdf(plans)), "findings of the checks").text


def test_what_was_weighed_is_counted():
    """Two that passed and one that did not: three weighed, two passed, the least margin named."""
    weighed = (
        found(Severity.WARNING, 1),
        *(
            Finding(
                severity=Severity.PASSED,
                part=f"plate {k}",
                measure="width of a web",
                remedy="",
                margin=2.0,
                check="made.webs",
            )
            for k in (2, 3)
        ),
    )
    plans = PlansOf(
        name="trial",
        parts=(plate("wide", 150.0),),
        paper=A4,
        checks=checks_record(Report(weighed=weighed)),
    )
    page = page_with(pages_of(plans_pdf(plans)), "what the checks weighed")
    said = " ".join(page.text.split())
    assert re.search(r"can it be made 3 2 0\.67 times plate 1: width of a web", said)
    assert re.search(r"will it hold - - -", said)


def test_pages_named_in_the_list_of_parts_show_the_part():
    """Whoever turns to the page that the list names finds the part there, in full size."""
    parts = tuple(plate(f"part {chr(97 + k)}", 120.0 + 40.0 * k) for k in range(8))
    pages = pages_of(plans_pdf(PlansOf(name="trial", parts=parts, paper=A4)))
    rows = re.findall(
        r"\d+ (part \w) 1 birch plywood 6 mm \S+ \S+ \S+ ([\d, -]+?) (\d+)\s",
        " ".join(page_with(pages, "list of parts").text.split()) + " ",
    )
    assert len(rows) == 8
    for name, on_full, on_drawing in rows:
        for run in on_full.split(", "):
            first, _, last = run.partition("-")
            for number in range(int(first), int(last or first) + 1):
                said = pages[number - 1].text
                assert name in said
                assert "scale 1:1" in said
        assert f"{name}: drawing" in pages[int(on_drawing) - 1].text
