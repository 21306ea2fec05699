"""How long plans on paper take, part by part. ``pytest tests/benchmarks --benchmark-only``.

Nothing here fails for being slow; a ratio of 4 from 15 parts to 60 is growth by the number alone.
"""

from __future__ import annotations

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from platekit.export.plans.book import bound, plan_leaves
from platekit.export.plans.contents import PlansOf
from platekit.export.plans.printing.paper import Paper
from platekit.geometry.chains import circle
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import rectangle
from platekit.materials import birch_plywood
from platekit.panel.part import Part
from tests.benchmarks.stopwatch import best_s

FEW = 15


def plans(count: int) -> PlansOf:
    """Return plans of so many plates, 60 to 430 mm wide, with up to 40 holes each."""
    sheet = birch_plywood(6.0)
    parts = []
    for k in range(count):
        width, height = 60.0 + 37.0 * (k % 11), 50.0 + 29.0 * (k % 9)
        holes = [
            circle((12.0 + 14.0 * i, 12.0 + 12.0 * j), diameter_mm=4.0 + i % 3)
            for i in range(int((width - 10) // 14))
            for j in range(int((height - 10) // 12))
        ]
        shape = Profile(rectangle(width, height), tuple(holes[:40]))
        parts.append(Part(f"plate {chr(97 + k % 26)}{chr(97 + k // 26)}", sheet, shape))
    return PlansOf(name="rack", parts=tuple(parts), paper=Paper.parse("A4"))


def drawn(of: PlansOf) -> tuple[int, bytes]:
    """Return how many pages plans take, and the file."""
    leaves = plan_leaves(of)
    return len(leaves), bound(leaves, title=of.name)


@pytest.mark.parametrize("count", [15, 60, 120])
def test_plans_grow_with_the_number_of_parts(count: int, benchmark: BenchmarkFixture) -> None:
    """Time against that of 15 parts; pages and size of the file beside it."""
    few, many = plans(FEW), plans(count)
    bare = best_s(lambda: drawn(few), rounds=2)
    pages, pdf = benchmark.pedantic(drawn, args=(many,), rounds=2)
    ours = benchmark.stats.stats.min if benchmark.stats else best_s(lambda: drawn(many), rounds=1)
    benchmark.extra_info["pages"] = pages
    benchmark.extra_info["kB"] = round(len(pdf) / 1000)
    benchmark.extra_info[f"time to that of {FEW} parts"] = round(ours / bare, 2)
    assert pages > count
