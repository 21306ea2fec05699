"""Running recipes one at a time, the newest wish first, none for longer than it may take."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Mapping
from contextlib import aclosing
from dataclasses import dataclass, field
from pathlib import Path
from typing import cast

from platekit.job.options import Options
from platekit.live.desk import Desk
from platekit.live.mate import Mate
from platekit.live.messages import DONE, PROBLEM
from platekit.live.problem import Problem
from platekit.live.wish import Wish
from platekit.live.worker import order_of

# A run that is overtaken by a newer wish may come to its end if that is near.
GRACE_S = 0.3
# A run this long is worth a second process that waits, warm, for the first to be ended.
WORTH_A_SPARE_S = 0.5


@dataclass(kw_only=True)
class Runner:
    """The processes, at most one of them at work.

    Attributes:
        recipe: The file to run.
        options: What the command line gave.
        desk: Hears what comes out.
        limit_s: How long a run may take.
        done: Called after each run with the modules it imported from beside the recipe, and
            whether it went well.
    """

    recipe: Path
    options: Options
    desk: Desk
    limit_s: float
    done: Callable[[list[Path], bool], None]
    _wish: Wish | None = None
    _wished: asyncio.Event = field(default_factory=asyncio.Event)
    _mates: list[Mate] = field(default_factory=list)
    _run: int = 0
    _long: bool = False

    def ask(self, wish: Wish) -> None:
        """Run the recipe with a wish, as soon as may be; a wish not yet begun is forgotten."""
        self._wish = wish
        self._wished.set()

    async def serve(self) -> None:
        """Do what is asked for; never returns. Ends its processes when it is cancelled."""
        try:
            while True:
                await self._wished.wait()
                wish, self._wish = self._wish, None
                self._wished.clear()
                if wish is not None:
                    await self._once(wish)
                wanted = 2 if self._long else 1
                while len(self._mates) < wanted and not self._wished.is_set():
                    self._mates.append(await Mate.start())
        finally:
            # Waited for, so that nothing of ours outlives the server.
            await asyncio.gather(*(mate.end() for mate in self._mates))

    async def _once(self, wish: Wish) -> None:
        self._run += 1
        self.desk.begin(self._run)
        if not self._mates:
            self._mates.append(await Mate.start())
        mate = self._mates[0]
        clock = asyncio.get_running_loop().time
        began = clock()
        work = asyncio.create_task(self._see_through(mate, wish))
        newer = asyncio.create_task(self._wished.wait())
        try:
            await asyncio.wait({work, newer}, return_when=asyncio.FIRST_COMPLETED)
            await asyncio.wait({work}, timeout=GRACE_S)
        finally:
            newer.cancel()
            if not work.done():
                work.cancel()
                await self._end(mate)
        self._long = clock() - began > WORTH_A_SPARE_S
        problem = None if work.cancelled() or not work.done() else work.result()
        if problem is not None:
            await self._end(mate)
            self.done([], False)  # noqa: FBT003  the attribute names it
            self.desk.trouble(problem)

    async def _see_through(self, mate: Mate, wish: Wish) -> Problem | None:
        """Pass on what one run says; return why its process has to be ended, if it has."""
        if not await mate.wake():
            return self._problem("the process that runs recipes does not start")
        order = order_of(self.recipe, self.options, wish, run=self._run)
        well = True
        try:
            async with (
                asyncio.timeout(self.limit_s),
                aclosing(mate.do(order, run=self._run)) as messages,
            ):
                async for message in messages:
                    well = well and message.kind != PROBLEM
                    if message.kind == DONE:
                        said = cast("Mapping[str, list[str]]", message.said)
                        self.done([Path(one) for one in said["modules"]], well)
                        self.desk.hear(message)
                        return None
                    self.desk.hear(message)
        except TimeoutError:
            return self._problem(
                f"it was still {self.desk.stage or 'at work'} after {self.limit_s:g} s and was "
                "stopped; look for a loop without end, or give it longer: --limit"
            )
        return self._problem("it ended the process it ran in")

    def _problem(self, says: str) -> Problem:
        return Problem(says=says, file=str(self.recipe))

    async def _end(self, mate: Mate) -> None:
        if mate in self._mates:
            self._mates.remove(mate)
            await mate.end()
