"""A worker that is stopped at any moment says its last word properly and takes the next order."""

from __future__ import annotations

import asyncio
import json
import os
import random
from textwrap import dedent

import pytest

from platekit.job.options import Options
from platekit.live.mate import Mate
from platekit.live.messages import CONTENT, DONE, PROBLEM
from platekit.live.wish import Wish
from platekit.live.worker import order_of
from tests.live.conftest import HEAD, HOLES

pytestmark = pytest.mark.skipif(os.name != "posix", reason="stopping needs a signal")


@pytest.fixture
def recipe(tmp_path):
    """A plate that takes its time, in small bits."""
    slow = "sum(range(1000)) for _ in range(15_000)"
    path = tmp_path / "base.py"
    text = HEAD + dedent(HOLES).replace("plate = Plate", f"list({slow})\n    plate = Plate")
    path.write_text(text, encoding="utf-8")
    return path


def test_stopped_at_any_moment_it_takes_the_next_order(recipe):
    """Thirty runs stopped after 0 to 150 ms (seeded); every message whole, every run ended.

    A message cut in two would make the reader lose its place for good.
    """
    chance = random.Random(6)  # noqa: S311  moments, no secrets

    async def work() -> list[str]:
        mate = await Mate.start()
        ends = []
        try:
            assert await mate.wake()
            for run in range(1, 31):
                order = order_of(recipe, Options(), Wish(), run=run)
                loop = asyncio.get_running_loop()
                loop.call_later(chance.uniform(0.0, 0.15), mate.stop)
                kinds = []
                async for message in mate.do(order, run=run):
                    json.loads(message.body)
                    kinds.append(message.kind)
                    last = message
                assert kinds[-1] == DONE
                assert PROBLEM not in kinds
                stopped = last.said["stopped_at"] is not None
                ends.append("stopped" if stopped else "whole")
            kinds = [
                one.kind
                async for one in mate.do(order_of(recipe, Options(), Wish(), run=99), run=99)
            ]
            assert kinds.count(CONTENT) >= 2
            assert kinds[-1] == DONE
        finally:
            await mate.end()
        return ends

    assert "stopped" in asyncio.run(asyncio.wait_for(work(), 60))


def test_where_it_was_stopped_is_told(recipe):
    """The innermost line of the recipe's own, be it deep in something else."""
    text = recipe.read_text(encoding="utf-8")
    there = recipe.with_name("there")
    text = text.replace("sum(range(1000)) for", "sum(range(10**7)) for")
    text = text.replace("list(sum", f"open({str(there)!r}, 'w').close()\n    list(sum")
    recipe.write_text(text, encoding="utf-8")

    async def stop_once_there(mate: Mate) -> None:
        while not there.exists():  # noqa: ASYNC110  a disk tells nobody
            await asyncio.sleep(0.01)
        mate.stop()

    async def work() -> dict:
        mate = await Mate.start()
        try:
            assert await mate.wake()
            stopping = asyncio.create_task(stop_once_there(mate))
            order = order_of(recipe, Options(), Wish(), run=1)
            said = [one async for one in mate.do(order, run=1)]
            await stopping
            return said[-1].said["stopped_at"]
        finally:
            await mate.end()

    place = asyncio.run(asyncio.wait_for(work(), 60))
    lines = recipe.read_text(encoding="utf-8").splitlines()
    # It may be caught on its way there, between the file and the loop.
    assert place["line"] - 1 in [
        k for k, one in enumerate(lines) if "range(10**7)" in one or "there" in one
    ]
    assert place["file"] == str(recipe)
