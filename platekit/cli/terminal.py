"""What the user sees: answers on standard output, progress and troubles on standard error."""

from __future__ import annotations

import os
import sys
import time
from contextlib import suppress
from dataclasses import dataclass, field
from typing import TextIO

# Nothing shorter than this is worth a line that comes and goes.
PATIENCE_S = 1.0
REFRESH_S = 0.1


def colours_wanted(stream: TextIO) -> bool:
    """Return whether `stream` is a terminal that wants colours (https://no-color.org)."""
    return stream.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"


def tinted(text: str, colour: int, *, stream: TextIO) -> str:
    """Return `text` in one of the terminal's own colours (31 red, 33 yellow), where wanted."""
    return f"\x1b[{colour}m{text}\x1b[0m" if colours_wanted(stream) else text


def counted(number: int, noun: str) -> str:
    """Return ``1 sheet``, ``2 sheets``."""
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def say(text: str = "") -> None:
    """Print a line of the answer; a reader that has gone away is no fault of ours."""
    try:
        print(_sayable(text), flush=True)  # noqa: T201  this is the place that prints
    except BrokenPipeError:
        hush()


def _sayable(text: str) -> str:
    """Return `text` with what standard output has no sign for replaced by question marks."""
    encoding = sys.stdout.encoding or "utf-8"
    return text.encode(encoding, "replace").decode(encoding)


def hush() -> None:
    """Send the rest of the answer nowhere, so that the interpreter's last flush stays quiet."""
    with suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def complain(text: str) -> None:
    """Print a trouble on standard error, under the program's name."""
    with suppress(BrokenPipeError):
        head = tinted("platekit:", 31, stream=sys.stderr)
        print(f"{head} {text}", file=sys.stderr, flush=True)  # noqa: T201


@dataclass
class ProgressLine:
    """One line on a terminal that says what goes on; nothing at all anywhere else.

    It shows up after a second and is wiped when the work is done.
    """

    stream: TextIO = field(default_factory=lambda: sys.stderr)
    began: float = field(default_factory=time.monotonic)
    _shown_at: float = 0.0
    _width: int = 0

    def __call__(self, stage: str, share: float | None = None) -> None:
        """Say that `stage` is under way and, where known, which share of it (0 to 1) is done."""
        now = time.monotonic()
        if not self.stream.isatty() or now - self.began < PATIENCE_S:
            return
        if now - self._shown_at < REFRESH_S:
            return
        self._shown_at = now
        done = "" if share is None else f" {100 * min(max(share, 0.0), 1.0):3.0f} %"
        text = f"{stage}{done}  {now - self.began:.0f} s"
        self._write(text.ljust(self._width))
        self._width = len(text)

    def wipe(self) -> None:
        """Clear the line, before anything else is printed."""
        if self._width:
            self._write(" " * self._width)
            self._write("")
            self._width = 0

    def _write(self, text: str) -> None:
        with suppress(BrokenPipeError):
            self.stream.write(f"\r{text}")
            self.stream.flush()
