"""What the checks cost: on the flagship by family, and how it grows with the joints.

Run with ``pytest tests/benchmarks --benchmark-only``. The baseline draws the same number of
normal figures by numpy alone, once for each joint. Nothing here fails for being slow.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from platekit import Assembly, Plate, birch_plywood, load, lying, rectangle, standing
from platekit.checks.check import FAMILIES
from platekit.checks.examine import examine
from platekit.checks.subject import DRAWS, Piece, Subject
from platekit.cutting.compensate import compensate
from platekit.job.recipe import load_recipe
from platekit.job.resolving import resolved
from platekit.materials import beam_for
from tests.benchmarks.stopwatch import best_s

RECIPES = Path(__file__).parents[2] / "recipes"


def subject_of(whole: Assembly) -> Subject:
    """Return an assembly as the checks see it."""
    given = resolved(whole)
    pieces = tuple(
        Piece(
            part=part,
            path=compensate(part.profile, kerf_mm=beam_for(part.sheet).kerf_mm).profile,
            kerf_mm=beam_for(part.sheet).kerf_mm,
            features=tuple(given.named.get(part.name, ())),
        )
        for part in given.parts
    )
    return Subject(pieces=pieces, whole=given.whole)


def bare(joints: int) -> Callable[[], object]:
    """Return the drawing of as many normal figures as that many joints ask for."""
    chance = np.random.default_rng(0)
    return lambda: [chance.normal(size=DRAWS).mean() for _ in range(joints)]


@pytest.fixture(scope="module")
def flagship() -> Subject:
    """The dish rotator."""
    taken = load_recipe(RECIPES / "dish_rotator.py")
    return subject_of(taken.call(taken.sheet, values={}))


@pytest.mark.parametrize("family", ["all", *FAMILIES])
def test_the_flagship(family: str, flagship: Subject, benchmark: BenchmarkFixture) -> None:
    """All checks of a family, 10 000 draws a joint; values are remembered between no two runs."""
    skip = [] if family == "all" else [one for one in FAMILIES if one != family]
    report = benchmark.pedantic(
        lambda: examine(replace(flagship), skip=skip), rounds=3, warmup_rounds=0, iterations=1
    )
    assert len(report.weighed) > 10
    joints = len(flagship.whole[1].joints)
    ratio = benchmark.stats.stats.min / best_s(bare(joints), rounds=3)
    benchmark.extra_info["ratio to bare draws"] = round(ratio, 1)
    benchmark.extra_info["weighed"] = len(report.weighed)


def shelves(count: int) -> Assembly:
    """Return a rack of `count` boards between two sides, a weight on each."""
    sheet = birch_plywood(6.0)
    high = 60.0 * count + 40
    sides = [
        standing(Plate(f"{side} side", sheet, rectangle(200, high)), facing=side, **at)
        for side, at in (("left", {}), ("right", {"right_mm": 400.0}))
    ]
    boards = [
        lying(Plate(f"board {k}", sheet, rectangle(400, 180)), bottom_mm=60.0 * k + 20)
        for k in range(count)
    ]
    return (
        Assembly("rack")
        .with_panels(*sides, *boards)
        .with_loads(*(load(f"board {k}", mass_kg=2.0, name=f"kit {k}") for k in range(count)))
    )


@pytest.mark.parametrize("count", [5, 10, 20, 40])
def test_growth_with_joints(count: int, benchmark: BenchmarkFixture) -> None:
    """Twice the boards, twice the joints: about twice the time."""
    rack = subject_of(shelves(count))
    joints = len(rack.whole[1].joints)
    assert joints == 2 * count
    report = benchmark.pedantic(lambda: examine(rack), rounds=3, warmup_rounds=0, iterations=1)
    assert report.weighed
    benchmark.extra_info["ms a joint"] = round(1e3 * benchmark.stats.stats.min / joints, 2)
    benchmark.extra_info["ratio to bare draws"] = round(
        benchmark.stats.stats.min / best_s(bare(joints), rounds=3), 1
    )
