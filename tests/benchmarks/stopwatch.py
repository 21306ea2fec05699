"""Stopwatch: the shortest of several runs, and where the time of one goes."""

from __future__ import annotations

import time
from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from types import ModuleType

import pytest


def best_s(work: Callable[[], object], *, rounds: int = 5) -> float:
    """Return the shortest of several runs, seconds: the others were disturbed."""
    times = []
    for _ in range(rounds):
        before = time.perf_counter()
        work()
        times.append(time.perf_counter() - before)
    return min(times)


class StageWatch:
    """Adds up the time spent in functions that a module calls by name.

    Args:
        module: Where the names are looked up.
        stages: Names of functions by stage; they must not call each other.
        patch: Puts the functions back when the test ends.
    """

    def __init__(
        self,
        module: ModuleType,
        stages: Mapping[str, Sequence[str]],
        *,
        patch: pytest.MonkeyPatch,
    ) -> None:
        self.seconds: dict[str, float] = defaultdict(float)
        for stage, names in stages.items():
            for name in names:
                patch.setattr(module, name, self.timed(stage, getattr(module, name)))

    def timed(self, stage: str, function: Callable[..., object]) -> Callable[..., object]:
        """Return `function` with its time added to `stage`."""

        def watched(*given: object, **named: object) -> object:
            before = time.perf_counter()
            try:
                return function(*given, **named)
            finally:
                self.seconds[stage] += time.perf_counter() - before

        return watched
