"""Exact booleans against bare shapely on 1 um chords, and how often they fall back to polylines.

Run with ``pytest tests/benchmarks --benchmark-only``. The bare operation gets its polygons ready
made and gives back polygons: no arcs, no proof. Nothing here fails for being slow.
"""

from __future__ import annotations

import math
import random
import warnings
from collections import Counter
from collections.abc import Callable, Sequence

import pytest
import shapely
from pytest_benchmark.fixture import BenchmarkFixture

from platekit.errors import ApproximationWarning
from platekit.geometry.booleans import difference, intersection, single, union
from platekit.geometry.chains import circle
from platekit.geometry.chords import to_polygon
from platekit.geometry.curves import Arc
from platekit.geometry.profile import Profile
from tests.benchmarks.stopwatch import best_s
from tests.geometry.awkward import d_ring, rectangle_ring, slot_ring

CHORDS_MM = 1e-3
OPERATIONS = {"union": union, "difference": difference, "intersection": intersection}
DESIGNS = 8000  # for each grid
GRIDS_MM = (0.5, 1.0, 2.0)
CHECKED_EACH = 20  # one design in so many is compared with shapely on 0.01 um chords


def holes(count: int) -> tuple[Profile, list[Profile]]:
    """Return a plate and `count` round holes in it, 2 to 8 mm wide."""
    rows = count // 20
    cut = [
        Profile(circle((14 + 14 * i, 14 + 17 * j), diameter_mm=2 + 0.5 * ((7 * i + 3 * j) % 13)))
        for i in range(20)
        for j in range(rows)
    ]
    return Profile(rectangle_ring(0, 0, 300, 17 * rows + 20)), cut


def fingers(times: int) -> tuple[Profile, list[Profile]]:
    """Return a panel and its fingers' gaps, 10 by 5 a side, with 8 slots; or `times` as many."""
    width, height = 200.0 * times, 100.0
    cut = [
        Profile(rectangle_ring(20 * k + 5, y, 10, 6))
        for k in range(10 * times)
        for y in (-3, height - 3)
    ]
    cut += [
        Profile(rectangle_ring(x, 20 * k + 5, 6, 10)) for k in range(5) for x in (-3, width - 3)
    ]
    cut += [Profile(rectangle_ring(25 * k + 12, 47, 10, 6)) for k in range(8 * times)]
    return Profile(rectangle_ring(0, 0, width, height)), cut


def slots(count: int) -> tuple[Profile, list[Profile]]:
    """Return a plate and `count` round-ended slots in it, each turned its own way."""
    rows = count // 40
    cut = [
        Profile(slot_ring(20 + 24 * i, 16 + 23 * j, 20, 4, 17.0 * i))
        for i in range(40)
        for j in range(rows)
    ]
    return Profile(rectangle_ring(0, 0, 1000, 23 * rows + 32)), cut


def crossing_slots(count: int) -> tuple[Profile, list[Profile]]:
    """Return a plate and `count` slots that open its two long edges: each must be cut for real."""
    half = count // 2
    cut = [
        Profile(slot_ring(20 + 24 * i, y, 20, 4, 90.0 + 5 * (i % 7)))
        for i in range(half)
        for y in (0.0, 60.0)
    ]
    return Profile(rectangle_ring(0, 0, 24 * half + 20, 60)), cut


@pytest.mark.parametrize(
    ("design", "count"),
    [
        pytest.param(holes, 200, id="200 holes"),
        pytest.param(holes, 2000, id="2000 holes"),
        pytest.param(fingers, 1, id="finger plate"),
        pytest.param(fingers, 10, id="ten times the fingers"),
        pytest.param(slots, 1000, id="1000 slots"),
        pytest.param(crossing_slots, 100, id="100 slots across the edge"),
        pytest.param(crossing_slots, 1000, id="1000 slots across the edge"),
    ],
)
def test_cutting_against_a_bare_difference(
    design: Callable[[int], tuple[Profile, list[Profile]]], count: int, benchmark: BenchmarkFixture
) -> None:
    """One n-ary difference, exact, against one of ready-made polygons."""
    plate, cut = design(count)
    body = to_polygon(plate, tolerance_mm=CHORDS_MM)
    tools = [to_polygon(tool, tolerance_mm=CHORDS_MM) for tool in cut]
    bare = best_s(lambda: shapely.difference(body, shapely.union_all(tools)))

    def ours() -> tuple[Profile, ...]:
        # Fresh profiles: nothing cached from the round before may help.
        fresh = [Profile(tool.outer) for tool in cut]
        return difference(Profile(plate.outer), *fresh)

    result = single(benchmark.pedantic(ours, rounds=5, warmup_rounds=1), after="cutting")
    wanted = shapely.difference(body, shapely.union_all(tools))
    assert abs(result.area_mm2 - wanted.area) < CHORDS_MM * result.length_mm
    whole = benchmark.stats.stats.min
    benchmark.extra_info["ratio to bare shapely"] = round(whole / bare, 2)
    benchmark.extra_info["ms"] = round(1e3 * whole, 2)
    benchmark.extra_info["bare ms"] = round(1e3 * bare, 2)


