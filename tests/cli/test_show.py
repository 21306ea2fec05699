"""``platekit show``: what it says before and after it serves. Serving itself: tests/live."""

from __future__ import annotations

import socket

import pytest

from platekit.cli.arguments import parser
from platekit.cli.given import show_options

SOUND = """
def base(sheet: Sheet = birch_plywood(6.0)) -> Plate:
    return Plate("base", sheet, rectangle(100.0, 80.0))
"""


def test_a_busy_port_is_told_and_what_to_do(bench):
    """Exit 2, one line; nothing is served and nothing written."""
    recipe = bench.write(SOUND)
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        status, out, err = bench.run("show", str(recipe), "--no-browser", "--port", str(port))
    assert (status, out) == (2, "")
    assert f"port {port} is busy" in err
    assert "leave --port out" in err
    assert bench.files == []


@pytest.mark.parametrize("port", ["0", "-1", "65536"])
def test_a_port_that_is_none_is_told(bench, port):
    """Ports go from 1 to 65535 (RFC 6335, section 6)."""
    status, _, err = bench.run("show", str(bench.write(SOUND)), f"--port={port}", "--no-browser")
    assert status == 2
    assert "give 1 to 65535" in err


@pytest.mark.parametrize("name", ["gone.py", "notes.txt", "."])
def test_a_recipe_that_is_not_there_is_told(bench, name):
    """No page for no file."""
    bench.folder.joinpath("notes.txt").write_text("x", encoding="utf-8")
    status, out, err = bench.run("show", name, "--no-browser")
    assert (status, out) == (2, "")
    assert "no recipe" in err


@pytest.mark.parametrize("limit", ["0", "-3", "nan", "1e9", "soon"])
def test_a_limit_that_is_none_is_told(bench, limit):
    """Above 0, up to a day."""
    status, _, err = bench.run("show", "base.py", f"--limit={limit}")
    assert status == 2
    assert "--limit" in err


def test_it_takes_the_sheet_options_of_check():
    """The same words mean the same."""
    sheet = ["--material", "MDF", "--thickness", "5.8", "--kerf", "0.2", "--join", "mitre"]
    rest = ["--set", "a=1", "--skip", "fit", "--bed", "600x400"]
    given = parser().parse_args(["show", "base.py", *sheet, *rest])
    options = show_options(given)
    assert (options.material, options.thickness_mm, options.kerf_mm) == ("MDF", 5.8, 0.2)
    assert (options.join, options.chosen, options.skip) == ("mitre", (("a", "1"),), ("fit",))
    assert options.bed_mm == (600.0, 400.0)
    assert (given.port, given.browser, given.limit) == (None, True, 60.0)
