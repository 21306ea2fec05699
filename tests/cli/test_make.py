"""``platekit make`` from end to end: a recipe in, files out, and what is said about it."""

import csv
import hashlib
import json
import math
import os
import signal
import subprocess
import sys

import pytest

import platekit

PLATE = '''
def base(sheet: Sheet, *, width_mm: float = 100.0, bore_mm: float = 30.0, count: int = 1) -> Plate:
    """Carry a motor.

    Args:
        width_mm: Along x.
        bore_mm: In the middle.
        count: How many.
    """
    plate = Plate("base", sheet, rectangle(width_mm, 80.0), quantity=count)
    return plate.with_features(hole(bore_mm, name="bore"), bolt_circle(4, "M5", pcd_mm=50.0))
'''

STOPPED = """
from dataclasses import replace
from platekit.findings import Finding, Severity

class Stopped(Plate):
    @property
    def findings(self):
        return (Finding(severity=Severity.STOP, part="base", measure="web", value=0.1,
                        limit=2.0, unit="mm", remedy="move the hole"),)

def base(sheet: Sheet) -> Plate:
    return Stopped("base", sheet, rectangle(100.0, 80.0))
"""


def test_a_plate_comes_out_as_the_contract_says(bench):
    """Parts, sheets, lists and record, each where it belongs; exit 0; no word on standard error."""
    status, out, err = bench.make(PLATE)
    assert (status, err) == (0, "")
    assert bench.files == [
        "base/bill_of_materials.csv",
        "base/build.json",
        "base/offcuts.json",
        "base/parts/base.dxf",
        "base/parts/base.svg",
        "base/pictures/parts.svg",
        "base/pictures/sheets.svg",
        "base/pictures/sheets/1.svg",
        "base/sheets.csv",
        "base/sheets/1.dxf",
        "base/sheets/1.svg",
    ]
    assert "base: 1 piece of 1 kind" in out
    assert "birch plywood 6 mm" in out
    assert "\x1b" not in out
    assert "\r" not in out


def test_every_job_ends_with_cautions(bench):
    """Whoever makes cut files reads what could hurt: attendance, fumes, PVC, covers."""
    _, out, _ = bench.make(PLATE)
    for word in ("stay with it", "extraction", "PVC", "interlocks", "rules of your workshop"):
        assert word in out


def test_the_record_says_what_went_in_and_out(bench):
    """Inputs, parts with closed-form area, sheets, bill, findings, and hashes of the files."""
    bench.make(
        PLATE, "--thickness", "5.8", "--kerf", "0.2", "--set", "bore_mm=20", "--set", "count=3"
    )
    said = bench.record()
    assert said["platekit"] == platekit.__version__
    assert said["recipe"] == "base"
    assert said["inputs"]["sheet"] == {
        "material": "birch plywood",
        "nominal_mm": 6.0,
        "thickness_mm": 5.8,
    }
    assert said["inputs"]["beam"]["kerf_mm"] == 0.2
    assert said["inputs"]["parameters"] == {"width_mm": 100.0, "bore_mm": 20.0, "count": 3}
    (part,) = said["parts"]
    # 100 x 80 less a 20 mm bore and four 5.5 mm holes (ISO 273, M5 medium): closed form.
    area = 100 * 80 - math.pi * 10**2 - 4 * math.pi * 2.75**2
    # The beam runs 0.1 mm off every edge; a convex square corner adds a quarter circle.
    length = 2 * (100 + 80) + 2 * math.pi * 0.1
    length += 2 * math.pi * 9.9 + 4 * 2 * math.pi * 2.65
    assert part["quantity"] == 3
    assert part["thickness_mm"] == 5.8
    assert part["size_mm"] == [100.0, 80.0]
    assert part["contours"] == 6
    assert part["area_mm2"] == pytest.approx(area, abs=1e-5)
    assert part["cut_length_mm"] == pytest.approx(length, abs=1e-5)
    assert sum(len(sheet["placements"]) for sheet in said["sheets"]) == 3
    assert {line["kind"] for line in said["bill_of_materials"]} >= {"part", "sheet"}
    for file in said["files"]:
        content = (bench.out / "base" / file["path"]).read_bytes()
        assert hashlib.sha256(content).hexdigest() == file["sha256"]
    recorded = {f"base/{file['path']}" for file in said["files"]}
    assert recorded == set(bench.files) - {"base/build.json"}


def test_the_record_says_how_it_was_cut(bench):
    """Join, flavour of the DXF, names and seed are recorded: they decide the bytes written."""
    bench.make(PLATE)
    assert bench.record()["inputs"]["cutting"] == {
        "join": "round",
        "dxf": "arcs",
        "names": "score",
    }
    assert bench.record()["inputs"]["nesting"]["seed"] == 0
    bench.make(PLATE, "--join", "mitre", "--dxf", "plain", "--seed", "3", "--names", "none")
    assert bench.record()["inputs"]["cutting"] == {
        "join": "mitre",
        "dxf": "plain",
        "names": "none",
    }
    assert bench.record()["inputs"]["nesting"]["seed"] == 3


