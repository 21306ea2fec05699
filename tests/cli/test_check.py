"""``platekit check``: what is wrong, worst first, and where it is written down."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

RECIPES = Path(__file__).parents[2] / "recipes"

SOUND = """
def base(sheet: Sheet = birch_plywood(6.0)) -> Plate:
    return Plate("base", sheet, rectangle(100.0, 80.0))
"""
# Two holes of 6 mm leave a web of 1 mm: less than a thickness (common practice, no source).
THIN = """
def base(sheet: Sheet = birch_plywood(6.0), *, apart_mm: float = 7.0) -> Plate:
    plate = Plate("base", sheet, rectangle(100.0, 80.0))
    return plate.with_features(
        hole(6.0, at=(40.0, 40.0), name="left"), hole(6.0, at=(40.0 + apart_mm, 40.0), name="right")
    )
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


def check(bench, recipe: str, *words: str) -> tuple[int, str, str]:
    """Check a recipe; return exit status, standard output and standard error."""
    return bench.run("check", str(bench.write(recipe)), "--out", str(bench.out), *words)


def test_a_sound_plate_has_no_findings(bench):
    """Exit 0, one line of what it is, and nothing written but the record."""
    status, out, err = check(bench, SOUND)
    assert (status, err) == (0, "")
    assert "base: 1 piece of 1 kind, from birch plywood 6 mm" in out
    assert "no findings" in out
    assert bench.files == ["base/build.json"]
    assert "Written to" in out


def test_a_finding_says_where_what_and_what_to_do(bench):
    """The part and feature, the figure against its limit, source and check, a remedy."""
    status, out, _ = check(bench, THIN)
    assert status == 0
    lines = [line.strip() for line in out.splitlines()]
    at = next(k for k, line in enumerate(lines) if line.startswith("warning"))
    assert lines[at] == "warning  base / left + right"
    assert lines[at + 1].startswith("web between them 1 mm (limit 6 mm)")
    assert lines[at + 2] == "(common practice, no source; check made.web)"
    assert lines[at + 3].startswith("-> move them apart")
    assert max(len(line) for line in out.splitlines() if "build.json" not in line) <= 98


def test_parameters_sheet_and_beam_are_those_of_make(bench):
    """Wide enough apart, the finding is gone; another sheet has another limit."""
    _, out, _ = check(bench, THIN, "--set", "apart_mm=20")
    assert "no findings" in out
    _, out, _ = check(bench, THIN, "--thickness", "3", "--kerf", "0.3")
    assert "(limit 3 mm)" in out
    assert "kerf 0.3 mm" in out


def test_a_stop_is_exit_one_and_stands_first(bench):
    """A shaft through a wall cannot be: the stop names both, before any lesser word."""
    status, out, _ = check(bench, CLASH)
    assert status == 1
    words = [line.split()[0] for line in out.splitlines() if line[:4] in {"stop", "warn", "note"}]
    assert words[0] == "stop"
    assert words == sorted(words, key=["stop", "warning", "note"].index)
    assert "wall + axle" in out


def test_json_holds_every_finding_and_nothing_else(bench):
    """One object; the findings in the words of build.json."""
    status, out, _ = check(bench, THIN, "--json")
    said = json.loads(out)
    assert status == 0
    assert set(said) == {"recipe", "findings", "checks", "steps"}
    (finding,) = said["findings"]
    assert (finding["severity"], finding["value"], finding["limit"]) == ("warning", 1, 6)


def test_make_finds_the_same(bench):
    """What `check` says, `make` says too; stock may add to it."""
    recipe = str(RECIPES / "motor_stand.py")
    _, checked, _ = bench.run("check", recipe, "--json", "--out", str(bench.out))
    bench.run("make", recipe, "--out", str(bench.out))
    made = bench.record("motor_stand")["findings"]
    assert json.loads(checked)["findings"]
    assert [one for one in json.loads(checked)["findings"] if one not in made] == []


