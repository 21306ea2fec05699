"""Two builds laid beside each other: what is said to have changed, and nothing else."""

import json
import math
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from shapely import Point as ShapelyPoint, box

from platekit.export.bill import BillKind, BillLine
from platekit.export.build import (
    BeamInput,
    BuildRecord,
    Inputs,
    PartRecord,
    SheetInput,
    SheetRecord,
)
from platekit.findings import Finding, Severity
from platekit.geometry.chains import circle, closed_polyline
from platekit.geometry.motion import Motion
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import rectangle
from platekit.job.comparing.comparison import compare, comparison_files, comparison_json, told_apart
from platekit.job.comparing.parts import shape_change
from platekit.job.comparing.values import Change

FINE = 256  # chords to a quarter turn in shapely's circles: areas short by 6e-6 of themselves


def plate(width_mm=120.0, height_mm=80.0, *, holes=()) -> Profile:
    """Return a plate from (0, 0), with round holes (x, y, diameter)."""
    outer = rectangle(width_mm, height_mm, centre=(width_mm / 2, height_mm / 2))
    return Profile(outer, tuple(circle((x, y), diameter_mm=d) for x, y, d in holes))


def part(name="base", profile=None, **more) -> PartRecord:
    """Return the record of a part."""
    shape = plate() if profile is None else profile
    said = {
        "name": name,
        "quantity": 1,
        "material": "birch plywood",
        "thickness_mm": 6.0,
        "size_mm": (shape.bounds.width_mm, shape.bounds.height_mm),
        "area_mm2": shape.area_mm2,
        "cut_length_mm": shape.length_mm,
        "contours": len(shape.rings),
        "profile": shape,
    }
    return PartRecord(**(said | more))


def sheet(width_mm=900.0, **more) -> SheetRecord:
    """Return the record of a nested sheet, half of it parts."""
    said = {
        "size_mm": (width_mm, 600.0),
        "used_length_mm": 450.0,
        "utilisation": 0.5,
        "placements": (),
        "material": "birch plywood",
        "thickness_mm": 6.0,
    }
    return SheetRecord(**(said | more))


def bought(name: str, quantity: int, *, note: str = "") -> BillLine:
    """Return a line of the bill."""
    return BillLine(kind=BillKind.HARDWARE, name=name, quantity=quantity, note=note)


def finding(**more) -> Finding:
    """Return a finding about a web."""
    said = {
        "severity": Severity.WARNING,
        "part": "base",
        "feature": "hole 1",
        "measure": "web",
        "value": 2.0,
        "limit": 3.0,
        "unit": "mm",
        "remedy": "move it",
    }
    return Finding(**(said | more))


def build(**more) -> BuildRecord:
    """Return the record of a run."""
    said = {
        "platekit": "0.1.0",
        "recipe": "rig",
        "inputs": Inputs(
            sheet=SheetInput(material="birch plywood", nominal_mm=6.0, thickness_mm=6.0),
            beam=BeamInput(kerf_mm=0.2, source="measured"),
            parameters={"width_mm": 120.0, "lid": True},
            nesting={"stock": {"birch plywood 6 mm": ["900x600"]}, "gap_mm": 2.0},
        ),
        "parts": (part(), part("lid")),
        "sheets": (sheet(),),
        "bill_of_materials": (bought("screw M5x20", 4),),
        "findings": (finding(),),
    }
    return BuildRecord(**(said | more))


def compared(**more):
    """Return what differs between the usual build and one with something else."""
    return compare(build(), build(**more), labels=("a", "b"))


def groups(comparison) -> set[str]:
    """Return the groups in which something differs."""
    said = comparison_json(comparison)
    found = {name for name in ("inputs", "hardware", "sheets") if said[name]}
    for name in ("parts", "findings"):
        found |= {f"{name} {fate}" for fate, those in said[name].items() if those}
    return found


def test_a_build_does_not_differ_from_itself():
    """Nothing is said, and only the record is written."""
    same = compared()
    assert same.same
    assert groups(same) == set()
    assert list(comparison_files(same)) == ["compare.json"]


