"""Running recipes one at a time, the newest wish first, none for longer than it may take."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Mapping
from contextlib import aclosing
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import cast

from platekit.job.options import Options
from platekit.live.desk import Desk
from platekit.live.mate import Mate
from platekit.live.messages import CONTENT, DONE, PROBLEM
from platekit.live.problem import Problem, read_problem
from platekit.live.wish import Wish
from platekit.live.worker import order_of

# A run that is overtaken by a newer wish may come to its end if that is near, or at least to its
# first picture: whoever drags a slider wants to see something move.
GRACE_S, FIRST_PICTURE_S = 0.3, 2.0
# Asked to stop, most runs do at once; one that does not is ended with its process.
STOPPING_S = 0.7
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
        done: Called after each run with the files it consists of (modules imported from beside
            the recipe, tables it read), and whether it went well.
    """

    recipe: Path
    options: Options
    desk: Desk
    limit_s: float
    done: Callable[[list[Path], bool], None]
    _wish: Wish | None = None
    _wished: asyncio.Event = field(default_factory=asyncio.Event)
    _pictured: asyncio.Event = field(default_factory=asyncio.Event)
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
        if not await mate.wake():
            await self._give_up(mate, "the process that runs recipes does not start")
            return
        if self._wish is not None:  # a newer one has come meanwhile
            wish, self._wish = self._wish, None
            self._wished.clear()
        clock = asyncio.get_running_loop().time
        began = clock()
        self._pictured.clear()
        work = asyncio.create_task(self._see_through(mate, wish))
        try:
            in_time = await self._wait_for(work)
            stage = self.desk.stage or "at work"
            if not work.done():
                mate.stop()
                await asyncio.wait({work}, timeout=STOPPING_S)
        finally:
            if not work.done():
                work.cancel()
        self._long = clock() - began > WORTH_A_SPARE_S
        ended = await asyncio.gather(work, return_exceptions=True)
        said = ended[0] if isinstance(ended[0], Mapping) else None
        if not in_time:
            says = (
                f"it was still {stage} after {self.limit_s:g} s and was stopped; look for a loop "
                "without end, or give it longer: --limit"
            )
            if said is None:
                await self._give_up(mate, says)
            else:
                self.desk.trouble(replace(read_problem(said["stopped_at"]), says=says))
        elif said is None and self._wished.is_set():
            await self._end(mate)
        elif said is None:
            await self._give_up(mate, "it ended the process it ran in")

    async def _wait_for(self, work: asyncio.Task[Mapping[str, object] | None]) -> bool:
        """Wait until a run is over, too old or too long; return whether it kept to its time."""
        newer = asyncio.create_task(self._wished.wait())
        pictured = asyncio.create_task(self._pictured.wait())
        try:
            await asyncio.wait(
                {work, newer}, timeout=self.limit_s, return_when=asyncio.FIRST_COMPLETED
            )
            if not work.done() and newer.done():
                await asyncio.wait({work}, timeout=GRACE_S)
                await asyncio.wait(
                    {work, pictured}, timeout=FIRST_PICTURE_S, return_when=asyncio.FIRST_COMPLETED
                )
            return work.done() or newer.done()
        finally:
            newer.cancel()
            pictured.cancel()

    async def _see_through(self, mate: Mate, wish: Wish) -> Mapping[str, object] | None:
        """Pass on what one run says; return its last word, None where it ended without."""
        order = order_of(self.recipe, self.options, wish, run=self._run)
        well = True
        async with aclosing(mate.do(order, run=self._run)) as messages:
            async for message in messages:
                well = well and message.kind != PROBLEM
                if message.kind == CONTENT:
                    self._pictured.set()
                if message.kind == DONE:
                    said = cast("Mapping[str, object]", message.said)
                    files = cast("list[str]", said["files"])
                    well = well and said["stopped_at"] is None
                    self.done([Path(one) for one in files], well)
                    if said["stopped_at"] is None:
                        self.desk.hear(message)
                    return said
                self.desk.hear(message)
        return None

    async def _give_up(self, mate: Mate, says: str) -> None:
        """End a process and tell why nothing came of it."""
        await self._end(mate)
        self.done([], False)  # noqa: FBT003  the attribute names it
        self.desk.trouble(Problem(says=says, file=str(self.recipe)))

    async def _end(self, mate: Mate) -> None:
        if mate in self._mates:
            self._mates.remove(mate)
            await mate.end()