@pytest.mark.parametrize(
    "words",
    [
        pytest.param(("nowhere.py",), id="no such recipe"),
        pytest.param((), id="no recipe"),
        pytest.param(("base.py", "--thickness", "-1"), id="a minus"),
        pytest.param(("base.py", "--set", "colour=red"), id="no such parameter"),
        pytest.param(("base.py", "--stock", "600x400"), id="stock is not asked here"),
        pytest.param(("base.py", "--skip", "made.wep"), id="no such check"),
        pytest.param(("base.py", "--bed", "600"), id="half a bed"),
        pytest.param(("base.py", "--bed", "600x400x2"), id="two beds"),
        pytest.param(("base.py", "--bed-grid", "-3"), id="no grid"),
        pytest.param(("base.py", "--bed-grid", "nan"), id="a grid of nothing"),
    ],
)
def test_wrong_input_is_exit_two(bench, words):
    """One message, nothing on standard output, nothing written."""
    bench.write(SOUND)
    status, out, err = bench.run("check", *words)
    assert (status, out) == (2, "")
    assert err.startswith("platekit: ")
    assert "Traceback" not in err
    assert bench.files == []


def test_the_record_holds_findings_and_checks(bench):
    """What is said stands in build.json, which `platekit compare` reads back."""
    check(bench, THIN)
    record = bench.record()
    (finding,) = record["findings"]
    assert (finding["severity"], finding["check"]) == ("warning", "made.web")
    assert [one["name"] for one in record["checks"]["families"]] == ["made", "fit", "hold", "drive"]
    assert (record["sheets"], record["files"]) == ([], [])
    assert bench.run("compare", str(bench.out / "base"), str(bench.out / "base"))[0] == 0


def test_a_check_after_make_leaves_its_files_and_its_record(bench):
    """The same job says the same: not a byte of the record changes, no cut file goes."""
    bench.make(THIN)
    before = {name: (bench.out / name).read_bytes() for name in bench.files}
    check(bench, THIN)
    assert {name: (bench.out / name).read_bytes() for name in bench.files} == before


def test_stock_findings_of_make_are_kept(bench):
    """Only `make` knows the stock; what it found there stays when the rest is said anew."""
    two = SOUND.replace("80.0))", "80.0), quantity=2)")
    bench.make(two, "--stock", "120x100x1")
    before = (bench.out / "base" / "build.json").read_bytes()
    status, out, _ = check(bench, two)
    assert status == 1
    assert "stop" in out
    assert (bench.out / "base" / "build.json").read_bytes() == before


def test_the_record_of_another_job_is_left_alone(bench):
    """Cut files made for another kerf keep the record that names them; the answer says so."""
    bench.make(THIN, "--kerf", "0.3")
    before = {name: (bench.out / name).read_bytes() for name in bench.files}
    _, out, _ = check(bench, THIN, "--kerf", "0.2")
    assert "is of another job, or none of ours, and stays as it is" in out
    assert {name: (bench.out / name).read_bytes() for name in bench.files} == before
    # A record that a check alone has left names no files: it is written anew.
    for path in (bench.out / "base").rglob("*.*"):
        path.unlink()
    check(bench, THIN, "--kerf", "0.3")
    check(bench, SOUND, "--kerf", "0.2")
    assert bench.record()["inputs"]["beam"]["kerf_mm"] == 0.2
    assert bench.record()["findings"] == []


def test_what_is_no_record_is_never_overwritten(bench):
    """A foreign build.json stays to the byte."""
    (bench.out / "base").mkdir(parents=True)
    foreign = bench.out / "base" / "build.json"
    foreign.write_text("not ours", encoding="utf-8")
    status, out, _ = check(bench, SOUND)
    assert status == 0
    assert "stays as it is" in out
    assert foreign.read_text(encoding="utf-8") == "not ours"


