"""Values in a notebook: read as XML and HTML by the standard library, drawn by librsvg."""

from __future__ import annotations

import base64
import re
import shutil
import subprocess
import sys
import xml.etree.ElementTree as ET
from html.parser import HTMLParser
from pathlib import Path

import pytest

import platekit as pk
from platekit.nesting import NestPart, Stock, nest
from tests.recipes.builds import assembly, build

SVG = "{http://www.w3.org/2000/svg}"
VOID = {"img"}
CHROMIUM = Path("/usr/bin/chromium")


class Reader(HTMLParser):
    """Reads HTML, insists that every element is closed, and keeps texts and pictures."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.texts: list[str] = []
        self.pictures: list[str] = []

    def handle_starttag(self, tag, attrs):
        """Open an element, or keep a picture."""
        if tag == "img":
            coded = re.fullmatch(r"data:image/svg\+xml;base64,(.*)", dict(attrs)["src"])
            self.pictures.append(base64.b64decode(coded[1]).decode())
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag):
        """Close the element opened last."""
        if tag not in VOID:
            assert self.open.pop() == tag

    def handle_data(self, data):
        """Keep a text."""
        self.texts.append(data)


def read(html: str) -> Reader:
    """Return what an HTML reader makes of it."""
    reader = Reader()
    reader.feed(html)
    reader.close()
    assert reader.open == []
    return reader


def texts(svg: str) -> list[str]:
    """Return what a picture says."""
    return ["".join(one.itertext()) for one in ET.fromstring(svg).iter(f"{SVG}text")]  # noqa: S314


def lid(name: str = "lid") -> pk.Plate:
    """Return a plate with four holes."""
    return pk.Plate(name, pk.birch_plywood(nominal_mm=4.0), pk.rectangle(120, 80)).with_features(
        pk.hole("M5", at=pk.corners(inset_mm=10))
    )


def test_plates_and_parts_are_pictures_alone():
    """The picture says name and size; there is no table that would hide it."""
    for value in (lid(), lid().part()):
        assert value._repr_html_() is None
        said = " ".join(texts(value._repr_svg_())).replace("\N{NO-BREAK SPACE}", " ")
        assert "lid" in said
        assert "120 \N{MULTIPLICATION SIGN} 80 mm" in said


def test_a_large_plate_is_no_wider_than_its_cell():
    """In a browser, in a cell of 500 px: whole, and as high as its shape asks."""
    driver = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
    if not CHROMIUM.exists():
        pytest.skip(f"{CHROMIUM} is not there")
    sheet = pk.birch_plywood(nominal_mm=4.0)
    svg = pk.Plate("lid", sheet, pk.rectangle(500, 200))._repr_svg_()
    root = ET.fromstring(svg.encode())  # noqa: S314  our own
    _, _, wide, high = map(float, root.attrib["viewBox"].split())
    with driver.sync_playwright() as works:
        browser = works.chromium.launch(executable_path=str(CHROMIUM), args=["--no-sandbox"])
        page = browser.new_page(viewport={"width": 800, "height": 600})
        cell = svg[svg.index("<svg ") :]
        page.set_content(f'<div style="width:500px">{cell}</div>')
        box = page.locator("svg").bounding_box()
        browser.close()
    assert box is not None
    assert box["width"] == pytest.approx(500, abs=1)
    assert box["height"] == pytest.approx(500 * high / wide, abs=1)


def test_an_assembly_shows_its_panels():
    """Every panel stands in the table, and the picture in the HTML is the one it has alone."""
    rig = assembly("instrument_case")
    reader = read(rig._repr_html_())
    assert reader.pictures == [rig._repr_svg_()]
    said = " ".join(texts(rig._repr_svg_())).replace("\N{NO-BREAK SPACE}", " ")
    assert f"{len(rig.panels)} plates" in said  # the rig in space, not its parts
    assert {panel.name for panel in rig.panels} <= set(reader.texts)


def test_a_run_shows_parts_sheets_and_findings():
    """What the files say stands in the tables as well."""
    made = build("instrument_case")
    reader = read(made._repr_html_())
    assert len(reader.pictures) == 1
    assert {part.name for part in made.parts} <= set(reader.texts)
    assert {one.remedy for one in made.findings} <= set(reader.texts)
    sheet = made.sheets[0]
    reader = read(sheet._repr_html_())
    assert {placed.part for placed in sheet.nested.placements} <= set(reader.texts)
    assert "piece" in " ".join(texts(sheet._repr_svg_()))


def test_a_nesting_shows_what_lies_where_and_what_does_not():
    """Positions are those of the placements; a part too large is told with the reason."""
    square = pk.Profile(pk.rectangle(50, 50))
    wide = pk.Profile(pk.rectangle(500, 50))
    done = nest([NestPart("square", square, 2), NestPart("wide", wide)], stock=Stock(200, 100))
    reader = read(done._repr_html_())
    assert {"wide", done.unplaced[0].reason} <= set(reader.texts)
    reader = read(done.sheets[0]._repr_html_())
    for placed in done.sheets[0].placements:
        assert f"{placed.x_mm:g}" in reader.texts
    assert done.sheets[0]._repr_svg_() is None


def test_what_cannot_be_drawn_says_so():
    """An empty assembly is no exception in a notebook: picture and HTML tell the reason."""
    empty = pk.Assembly("empty rig")
    said = " ".join(texts(empty._repr_svg_()))
    with pytest.raises(pk.PlatekitError) as told:
        empty.resolve()
    assert str(told.value) in said
    assert "empty rig" in " ".join(read(empty._repr_html_()).texts)


def test_a_fault_of_ours_says_so_too(monkeypatch):
    """Whatever breaks in a drawing becomes a notice."""
    from platekit.job import notebook

    monkeypatch.setitem(notebook._PICTURES, pk.Plate, lambda _: 1 // 0)
    said = " ".join(texts(lid()._repr_svg_()))
    assert "ZeroDivisionError" in said


def test_signs_of_html_are_told_apart_from_markup():
    """Whatever a finding says is text."""
    from platekit.export.fragments import paragraph, table

    nasty = '<script>alert("&")</script>'
    reader = read(table(nasty, [nasty], [[nasty]]) + paragraph(nasty))
    assert reader.texts == [nasty] * 4
    many = read(table("many", ["n"], [[str(n)] for n in range(100)]))
    assert "and 60 more" in many.texts


@pytest.mark.skipif(shutil.which("rsvg-convert") is None, reason="rsvg-convert is not there")
def test_librsvg_draws_every_picture(tmp_path):
    """The pictures render, and not to a blank page."""
    from PIL import Image

    made = build("instrument_case")
    shown = (lid(), made, made.sheets[0], pk.Assembly("empty rig"))
    for number, value in enumerate(shown):
        path = tmp_path / f"{number}.png"
        subprocess.run(
            ["rsvg-convert", "-w", "400", "-o", str(path)],
            input=value._repr_svg_().encode(),
            check=True,
        )
        low, high = Image.open(path).convert("L").getextrema()
        assert low < 128 < high


def test_nothing_is_loaded_before_a_notebook_asks():
    """Plates know nothing of pictures; the first question loads them."""
    code = (
        "import sys, platekit as pk\n"
        "plate = pk.Plate('lid', pk.birch_plywood(nominal_mm=4.0), pk.rectangle(120, 80))\n"
        "before = 'platekit.export.picture_parts' in sys.modules\n"
        "print(before, plate._repr_svg_().startswith('<?xml'))"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.split() == ["False", "True"]
