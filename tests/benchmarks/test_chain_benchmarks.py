"""The whole chain: where the flagship's time goes, how it grows, and what a start costs.

Run with ``pytest tests/benchmarks --benchmark-only``. Nesting has its own time budget and is left
out of the chain: the sheets are nested once, before the clock starts. Nothing here fails for being
slow; the ratios are in `extra_info` and in the table after the run.
"""

from __future__ import annotations

import math
import subprocess
import sys
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path

import pytest
import shapely
from pytest_benchmark.fixture import BenchmarkFixture

from platekit.assembly.assembly import Assembly
from platekit.assembly.box import box, crossed_ribs
from platekit.assembly.frames import X
from platekit.assembly.panels import Panel
from platekit.cutting.drawing import Drawing
from platekit.geometry.chords import to_polygon
from platekit.geometry.shapes import rectangle
from platekit.job import drawing_up, run
from platekit.job.options import DxfName, Options
from platekit.job.recipe import Recipe, load_recipe
from platekit.job.shelf import Shelf
from platekit.job.stocking import Stocked
from platekit.materials import Sheet, birch_plywood
from platekit.panel.holes import bolt_circle, hole
from platekit.panel.openings import slot, window
from platekit.panel.plate import Plate
from tests.benchmarks.stopwatch import StageWatch, best_s
from tests.benchmarks.test_export_benchmarks import bare_entities, bare_loop

FLAGSHIP = Path(__file__).parents[2] / "recipes" / "dish_rotator.py"
PLYWOOD = birch_plywood(nominal_mm=6.0)
CHORDS_MM = 1e-3

DRAWING_UP = {"resolve": ("kinds_of",), "checks": ("_weighed",), "compensation": ("cut_part",)}
STAGES = {
    "drawings": ("part_drawings", "sheet_drawings", "double_cuts"),
    "files": ("drawn", "bill_csv", "file_records", "build_json"),
    "pictures": ("pictures",),
}


def without_nesting(recipe: Recipe, monkeypatch: pytest.MonkeyPatch) -> run.Build:
    """Make `recipe` once, and from then on let its sheets be ready before they are asked for."""
    kept: list[object] = []
    nested = run.lay_on_stock

    def remember(*given: object, **named: object) -> object:
        kept.append(nested(*given, **named))
        return kept[-1]

    monkeypatch.setattr(run, "lay_on_stock", remember)
    build = run.make(recipe, Options())
    monkeypatch.setattr(run, "lay_on_stock", lambda *_, **__: kept[-1])
    return build


def drawings_of(monkeypatch: pytest.MonkeyPatch) -> list[Drawing]:
    """Return every drawing of the flagship: parts and sheets."""
    found: list[Drawing] = []
    drawn = run.drawn

    def remember(drawings: Mapping[str, Drawing], *, dxf: DxfName) -> dict[str, str]:
        found.extend(drawings.values())
        return drawn(drawings, dxf=dxf)

    with monkeypatch.context() as watched:
        watched.setattr(run, "drawn", remember)
        run.make(load_recipe(FLAGSHIP), Options())
    return found


def bare_s(build: run.Build, drawings: list[Drawing]) -> float:
    """Return what libraries alone take: a buffer of every part, a bare DXF of every drawing."""
    polygons = [to_polygon(part.profile, tolerance_mm=CHORDS_MM) for part in build.parts]
    reach = build.beam.kerf_mm / 2
    quarter = math.ceil(math.pi / 4 / math.acos(1 - CHORDS_MM / reach))
    ready = [bare_entities(drawing.entries) for drawing in drawings]

    def bare() -> None:
        for polygon in polygons:
            shapely.buffer(polygon, reach, quad_segs=quarter)
        for entities in ready:
            bare_loop(entities)

    return best_s(bare, rounds=3)


