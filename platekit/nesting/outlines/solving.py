"""Solving a strip in another process: start it, hear what it finds, end it."""

from __future__ import annotations

import json
import queue
import subprocess
import sys
import threading
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import Self

SCRIPT = Path(__file__).with_name("strip_solver.py")

# The solver takes whole seconds; a little more passes until the process has started and ended.
START_S = 0.35


@dataclass(frozen=True, slots=True)
class Item:
    """One outline to be laid.

    Attributes:
        ring: Its corners, counter-clockwise, the first not repeated.
        quantity: How many times.
        rotations_deg: Allowed turns; None for any.
    """

    ring: tuple[tuple[float, float], ...]
    quantity: int
    rotations_deg: tuple[float, ...] | None


@dataclass(frozen=True, slots=True)
class Effort:
    """How hard to look.

    Attributes:
        explore_s: Whole seconds in which arrangements are sought.
        compress_s: Whole seconds in which the best is pressed together.
        workers: Threads.
        seed: Start of the solver's chance.
    """

    explore_s: int
    compress_s: int
    workers: int
    seed: int


@dataclass(frozen=True, slots=True)
class Found:
    """A layout: the length it needs, and for each copy its item, turn and place."""

    length_mm: float
    placed: tuple[tuple[int, float, float, float], ...]


class Solving:
    """A strip being solved. Leaving the context ends the process, whatever it is doing."""

    def __init__(self, height_mm: float, items: Sequence[Item], effort: Effort) -> None:
        given = {
            "height": height_mm,
            "items": [
                {
                    "id": str(number),
                    "ring": item.ring,
                    "quantity": item.quantity,
                    "rotations": None if item.rotations_deg is None else list(item.rotations_deg),
                }
                for number, item in enumerate(items)
            ],
            "explore_s": effort.explore_s,
            "compress_s": effort.compress_s,
            "workers": effort.workers,
            "seed": effort.seed,
        }
        self._heard: queue.SimpleQueue[str | None] = queue.SimpleQueue()
        self._process = subprocess.Popen(  # noqa: S603 - this very interpreter, our own script
            [sys.executable, "-P", str(SCRIPT)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
        )
        with suppress(OSError):  # it is gone already: then nothing is heard of it
            assert self._process.stdin is not None  # noqa: S101 - asked for above
            self._process.stdin.write(json.dumps(given) + "\n")
            self._process.stdin.flush()
        threading.Thread(target=self._listen, daemon=True).start()
        self.over = False

    def __enter__(self) -> Self:
        """Return itself."""
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        err: BaseException | None,
        where: TracebackType | None,
    ) -> None:
        """End the process."""
        self._process.kill()
        self._process.wait()
        if self._process.stdin is not None:
            with suppress(OSError):
                self._process.stdin.close()

    def heard(self, *, wait_s: float) -> Found | None:
        """Return the newest layout, better than those before; None when none comes in time.

        `over` tells whether there will be more.
        """
        try:
            line = None if self.over else self._heard.get(timeout=wait_s)
        except queue.Empty:
            return None
        last = line
        while line is not None and not self._heard.empty():
            line = self._heard.get()
            last = line or last
        self.over = line is None
        if last is None:
            return None
        length, placed = json.loads(last)
        return Found(length, tuple((int(item), turn, x, y) for item, turn, x, y in placed))

    def _listen(self) -> None:
        assert self._process.stdout is not None  # noqa: S101 - asked for above
        with self._process.stdout as lines:
            for line in lines:
                if line.endswith("\n"):  # else it was ended in the middle of a word
                    self._heard.put(line)
        self._heard.put(None)
