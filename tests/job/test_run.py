"""The whole chain, from a recipe to files in memory."""

import io
from pathlib import Path
from textwrap import dedent

import ezdxf
import pytest

from platekit.findings import Severity
from platekit.job.drawing_up import DrawnUp, draw_up
from platekit.job.options import Options, Spacing
from platekit.job.recipe import load_recipe
from platekit.job.run import Build, make
from platekit.materials import StockSize

HEAD = """
from platekit.assembly.assembly import Assembly
from platekit.assembly.placing import lying, standing
from platekit.geometry.shapes import rectangle
from platekit.hardware import Item
from platekit.materials import Sheet, birch_plywood
from platekit.panel.feature import Feature
from platekit.panel.holes import bearing_seat, bolt_circle, hole
from platekit.panel.part import Grain
from platekit.panel.plate import Plate
"""


@pytest.fixture
def built(tmp_path):
    """A way to build a recipe."""

    def build(text: str, **options: object) -> Build:
        path = Path(tmp_path) / "rig.py"
        path.write_text(HEAD + dedent(text), encoding="utf-8")
        return make(load_recipe(path), Options(spacing=Spacing(seconds=1e-9), **options))

    return build


BEARING = """
def rig(sheet: Sheet) -> Plate:
    plate = Plate("seat", sheet, rectangle(90.0, 80.0), quantity=3)
    plate = plate.with_features(bearing_seat("6004", name="bearing"))
    return plate.with_features(bolt_circle(6, "M5", pcd_mm=64))
"""


def test_circles_leave_as_circles(built):
    """Read back by ezdxf: a 6004 seat (42 mm, ISO 15; H7 +0.025/0, ISO 286) less the kerf."""
    build = built(BEARING, kerf_mm=0.2)
    document = ezdxf.read(io.StringIO(build.files["parts/seat.dxf"]))
    radii = sorted(round(one.dxf.radius, 6) for one in document.modelspace().query("CIRCLE"))
    # M5 medium is 5.5 mm (ISO 273): radius 2.75 less half the kerf.
    assert radii == pytest.approx([2.65] * 6 + [42.0125 / 2 - 0.1], abs=1e-6)


def test_bought_things_count_for_every_copy(built):
    """Three seats ask for three bearings."""
    build = built(BEARING)
    assert "6004" in build.files["bill_of_materials.csv"]
    (line,) = [
        row for row in build.files["bill_of_materials.csv"].splitlines() if "hardware" in row
    ]
    assert ",3," in line


def test_each_sheet_is_nested_on_its_own_stock(built):
    """A floor of 9 mm and walls of the job's sheet never lie on one stock sheet."""
    build = built(
        """
        def rig(sheet: Sheet) -> Assembly:
            thick = birch_plywood(9.0)
            return Assembly("rig").with_panels(
                lying(Plate("floor", thick, rectangle(120.0, 80.0)), bottom_mm=0),
                standing(Plate("wall", sheet, rectangle(120.0, 60.0)), facing="front",
                         front_mm=0, bottom_mm=0),
            )
        """,
        thickness_mm=6.0,
    )
    laid = [
        (one.sheet.thickness_mm, [placed.part for placed in one.nested.placements])
        for one in build.sheets
    ]
    assert sorted(laid) == [(6.0, ["wall"]), (9.0, ["floor"])]


@pytest.mark.parametrize(
    ("grain", "turns"),
    [("ALONG_X", {0.0, 180.0}), ("ALONG_Y", {90.0, 270.0})],
)
def test_grain_decides_how_parts_lie(built, grain, turns):
    """Parts with a grain are only turned so that it runs along the stock's x."""
    build = built(
        f"""
        def rig(sheet: Sheet) -> Plate:
            return Plate("strip", sheet, rectangle(90.0, 30.0), quantity=4, grain=Grain.{grain})
        """
    )
    seen = {placed.rotation_deg % 360 for one in build.sheets for placed in one.nested.placements}
    assert seen <= turns