def test_forty_chained_operations(benchmark: BenchmarkFixture) -> None:
    """Bite and refill, forty times over, each result the next one's operand."""
    bites = [Profile(circle((-20 + 2 * k, 10), diameter_mm=7)) for k in range(20)]
    start = Profile(slot_ring(0, 0, 60, 20))

    def exact() -> Profile:
        shape = start
        for bite in bites:
            shape = single(difference(shape, bite), after="biting")
            shape = single(union(shape, bite), after="refilling")
        return shape

    polygons = [to_polygon(bite, tolerance_mm=CHORDS_MM) for bite in bites]
    first = to_polygon(start, tolerance_mm=CHORDS_MM)

    def on_chords() -> shapely.Geometry:
        shape: shapely.Geometry = first
        for polygon in polygons:
            shape = shape.difference(polygon).union(polygon)
        return shape

    bare = best_s(on_chords)
    shape = benchmark.pedantic(exact, rounds=5, warmup_rounds=1)
    radii = {s.radius_mm for s in shape.outer.segments if isinstance(s, Arc)}
    assert radii <= {10.0, 3.5}
    whole = benchmark.stats.stats.min
    benchmark.extra_info["ratio to bare shapely"] = round(whole / bare, 2)
    benchmark.extra_info["ms"] = round(1e3 * whole, 1)


def drawn_on(grid_mm: float, rng: random.Random) -> Profile:
    """Return a circle, rectangle, slot or D whose numbers all lie on a grid."""

    def number(low: float, high: float) -> float:
        return grid_mm * rng.randint(math.ceil(low / grid_mm), math.floor(high / grid_mm))

    x, y = number(-20, 20), number(-20, 20)
    kind = rng.randrange(4)
    if kind == 0:
        return Profile(circle((x, y), diameter_mm=number(1, 30)))
    if kind == 1:
        return Profile(rectangle_ring(x, y, number(1, 30), number(1, 30)))
    if kind == 2:
        angle = rng.choice((0.0, 90.0, 45.0))
        return Profile(slot_ring(x, y, number(6, 26), number(1, 5), angle))
    radius = number(2, 10)
    return Profile(d_ring(x, y, radius, radius * rng.choice((-0.5, 0.0, 0.4))))


def wrong_area(operation: str, operands: Sequence[Profile], result: Sequence[Profile]) -> bool:
    """Return whether a result is further from shapely's, on 0.01 um chords, than chords can be."""
    first, *rest = (to_polygon(profile, tolerance_mm=1e-5) for profile in operands)
    if operation == "union":
        wanted = shapely.union_all([first, *rest])
    elif operation == "difference":
        wanted = first.difference(shapely.union_all(rest))
    else:
        wanted = first
        for other in rest:
            wanted = wanted.intersection(other)
    area = sum(piece.area_mm2 for piece in result)
    return abs(area - wanted.area) > 5e-5 * max(wanted.length, 1.0)


@pytest.mark.parametrize("grid_mm", GRIDS_MM)
def test_how_often_a_boolean_falls_back(grid_mm: float, benchmark: BenchmarkFixture) -> None:
    """Random designs whose edges coincide and touch a lot: the warned polylines, counted.

    Those that fell back and one in twenty of the rest are compared with a fine overlay.
    """
    rng = random.Random(f"grid {grid_mm:g}")  # noqa: S311
    fallen: Counter[str] = Counter()
    wrong: list[object] = []

    def count() -> None:
        for k in range(DESIGNS):
            operation = rng.choice(sorted(OPERATIONS))
            operands = [drawn_on(grid_mm, rng) for _ in range(rng.randint(2, 5))]
            with warnings.catch_warnings(record=True) as said:
                warnings.simplefilter("always", ApproximationWarning)
                result = OPERATIONS[operation](*operands)
            fell = any(issubclass(one.category, ApproximationWarning) for one in said)
            fallen[operation] += fell
            if (fell or k % CHECKED_EACH == 0) and wrong_area(operation, operands, result):
                wrong.append((operation, operands))

    benchmark.pedantic(count, rounds=1)
    total = fallen.total()
    benchmark.extra_info["fell back"] = f"{total} of {DESIGNS}"
    benchmark.extra_info["one in"] = round(DESIGNS / total) if total else "none"
    benchmark.extra_info["by operation"] = dict(fallen)
    assert not wrong
