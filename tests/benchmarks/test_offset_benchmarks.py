"""Compensation against a bare `shapely.buffer` of the same plate on 1 um chords.

Run with ``pytest tests/benchmarks --benchmark-only``. Each test times both in the same run and
reports their ratio in `extra_info`, beside the goal the project has set itself.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable

import pytest
import shapely
from pytest_benchmark.fixture import BenchmarkFixture

from platekit.cutting.compensate import compensate
from platekit.geometry.chains import circle
from platekit.geometry.chords import to_polygon
from platekit.geometry.motion import Motion
from platekit.geometry.profile import Profile
from tests.geometry.offset_shapes import fingers, rectangle, slot

KERF_MM = 0.2
CHORDS_MM = 1e-3


def holes(columns: int, rows: int) -> Profile:
    """Return a plate of round holes, 2 to 8 mm wide."""
    made = tuple(
        circle((14 + 14 * i, 14 + 17 * j), diameter_mm=2 + 0.5 * ((7 * i + 3 * j) % 13))
        for i in range(columns)
        for j in range(rows)
    )
    return Profile(rectangle(0, 0, 14 * columns + 20, 17 * rows + 20), made)


def finger_plate(times: int) -> Profile:
    """Return a panel of 10 by 5 fingers a side with 8 slots, or `times` as many of everything."""
    panel = fingers(width=200 * times, height=100 * times, depth=3, along=10 * times, up=5 * times)
    slots = tuple(
        rectangle(20 + 20 * i, 47 + 8 * j, 30 + 20 * i, 50 + 8 * j)
        for i in range(8)
        for j in range(times)
    )
    return Profile(panel, slots)


def slots(columns: int, rows: int) -> Profile:
    """Return a plate of round-ended slots, each turned its own way."""
    made = tuple(
        slot(length_mm=20, width_mm=4).moved(
            Motion(dx_mm=20 + 24 * i, dy_mm=16 + 23 * j, turn_deg=17.0 * i)
        )
        for i in range(columns)
        for j in range(rows)
    )
    return Profile(rectangle(0, 0, 24 * columns + 40, 23 * rows + 32), made)


def best_of(run: Callable[[], object], *, rounds: int) -> float:
    """Return the shortest of several runs, seconds."""
    times = []
    for _ in range(rounds):
        begin = time.perf_counter()
        run()
        times.append(time.perf_counter() - begin)
    return min(times)


@pytest.mark.parametrize(
    ("plate", "at_most"),
    [
        pytest.param(holes(20, 10), 0.2, id="200 holes"),
        pytest.param(finger_plate(1), 5.0, id="finger plate"),
        pytest.param(slots(40, 25), 5.0, id="1000 slots"),
        pytest.param(holes(50, 40), 0.2, id="2000 holes"),
        pytest.param(finger_plate(10), 5.0, id="ten times the fingers"),
    ],
)
def test_compensation_against_a_bare_buffer(
    benchmark: BenchmarkFixture, plate: Profile, at_most: float
) -> None:
    """Exact compensation against an inexact buffer; reported, never a timed assert."""
    polygon = to_polygon(plate, tolerance_mm=CHORDS_MM)
    reach = KERF_MM / 2
    quarter = math.ceil(math.pi / 4 / math.acos(1 - CHORDS_MM / reach))
    bare = best_of(lambda: shapely.buffer(polygon, reach, quad_segs=quarter), rounds=15)

    def compensated() -> Profile:
        # A fresh profile: nothing cached from the round before may help.
        return compensate(Profile(plate.outer, plate.inners), kerf_mm=KERF_MM).profile

    mine = best_of(compensated, rounds=15)
    benchmark(compensated)
    benchmark.extra_info["ratio"] = round(mine / bare, 3)
    benchmark.extra_info["bare_ms"] = round(1e3 * bare, 3)
    benchmark.extra_info["goal"] = at_most
    assert compensated().area_mm2 > plate.area_mm2