def test_the_bill_counts_parts_and_sheets(bench):
    """One line a kind of part with its quantity, one a size of sheet."""
    bench.make(PLATE, "--set", "count=4", "--stock", "230x180")
    path = bench.out / "base" / "bill_of_materials.csv"
    rows = list(csv.DictReader(path.read_text(encoding="utf-8").splitlines()))
    assert [(row["kind"], row["quantity"]) for row in rows if row["kind"] != "hardware"] == [
        ("part", "4"),
        ("sheet", "1"),
    ]


def test_same_inputs_give_same_bytes(bench):
    """Two runs, one of them a process of its own with another hash seed, agree to the byte."""
    bench.make(PLATE, "--set", "count=5")
    first = {path: (bench.out / path).read_bytes() for path in bench.files}
    ended = subprocess.run(
        [sys.executable, "-m", "platekit", "make", "base.py", "--out", "again", "--set", "count=5"],
        env={
            **os.environ,
            "PYTHONHASHSEED": "77",
            "PYTHONPATH": os.pathsep.join(filter(None, sys.path)),
        },
        capture_output=True,
        check=True,
    )
    assert ended.stderr == b""
    again = bench.folder / "again"
    assert {path: (again / path).read_bytes() for path in bench.files} == first


def test_json_is_one_object_and_nothing_else(bench):
    """Standard output is the record itself, even when the recipe prints."""
    status, out, err = bench.make('print("hello")\n' + PLATE, "--json")
    assert status == 0
    assert json.loads(out) == bench.record()
    assert err == "hello\n"


def test_help_on_a_recipe_lists_its_own_parameters(bench):
    """Names, defaults with units, and the help line of each; nothing is written."""
    path = bench.write(PLATE)
    status, out, _ = bench.run("make", str(path), "--help")
    assert status == 0
    assert "base: Carry a motor." in out
    for line in ("width_mm  100 mm", "bore_mm   30 mm", "count     1", "In the middle. (number)"):
        assert line in out
    assert "--thickness MM" in out
    assert bench.files == []


def test_a_recipe_run_by_itself_does_the_same(bench):
    """``python base.py --thickness 4`` writes what ``platekit make base.py`` writes."""
    tail = (
        '\nfrom platekit.cli import run_recipe\nif __name__ == "__main__":\n    run_recipe(base)\n'
    )
    bench.make(PLATE + tail, "--thickness", "4")
    first = {path: (bench.out / path).read_bytes() for path in bench.files}
    ended = subprocess.run(
        [sys.executable, "base.py", "--thickness", "4", "--out", "alone"],
        env={**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, sys.path))},
        capture_output=True,
        text=True,
        check=False,
    )
    assert (ended.returncode, ended.stderr) == (0, "")
    alone = bench.folder / "alone"
    assert {path: (alone / path).read_bytes() for path in bench.files} == first
    helped = subprocess.run(
        [sys.executable, "base.py", "--help"],
        env={**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, sys.path))},
        capture_output=True,
        text=True,
        check=True,
    )
    assert helped.stdout.startswith("usage: base.py")
    assert "width_mm" in helped.stdout


def test_a_stop_finding_withholds_the_cut_files(bench):
    """Exit 1: bill and record are there, parts and sheets are not, older ones are gone."""
    assert bench.make(PLATE)[0] == 0
    status, out, _ = bench.make(STOPPED)
    assert status == 1
    assert bench.files == ["base/bill_of_materials.csv", "base/build.json"]
    assert "stop     base: web 0.1 mm (limit 2 mm); move the hole" in out
    assert "No cut files" in out
    (finding,) = [one for one in bench.record()["findings"] if one["severity"] == "stop"]
    assert finding["remedy"] == "move the hole"


def test_a_stop_finding_with_json_still_prints_one_object(bench):
    """Exit 1 and the record on standard output."""
    status, out, err = bench.make(STOPPED, "--json")
    assert status == 1
    assert json.loads(out)["files"][0]["path"] == "bill_of_materials.csv"
    assert "withheld" in err


def test_sheets_that_run_out_are_a_finding(bench):
    """More pieces than the stock holds: exit 1, the part and the number missing are named."""
    status, out, _ = bench.make(PLATE, "--set", "count=3", "--stock", "120x100x2")
    assert status == 1
    assert "base: pieces without a place" in out
    assert bench.files == ["base/bill_of_materials.csv", "base/build.json"]


def test_the_sheet_is_an_input_of_the_job(bench):
    """Material and measured thickness reach the recipe and the record."""
    status, out, _ = bench.make(PLATE, "--material", "MDF", "--thickness", "3.1")
    assert status == 0
    assert bench.record()["inputs"]["sheet"]["material"] == "MDF"
    assert bench.record()["parts"][0]["thickness_mm"] == 3.1
    assert "MDF" in out


