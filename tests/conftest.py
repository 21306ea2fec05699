"""How a run of the tests is set up: by how many hands, and how far random examples go."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import settings

from tests.amounts import ask_for_all


def pytest_addoption(parser: pytest.Parser) -> None:
    """Let a run ask for every random example."""
    parser.addoption(
        "--thorough",
        action="store_true",
        help="draw the full number of random examples: before a release",
    )


def pytest_configure(config: pytest.Config) -> None:
    """Draw the same examples on every computer, and never hurry one that is busy."""
    ask_for_all(asked=config.getoption("thorough"))
    settings.register_profile("platekit", derandomize=True, deadline=None, database=None)
    settings.load_profile("platekit")


def pytest_xdist_auto_num_workers(config: pytest.Config) -> int:
    """Use every core for whole folders; a file or two, and benchmarks, run in one process."""
    named = [str(one).partition("::") for one in config.args]
    few = bool(named) and all(inside or Path(path).is_file() for path, _, inside in named)
    if few or config.getoption("benchmark_only", default=False):
        return 0
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
