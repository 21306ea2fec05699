"""Effort: how a stretch of time is spent by the solver."""

from __future__ import annotations

import math

from platekit.nesting.outlines.solving import START_S, Effort

# Threads that are put to work at once.
CORES = 2

# Share of the time in which the best arrangement is pressed together.
COMPRESS_SHARE = 0.22


def effort_for(seconds: float, *, workers: int, seed: int) -> Effort:
    """Return how to spend a time: the solver takes whole seconds, and is ended when it is up."""
    useful = max(seconds - START_S, 1.0)
    explore = max(math.floor(useful * (1.0 - COMPRESS_SHARE)), 1)
    return Effort(explore, max(math.ceil(useful - explore), 1), workers, seed)
