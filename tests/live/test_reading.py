"""Which files a recipe read is heard from Python itself, whoever opens them."""

from __future__ import annotations

import numpy as np
import pytest

from platekit.live.reading import Reader


@pytest.fixture(scope="module")
def reader():
    """One for all: what listens to a process once listens for good."""
    return Reader()


def test_what_is_read_below_the_folder_is_noted(reader, tmp_path):
    """By open, by a path, by numpy; in vain too; not what lies elsewhere or is nobody's own."""
    folder = tmp_path / "mine"
    bought = folder / ".venv" / "lib" / "site-packages"
    bought.mkdir(parents=True)
    kept = folder / ".cache"
    kept.mkdir()
    (kept / "fonts.json").write_text("{}", encoding="utf-8")
    points, text, other = folder / "points.csv", folder / "note.txt", tmp_path / "other.csv"
    for path in (points, text, other, bought / "bought.csv"):
        path.write_text("1,2\n3,4\n", encoding="utf-8")
    with reader.listening(folder / "base.py"):
        assert np.loadtxt(points, delimiter=",").shape == (2, 2)
        text.read_text(encoding="utf-8")
        other.read_bytes()
        (bought / "bought.csv").read_bytes()
        (kept / "fonts.json").read_bytes()
        with pytest.raises(FileNotFoundError):
            (folder / "missing.csv").open()
    assert reader.files == (folder / "missing.csv", text, points)
    text.read_text(encoding="utf-8")
    points.unlink()
    with reader.listening(folder / "base.py"):
        pass
    assert reader.files == ()


def test_what_it_writes_is_not_what_it_reads(reader, tmp_path):
    """A recipe that keeps a file of its own would wake itself for ever."""
    kept = tmp_path / "kept.txt"
    kept.write_text("a", encoding="utf-8")
    with reader.listening(tmp_path / "base.py"):
        kept.read_text(encoding="utf-8")
        with kept.open("a", encoding="utf-8") as more:
            more.write("b")
        (tmp_path / "new.txt").write_text("c", encoding="utf-8")
    assert reader.files == ()
