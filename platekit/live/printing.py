"""What a recipe prints: it goes to the terminal as ever, and its beginning to the page as well."""

from __future__ import annotations

import io
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TextIO

# More than this nobody reads on a page; the terminal has all of it.
MOST_SIGNS = 4000


class Printed(io.TextIOBase):
    """A stream that passes all on and keeps the beginning."""

    def __init__(self, onward: TextIO) -> None:
        self._onward = onward
        self._kept: list[str] = []
        self._room = MOST_SIGNS
        self._lost = 0

    @property
    def text(self) -> str:
        """What was printed, its end left out where it is long."""
        said = "".join(self._kept)
        return f"{said}\n... and {self._lost} signs more" if self._lost else said

    def write(self, text: str) -> int:
        """Take a text."""
        kept = text[: self._room]
        if kept:
            self._kept.append(kept)
        self._room -= len(kept)
        self._lost += len(text) - len(kept)
        return self._onward.write(text)

    def flush(self) -> None:
        """Pass on what waits."""
        self._onward.flush()

    def fileno(self) -> int:
        """Return the number of the file that lies behind, for whoever starts a program."""
        return self._onward.fileno()

    def isatty(self) -> bool:
        """Return whether the other end is a terminal."""
        return self._onward.isatty()

    def writable(self) -> bool:
        """Return True."""
        return True


@contextmanager
def printing() -> Iterator[Printed]:
    """Keep what is printed while this lasts, be it meant as an answer or as an error."""
    out, err = sys.stdout, sys.stderr
    sys.stdout = sys.stderr = kept = Printed(err)
    try:
        yield kept
    finally:
        sys.stdout, sys.stderr = out, err
