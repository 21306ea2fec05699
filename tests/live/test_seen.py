"""What is seen at each depth of a run is what the page of the whole run would show."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest

from platekit.export.page.content import content
from platekit.job.drawing_up import DrawnUp, draw_up
from platekit.job.options import Options
from platekit.job.paging import drawn_page
from platekit.job.progress import unheard
from platekit.job.recipe import load_recipe
from platekit.live.memory import Memory
from platekit.live.seen import seen_again, with_sheets, with_weights
from platekit.live.serving import NOTHING
from tests.live.conftest import HEAD, HOLES


@pytest.fixture
def drawn(tmp_path):
    """A recipe with a thin web, drawn up, with what was shown on the way."""
    path = tmp_path / "base.py"
    path.write_text(HEAD + HOLES.replace("= 30.0,", "= 7.0,"), encoding="utf-8")
    recipe = load_recipe(path)
    early: list[DrawnUp] = []
    done = draw_up(recipe, Options(), early=early.append)
    return recipe, early, done


def test_before_anything_is_drawn_all_is_there_and_empty(drawn):
    """The page's script finds every name that its content has later."""
    recipe, _, done = drawn
    assert set(NOTHING) == set(content(drawn_page(recipe, Options(), done)))


def test_weights_come_to_the_same_picture(drawn):
    """A web of 7 - 6 = 1 mm, by hand, shows up while it is drawn; margins once it is weighed."""
    recipe, (bare, weighed), done = drawn
    page = drawn_page(recipe, Options(), bare)
    soon = content(page)
    assert [one["value"] for one in soon["findings"]] == [1]
    assert sum(one["weighed"] for one in soon["families"]) == 0
    later = content(with_weights(page, weighed))
    assert [one["value"] for one in later["findings"] if one["severity"] == "warning"] == [1]
    assert sum(one["weighed"] for one in later["families"]) > 1
    whole = content(drawn_page(recipe, Options(), done))
    assert later["findings"] == whole["findings"]
    assert later["families"] == whole["families"]
    assert later["rig"] == whole["rig"]
    # What is taken from before is what would be said anew.
    assert seen_again(soon, with_weights(page, weighed)) == later


def test_sheets_are_those_of_make(drawn, tmp_path):
    """A single plate fits in one way that is quick and best: sheet, place and bill agree."""
    recipe, _, done = drawn
    laid = Memory().lay(done.cut, Options(), progress=unheard)
    page = drawn_page(recipe, Options(), done)
    seen = content(with_sheets(page, done, laid))
    assert seen_again(content(page), with_sheets(page, done, laid)) == seen
    subprocess.run(
        [sys.executable, "-m", "platekit", "make", str(recipe.path), "--out", str(tmp_path)],
        check=True,
        capture_output=True,
    )
    made = json.loads((tmp_path / "base" / "build.json").read_text(encoding="utf-8"))
    (sheet,) = seen["sheets"]
    assert sheet["size_mm"] == made["sheets"][0]["size_mm"]
    assert len(sheet["pieces"]) == len(made["sheets"][0]["placements"]) == 1
    assert seen["bill"] == made["bill_of_materials"]
    assert seen["totals"] == made["totals"]
