"""Ctrl-C: the first keeps the best layout so far, the second gives up."""

import json
import signal
from pathlib import Path

import pytest

from platekit.cli.terminal import ProgressLine

# Unlike enough that the search has something to look for.
PARTS = {
    "parts": [
        {"id": f"L{k}", "quantity": 3, "rotations_deg": [0, 90, 180, 270],
         "outline": [[0, 0], [k, 0], [k, 20], [20, 20], [20, 30 + k // 2], [0, 30 + k // 2]]}
        for k in range(40, 82, 7)
    ],
}  # fmt: skip

PLATE = """
from platekit import hull

def base(sheet: Sheet) -> Plate:
    return Plate("base", sheet, hull([((0, 0), 40), ((60, 25), 12)], margin_mm=4), quantity=23)
"""


@pytest.fixture
def interrupting(monkeypatch):
    """A way to press Ctrl-C whenever one of these stages is first heard of.

    A shell starts what runs in the background deaf to it; the tests are about the ear.
    """
    was = signal.signal(signal.SIGINT, signal.default_int_handler)

    def press(*stages: str) -> list[str]:
        pressed: list[str] = []

        def hear(_line, stage, _share=None):
            for one in stages:
                if stage.startswith(one) and one not in pressed:
                    pressed.append(one)
                    signal.raise_signal(signal.SIGINT)

        monkeypatch.setattr(ProgressLine, "__call__", hear)
        return pressed

    yield press
    signal.signal(signal.SIGINT, was)


def nest(bench, *words: str) -> tuple[int, str, str]:
    """Nest the parts with time enough for a key to be pressed."""
    Path("list.json").write_text(json.dumps(PARTS), encoding="utf-8")
    return bench.run("nest", "list.json", "--stock", "150x130", "--seconds", "20", *words)


def test_the_best_so_far_is_kept(bench, interrupting):
    """Exit 0, every file there, every piece on a sheet, and a word about it."""
    pressed = interrupting("nesting")
    status, out, err = nest(bench)
    assert pressed == ["nesting"]
    assert (status, err) == (0, "")
    assert "stopped early by you: this is the best so far" in out
    record = bench.record("list")
    assert sum(len(sheet["placements"]) for sheet in record["sheets"]) == 18
    assert record["unplaced"] == []
    assert {f"list/{file['path']}" for file in record["files"]} < set(bench.files)


def test_with_json_the_word_goes_to_standard_error(bench, interrupting):
    """Standard output stays one object."""
    interrupting("nesting")
    status, out, err = nest(bench, "--json")
    assert status == 0
    assert json.loads(out)["unplaced"] == []
    assert "stopped early by you" in err


def test_a_job_keeps_it_too(bench, interrupting):
    """``make`` writes its files, cut and all."""
    pressed = interrupting("nesting")
    status, out, _ = bench.make(PLATE, "--stock", "150x130", "--seconds", "20")
    assert (pressed, status) == (["nesting"], 0)
    assert "stopped early by you" in out
    assert "base/sheets/1.dxf" in bench.files
    assert sum(len(sheet["placements"]) for sheet in bench.record()["sheets"]) == 23


@pytest.mark.parametrize("stage", ["drawing", "writing"])
def test_the_second_one_gives_up(bench, interrupting, stage):
    """Exit 130, one line, nothing written."""
    pressed = interrupting("nesting", stage)
    status, out, err = nest(bench)
    assert pressed == ["nesting", stage]
    assert (status, out) == (130, "")
    assert err.startswith("platekit: interrupted")
    assert bench.files == []
