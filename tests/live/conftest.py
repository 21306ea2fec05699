"""A live server in a process of its own, as a user starts it, and ways to speak with it."""

from __future__ import annotations

import http.client
import json
import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from textwrap import dedent
from urllib.parse import urlsplit

import pytest

HEAD = """\
from platekit import Assembly, Plate, Sheet, birch_plywood, hole, lying, rectangle, standing

"""

# Two holes of 6 mm: 7 mm apart they leave a web of 1 mm, less than a thickness.
HOLES = """
def base(
    sheet: Sheet = birch_plywood(6.0), *, apart_mm: float = 30.0, width_mm: float = 100.0
) -> Plate:
    \"\"\"Two holes.

    Args:
        sheet: What it is cut from.
        apart_mm: From hole to hole.
        width_mm: Overall.
    \"\"\"
    plate = Plate("base", sheet, rectangle(width_mm, 80.0))
    return plate.with_features(
        hole(6.0, at=(30.0, 40.0), name="left"), hole(6.0, at=(30.0 + apart_mm, 40.0), name="right")
    )
"""
PATIENCE_S = 30.0


@dataclass
class Live:
    """A running ``platekit show``."""

    process: subprocess.Popen[str]
    address: str
    recipe: Path
    said: list[str] = field(default_factory=list)
    reader: threading.Thread | None = None

    def read(self) -> None:
        """Gather what it says, so that it never waits for a reader."""
        assert self.process.stdout is not None
        with self.process.stdout as stream:
            self.said.extend(stream)

    @property
    def port(self) -> int:
        """Where it listens."""
        return int(urlsplit(self.address).port or 0)

    @property
    def key(self) -> str:
        """What stands before every path."""
        return urlsplit(self.address).path.strip("/")

    def ask(self, method: str, path: str, body: bytes | None = None, **headers: str):
        """Return status, headers and body of one request below the key; `_` in names is `-`."""
        line = http.client.HTTPConnection("127.0.0.1", self.port, timeout=10)
        try:
            line.request(
                method,
                f"/{self.key}/{path}",
                body,
                {name.replace("_", "-"): value for name, value in headers.items()},
            )
            answer = line.getresponse()
            return answer.status, dict(answer.getheaders()), answer.read()
        finally:
            line.close()

    def get(self, path: str):
        """Return the JSON at a path."""
        status, _, body = self.ask("GET", path)
        assert status == 200
        return json.loads(body)

    def wish(self, **wish: object) -> int:
        """Send a wish; return the status."""
        text = json.dumps(wish).encode()
        return self.ask("POST", "wish", text, Content_Type="application/json")[0]

    def save(self, text: str, *, head: str = HEAD) -> None:
        """Save the recipe, as an editor does."""
        self.recipe.write_text(head + dedent(text), encoding="utf-8")

    def status(self) -> dict:
        """Return the first news of a listener that comes now."""
        line = http.client.HTTPConnection("127.0.0.1", self.port, timeout=10)
        try:
            line.request("GET", f"/{self.key}/events")
            answer = line.getresponse()
            assert answer.getheader("content-type", "").startswith("text/event-stream")
            return json.loads(answer.readline().removeprefix(b"data: "))
        finally:
            line.close()

    def until(self, holds, *, patience_s: float = PATIENCE_S) -> dict:
        """Return the first status for which `holds`."""
        end = time.monotonic() + patience_s
        while True:
            status = self.status()
            if holds(status):
                return status
            assert time.monotonic() < end, status
            time.sleep(0.05)

    def settled(self, *, after: int = 0) -> dict:
        """Return the status once a run later than `after` has come to its end."""
        return self.until(lambda one: one["run"] > after and one["stage"] == "")

    def away(self) -> None:
        """End it, whatever it does."""
        if self.process.poll() is None:
            self.process.kill()
            self.process.wait(PATIENCE_S)
        assert self.reader is not None
        self.reader.join(PATIENCE_S)

    def end(self) -> int:
        """Press Ctrl-C; return the exit status."""
        self.process.send_signal(signal.SIGINT)
        status = self.process.wait(PATIENCE_S)
        assert self.reader is not None
        self.reader.join(PATIENCE_S)
        return status


def show(folder: Path, text: str, *words: str, name: str = "base.py", head: str = HEAD) -> Live:
    """Return a recipe on show, its first line heard."""
    path = folder / name
    path.write_text(head + dedent(text), encoding="utf-8")
    process = subprocess.Popen(
        [sys.executable, "-m", "platekit", "show", str(path), "--no-browser", *words],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        cwd=folder,
        # Whose tests these are is none of the user's affairs: the secret is kept beside them.
        env={**os.environ, "XDG_STATE_HOME": str(folder)},
    )
    assert process.stdout is not None
    first = process.stdout.readline()
    assert " is shown at http://127.0.0.1:" in first, first
    one = Live(process, first.split(" at ")[1].strip(), path)
    one.reader = threading.Thread(target=one.read, daemon=True)
    one.reader.start()
    return one


@contextmanager
def showing(folder: Path, text: str, *words: str, name: str = "base.py") -> Iterator[Live]:
    """Show a recipe for a while."""
    one = show(folder, text, *words, name=name)
    try:
        yield one
    finally:
        one.away()


@pytest.fixture
def live(tmp_path) -> Iterator:
    """A way to show a recipe; what was started is ended."""
    started: list[Live] = []

    def shown(text: str, *words: str, name: str = "base.py", head: str = HEAD) -> Live:
        started.append(show(tmp_path, text, *words, name=name, head=head))
        return started[-1]

    yield shown
    for one in started:
        one.away()
