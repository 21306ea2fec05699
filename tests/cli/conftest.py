"""Tiny recipes, each in a folder of its own, and a way to run them."""

import json
from pathlib import Path
from textwrap import dedent

import pytest

from platekit.cli import main
from platekit.nesting.cells import search

HEAD = """\
from platekit.geometry.shapes import rectangle
from platekit.geometry.chains import circle
from platekit.materials import Sheet, birch_plywood, sheet as sheet_of
from platekit.panel.holes import bolt_circle, hole
from platekit.panel.plate import Plate

"""


class Bench:
    """A folder with a recipe in it, and the command line."""

    def __init__(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.folder = folder
        self.out = folder / "out"
        self._capsys = capsys

    def write(self, text: str, *, name: str = "base.py") -> Path:
        """Write a recipe, its imports put in front."""
        path = self.folder / name
        path.write_text(HEAD + dedent(text), encoding="utf-8")
        return path

    def make(self, recipe: str, *words: str) -> tuple[int, str, str]:
        """Make a recipe; return exit status, standard output and standard error."""
        path = self.write(recipe)
        return self.run("make", str(path), "--out", str(self.out), *words)

    def run(self, *words: str) -> tuple[int, str, str]:
        """Run a command line in this process."""
        status = main(list(words))
        said = self._capsys.readouterr()
        return status, said.out, said.err

    @property
    def files(self) -> list[str]:
        """Every file written, by its path below the output folder."""
        found = [path for path in self.out.rglob("*") if path.is_file()]
        return sorted(path.relative_to(self.out).as_posix() for path in found)

    def record(self, name: str = "base") -> dict:
        """What build.json says."""
        return json.loads((self.out / name / "build.json").read_text(encoding="utf-8"))


@pytest.fixture(autouse=True)
def _short_search(monkeypatch):
    """Try few layouts: what a command says and writes does not hang on how tight they lie."""
    monkeypatch.setattr(search, "MOST_LAYOUTS", 10)


@pytest.fixture
def bench(tmp_path, capsys, monkeypatch) -> Bench:
    """A clean folder to work in."""
    monkeypatch.chdir(tmp_path)
    return Bench(tmp_path, capsys)