def test_inputs_by_name():
    """What was typed in otherwise is told by its name; what stayed is not."""
    usual = build().inputs
    inputs = replace(
        usual,
        sheet=replace(usual.sheet, thickness_mm=5.8),
        beam=BeamInput(kerf_mm=0.15, source="measured"),
        parameters={"width_mm": 130.0, "depth_mm": 9.0},
        nesting={"stock": {"birch plywood 6 mm, measures 5.8 mm": ["900x600"]}, "gap_mm": 2.0},
    )
    found = compared(inputs=inputs)
    assert groups(found) == {"inputs"}
    assert found.inputs == (
        Change(name="measured thickness", old=6.0, new=5.8, unit="mm"),
        Change(name="kerf", old=0.2, new=0.15, unit="mm"),
        Change(name="width_mm", old=120.0, new=130.0),
        Change(name="lid", old=True, fate="gone"),
        Change(name="depth_mm", new=9.0, fate="new"),
    )


def test_other_stock_is_told():
    """Stock of another size is an input."""
    nesting = {"stock": {"birch plywood 6 mm": ["600x400"]}, "gap_mm": 2.0}
    (change,) = compared(inputs=replace(build().inputs, nesting=nesting)).inputs
    assert change.name == "stock / birch plywood 6 mm"
    assert (change.old, change.new) == (["900x600"], ["600x400"])


def test_parts_are_known_by_name_alone():
    """One that was renamed is gone, and new."""
    found = compared(parts=(part(), part("cover")))
    assert groups(found) == {"parts gone", "parts new"}
    assert (found.gone_parts, found.new_parts) == (("lid",), ("cover",))


def test_a_sheet_of_another_thickness_without_another_outline():
    """The thickness is told, and there is no picture of what looks the same."""
    found = compared(parts=(part(thickness_mm=5.8), part("lid")))
    (change,) = found.changed_parts
    assert change.changes == (Change(name="thickness", old=6.0, new=5.8, unit="mm"),)
    assert change.shape is None
    assert list(comparison_files(found)) == ["compare.json"]


def test_a_hole_moved_is_removed_here_and_added_there():
    """Nothing in the figures differs; the areas of the two crescents are those shapely finds."""
    was, now = (plate(holes=[(x, 40.0, 10.0)]) for x in (50.0, 53.0))
    old = build(parts=(part(profile=was),))
    new = build(parts=(part(profile=now),))
    (change,) = compare(old, new, labels=("a", "b")).changed_parts
    assert change.changes == ()
    a, b = (ShapelyPoint(x, 40.0).buffer(5.0, quad_segs=FINE) for x in (50.0, 53.0))
    assert change.shape.removed_mm2 == pytest.approx(b.difference(a).area, rel=1e-4)
    assert change.shape.added_mm2 == pytest.approx(a.difference(b).area, rel=1e-4)


def test_a_hole_more_and_a_longer_plate():
    """Size, area and number of cuts are told; what was cut away is the hole, what came the end."""
    new = plate(130.0, holes=[(20.0, 20.0, 8.0)])
    (change,) = compared(parts=(part(profile=new), part("lid"))).changed_parts
    said = {one.name: (one.old, one.new) for one in change.changes}
    assert said["size"] == ([120.0, 80.0], [130.0, 80.0])
    assert said["cuts"] == (1, 2)
    assert said["area"] == pytest.approx((9600.0, 10400.0 - 16.0 * math.pi))
    assert change.shape.removed_mm2 == pytest.approx(16.0 * math.pi)  # pi r^2
    assert change.shape.added_mm2 == pytest.approx(10.0 * 80.0)


def test_the_same_shape_elsewhere_is_the_same():
    """A recipe may draw a part in another corner: nobody cuts it otherwise for that."""
    shape = plate(holes=[(20.0, 20.0, 8.0)])
    assert shape_change(shape, shape.moved(Motion(dx_mm=7.0, dy_mm=-3.0))) is None


def test_shapes_are_laid_where_they_agree_best():
    """A plate drawn elsewhere and 1 mm longer: 80 mm2 more by shapely, at whichever place."""
    was, now = plate(), plate(121.0).moved(Motion(dx_mm=50.0, dy_mm=5.0))
    found = shape_change(was, now)
    assert found.removed == ()
    assert found.added_mm2 == pytest.approx(box(120, 0, 121, 80).area)
    assert found.new.bounds.left == found.old.bounds.left