def test_the_flagship_without_nesting(
    benchmark: BenchmarkFixture, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Recipe to files, stage by stage; the bare libraries do buffers and DXF alone."""
    build = without_nesting(load_recipe(FLAGSHIP), monkeypatch)
    assert any(name.startswith("sheets/") for name in build.files)
    bare = bare_s(build, drawings_of(monkeypatch))

    drawing = StageWatch(drawing_up, DRAWING_UP, patch=monkeypatch)
    monkeypatch.setattr(Recipe, "call", drawing.timed("recipe", Recipe.call))
    # Whoever draws up may bring a proof of its own; the usual one is a default, bound long since.
    usual = drawing_up.draw_up.__kwdefaults__
    monkeypatch.setitem(usual, "prove", drawing.timed("proof", usual["prove"]))
    monkeypatch.setitem(usual, "deal", drawing.timed("resolve", usual["deal"]))
    watch = StageWatch(run, STAGES, patch=monkeypatch)
    rounds = 5
    benchmark.pedantic(
        lambda: run.make(load_recipe(FLAGSHIP), Options()), rounds=rounds, warmup_rounds=1
    )
    whole = benchmark.stats.stats.min
    benchmark.extra_info["seconds"] = round(whole, 3)
    benchmark.extra_info["ratio to bare buffers and DXF"] = round(whole / bare, 2)
    spent_s = {**drawing.seconds, **watch.seconds}
    for stage in ("recipe", "proof", *DRAWING_UP, *STAGES):
        spent = spent_s[stage] / (rounds + 1)
        benchmark.extra_info[f"{stage} ms"] = round(1e3 * spent, 1)


def boxes(count: int, sheet: Sheet) -> Assembly:
    """Return `count` closed boxes of six panels with a shelf each, in a row, apart."""
    whole = Assembly("boxes")
    for k in range(count):
        one = box(
            "box", sheet, width_mm=200, depth_mm=150, height_mm=120, lid="joined", shelves_mm=[60]
        )
        whole = whole.with_panels(*(renamed(panel, k) for panel in one.panels))
    return whole


def renamed(panel: Panel, number: int) -> Panel:
    """Return a panel of another box, further along x."""
    aside = replace(panel.frame, origin=panel.frame.origin.plus(X, times=300.0 * number))
    name = f"{panel.name} of box {number}"
    return Panel(name, (Plate(name, panel.plate.sheet, panel.plate.outline),), aside)


def grid(count: int, sheet: Sheet) -> Assembly:
    """Return ribs crossing in `count` halving joints each way."""
    pitch = 40.0
    return crossed_ribs(
        "grid",
        sheet,
        width_mm=pitch * (count + 1),
        depth_mm=pitch * (count + 1),
        height_mm=60,
        lengthwise=count,
        crosswise=count,
    )


def plate_with(features: int, sheet: Sheet) -> Plate:
    """Return a plate with a grid of holes, slots, windows and bolt circles, each a feature."""
    row = math.isqrt(features - 1) + 1
    made = []
    for k in range(features):
        at = (30.0 + 40 * (k % row), 30.0 + 40 * (k // row))
        made.append(
            (
                hole("M5", at=at, name=f"hole {k}"),
                slot(20.0, 4.0, at=at, turn_deg=7.0 * k, name=f"slot {k}"),
                window(18.0, 12.0, fillet_mm=2.0, at=at, name=f"window {k}"),
                bolt_circle(4, "M3", pcd_mm=16.0, at=at, name=f"ring {k}"),
            )[k % 4]
        )
    size = 40.0 * row + 20
    return Plate("plate", sheet, rectangle(size, size)).with_features(*made)


def recipe_of(make: Callable[[int, Sheet], Plate | Assembly], count: int) -> Recipe:
    """Return a recipe that makes `count` of something."""
    return Recipe(
        name="growth",
        path=Path("growth.py"),
        function=lambda sheet: make(count, sheet),
        summary="",
        parameters=(),
        sheet=PLYWOOD,
    )


@pytest.mark.parametrize(
    ("make", "few", "many", "times"),
    [
        pytest.param(boxes, 1, 10, 10, id="10 times the parts"),
        pytest.param(grid, 3, 10, 11, id="11 times the crossings of ribs"),
        pytest.param(plate_with, 40, 400, 10, id="10 times the features"),
    ],
)
def test_growth(
    *,
    make: Callable[[int, Sheet], Plate | Assembly],
    few: int,
    many: int,
    times: int,
    benchmark: BenchmarkFixture,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """What ten times as much costs, without nesting and pictures; 10 would be in proportion."""
    monkeypatch.setattr(run, "pictures", lambda *_, **__: {})
    nothing = Stocked(sheets=(), findings=(), shelf=Shelf(), kinds=())
    monkeypatch.setattr(run, "lay_on_stock", lambda *_, **__: nothing)
    small, large = recipe_of(make, few), recipe_of(make, many)
    assert len(run.make(large, Options()).files) > 2
    once = best_s(lambda: run.make(small, Options()), rounds=5)
    drawing = StageWatch(drawing_up, DRAWING_UP, patch=monkeypatch)
    monkeypatch.setattr(Recipe, "call", drawing.timed("recipe", Recipe.call))
    # Whoever draws up may bring a proof of its own; the usual one is a default, bound long since.
    usual = drawing_up.draw_up.__kwdefaults__
    monkeypatch.setitem(usual, "prove", drawing.timed("proof", usual["prove"]))
    monkeypatch.setitem(usual, "deal", drawing.timed("resolve", usual["deal"]))
    watch = StageWatch(run, STAGES, patch=monkeypatch)
    rounds = 3
    benchmark.pedantic(lambda: run.make(large, Options()), rounds=rounds)
    whole = benchmark.stats.stats.min
    benchmark.extra_info[f"growth for {times} times"] = round(whole / once, 1)
    benchmark.extra_info["small s"] = round(once, 3)
    benchmark.extra_info["large s"] = round(whole, 3)
    for stage in ("recipe", *STAGES):
        benchmark.extra_info[f"{stage} ms"] = round(1e3 * watch.seconds[stage] / rounds, 1)


def process(*command: str) -> None:
    """Run one Python process to its end."""
    subprocess.run([sys.executable, *command], check=True, capture_output=True)


@pytest.mark.parametrize(
    "command",
    [
        pytest.param(("-c", "import platekit"), id="import platekit"),
        pytest.param(("-m", "platekit", "--help"), id="platekit --help"),
        pytest.param(("-m", "platekit", "make", "--help"), id="platekit make --help"),
        pytest.param(
            ("-m", "platekit", "make", str(FLAGSHIP), "--help"), id="platekit make RECIPE --help"
        ),
    ],
)
def test_starting_against_a_bare_start(
    command: tuple[str, ...], benchmark: BenchmarkFixture
) -> None:
    """A whole process, against one of ``python -c pass``."""
    bare = best_s(lambda: process("-c", "pass"), rounds=7)
    benchmark.pedantic(process, args=command, rounds=7, warmup_rounds=1)
    whole = benchmark.stats.stats.min
    benchmark.extra_info["seconds"] = round(whole, 3)
    benchmark.extra_info["ratio to python -c pass"] = round(whole / bare, 2)
    benchmark.extra_info["more than python -c pass, s"] = round(whole - bare, 3)


# A process begins with the peak of the one that started it: the small one between keeps the
# benchmark's own memory out. ru_maxrss is in KiB on Linux and in bytes on macOS.
BETWEEN = """
import resource, subprocess, sys
subprocess.run([sys.executable, "-c", sys.argv[1]], check=True, stdout=subprocess.DEVNULL)
unit = 1 if sys.platform == "darwin" else 1024
print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss * unit / 1e6)
"""


def peak_mb(work: str) -> float:
    """Return the most memory a process held while it did `work`, MB."""
    done = subprocess.run(
        [sys.executable, "-c", BETWEEN, work], check=True, capture_output=True, text=True
    )
    return float(done.stdout)


@pytest.mark.skipif(sys.platform == "win32", reason="getrusage is Unix only")
def test_peak_memory_of_the_flagship(benchmark: BenchmarkFixture, tmp_path: Path) -> None:
    """A whole run, nesting included, against a process that only loads the libraries."""
    libraries = peak_mb("import numpy, shapely, ezdxf")
    given = ["make", str(FLAGSHIP), "--out", str(tmp_path)]
    peak = benchmark.pedantic(
        peak_mb, args=(f"from platekit.cli import main; main({given!r})",), rounds=1
    )
    benchmark.extra_info["peak MB"] = round(peak)
    benchmark.extra_info["libraries alone MB"] = round(libraries)
    benchmark.extra_info["ratio to the libraries alone"] = round(peak / libraries, 2)
