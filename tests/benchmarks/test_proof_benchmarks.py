"""How the proof of a rig grows with its hardware, against the kernel's own work on its bodies.

Run with ``pytest tests/benchmarks --benchmark-only``. The bare work unites the same bodies once,
which any proof has to look at. Nothing here fails for being slow.
"""

from __future__ import annotations

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from platekit.assembly.proof import Thing, prove
from platekit.assembly.solids import union_solid
from tests.assembly.proof.rigs import bar, brick, screw
from tests.benchmarks.stopwatch import best_s


def bolted_plate(count: int) -> list[Thing]:
    """Return a tray with a plate held down in it by `count` screws, and a lid over all."""
    rows = count // 10
    long, deep = 30.0 * 10 + 40, 30.0 * rows + 40
    spots = [(35.0 + 30 * i, 35.0 + 30 * j) for i in range(10) for j in range(rows)]
    floor = bar((0, 0, 0), (long, deep, 12), holes=[(x, y, 5.0) for x, y in spots])
    walls = [
        bar((0, 0, 12), (long, 6, 60)),
        bar((0, deep - 6, 12), (long, deep, 60)),
        bar((0, 6, 12), (6, deep - 6, 60)),
        bar((long - 6, 6, 12), (long, deep - 6, 60)),
    ]
    plate = brick(
        "plate", (10, 10, 12), (long - 10, deep - 10, 18), holes=[(x, y, 5.5) for x, y in spots]
    )
    lid = brick("lid", (0, 0, 60), (long, deep, 66))
    screws = [
        screw(f"screw {k}", ("plate", "tray"), (x, y, 18), grip=14.0)
        for k, (x, y) in enumerate(spots, start=1)
    ]
    return [Thing("tray", plate.kind, (floor, *walls)), plate, lid, *screws]


def fresh(things: list[Thing]) -> list[Thing]:
    """Return the things without the bodies they remember."""
    return [
        Thing(t.name, t.kind, t.prisms, t.voids, t.fastening, t.plates, t.carries) for t in things
    ]


@pytest.mark.parametrize("count", [10, 20, 40, 80])
def test_proving_a_plate_under_a_lid(count: int, benchmark: BenchmarkFixture) -> None:
    """One proof of a rig with `count` screws; each must be driven before the lid goes on."""
    things = bolted_plate(count)
    bare = best_s(lambda: union_solid(t.solid for t in fresh(things)).volume(), rounds=3)
    proved = benchmark.pedantic(
        lambda: prove(fresh(things)), rounds=3, warmup_rounds=1, iterations=1
    )
    assert proved.findings == ()
    lid = next(k for k, step in enumerate(proved.steps) if "lid" in step.things)
    driven = [k for k, step in enumerate(proved.steps) for _ in step.fasteners]
    assert len(driven) == count
    assert max(driven) < lid
    benchmark.extra_info["ratio to uniting the bodies"] = round(benchmark.stats.stats.min / bare, 1)
    benchmark.extra_info["ms a screw"] = round(1e3 * benchmark.stats.stats.min / count, 2)
