"""``platekit plans``: what it writes, what it says, what it refuses."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import numpy as np
import pypdfium2
import pytest

from tests.export.plans.measured import pages_of

RECIPES = Path(__file__).parents[2] / "recipes"

PLATE = """
def base(sheet: Sheet = birch_plywood(6.0), *, width_mm: float = 100.0) -> Plate:
    return Plate("base", sheet, rectangle(width_mm, 80.0)).with_features(hole(6.0, at=(40.0, 40.0)))
"""
# A shaft of 10 mm through a standing wall that it does not know: they overlap.
CLASH = """
from platekit import Assembly, lying, mounted, shaft, standing

def base(sheet: Sheet = birch_plywood(6.0)) -> Assembly:
    deck = Plate("deck", sheet, rectangle(100.0, 80.0))
    wall = Plate("wall", sheet, rectangle(100.0, 60.0))
    return (
        Assembly("base")
        .with_panels(lying(deck), standing(wall, facing="front", front_mm=30, bottom_mm=6.0))
        .with_hardware(mounted(shaft(10, 50), on="deck", side="up", at=(50, 33), name="axle"))
    )
"""

LONG_NAMES = """
from platekit import Assembly, lying, standing

def base(sheet: Sheet = birch_plywood(6.0)) -> Assembly:
    floor = Plate("base plate beneath the geared motor unit", sheet, rectangle(100.0, 80.0))
    wall = Plate("upright that carries the azimuth encoder", sheet, rectangle(100.0, 60.0))
    return Assembly("base").with_panels(lying(floor), standing(wall, facing="front", front_mm=30))
"""


def plans(bench, recipe: str, *words: str) -> tuple[int, str, str]:
    """Draw a recipe; return exit status, standard output and standard error."""
    return bench.run("plans", str(bench.write(recipe)), "--out", str(bench.out), *words)


def texts(path: Path) -> list[str]:
    """Return the words of every page, as pdfium has them."""
    document = pypdfium2.PdfDocument(path.read_bytes())
    found = [
        " ".join(page.get_textpage().get_text_bounded().replace("\r", "\n").split())
        for page in document
    ]
    document.close()
    return found


def test_a_plate_comes_out_as_one_file(bench):
    """Cover, lists, full size, drawing; said in a few lines."""
    status, out, err = plans(bench, PLATE)
    assert (status, err) == (0, "")
    assert bench.files == ["base/plans.pdf"]
    pages = texts(bench.out / "base" / "plans.pdf")
    assert f"{len(pages)} pages for A4" in out
    assert "Print at 100 %" in out
    for number, said in enumerate(("How to print", "list of parts", "scale 1:1", "drawing")):
        assert said in pages[number]
    for said in ("bill of materials", "findings of the checks", "what the checks weighed"):
        assert said in pages[1]


def test_the_recipe_s_values_and_sheet_are_those_asked_for(bench):
    """As with `check`: a parameter, a measured thickness."""
    plans(bench, PLATE, "--set", "width_mm=130", "--thickness", "6.2")
    told = " ".join(texts(bench.out / "base" / "plans.pdf"))
    assert "130 \N{MULTIPLICATION SIGN} 80" in told
    assert "measures 6.2" in told


def test_long_names_stand_whole_beside_the_rig_taken_apart(bench):
    """On as many lines as it takes, so that nobody guesses which upright it is."""
    status, _, _ = plans(bench, LONG_NAMES)
    assert status == 0
    pages = texts(bench.out / "base" / "plans.pdf")
    (page,) = (one for one in pages if "taken apart" in one and "How to print" not in one)
    assert "base plate beneath the geared motor unit" in page
    assert "upright that carries the azimuth encoder" in page


def test_a_large_part_is_tiled_and_said_to_be(bench):
    """On A4 a plate of 500 mm; on a roll of 610 it is whole."""
    _, out, _ = plans(bench, PLATE, "--set", "width_mm=500", "--json")
    said = json.loads(out)
    assert said["tiled"] == ["base"]
    assert said["pages"] == len(texts(bench.out / "base" / "plans.pdf"))
    _, out, _ = plans(bench, PLATE, "--set", "width_mm=500", "--roll", "610", "--json")
    said = json.loads(out)
    assert (said["tiled"], said["paper"]) == ([], "roll 610 mm")


def test_a_rig_has_its_steps_its_screws_and_what_to_buy(bench):
    """Every step of the order once, every bought thing of the bill, every finding."""
    recipe = str(RECIPES / "motor_stand.py")
    status, out, err = bench.run("plans", recipe, "--out", str(bench.out))
    assert (status, err) == (0, "")
    assert "Before it is switched on:" in out  # it has a motor
    bench.run("check", recipe, "--out", str(bench.out))
    record = bench.record("motor_stand")
    pages = texts(bench.out / "motor_stand" / "plans.pdf")
    steps = " ".join(page for page in pages if "assembly, step" in page)
    for step in record["assembly"]["steps"]:
        for name in step["bring_in"]:
            assert name in steps
    for fastener in record["assembly"]["fasteners"]:
        assert fastener["designation"] in steps
    bill = " ".join(page for page in pages if "bill of materials" in page)
    for line in record["bill_of_materials"]:
        if line["kind"] == "hardware":
            assert line["name"].split()[0] in bill
    told = " ".join(page for page in pages if "findings of the checks" in page)
    for finding in record["findings"]:
        assert finding["remedy"].split()[0] in told
    require_squares(bench.out / "motor_stand" / "plans.pdf")
    require_contents(pages)
    assert "Test stand for a small flanged motor." in pages[0]
    assert f"{len(record['assembly']['steps'])} steps" in pages[0]


def require_contents(pages: list[str]) -> None:
    """Require that each line of the cover's contents leads to the first page that shows it."""
    heads = {
        "list of parts": "list of parts",
        "bill of materials": "bill of materials",
        "findings of the checks": "findings of the checks",
        "what the checks weighed": "what the checks weighed",
        "parts in full size": "scale 1:1",
        "drawings": ": drawing",
        "taken apart": "taken apart",
        "assembly": "assembly, step",
    }
    _, _, contents = pages[0].partition("Contents")
    for what, head in heads.items():
        (number,) = re.findall(rf"{what} page (\d+)", contents)
        shown = [k for k, page in enumerate(pages[1:], start=2) if head in page]
        assert shown[0] == int(number), what


