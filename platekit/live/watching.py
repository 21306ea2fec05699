"""Noticing that a recipe was saved, by looking at its files again and again.

Looking is slower than being told by the system, but it is the same everywhere: on folders shared
over a network, in containers, and with editors that write a new file and rename it.
"""

from __future__ import annotations

import asyncio
import os
import sys
import time
from collections.abc import Awaitable, Callable, Iterable, Mapping
from pathlib import Path

LOOK_EVERY_S = 0.08
# A file that was touched is taken as saved once it stays as it is for so long: editors write in
# bits, and some take the old file away, or empty it, before the new one is there.
SETTLED_S = 0.05
GONE_S = 1.0

# What tells one state of a file from another; None for a file that is not there.
Stamp = tuple[int, int, int] | None


def stamps(paths: Iterable[Path]) -> dict[Path, Stamp]:
    """Return the stamp of each file: when it was changed, its size, and which file it is."""
    return {path: _stamp(path) for path in paths}


def _stamp(path: Path) -> Stamp:
    try:
        seen = path.stat()
    except OSError:
        return None
    return seen.st_mtime_ns, seen.st_size, seen.st_ino


def own_modules(recipe: Path) -> tuple[Path, ...]:
    """Return the files of all loaded modules that lie beside a recipe or below its folder.

    What was installed into a folder below it (an environment of its own) is not the recipe's.
    """
    beside = recipe.resolve().parent
    # Modules beside it are found by this very path. Thousands are loaded: to ask the disk about
    # each would take longer than most recipes.
    start = os.path.join(beside, "")  # noqa: PTH118  a text that ends in a slash
    named = [getattr(module, "__file__", None) for module in list(sys.modules.values())]
    near = {Path(name) for name in named if isinstance(name, str) and name.startswith(start)}
    installed = [Path(prefix).resolve() for prefix in {sys.prefix, sys.base_prefix}]
    strange = [*installed, _PLATEKIT]
    return tuple(
        sorted(
            path
            for path in near
            if "site-packages" not in path.parts
            and not any(path.is_relative_to(folder) for folder in strange)
        )
    )


_PLATEKIT = Path(__file__).resolve().parents[1]


class Watch:
    """The files a recipe consists of, and how they were when last read."""

    def __init__(self, recipe: Path) -> None:
        self.recipe = recipe
        self._also: tuple[Path, ...] = ()
        self._whole_folder = False
        self._known: Mapping[Path, Stamp] = {}
        self._read_ns = 0
        self.remember()

    def also(self, files: Iterable[Path], *, whole_folder: bool) -> None:
        """Look at these as well from now on.

        Args:
            files: What the recipe imported and read.
            whole_folder: Whether every Python file beside it may matter: after a run that went
                wrong, perhaps because one was missing.
        """
        before = self._known
        self._also, self._whole_folder = tuple(files), whole_folder
        now = stamps(self._paths())
        # What is known of a file stays, and one that is new since is not known: it may have been
        # saved while the recipe ran.
        self._known = {
            path: before.get(path, None if stamp and stamp[0] >= self._read_ns else stamp)
            for path, stamp in now.items()
        }

    def changed(self) -> bool:
        """Return whether a file differs from how it was when last read; reads nothing."""
        return stamps(self._paths()) != self._known

    def remember(self) -> None:
        """Take the files as they are now for read."""
        self._read_ns = time.time_ns()
        self._known = stamps(self._paths())

    async def until_saved(self) -> None:
        """Wait until a file was changed and has settled, then remember it so."""
        while not self.changed():  # noqa: ASYNC110  a disk tells nobody: it has to be asked
            await asyncio.sleep(LOOK_EVERY_S)
        await self._settled()
        self.remember()

    async def _settled(self) -> None:
        waited = 0.0
        seen = stamps(self._paths())
        while True:
            await asyncio.sleep(SETTLED_S)
            waited += SETTLED_S
            now = stamps(self._paths())
            recipe = now.get(self.recipe)
            there = recipe is not None and recipe[1] > 0
            if now == seen and (there or waited >= GONE_S):
                return
            seen = now

    def _paths(self) -> tuple[Path, ...]:
        others = self._also
        if self._whole_folder:
            try:
                others = (*others, *sorted(self.recipe.resolve().parent.glob("*.py")))
            except OSError:
                others = self._also
        return tuple(dict.fromkeys((self.recipe, *others)))


async def watch(of: Watch, saved: Callable[[], Awaitable[None]]) -> None:
    """Call `saved` whenever a file of a recipe was saved; never returns."""
    while True:
        await of.until_saved()
        await saved()
