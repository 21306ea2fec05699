"""``platekit check``: what is wrong, worst first, before stock and cut files are thought of."""

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
    return bench.run("check", str(bench.write(recipe)), *words)


def test_a_sound_plate_has_no_findings(bench):
    """Exit 0, one line of what it is, and nothing written."""
    status, out, err = check(bench, SOUND)
    assert (status, err) == (0, "")
    assert "base: 1 piece of 1 kind, from birch plywood 6 mm" in out
    assert "no findings" in out
    assert bench.files == []


def test_a_finding_says_where_what_and_what_to_do(bench):
    """Three lines: the part and feature, the figure against its limit with its source, a remedy."""
    status, out, _ = check(bench, THIN)
    assert status == 0
    lines = [line.strip() for line in out.splitlines()]
    at = next(k for k, line in enumerate(lines) if line.startswith("warning"))
    assert lines[at] == "warning  base / left + right"
    assert lines[at + 1] == "web between them 1 mm (limit 6 mm) (common practice, no source)"
    assert lines[at + 2].startswith("-> move them apart")
    assert max(map(len, out.splitlines())) <= 98


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
    assert set(said) == {"recipe", "findings", "steps"}
    (finding,) = said["findings"]
    assert (finding["severity"], finding["value"], finding["limit"]) == ("warning", 1, 6)


def test_make_finds_the_same(bench):
    """What `check` says, `make` says too; stock may add to it."""
    recipe = str(RECIPES / "motor_stand.py")
    _, checked, _ = bench.run("check", recipe, "--json")
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
