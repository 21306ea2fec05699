"""Saves are noticed however they are made, and once each."""

from __future__ import annotations

import asyncio
import os
import sys
import time
from types import ModuleType

import pytest

from platekit.live.watching import Watch, own_modules


def noticed_after(watch: Watch, act, *, patience_s: float = 5.0) -> float | None:
    """Return how long after `act` a save was noticed; None when it was not."""

    async def wait() -> float | None:
        waiting = asyncio.create_task(watch.until_saved())
        await asyncio.sleep(0.05)
        began = time.monotonic()
        act()
        try:
            await asyncio.wait_for(waiting, patience_s)
        except TimeoutError:
            return None
        return time.monotonic() - began

    return asyncio.run(wait())


@pytest.fixture
def recipe(tmp_path):
    """A file that is watched."""
    path = tmp_path / "base.py"
    path.write_text("a = 1\n", encoding="utf-8")
    return path


def test_a_file_written_anew_is_noticed(recipe):
    """Editors that write in place."""
    assert noticed_after(Watch(recipe), lambda: recipe.write_text("a = 2\n")) is not None


def test_a_file_of_the_same_size_and_time_is_noticed_by_its_number(recipe):
    """Editors that write beside and rename: another file, though time and size be the same."""
    before = recipe.stat()
    other = recipe.with_name("base.py.new")

    def rename() -> None:
        other.write_text("a = 3\n", encoding="utf-8")
        os.utime(other, ns=(before.st_atime_ns, before.st_mtime_ns))
        other.replace(recipe)

    assert noticed_after(Watch(recipe), rename) is not None


def test_a_file_taken_away_and_put_back_is_one_save(recipe):
    """Between the two nothing is told: there would be no recipe to read."""
    watch = Watch(recipe)
    text = recipe.read_text(encoding="utf-8")

    async def act() -> bool:
        waiting = asyncio.create_task(watch.until_saved())
        recipe.unlink()
        await asyncio.sleep(0.5)
        early = waiting.done()
        recipe.write_text(text + "b = 2\n", encoding="utf-8")
        await asyncio.wait_for(waiting, 5)
        return early

    assert asyncio.run(act()) is False
    assert not watch.changed()


def test_a_file_emptied_and_then_written_is_one_save(recipe):
    """Editors that empty a file first and take their time: an empty recipe is none."""
    watch = Watch(recipe)

    async def act() -> bool:
        waiting = asyncio.create_task(watch.until_saved())
        recipe.write_bytes(b"")
        await asyncio.sleep(0.5)
        early = waiting.done()
        recipe.write_text("a = 4\n", encoding="utf-8")
        await asyncio.wait_for(waiting, 5)
        return early

    assert asyncio.run(act()) is False
    assert not watch.changed()


def test_a_file_taken_away_for_good_is_told(recipe):
    """After a second it is no way of saving any more."""
    took_s = noticed_after(Watch(recipe), recipe.unlink)
    assert took_s is not None
    assert took_s >= 1.0


def test_modules_beside_it_count_once_they_are_known(recipe):
    """A module's save is nobody's business until the recipe has imported it."""
    module = recipe.with_name("sizes.py")
    module.write_text("x = 1\n", encoding="utf-8")
    watch = Watch(recipe)
    module.write_text("x = 22\n", encoding="utf-8")
    assert not watch.changed()
    watch.remember()
    watch.also([module], whole_folder=False)
    watch.remember()
    assert not watch.changed()
    module.write_text("x = 333\n", encoding="utf-8")
    assert watch.changed()


def test_a_module_saved_while_the_recipe_ran_is_read_again(recipe):
    """Nobody knows whether the run had read it before or after: one run more is no harm."""
    module = recipe.with_name("sizes.py")
    watch = Watch(recipe)
    module.write_text("x = 1\n", encoding="utf-8")
    watch.also([module], whole_folder=False)
    assert watch.changed()


def test_after_a_run_that_went_wrong_a_new_file_beside_it_counts(recipe):
    """The module it missed may be what is being written."""
    watch = Watch(recipe)
    watch.also([], whole_folder=True)
    assert not watch.changed()
    recipe.with_name("missing.py").write_text("x = 1\n", encoding="utf-8")
    assert watch.changed()


def test_a_save_while_the_recipe_runs_is_not_lost(recipe):
    """What the run imported is added; the save of before that still stands out."""
    watch = Watch(recipe)
    recipe.write_text("a = 22\n", encoding="utf-8")
    watch.also([recipe.with_name("sizes.py")], whole_folder=False)
    assert watch.changed()


def test_modules_beside_a_recipe_are_its_own_installed_ones_are_not(tmp_path, monkeypatch):
    """Beside it and below its folder, a package too; not what an environment there holds."""
    files = {
        "sizes": tmp_path / "sizes.py",
        "parts": tmp_path / "parts" / "__init__.py",
        "parts.feet": tmp_path / "parts" / "feet.py",
        "bought": tmp_path / ".venv" / "lib" / "site-packages" / "bought.py",
        "elsewhere": tmp_path.parent / f"{tmp_path.name}2" / "elsewhere.py",
    }
    for name, path in files.items():
        module = ModuleType(name)
        module.__file__ = str(path)
        monkeypatch.setitem(sys.modules, name, module)
    found = own_modules(tmp_path / "base.py")
    assert set(found) == {files["sizes"], files["parts"], files["parts.feet"]}
