"""What is to be seen right now, and who waits to hear of it."""

from __future__ import annotations

import asyncio
import json
import secrets
import time
from collections.abc import AsyncIterator, Callable, Mapping
from dataclasses import dataclass, field
from typing import cast

from platekit.live.messages import CONTENT, CONTROLS, DONE, PROBLEM, STAGE, Message
from platekit.live.problem import Problem, read_problem
from platekit.version import VERSION

# Even when nothing happens a word goes out now and then, so that both ends notice a dead line.
PULSE_S = 10.0
# A browser whose line broke knocks again after so long.
RETRY_MS = 1000
STARTING = "starting"


@dataclass(kw_only=True)
class Desk:
    """What the page is told: the last good picture, the controls, how the latest run goes.

    Attributes:
        content: The last good content, as JSON; empty before there is one.
        depth: How deep the last good content goes: drawn, weighed, laid or proved.
        controls: The controls, as JSON; ``null`` before a recipe could be read.
        stage: What goes on; empty while nothing does.
        problem: Why the latest run showed nothing new; None when it did.
        printed: What the recipe printed when it last came to its end.
        told: Called with each problem as it comes up.
        born: Tells this server from one before it: its numbers begin anew.
    """

    content: bytes = b""
    depth: str = ""
    controls: bytes = b"null"
    stage: str = STARTING
    problem: Problem | None = None
    printed: str = ""
    told: Callable[[Problem], None] = lambda _problem: None
    born: str = field(default_factory=lambda: secrets.token_hex(8))
    _contents: int = 0
    _controls: int = 0
    _content_run: int = -1
    _run: int = 0
    _began: float = field(default_factory=time.monotonic)
    _first_s: float | None = None
    _whole_s: float | None = None
    _beat: asyncio.Event = field(default_factory=asyncio.Event)
    _closed: bool = False

    def begin(self, run: int) -> None:
        """Note that a run begins."""
        self._run, self._began, self.stage = run, time.monotonic(), STARTING
        self._first_s = self._whole_s = None
        self._tell()

    def hear(self, message: Message) -> None:
        """Take in what the latest run says."""
        if message.kind == STAGE:
            if self.stage == STARTING:  # waking a process is not the recipe's time
                self._began = time.monotonic()
            self.stage = str(message.said)
        elif message.kind == CONTROLS:
            self.controls, self._controls = message.body, self._controls + 1
        elif message.kind == CONTENT:
            self._take(message)
        elif message.kind == PROBLEM:
            self.problem = read_problem(message.said)
            self.told(self.problem)
        elif message.kind == DONE:
            self.stage = ""
            self.printed = str(cast("Mapping[str, object]", message.said)["printed"])
            self._whole_s = time.monotonic() - self._began
        self._tell()

    def trouble(self, problem: Problem) -> None:
        """Note why the latest run shows nothing new; the last good content stays."""
        self.problem, self.stage = problem, ""
        self._tell()
        self.told(problem)

    def status(self) -> dict[str, object]:
        """Return what the page needs to know at once; the rest it fetches by number."""
        return {
            "born": self.born,
            "platekit": VERSION,
            "run": self._run,
            "stage": self.stage,
            "problem": None if self.problem is None else self.problem.plain(),
            "printed": self.printed,
            "content": self._contents,
            "depth": self.depth,
            # Whether what is seen is of an earlier recipe or an earlier wish.
            "old": bool(self._contents) and self._content_run != self._run,
            "controls": self._controls,
            "first_s": self._first_s,
            "whole_s": self._whole_s,
        }

    async def news(self) -> AsyncIterator[dict[str, object]]:
        """Yield the status now and whenever it changes, until the desk is closed."""
        while not self._closed:
            beat = self._beat
            yield self.status()
            try:
                async with asyncio.timeout(PULSE_S):
                    await beat.wait()
            except TimeoutError:
                continue

    def close(self) -> None:
        """End every wait for news."""
        self._closed = True
        self._tell()

    def _take(self, message: Message) -> None:
        # The body is {"depth":"...","content":{...}}, too long to be read through for a word.
        head = message.body[:40].decode("ascii", "replace")
        self.depth = head.split('"')[3]
        self.content, self._contents = message.body, self._contents + 1
        self._content_run, self.problem = message.run, None
        if self._first_s is None:
            self._first_s = time.monotonic() - self._began

    def _tell(self) -> None:
        beat, self._beat = self._beat, asyncio.Event()
        beat.set()


def as_event(status: dict[str, object]) -> str:
    """Return a status as one server-sent event (WHATWG HTML, section 9.2)."""
    return f"data: {json.dumps(status, allow_nan=False)}\nretry: {RETRY_MS}\n\n"
