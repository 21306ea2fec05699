"""What does not end, or ends more than itself, is ended, and the page goes on."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from tests.live.conftest import HOLES

# What a recipe may do to the process it runs in, and what the page says to it.
RUDE = {
    "import os; os._exit(3)": "ended the process",
    "raise SystemExit(2)": "it ends the program",
    "import ctypes; ctypes.string_at(0)": "ended the process",
    "raise KeyboardInterrupt": "it raises KeyboardInterrupt",
    "import os; os.write(1, b'content 1 9'); print('}')": "",
    "import os; os.chdir('/')": "",
    "input()": "EOFError",
    "import sys; sys.stdin.buffer.raw.read()": "",
    "x = bytearray(1 << 40)": "more memory than a run may",
    "print('x' * 1000, flush=True, end='\\n' * 3000)": "",
    "import subprocess, sys; subprocess.run([sys.executable, '-c', 'input()'])": "",
}


def test_a_loop_without_end_is_stopped_and_the_next_save_runs(live):
    """The page says so, in the words of the limit; a mended recipe is drawn up as ever."""
    page = live(HOLES, "--limit", "1.5")
    good = page.settled()["content"]
    page.save(HOLES.replace("plate = Plate", "while True: pass\n    plate = Plate"))
    status = page.until(lambda one: one["problem"] is not None)
    assert "after 1.5 s and was stopped" in status["problem"]["says"]
    assert "running the recipe" in status["problem"]["says"]
    assert (status["content"], status["old"]) == (good, True)
    # Where it turned in circles, as an editor counts lines.
    lines = page.recipe.read_text(encoding="utf-8").splitlines()
    assert "while True" in lines[status["problem"]["line"] - 1]
    assert "while True: pass" in status["problem"]["quoted"]
    page.save(HOLES)
    status = page.settled(after=status["run"])
    assert status["problem"] is None
    assert page.end() == 0


def test_a_loop_that_lets_nothing_stop_it_is_ended(live):
    """A recipe may swallow an interrupt, but not the end of its process."""
    page = live(HOLES, "--limit", "1.5")
    page.settled()
    stubborn = "while True:\n        try:\n            while True: pass\n        "
    stubborn += "except BaseException: pass\n    plate = Plate"
    page.save(HOLES.replace("plate = Plate", stubborn))
    status = page.until(lambda one: one["problem"] is not None)
    assert "after 1.5 s and was stopped" in status["problem"]["says"]
    page.save(HOLES)
    assert page.settled(after=status["run"])["problem"] is None
    assert page.end() == 0


def test_a_newer_wish_does_not_wait_for_an_older_one(live):
    """The loop has a minute; a wish without it is done in far less, and nothing stays behind."""
    text = HOLES.replace("plate = Plate", "while apart_mm > 90: pass\n    plate = Plate")
    page = live(text)
    page.settled()
    began = time.monotonic()
    page.wish(values={"apart_mm": "91"})
    page.until(lambda one: one["run"] == 2 and one["stage"] == "running the recipe")
    page.wish(values={"apart_mm": "20"})
    status = page.settled(after=2)
    assert status["problem"] is None
    assert time.monotonic() - began < 20
    assert page.end() == 0


def test_whatever_a_recipe_does_to_its_process_the_page_stays(live):
    """The next save is drawn up all the same."""
    page = live(HOLES)
    run = page.settled()["run"]
    for line, says in RUDE.items():
        page.save(HOLES.replace("plate = Plate", f"{line}\n    plate = Plate"))
        status = page.settled(after=run)
        said = status["problem"]["says"] if status["problem"] else ""
        assert says in said, line
        assert bool(says) == bool(said), line
        run = status["run"]
    page.save(HOLES)
    assert page.settled(after=run)["problem"] is None
    assert page.end() == 0


PROCESSES = Path("/proc")


def workers(page) -> set[int]:
    """Return the processes the server has started, as the kernel counts them."""
    return {
        int(one.parent.name)
        for one in PROCESSES.glob("[0-9]*/stat")
        if _parent(one) == page.process.pid
    }


def _parent(stat: Path) -> int:
    try:
        return int(stat.read_text(encoding="utf-8").rpartition(")")[2].split()[1])
    except (OSError, ValueError):
        return -1  # it ended meanwhile


@pytest.mark.skipif(not (PROCESSES / "self" / "stat").exists(), reason="there is no /proc")
@pytest.mark.parametrize("loops", [False, True], ids=["idle", "in a loop without end"])
def test_ctrl_c_leaves_nothing_behind(live, loops):
    """No worker and no spare one is left, be they at work or not; proc(5) lists processes."""
    page = live(HOLES)
    page.settled()
    if loops:
        page.save(HOLES.replace("plate = Plate", "while True: pass\n    plate = Plate"))
        page.until(lambda one: one["stage"] == "running the recipe")
    started = workers(page)
    assert started
    assert page.end() == 0
    assert not [pid for pid in started if (PROCESSES / str(pid)).exists()]


def test_nothing_outlives_the_server(live):
    """A server that is killed outright takes its worker along, be it in a loop without end."""
    text = HOLES.replace(
        "plate = Plate",
        "import pathlib, time; beat = pathlib.Path('beat')\n"
        "    while True: beat.write_text(str(time.monotonic_ns()))\n"
        "    plate = Plate",
    )
    page = live(text)
    beat = page.recipe.with_name("beat")
    end = time.monotonic() + 60  # a busy machine starts slowly

    def beats() -> bool:
        before = beat.read_text(encoding="utf-8") if beat.exists() else ""
        time.sleep(0.5)
        return beat.exists() and beat.read_text(encoding="utf-8") != before

    while not beats():
        assert time.monotonic() < end
    page.process.kill()
    end = time.monotonic() + 60
    while beats():
        assert time.monotonic() < end, "the worker lives on"
