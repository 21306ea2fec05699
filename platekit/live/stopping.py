"""Leaving a run half-way without leaving the process: a signal that is let in at good moments only.

The server sends SIGINT. It becomes an exception in the middle of whatever runs, so that even a loop
without end stops, but never while a message is being written, nor between runs.
"""

from __future__ import annotations

import signal
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import FrameType, TracebackType

from platekit.job.slips import quoted
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


def place_of(trace: TracebackType | None, recipe: Path) -> Problem:
    """Return the innermost line of a recipe in a traceback, as the place of a problem."""
    line: int | None = None
    inside = ""
    while trace is not None:
        code = trace.tb_frame.f_code
        if code.co_filename == str(recipe):
            line = trace.tb_lineno
            inside = "" if code.co_name == "<module>" else code.co_name
        trace = trace.tb_next
    words = quoted(recipe, line).removeprefix("\n") if line else ""
    return Problem(says="", file=str(recipe), line=line, inside=inside, quoted=words)