def test_equal_ribs_are_one_kind_with_one_file(built):
    """Two unlettered ribs, "rib 1" and "rib 2", come out as rib, twice."""
    build = built(
        """
        def rig(sheet: Sheet) -> Assembly:
            def rib(number: int) -> Plate:
                return Plate(f"rib {number}", sheet, rectangle(100.0, 40.0), lettered=False)
            return Assembly("rig").with_panels(
                standing(rib(1), facing="front", front_mm=0, bottom_mm=0),
                standing(rib(2), facing="front", front_mm=50, bottom_mm=0),
            )
        """
    )
    assert [(part.name, part.quantity) for part in build.parts] == [("rib", 2)]
    assert "parts/rib.dxf" in build.files


def test_the_gravest_finding_comes_first_and_each_once(built):
    """Findings of parts, sheet and nesting stand in one list, sorted by weight."""
    build = built(
        """
        def rig(sheet: Sheet) -> Plate:
            plate = Plate("strip", sheet, rectangle(200.0, 60.0), quantity=3)
            return plate.with_features(hole(20.0, at=(100.0, 11.0), name="low"))
        """,
        thickness_mm=6.9,
        stock=(StockSize(215.0, 75.0, 1),),
    )
    weights = [finding.severity for finding in build.findings]
    assert weights == sorted(weights, reverse=True)
    assert len(set(build.findings)) == len(build.findings)
    assert weights[0] is Severity.STOP
    assert Severity.WARNING in weights
    assert build.withheld
    assert sorted(build.files) == ["bill_of_materials.csv", "build.json"]


def test_progress_is_told_in_order(tmp_path):
    """The stages are heard from the recipe to the drawings, with shares while nesting."""
    path = Path(tmp_path) / "rig.py"
    path.write_text(HEAD + BEARING, encoding="utf-8")
    heard: list[tuple[str, float | None]] = []
    make(
        load_recipe(path),
        Options(),
        progress=lambda stage, share=None: heard.append((stage, share)),
    )
    stages = list(dict.fromkeys(stage.partition(": ")[0] for stage, _ in heard))
    assert stages == [
        "running the recipe",
        "dealing out the joints",
        "compensating for the beam",
        "weighing what it must bear",
        "proving that it goes together",
        "nesting",
        "drawing the cut files",
    ]
    shares = [share for stage, share in heard if stage.startswith("nesting")]
    assert all(share is not None and 0 < share <= 1 for share in shares)


@pytest.mark.parametrize(
    ("bed_mm", "said"),
    [
        ((600.0, 400.0), None),
        ((400.0, 600.0), None),
        ((500.0, 400.0), Severity.NOTE),
        ((250.0, 300.0), Severity.WARNING),
    ],
)
def test_a_sheet_larger_than_the_bed_is_told(built, bed_mm, said):
    """Three seats of 90 x 80 mm lie in the left of a 600 x 400 mm sheet, in its whole height."""
    build = built(BEARING, stock=(StockSize(600.0, 400.0),), bed_mm=bed_mm)
    found = [one for one in build.findings if "larger than the bed" in one.measure]
    assert [one.severity for one in found] == ([] if said is None else [said])
    assert all(one.part == "sheet 600 x 400 mm" for one in found)


BOX = """
def rig(sheet: Sheet) -> Assembly:
    return Assembly("rig").with_panels(
        lying(Plate("floor", sheet, rectangle(120.0, 80.0)), bottom_mm=0),
        standing(Plate("wall", sheet, rectangle(120.0, 60.0)), facing="front", front_mm=0,
                 bottom_mm=0),
    )
"""


def test_parts_are_shown_before_they_are_proved(tmp_path):
    """Eyes that do not want to wait see the same parts: first bare, then weighed without steps."""
    path = Path(tmp_path) / "rig.py"
    path.write_text(HEAD + BOX, encoding="utf-8")
    seen: list[DrawnUp] = []
    drawn = draw_up(load_recipe(path), Options(), early=seen.append)
    bare, weighed = seen
    assert bare.parts == weighed.parts == drawn.parts
    assert bare.cut == weighed.cut == drawn.cut
    assert drawn.proof.steps
    assert bare.proof.steps == weighed.proof.steps == ()
    assert bare.report.weighed == ()
    assert weighed.report == drawn.report
    assert drawn.report.weighed
