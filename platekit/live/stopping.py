"""Leaving a run half-way without leaving the process: a signal that is let in at good moments only.

The server sends SIGINT. It becomes an exception in the middle of whatever runs, so that even a loop
without end stops, but never while a message is being written, nor between runs.
"""

from __future__ import annotations

import signal
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import FrameType

from platekit.job.slips import quoted
from platekit.live.places import lines_about, raised_at
from platekit.live.problem import Problem


class Stopped(KeyboardInterrupt):
    """The server wants no more of this run. Recipes know to let interrupts through."""


class Stopper:
    """Lets a stop in, or keeps it for the next good moment."""

    def __init__(self) -> None:
        self._open = False
        self._wanted = False

    def listen(self) -> None:
        """Take over the signal from now on."""
        signal.signal(signal.SIGINT, self._hear)

    @contextmanager
    def stoppable(self) -> Iterator[None]:
        """Let a stop in while this lasts; one that came before is of an earlier run.

        Raises:
            Stopped: It came.
        """
        self._wanted = False
        self._open = True
        try:
            yield
        finally:
            self._open = False

    @contextmanager
    def undisturbed(self) -> Iterator[None]:
        """Keep a stop out while this lasts, and let it in afterwards.

        Raises:
            Stopped: It came meanwhile.
        """
        was, self._open = self._open, False
        try:
            yield
        finally:
            self._open = was
        if was and self._wanted:
            self._stop()

    def _hear(self, _signal: int, _frame: FrameType | None) -> None:
        self._wanted = True
        if self._open:
            self._stop()

    def _stop(self) -> None:
        self._open = self._wanted = False
        raise Stopped


def place_of(stopped: Stopped, recipe: Path) -> Problem:
    """Return the innermost line of a recipe's own that ran when it was stopped."""
    at = raised_at(stopped, recipe)
    if at is None:
        return Problem(says="", file=str(recipe))
    return Problem(
        says="",
        file=at.file,
        line=at.line,
        inside=at.inside,
        quoted=quoted(Path(at.file), at.line).removeprefix("\n"),
        about=lines_about(at.file, at.line),
        mark=at.mark,
    )
