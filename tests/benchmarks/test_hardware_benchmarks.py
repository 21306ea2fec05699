"""Bought parts: how long the catalogue takes to load, a rig full of them to come out.

Run with ``pytest tests/benchmarks --benchmark-only``. Nothing here fails for being slow.
"""

from __future__ import annotations

import csv
from collections.abc import Callable
from importlib import import_module, resources

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from platekit import hardware
from platekit.assembly import Assembly, bolted, lying
from platekit.geometry.shapes import rectangle
from platekit.job.recipe import load_recipe
from platekit.materials import birch_plywood
from platekit.panel.plate import Plate
from tests.benchmarks.stopwatch import best_s
from tests.benchmarks.test_chain_benchmarks import FLAGSHIP

SHEET = birch_plywood(nominal_mm=6.0)


def catalogues() -> list[Callable[[], object]]:
    """Return every function of the hardware room that keeps a table once it is read."""
    names = [name for name in dir(hardware) if name.startswith("known_")]
    modules = {import_module(getattr(hardware, name).__module__) for name in names}
    return [
        value
        for module in modules
        for value in vars(module).values()
        if hasattr(value, "cache_clear") and value.__module__ == module.__name__
    ]


def test_loading_the_catalogue_against_a_bare_reading(benchmark: BenchmarkFixture) -> None:
    """Every table read, checked and made into values; the bare work reads the same files."""
    tables = [
        entry.read_text(encoding="utf-8")
        for entry in (resources.files("platekit.hardware") / "tables").iterdir()
        if entry.name.endswith(".csv")
    ]
    kept = catalogues()
    assert len(kept) >= 8

    def load() -> None:
        for one in kept:
            one.cache_clear()  # type: ignore[attr-defined]
        for one in kept:
            one()

    bare = best_s(lambda: [list(csv.DictReader(text.splitlines())) for text in tables])
    benchmark.pedantic(load, rounds=5, warmup_rounds=1)
    benchmark.extra_info["ratio to bare csv"] = round(benchmark.stats.stats.min / bare, 1)
    benchmark.extra_info["rows"] = sum(len(text.splitlines()) - 1 for text in tables)


@pytest.mark.parametrize("stage", ["resolve", "prove"])
def test_the_flagship_with_all_its_hardware(stage: str, benchmark: BenchmarkFixture) -> None:
    """Panels pierced, joints dealt, screws chosen; then the whole proof of assembly."""
    recipe = load_recipe(FLAGSHIP)
    made = recipe.call(recipe.sheet, values={})
    assert isinstance(made, Assembly)
    done = made.resolve()
    whole = best_s(lambda: made.prove(made.resolve()), rounds=3)
    work = made.resolve if stage == "resolve" else (lambda: made.prove(done))
    benchmark.pedantic(work, rounds=3, warmup_rounds=1)
    share = benchmark.stats.stats.min / whole
    benchmark.extra_info["share of both"] = round(share, 2)
    benchmark.extra_info["both, s"] = round(whole, 2)
    benchmark.extra_info["screws"] = len(done.fastenings)


def bolted_plates(count: int) -> Assembly:
    """Return two plates that lie on each other and the bolts through both."""
    rows = count // 10
    size = (30.0 * 10 + 40, 30.0 * rows + 40)
    spots = [(35.0 + 30 * i, 35.0 + 30 * j) for i in range(10) for j in range(rows)]
    lower, upper = (Plate(name, SHEET, rectangle(*size)) for name in ("lower", "upper"))
    return (
        Assembly("stack")
        .with_panels(lying(lower), lying(upper, bottom_mm=SHEET.thickness_mm))
        .with_hardware(
            *(
                bolted("M4", on="upper", side="up", at=spot, name=f"bolt {k}")
                for k, spot in enumerate(spots, start=1)
            )
        )
    )


def test_growth_with_ten_times_the_hardware(benchmark: BenchmarkFixture) -> None:
    """Twenty bolts, then two hundred: holes, screws, bill and proof."""

    def whole(made: Assembly) -> int:
        done = made.resolve()
        return len(made.prove(done).steps) + len(done.fastenings)

    few, many = bolted_plates(20), bolted_plates(200)
    base = best_s(lambda: whole(few), rounds=3)
    assert benchmark.pedantic(whole, args=(many,), rounds=2, warmup_rounds=1) > 200
    benchmark.extra_info["ratio to a tenth of it"] = round(benchmark.stats.stats.min / base, 1)