def test_the_default_sheet_is_the_recipes(bench):
    """A default in the signature is the sheet when nothing else is said."""
    bench.make(PLATE.replace("sheet: Sheet,", "sheet: Sheet = birch_plywood(4.0),"))
    assert bench.record()["inputs"]["sheet"]["nominal_mm"] == 4.0


def test_plain_dxf_has_no_bulges(bench):
    """``--dxf plain`` writes chords for old controllers."""
    bench.make(PLATE, "--dxf", "plain")
    text = (bench.out / "base" / "parts" / "base.dxf").read_text(encoding="utf-8")
    assert "AC1009" in text
    assert "LWPOLYLINE" not in text
    assert "CIRCLE" not in text


def test_mitre_keeps_corners_sharp(bench):
    """With mitre the outer path is the plate's box grown by half the kerf: closed form."""
    bench.make(PLATE, "--join", "mitre", "--kerf", "0.2")
    (part,) = bench.record()["parts"]
    length = 2 * (100.2 + 80.2) + 2 * math.pi * 14.9 + 4 * 2 * math.pi * 2.65
    assert part["cut_length_mm"] == pytest.approx(length, abs=1e-5)


BOX = '''
from platekit.assembly.assembly import Assembly
from platekit.assembly.placing import lying, standing

def base(sheet: Sheet, *, width_mm: float = 120.0, depth_mm: float = 90.0) -> Assembly:
    """A tray with two equal ribs across."""
    def plate(name: str, x_mm: float, y_mm: float) -> Plate:
        return Plate(name, sheet, rectangle(x_mm, y_mm), lettered=not name.startswith("rib"))
    return Assembly("tray").with_panels(
        lying(plate("floor", width_mm, depth_mm), left_mm=0, front_mm=0, bottom_mm=0),
        standing(plate("front", width_mm, 60.0), facing="front", front_mm=0, bottom_mm=0),
        standing(plate("back", width_mm, 60.0), facing="back", back_mm=depth_mm, bottom_mm=0),
        standing(plate("left", depth_mm, 60.0), facing="left", left_mm=0, bottom_mm=0),
        standing(plate("right", depth_mm, 60.0), facing="right", right_mm=width_mm, bottom_mm=0),
    )
'''


@pytest.mark.parametrize("thickness", ["3", "4", "6", "9"])
def test_an_assembly_comes_out_at_every_thickness(bench, thickness):
    """Same recipe, four sheets: five parts each time, their volume that of the slabs claimed."""
    status, _, err = bench.make(BOX, "--thickness", thickness)
    assert (status, err) == (0, "")
    said = bench.record()
    assert sorted(part["name"] for part in said["parts"]) == [
        "back", "floor", "front", "left", "right",
    ]  # fmt: skip
    # Closed form: an open box of outer 120 x 90 x 60 less the room in it; glued fits keep a
    # clearance, so the parts are short of it by a little and never above it.
    t = float(thickness)
    claimed = 120 * 90 * 60 - (120 - 2 * t) * (90 - 2 * t) * (60 - t)
    made = t * sum(part["area_mm2"] for part in said["parts"])
    assert 0.97 * claimed < made <= claimed + 1e-6


def test_the_first_recipe_runs_as_it_stands(bench):
    """``platekit new`` and ``platekit make``, nothing in between."""
    assert bench.run("new", "first")[0] == 0
    status, out, err = bench.run("make", "first.py")
    assert (status, err) == (0, "")
    assert "no findings" in out
    assert "first/parts/first.dxf" in bench.files
    status, out, _ = bench.run("make", "first.py", "--help")
    assert "pcd_mm" in out
    assert "60 mm" in out


def test_an_interrupt_while_the_recipe_runs_ends_quietly(bench):
    """Ctrl-C: exit 130, one line, no traceback, nothing written."""
    # A shell's background job is born deaf to Ctrl-C, and so are its children: it listens again.
    slow = (
        "import signal, sys, time\nsignal.signal(signal.SIGINT, signal.default_int_handler)\n"
        "print('ready', file=sys.stderr, flush=True)\ntime.sleep(60)\n"
    )
    path = bench.write(slow + PLATE)
    running = subprocess.Popen(
        [sys.executable, "-m", "platekit", "make", str(path), "--out", str(bench.out)],
        env={**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, sys.path))},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    assert running.stderr is not None
    assert running.stderr.readline() == "ready\n"
    running.send_signal(signal.SIGINT)
    out, err = running.communicate(timeout=30)
    assert (running.returncode, out) == (130, "")
    assert err.startswith("platekit: interrupted")
    assert err.count("\n") == 1
    assert not bench.out.exists()
