"""Which files a recipe read: a table of points beside it counts as much as its own lines.

Python tells of every file that is opened (an audit event, PEP 578), whoever opens it: ``open``,
``csv``, numpy. A hook once added stays as long as the process; it listens during runs alone.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

# Folders whose files are nobody's own; so are hidden ones, where programs keep what is theirs.
STRANGE = frozenset({"site-packages", "__pycache__", "node_modules"})
# More files than this no recipe reads; whoever walks a whole disk is not followed.
MOST_FILES = 500
# Python itself and platekit, which may well lie below a recipe's folder.
_INSTALLED = tuple(
    os.path.join(folder, "")  # noqa: PTH118  a text that ends in a slash
    for folder in {
        str(Path(one).resolve())
        for one in (sys.prefix, sys.base_prefix, Path(__file__).resolve().parents[1])
    }
)
_WRITING = os.O_WRONLY | os.O_RDWR | os.O_CREAT


class Reader:
    """Notes the files that are opened while it listens, those below one folder alone."""

    def __init__(self) -> None:
        self._beside = ""
        self._read: dict[str, None] = {}
        self._written: set[str] = set()
        sys.addaudithook(self._hear)

    @contextmanager
    def listening(self, recipe: Path) -> Iterator[None]:
        """Note what is opened beside a recipe and below its folder while this lasts."""
        self._read, self._written = {}, set()
        self._beside = os.path.join(recipe.resolve().parent, "")  # noqa: PTH118  ends in a slash
        try:
            yield
        finally:
            self._beside = ""

    @property
    def files(self) -> tuple[Path, ...]:
        """What was read and not written: a recipe must not wake itself by what it leaves behind.

        Files that were looked for in vain are among them, so that they are noticed once there.
        """
        return tuple(sorted(Path(name) for name in self._read if name not in self._written))

    def _hear(self, event: str, args: tuple[object, ...]) -> None:
        if event != "open" or not self._beside:
            return
        path, mode, flags = args[0], args[1], args[2]
        if not isinstance(path, str | bytes | os.PathLike):
            return  # a number: it was opened before
        name = os.path.abspath(os.fsdecode(path))  # noqa: PTH100  nothing is asked of the disk
        if not name.startswith(self._beside) or name.startswith(_INSTALLED):
            return
        below = Path(name.removeprefix(self._beside)).parts
        if not STRANGE.isdisjoint(below) or any(part.startswith(".") for part in below):
            return
        writes = isinstance(flags, int) and flags & _WRITING
        if writes or (isinstance(mode, str) and not set(mode).isdisjoint("wax+")):
            self._written.add(name)
        elif len(self._read) < MOST_FILES:
            self._read[name] = None