@pytest.mark.parametrize("step_mm", [1e-7, 4e-7])
def test_noise_is_no_change(step_mm):
    """Figures in a record are rounded to 1e-7 mm, and differ by as much from run to run."""
    assert shape_change(plate(), plate(120.0 + step_mm)) is None


@pytest.mark.parametrize("step_mm", [0.001, 0.01, 0.2])
def test_a_micron_is_a_change(step_mm):
    """A plate longer by a thousandth has that much more area."""
    found = shape_change(plate(), plate(120.0 + step_mm))
    assert found.added_mm2 == pytest.approx(80.0 * step_mm, rel=1e-3)
    assert found.removed == ()


def test_outlines_that_cross_themselves_are_told_without_figures():
    """A file may say anything: what has no area to speak of is changed, and that is all."""
    bow = Profile(closed_polyline([(0, 0), (90, 60), (90, 0), (0, 61)]))
    found = shape_change(plate(), bow)
    assert found.removed_mm2 is None
    assert found.added_mm2 is None
    files = comparison_files(compared(parts=(part(profile=bow), part("lid"))))
    assert "cannot be told" in files["pictures/base.svg"]


def test_a_tangle_is_not_searched():
    """Two combs of 400 teeth across each other would fall into 160 thousand squares."""
    points = [(0.0, 0.0)]
    for k in range(400):
        x = 2.0 * k
        points += [(x, 900.0), (x + 1.0, 900.0), (x + 1.0, 1.0), (x + 2.0, 1.0)]
    points.append((800.0, 0.0))
    upright = Profile(closed_polyline(points))
    level = Profile(closed_polyline([(y, x) for x, y in points]))
    found = shape_change(upright, level)
    assert found.removed is None
    assert found.added is None


def test_hardware_is_counted_by_designation():
    """Places are added up; 4 become 6."""
    lines = (bought("screw M5x20", 4, note="here"), bought("screw M5x20", 2, note="there"))
    (change,) = compared(bill_of_materials=lines).hardware
    assert (change.name, change.old, change.new, change.replaced_by) == ("screw M5x20", 4, 6, "")


def test_what_differs_in_one_figure_took_the_others_place():
    """M5x20 by M5x25 rather than by M5x40; M4x20 is new, and so is the washer."""
    old = build(bill_of_materials=(bought("screw M5x20", 4), bought("nut M5", 4)))
    lines = [("screw M5x40", 1), ("screw M5x25", 5), ("screw M4x20", 2), ("washer M5", 3)]
    new = build(bill_of_materials=tuple(bought(*line) for line in lines))
    found = compare(old, new, labels=("a", "b")).hardware
    assert [(one.name, one.old, one.new, one.replaced_by) for one in found] == [
        ("screw M5x20", 4, 5, "screw M5x25"),
        ("nut M5", 4, 0, ""),
        ("screw M5x40", 0, 1, ""),
        ("screw M4x20", 0, 2, ""),
        ("washer M5", 0, 3, ""),
    ]


def test_as_many_of_a_screw_replace_each_other():
    """A thicker sheet: 7 of 8 mm became 7 of 16, 4 of 20 became 4 of 30; 16 is next to 20."""
    old = build(bill_of_materials=(bought("screw M3x8", 7), bought("screw M3x20", 4)))
    new = build(bill_of_materials=(bought("screw M3x16", 7), bought("screw M3x30", 4)))
    found = compare(old, new, labels=("a", "b")).hardware
    assert {one.name: one.replaced_by for one in found} == {
        "screw M3x8": "screw M3x16",
        "screw M3x20": "screw M3x30",
    }


def test_sheets_are_counted_and_weighed():
    """Two of one size become one of it and one smaller: their number stays, the filling moves."""
    old = build(sheets=(sheet(), sheet()))
    new = build(sheets=(sheet(), sheet(600.0, utilisation=0.75)))
    found = {one.name: one for one in compare(old, new, labels=("a", "b")).sheets}
    assert set(found) == {
        "sheets of birch plywood 900 x 600 mm",
        "sheets of birch plywood 600 x 600 mm",
        "filled",
    }
    # (900 * 0.5 + 600 * 0.75) / 1500 of the sheets' area, all of one height.
    assert (found["filled"].old, found["filled"].new) == pytest.approx((50.0, 60.0))


