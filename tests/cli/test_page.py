"""``platekit page``: one file, beside the files it leads to, and nobody else's."""

from __future__ import annotations

import json
import re

import pytest

PLATE = """
    def base(sheet: Sheet = birch_plywood(nominal_mm=6.0), *, width_mm: float = 90.0) -> Plate:
        '''Plate for a <lamp> & switch.

        Args:
            sheet: Sheet it is cut from.
            width_mm: How wide it is.
        '''
        return Plate("base", sheet, rectangle(width_mm, 60)).with_features(
            hole("M5", at=(20, 30), name="fixing")
        )
"""

STOPPED = """
    from platekit.findings import Finding, Severity

    class Stopped(Plate):
        @property
        def findings(self):
            return (Finding(severity=Severity.STOP, part="base", measure="web", value=0.1,
                            limit=2.0, unit="mm", remedy="move the hole"),)

    def base(sheet: Sheet) -> Plate:
        return Stopped("base", sheet, rectangle(100.0, 80.0))
"""


def content(path) -> dict:
    """The data on a page, as any reader of JSON takes it."""
    text = path.read_text(encoding="utf-8")
    return json.loads(re.search(r'type="application/json" id="content">(.*?)</script>', text)[1])


def page(bench, *words: str, recipe: str = PLATE) -> tuple[int, str, str]:
    """Make a page."""
    return bench.run("page", str(bench.write(recipe)), "--out", str(bench.out), *words)


def test_it_writes_one_file_that_says_what_went_in(bench):
    """Nothing else is written; what the command line chose is what the page shows."""
    status, said, complained = page(bench, "--set", "width_mm=123.5", "--kerf", "0.2")
    assert (status, complained) == (0, "")
    assert bench.files == ["base/page.html"]
    shown = content(bench.out / "base" / "page.html")
    assert shown["recipe"] == "base"
    assert shown["summary"] == "Plate for a <lamp> & switch."
    assert shown["parts"][0]["size_mm"] == [123.5, 60]
    rows = {row[0]: row[1] for group in shown["inputs"] for row in group["rows"]}
    assert rows["width_mm"] == "123.5 (How wide it is)"
    assert rows["kerf"] == "0.2 mm"
    assert "def base(" in shown["recipe_text"]
    assert [one["there"] for one in shown["files"]] == [False] * len(shown["files"])
    carried = sum(one["carried"] for one in shown["files"])
    assert f"It carries {carried} files of this run" in said


def test_the_same_words_give_the_same_bytes(bench):
    """No dates: a page made again is the page."""
    page(bench)
    first = (bench.out / "base" / "page.html").read_bytes()
    page(bench)
    assert (bench.out / "base" / "page.html").read_bytes() == first


def test_it_leads_to_what_lies_beside_it_and_to_nothing_stale(bench):
    """After make all files are led to; those of another thickness are not; make keeps a page."""
    bench.make(PLATE)
    page(bench)
    shown = content(bench.out / "base" / "page.html")
    assert all(one["there"] for one in shown["files"])
    paths = {one["path"] for one in shown["files"]}
    assert {f"base/{path}" for path in paths} | {"base/page.html"} == set(bench.files)
    status, said, _ = page(bench, "--thickness", "6.3")
    stale = [one["path"] for one in content(bench.out / "base" / "page.html")["files"]]
    there = [
        one["path"] for one in content(bench.out / "base" / "page.html")["files"] if one["there"]
    ]
    assert status == 0
    assert "build.json" in stale
    assert "build.json" not in there
    assert "It carries" in said
    bench.make(PLATE)
    assert "base/page.html" in bench.files


def test_a_file_of_somebody_else_stays(bench):
    """A page that is none of ours is in the way: refused, and not a byte of it changed."""
    theirs = bench.out / "base" / "page.html"
    theirs.parent.mkdir(parents=True)
    theirs.write_text("<p>my notes</p>", encoding="utf-8")
    status, said, complained = page(bench)
    assert (status, said) == (2, "")
    assert "page.html is in the way" in complained
    assert "--out" in complained
    assert theirs.read_text(encoding="utf-8") == "<p>my notes</p>"


def test_json_says_the_same(bench):
    """One object, and the size is that of the file."""
    status, said, _ = page(bench, "--json")
    told = json.loads(said)
    path = bench.out / "base" / "page.html"
    assert (status, told["recipe"], told["withheld"]) == (0, "base", False)
    assert told["bytes"] == path.stat().st_size
    assert told["missing"] == len(content(path)["files"])
    assert told["carried"] == sum(one["carried"] for one in content(path)["files"])


def test_a_stop_is_shown_and_told(bench):
    """The page is there all the same, says so, and leads to no cut file."""
    status, said, _ = page(bench, recipe=STOPPED)
    shown = content(bench.out / "base" / "page.html")
    assert status == 1
    assert shown["stopped"] is shown["withheld"] is True
    assert shown["findings"][0]["severity"] == "stop"
    assert not [one for one in shown["files"] if one["path"].endswith((".dxf", ".svg"))]
    assert "finding says stop" in said
    status, _, _ = page(bench, "--cut-anyway", recipe=STOPPED)
    assert status == 0
    assert content(bench.out / "base" / "page.html")["withheld"] is False


@pytest.mark.parametrize(
    ("words", "complaint"),
    [
        pytest.param(("--set", "width_mm=broad"), "width_mm", id="a value that is none"),
        pytest.param(("--thickness", "-3"), "thickness", id="a thickness that is none"),
        pytest.param(("--set", "widht_mm=80"), "width_mm", id="a slip of the keyboard"),
    ],
)
def test_wrong_input_writes_nothing(bench, words, complaint):
    """Named, no traceback, no file."""
    status, said, complained = page(bench, *words)
    assert (status, said, bench.files) == (2, "", [])
    assert complaint in complained
    assert "Traceback" not in complained


def test_a_recipe_is_needed(bench):
    """Without one the command says how it is called."""
    status, _, complained = bench.run("page")
    assert status == 2
    assert "RECIPE" in complained
