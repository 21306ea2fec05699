"""How the process that runs recipes speaks with the server: a line with a length, then a body.

::

    content 7 123456     kind, number of the run, length of the body in bytes; a line's end
    ...123456 bytes of JSON

The other way goes one line of JSON for each run.
"""

from __future__ import annotations

import asyncio
import json
import os
from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass
from typing import BinaryIO

# More than any page can show; a length beyond it is no message of ours.
LONGEST = 1 << 28

READY, CONTROLS, STAGE, CONTENT, PROBLEM, DONE = (
    "ready", "controls", "stage", "content", "problem", "done",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Message:
    """One thing a run has to say.

    Attributes:
        kind: One of the words above.
        run: Number of the run it belongs to.
        body: JSON.
    """

    kind: str
    run: int
    body: bytes

    @property
    def said(self) -> object:
        """The body as plain data."""
        value: object = json.loads(self.body)
        return value


class Speaker:
    """The writing end.

    Args:
        stream: Where it writes.
        undisturbed: Keeps interrupts out while a message is on its way: half of one is none.
    """

    def __init__(
        self,
        stream: BinaryIO,
        *,
        undisturbed: Callable[[], AbstractContextManager[None]] = nullcontext,
    ) -> None:
        self._stream = stream
        self._undisturbed = undisturbed

    def say(self, kind: str, run: int, said: object = None) -> None:
        """Send one message."""
        # Without NaN and Infinity, which a browser's reader refuses.
        body = json.dumps(said, allow_nan=False, separators=(",", ":")).encode()
        with self._undisturbed():
            try:
                self._stream.write(f"{kind} {run} {len(body)}\n".encode() + body)
                self._stream.flush()
            except BrokenPipeError:
                os._exit(0)  # the server has gone: nobody is left to tell


async def next_message(stream: asyncio.StreamReader) -> Message | None:
    """Return the next message; None when the other end has gone, or speaks in tongues."""
    try:
        kind, run, length = (await stream.readline()).split()
        if int(length) > LONGEST:
            return None
        body = await stream.readexactly(int(length))
        return Message(kind.decode(), int(run), body)
    except (ValueError, asyncio.IncompleteReadError, ConnectionError):
        return None