def test_thicker_sheets_of_one_material_are_the_same_kind():
    """The thickness is an input; it makes kinds only where a build has several."""
    assert compared(sheets=(sheet(thickness_mm=5.8),)).sheets == ()
    old = build(sheets=(sheet(), sheet(thickness_mm=3.0)))
    new = build(sheets=(sheet(), sheet(thickness_mm=6.0)))
    names = [one.name for one in compare(old, new, labels=("a", "b")).sheets]
    assert names == [
        "sheets of birch plywood 6 mm 900 x 600 mm",
        "sheets of birch plywood 3 mm 900 x 600 mm",
    ]


def test_prices_are_summed_as_on_the_bill():
    """4 screws at 0.25 cost 1, 6 of them 1.5; what has no price stays out of it."""
    each = Fraction(1, 4)

    def screws(count: int) -> tuple[BillLine, ...]:
        return (replace(bought("screw M5x20", count), price_each=each), bought("nut M5", count))

    old, new = build(bill_of_materials=screws(4)), build(bill_of_materials=screws(6))
    assert compare(old, new, labels=("a", "b")).prices == (
        Change(name="hardware", old=1.0, new=1.5),
        Change(name="rig", old=1.0, new=1.5),
    )
    assert {(one.name, one.fate) for one in compared(bill_of_materials=screws(4)).prices} == {
        ("hardware", "new"),
        ("rig", "new"),
    }


@pytest.mark.parametrize(
    ("change", "trend"),
    [
        pytest.param({"value": 1.0}, "worse", id="further below the least"),
        pytest.param({"value": 2.5}, "better", id="nearer to the least"),
        pytest.param({"severity": Severity.STOP}, "worse", id="graver"),
        pytest.param({"severity": Severity.NOTE, "value": 1.0}, "better", id="lighter"),
        pytest.param({"value": 4.0}, "changed", id="on the other side"),
        pytest.param({"value": None}, "changed", id="no figure"),
        pytest.param({"remedy": "turn it"}, "changed", id="other words"),
    ],
)
def test_findings_get_worse_or_better(change, trend):
    """The same measure of the same feature, otherwise."""
    (found,) = compared(findings=(finding(**change),)).changed_findings
    assert found.trend == trend


def test_findings_come_and_go():
    """One about another hole is new, and the old one is gone."""
    found = compared(findings=(finding(feature="hole 2"),))
    assert groups(found) == {"findings gone", "findings new"}
    assert found.gone_findings == (finding(),)


def test_compare_json_says_it_all_and_names_its_files():
    """Strict JSON, every picture named with its sum, no place of this machine."""
    found = compared(parts=(part(profile=plate(121.0)), part("lid")))
    files = comparison_files(found)
    said = json.loads(files["compare.json"])
    assert not said["same"]
    assert said["old"] == {"label": "a", "recipe": "rig", "platekit": "0.1.0"}
    (one,) = said["parts"]["changed"]
    assert one["outline"] == {
        "removed_mm2": 0.0,
        "added_mm2": 80.0,
        "picture": "pictures/base.svg",
    }
    assert [file["path"] for file in said["files"]] == ["pictures/base.svg"]
    assert set(files) == {"compare.json", "pictures/base.svg"}
    assert comparison_files(found) == files


@pytest.mark.parametrize(
    ("old", "new", "labels"),
    [
        ("x/a/rig", "x/b/rig", ("a/rig", "b/rig")),
        ("x/a/rig/build.json", "x/b/rig", ("a/rig", "b/rig")),
        ("thick.json", "thin.json", ("thick.json", "thin.json")),
        ("rig", "rig", ("rig", "rig")),
        ("a/b/rig", "a/b/other", ("rig", "other")),
    ],
)
def test_builds_are_told_apart_by_the_end_of_their_paths(old, new, labels):
    """As much as it takes, and no more."""
    assert told_apart(Path(old), Path(new)) == labels


def test_one_path_inside_the_other():
    """The shorter one is given whole."""
    old, new = told_apart(Path("/rig"), Path("/old/rig"))
    assert (old, new) == ("rig", "old/rig")