def require_squares(path: Path) -> None:
    """Require a check square of 100 mm, within 0.1, on every page, by pdfium: all are printed."""
    for page in pages_of(path.read_bytes()):
        box = np.concatenate(
            [
                one.box
                for one in page.drawn
                # Okabe and Ito's blue (hex from memory), finer than any outline.
                if one.stroked and one.stroke == "#0072b2" and one.width_mm < 0.16
            ]
        )
        assert np.ptp(box, axis=0) == pytest.approx([100.0, 100.0], abs=0.1), page.text[:60]
        assert box.min() > 11.9


def test_a_stop_withholds_the_outlines_and_nothing_else(bench):
    """As with `make`: exit 1, no shape to cut by, the stop named; --cut-anyway draws them."""
    status, out, _ = plans(bench, CLASH)
    assert status == 1
    assert "finding says stop" in out
    pages = texts(bench.out / "base" / "plans.pdf")
    assert "a finding says stop" in pages[0]
    assert [page for page in pages if "findings of the checks" in page and "STOP" in page]
    assert not [page for page in pages if "scale 1:1" in page or "drawing" in page[:60]]
    assert [page for page in pages if "assembly, step" in page]
    status, out, _ = plans(bench, CLASH, "--cut-anyway")
    assert status == 0
    assert "although a finding says stop" in out
    assert [page for page in texts(bench.out / "base" / "plans.pdf") if "scale 1:1" in page]


def test_the_same_recipe_is_the_same_file(tmp_path):
    """In processes whose sets come in other orders, byte for byte."""
    recipe = RECIPES / "motor_base.py"
    made = []
    for seed in ("1", "2"):
        out = tmp_path / seed
        subprocess.run(
            [sys.executable, "-m", "platekit", "plans", str(recipe), "--out", str(out)],
            env={**os.environ, "PYTHONHASHSEED": seed},
            check=True,
            capture_output=True,
        )
        made.append((out / "motor_base" / "plans.pdf").read_bytes())
    assert made[0] == made[1]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        pytest.param(("--paper", "A7"), "unknown paper 'A7'", id="no such paper"),
        pytest.param(("--paper", "100x100"), "leaves no room", id="smaller than the margins"),
        pytest.param(("--paper", "8.5inx11in"), "plain numbers in mm", id="inches"),
        pytest.param(("--roll", "60"), "leaves no room", id="a ribbon"),
        pytest.param(("--roll", "wide"), "no number", id="no width"),
        pytest.param(("--overlap", "0"), "overlap of the pages is 0 mm", id="no overlap"),
        pytest.param(("--overlap", "nan"), "overlap of the pages", id="no number"),
        pytest.param(("--paper", "A3", "--roll", "610"), "not allowed", id="both"),
        pytest.param(
            ("--set", "width_mm=9000", "--paper", "105x148", "--overlap", "50"),
            "pages of 105 x 148 mm",
            id="a part for a wall",
        ),
        pytest.param(("--thickness", "-1"), "thickness", id="a minus"),
    ],
)
def test_wrong_input_is_exit_two(bench, words, says):
    """One message that says what to give; nothing on standard output, nothing written."""
    status, out, err = plans(bench, PLATE, *words)
    assert (status, out) == (2, "")
    assert says in err
    assert ";" in err or "usage" in err
    assert bench.files == []


def test_a_file_of_somebody_else_stays(bench):
    """What stands in the way and is not ours is named and left alone."""
    path = bench.out / "base" / "plans.pdf"
    path.parent.mkdir(parents=True)
    path.write_bytes(b"%PDF-1.4 minutes of the club")
    status, _, err = plans(bench, PLATE)
    assert status == 2
    assert "is in the way" in err
    assert path.read_bytes() == b"%PDF-1.4 minutes of the club"


def test_a_run_of_make_leaves_the_plans_where_they_are(bench):
    """They are no file of its own, and none of its cut files."""
    plans(bench, PLATE)
    before = (bench.out / "base" / "plans.pdf").read_bytes()
    status, _, _ = bench.make(PLATE)
    assert status == 0
    assert (bench.out / "base" / "plans.pdf").read_bytes() == before


def test_an_older_file_of_ours_is_renewed(bench):
    """Twice the same command: the second replaces the first."""
    plans(bench, PLATE)
    status, _, err = plans(bench, PLATE, "--set", "width_mm=90")
    assert (status, err) == (0, "")
    assert "90 \N{MULTIPLICATION SIGN} 80" in " ".join(texts(bench.out / "base" / "plans.pdf"))