def test_a_check_is_left_out_on_the_command_line_or_in_the_recipe(bench):
    """By its name or its family; the answer and the record say which."""
    for name in ("made.web", "made"):
        _, out, _ = check(bench, THIN, "--skip", name)
        assert "no findings" in out
        # A family by its own name; the record below says every check of it.
        assert f"left out: {name}\n" in out
    assert "made.web" in bench.record()["checks"]["skipped"]
    recipe = """
from platekit import Assembly, lying
def base(sheet: Sheet = birch_plywood(6.0)) -> Assembly:
    plate = Plate("base", sheet, rectangle(100.0, 80.0)).with_features(
        hole(6.0, at=(40.0, 40.0)), hole(6.0, at=(47.0, 40.0)))
    return Assembly("base").with_panels(lying(plate)){}
"""
    assert "made.web" in check(bench, recipe.format(""))[1]
    assert "no findings" in check(bench, recipe.format('.without_checks("made.web")'))[1]


def test_make_withholds_on_a_stop_unless_told_otherwise(bench):
    """Exit 1 and no cut files; with --cut-anyway they are there and the answer says why to mind."""
    status, out, _ = bench.make(CLASH)
    assert status == 1
    assert not [name for name in bench.files if name.endswith(".dxf")]
    assert "--cut-anyway" in out
    status, out, _ = bench.make(CLASH, "--cut-anyway")
    assert status == 0
    assert [name for name in bench.files if name.endswith(".dxf")]
    assert "a finding says stop" in out


def test_every_check_explains_itself(bench):
    """A list of all of them by family; each with what it asks and how it is worked out."""
    status, out, _ = bench.run("explain", "--json")
    listed = json.loads(out)
    assert status == 0
    names = [one["check"] for one in listed]
    assert len(set(names)) == len(names) > 8
    for one in listed:
        assert one["asks"].endswith("?")
        assert len(one["by"]) > 60  # two lines at least: a formula or rule, and its source
        _, told, _ = bench.run("explain", one["check"])
        assert told.startswith(one["check"])
    _, out, _ = bench.run("explain")
    assert all(f"  {name} " in out for name in names)
    status, _, err = bench.run("explain", "made.wep")
    assert status == 2
    assert "made.web" in err


LOADED = """
from platekit import Assembly, hub, load, lying, mounted
def base(sheet: Sheet = birch_plywood(6.0), *, torque_nm: float = 20.0) -> Assembly:
    plate = Plate("table", sheet, rectangle(140.0, 140.0))
    flange = hub("six-bolt 70 mm M5", bore_mm=14, thickness_mm=10)
    return (
        Assembly("base")
        .with_panels(lying(plate))
        .with_hardware(mounted(flange, on="table", side="down", name="hub"))
        .with_loads(load("hub", torque_nm=torque_nm))
    )
"""


def test_the_weakest_link_is_told_with_what_to_change(bench):
    """One line for what gives first under load, one for what to do; the formula with --all."""
    _, out, _ = check(bench, LOADED)
    lines = [line.strip() for line in out.splitlines()]
    at = next(k for k, line in enumerate(lines) if line.startswith("weakest link under load"))
    assert any(line.startswith("for more: ") for line in lines[at : at + 4])
    assert "Margins are estimates" in out
    assert "T r / sum r^2" not in out
    assert "T r / sum r^2" in check(bench, LOADED, "--all")[1]


def test_without_loads_nothing_is_said_of_strength(bench):
    """No load, no margin: nothing is made up, and no estimate is excused."""
    _, out, _ = check(bench, SOUND)
    assert "weakest link" not in out
    assert "Margins are estimates" not in out


def test_a_rig_without_loads_is_asked_for_them(bench):
    """The recipe's author learns what to say; a single plate has nothing to bear."""
    loaded = LOADED.replace('        .with_loads(load("hub", torque_nm=torque_nm))\n', "")
    assert loaded != LOADED
    assert ".with_loads(load(...))" in check(bench, loaded)[1]
    assert ".with_loads" not in check(bench, SOUND)[1]
