"""Nesting: density against the best published, sheets against known answers, growth, memory.

Run with ``pytest tests/benchmarks/test_nesting_benchmarks.py --benchmark-only``. The instances are
read from the folder named by PLATEKIT_NESTING_DATA (``strip/*.json`` with
``best_published_density``, ``sheets/*.json`` with ``known_sheets``); without it their benchmarks
are left out. PLATEKIT_NESTING_SECONDS names the budgets for strips, ``10`` if not set.

Source of the instances and of the best published densities: EURO special interest group on
cutting and packing (ESICUP), public domain; Gardeyn, Vanden Berghe, Wauters (2025), arXiv
2509.13329. The baseline is the strip solver called by itself with both cores, in the same run.
"""

from __future__ import annotations

import json
import math
import os
import random
import resource
import time
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest
import shapely
import spyrrow
from pytest_benchmark.fixture import BenchmarkFixture

from platekit.nesting import NestPart, Roll, Stock, nest
from platekit.nesting.parts_list import read_parts_list
from tests.nesting.shapes import angle_piece, disc, polygon, rectangle, ring

FOLDER = os.environ.get("PLATEKIT_NESTING_DATA", "")
BUDGETS_S = [float(s) for s in os.environ.get("PLATEKIT_NESTING_SECONDS", "10").split(",")]
STRIPS = sorted(Path(FOLDER).glob("strip/*.json")) if FOLDER else []
SHEETS = sorted(Path(FOLDER).glob("sheets/*.json")) if FOLDER else []
ABSENT = "PLATEKIT_NESTING_DATA names no folder of instances"
SHEETS_S = 20.0


def density_of(data: dict[str, Any], length: float) -> float:
    """Return the share of a strip that is covered, areas by shapely."""
    area = sum(shapely.Polygon(p["outline"]).area * p["quantity"] for p in data["parts"])
    return float(area / (data["roll_height"] * length))


def bare_length(data: dict[str, Any], seconds: float) -> float:
    """Return the length the strip solver reaches by itself, as it is meant to be called."""
    items = [
        spyrrow.Item(
            str(p["id"]), [tuple(q) for q in p["outline"]], p["quantity"], p["rotations_deg"]
        )
        for p in data["parts"]
    ]
    settings = spyrrow.StripPackingConfig(
        total_computation_time=int(seconds), num_workers=2, seed=0
    )
    strip = spyrrow.StripPackingInstance(data["name"], data["roll_height"], items)
    return float(strip.solve(settings).width)


@pytest.mark.skipif(not STRIPS, reason=ABSENT)
@pytest.mark.parametrize("seconds", BUDGETS_S, ids=lambda s: f"{s:g}s")
def test_strips(benchmark: BenchmarkFixture, seconds: float) -> None:
    """Points below the best published density, ours and the bare solver's, and their means."""
    gaps: dict[str, list[float]] = {"ours": [], "bare": []}

    def work() -> None:
        for file in STRIPS:
            data = json.loads(file.read_text(encoding="utf-8"))
            data.setdefault("name", file.stem)
            done = nest(
                read_parts_list(file).parts, stock=Roll(data["roll_height"]), seconds=seconds
            )
            assert not done.unplaced
            best = data["best_published_density"]
            for who, length in (
                ("ours", done.sheets[0].used_length_mm),
                ("bare", bare_length(data, seconds)),
            ):
                gaps[who].append(100 * (best - density_of(data, length)))
            ours, bare = gaps["ours"][-1], gaps["bare"][-1]
            benchmark.extra_info[file.stem] = f"{ours:.2f} (bare {bare:.2f})"

    benchmark.pedantic(work, rounds=1)
    for who, found in gaps.items():
        benchmark.extra_info[f"mean gap {who}"] = round(sum(found) / len(found), 2)


@pytest.mark.skipif(not SHEETS, reason=ABSENT)
@pytest.mark.parametrize("file", SHEETS, ids=lambda file: file.stem)
def test_sheets(benchmark: BenchmarkFixture, file: Path) -> None:
    """Sheets taken within 20 s, and the number known to suffice."""
    listed = read_parts_list(file)
    assert listed.sheet_mm is not None
    stock = Stock(*listed.sheet_mm)
    first: list[float] = []
    began = time.monotonic()
    done = benchmark.pedantic(
        lambda: nest(
            listed.parts,
            stock=stock,
            gap_mm=listed.gap_mm or 0.0,
            seconds=SHEETS_S,
            progress=lambda *_: first.append(time.monotonic() - began),
        ),
        rounds=1,
    )
    known = json.loads(file.read_text(encoding="utf-8"))["known_sheets"]
    benchmark.extra_info.update(
        {"sheets": len(done.sheets), "known": known, "first_s": round(min(first), 2)}
    )


def workshop(copies: int, *, kinds: int = 40) -> list[NestPart]:
    """Return so many parts of so many kinds, of the sizes a rig is made of (invented)."""
    rng = random.Random(7)  # noqa: S311 - a benchmark's own shuffle
    parts = []
    for k in range(kinds):
        a, b = rng.uniform(20, 140), rng.uniform(15, 90)
        shape = [
            rectangle(a, b),
            angle_piece(a + 20, b + 20, 18),
            disc(b),
            ring(a / 2 + 40, a / 2 + 10),
            polygon([(0, 0), (a, 0), (a, b / 2), (a / 2, b), (0, b)]),
        ][k % 5]
        quantity = copies // kinds + (k < copies % kinds)
        if quantity:
            parts.append(NestPart(f"part {k}", shape.profile, quantity))
    return parts


def least_sheets(parts: Sequence[NestPart], *, fill: float, sheet: tuple[float, float]) -> int:
    """Return how many sheets the parts need when each is filled so far."""
    area = sum(part.profile.area_mm2 * part.quantity for part in parts)
    return math.ceil(area / fill / (sheet[0] * sheet[1]))


def test_three_hundred_parts(benchmark: BenchmarkFixture) -> None:
    """300 parts of 40 kinds on 600 x 400: first layout, sheets after 60 s, memory of the run."""
    parts, sheet = workshop(300), (600.0, 400.0)
    began, first = time.monotonic(), []
    done = benchmark.pedantic(
        lambda: nest(
            parts,
            stock=Stock(*sheet),
            gap_mm=2.0,
            margin_mm=5.0,
            seconds=60,
            progress=lambda *_: first.append(time.monotonic() - began),
        ),
        rounds=1,
    )
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    solver = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    benchmark.extra_info.update(
        {
            "sheets": len(done.sheets),
            "area bound / 0.85": least_sheets(parts, fill=0.85, sheet=sheet),
            "peak_MiB": f"{peak:.0f} + solver {solver:.0f}",
        }
    )
    if first:
        benchmark.extra_info["first_s"] = round(min(first), 2)


def test_growth(benchmark: BenchmarkFixture) -> None:
    """Time to a first layout for 50, 100, 200, 400 parts, against that for 50."""
    times: dict[int, float] = {}

    def work() -> None:
        for copies in (50, 100, 200, 400):
            before = time.perf_counter()
            nest(workshop(copies), stock=Stock(600, 400), gap_mm=2, margin_mm=5, seconds=1e-6)
            times[copies] = time.perf_counter() - before

    benchmark.pedantic(work, rounds=1)
    for copies, seconds in times.items():
        benchmark.extra_info[f"{copies} parts"] = f"{seconds:.2f} s, x{seconds / times[50]:.1f}"
