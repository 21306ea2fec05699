"""A worker process as the server sees it: started, woken, given an order, ended."""

from __future__ import annotations

import asyncio
import os
import signal
import sys
from collections.abc import AsyncGenerator
from contextlib import suppress

from platekit.live.messages import DONE, READY, Message, next_message

# Importing takes a second or two, on a tired machine ten.
WAKING_S = 60.0


class Mate:
    """One worker process."""

    def __init__(self, process: asyncio.subprocess.Process) -> None:
        assert process.stdin is not None  # noqa: S101  it was started with pipes
        assert process.stdout is not None  # noqa: S101
        self._process, self._orders, self._answers = process, process.stdin, process.stdout
        self._awake = False

    @classmethod
    async def start(cls) -> Mate:
        """Return a new one, which goes on importing by itself."""
        process = await asyncio.create_subprocess_exec(
            sys.executable,
            "-m",
            "platekit.live.worker",
            stdin=asyncio.subprocess.PIPE,
            stdout=asyncio.subprocess.PIPE,
            # A group of its own: Ctrl-C is for the server, and what a recipe starts ends with it.
            start_new_session=True,
        )
        return cls(process)

    async def wake(self) -> bool:
        """Wait until it is ready; return whether it is."""
        with suppress(TimeoutError):
            async with asyncio.timeout(WAKING_S):
                while not self._awake:
                    message = await next_message(self._answers)
                    if message is None:
                        return False
                    self._awake = message.kind == READY
        return self._awake

    async def do(self, order: bytes, *, run: int) -> AsyncGenerator[Message, None]:
        """Yield what it says of one run; the last is `DONE`, unless it ended on the way."""
        with suppress(ConnectionError):
            self._orders.write(order)
            await self._orders.drain()
        while (message := await next_message(self._answers)) is not None:
            if message.run == run:
                yield message
                if message.kind == DONE:
                    return

    def stop(self) -> None:
        """Ask it to leave its run and stay ready for another, where the system can ask that."""
        if os.name == "posix" and self._process.returncode is None:
            with suppress(ProcessLookupError):
                self._process.send_signal(signal.SIGINT)

    async def end(self) -> int:
        """End it at once, whatever it does, with all it started; return how it ended."""
        code = self._process.returncode
        if os.name == "posix":
            # The group outlives its leader where a recipe left something running.
            with suppress(ProcessLookupError, PermissionError):
                os.killpg(self._process.pid, signal.SIGKILL)
        elif code is None:
            with suppress(ProcessLookupError):
                self._process.kill()
        return await self._process.wait()
