"""Every recipe on every sheet: it runs, its parts fit into one another, thin places are said."""

from __future__ import annotations

import json
from itertools import product

import pytest
import shapely

from platekit.assembly.joints import Screwed
from platekit.assembly.solids import overlap_mm3, slab_solid, solid, union_solid
from platekit.errors import PlatekitError
from platekit.findings import Severity
from tests.recipes.builds import FLAGSHIP, NAMES, THICKNESSES_MM, assembly, bare, build, resolved
from tests.recipes.chorded import polygon, ring_points


@pytest.fixture(
    scope="module",
    params=list(product(NAMES, THICKNESSES_MM)),
    ids=lambda pair: f"{pair[0]} {pair[1]:g} mm",
)
def case(request):
    """A recipe and a thickness; tests of one case run together and share its build."""
    return request.param


# Chords of bodies: dealt edges are straight, arcs only have to be the same on both sides.
COARSE_MM = 0.05
NO_VOLUME_MM3 = 1e-3


def bodies(parts):
    """Return every placed part as a body of the independent kernel."""
    return [
        solid(
            part.profile, thickness_mm=part.sheet.thickness_mm, frame=frame, tolerance_mm=COARSE_MM
        )
        for part, frame in parts.placed
    ]


def known_names(name, thickness_mm):
    """Return what a finding may call a part: plates, panels, bought parts, and the whole."""
    made = assembly(name, thickness_mm)
    done = resolved(name, thickness_mm)
    bought = {body.name for body in done.bodies} | {one.name for one in done.fastenings}
    plates = {plate.name for panel in made.panels for plate in panel.layers}
    parts = {part.name for part in build(name, thickness_mm).parts}
    return plates | parts | bought | {panel.name for panel in made.panels} | {made.name}


def test_every_sheet_makes_every_file(case):
    """At 3, 6, 9 mm and at odd measured sizes: two files a part.

    What says stop is strength alone, and only on sheets thinner than the recipe's own.
    """
    name, thickness_mm = case
    made = build(name, thickness_mm)
    stops = [one for one in made.findings if one.severity is Severity.STOP]
    assert all(one.check.startswith("hold.") for one in stops), list(map(str, stops))
    assert not stops or thickness_mm < 5.0, list(map(str, stops))
    stems = [f"parts/{part.name}" for part in made.parts]
    stems += [f"sheets/{number}" for number in range(1, len(made.sheets) + 1)]
    wanted = {f"{stem}.{kind}" for stem in stems for kind in ("dxf", "svg")}
    assert {path for path in made.files if path.startswith(("parts/", "sheets/"))} == wanted
    assert {"bill_of_materials.csv", "build.json"} <= set(made.files)
    assert all(part.sheet.thickness_mm == thickness_mm for part in made.parts)
    record = json.loads(made.files["build.json"])
    assert record["inputs"]["sheet"]["thickness_mm"] == thickness_mm


def test_findings_name_a_part_a_number_and_a_remedy(case):
    """Whoever reads one knows where to look, and what to do."""
    name, thickness_mm = case
    known = known_names(name, thickness_mm)
    for finding in build(name, thickness_mm).findings:
        if not finding.part.startswith("birch plywood"):
            assert set(finding.part.split(" + ")) <= known, finding
        assert finding.remedy, finding
        if finding.value is not None and finding.limit is not None:
            assert finding.value != finding.limit, finding


def test_a_screw_thicker_than_its_sheet_is_said(case):
    """A screw along the sheet is guided by its slot: 4 mm of thread in 3 mm of sheet is not.

    M4 measures 4 mm by name (ISO 261).
    """
    name, thickness_mm = case
    said = {
        (frozenset(one.part.split(" + ")), one.limit)
        for one in build(name, thickness_mm).findings
        if "screwed" in one.feature and one.measure.startswith("thickness of")
    }
    layer_of = {
        plate.name: panel.name
        for panel in assembly(name, thickness_mm).panels
        for plate in panel.layers
    }
    said = {(frozenset(layer_of[plate] for plate in pair), limit) for pair, limit in said}
    due = {
        (joint.names, float(joint.screw.thread.removeprefix("M")))
        for joint in assembly(name, thickness_mm).joints
        if isinstance(joint, Screwed)
    }
    assert said == {(pair, thread) for pair, thread in due if thickness_mm < thread}


def test_thin_webs_are_said_and_measured_right(case):
    """Plain shapely finds the same thin webs between holes as the findings tell of.

    A web of one thickness, 2 mm at least, is common practice (no source). Plates that state a
    web of their own, and features that leave a finer one on purpose (vents), may go below.
    """
    name, thickness_mm = case
    least = max(thickness_mm, 2.0)
    plates = {p.name: p for panel in assembly(name, thickness_mm).panels for p in panel.layers}
    parts = resolved(name, thickness_mm)
    for part in parts.parts:
        plate = plates[part.name]
        said = [
            one
            for one in (*part.findings, *parts.findings)
            if part.name in one.part.split(" + ") and one.measure.startswith("web")
        ]
        meant = [
            cut.bounds
            for feature in plate.features
            if feature.web_mm is not None
            for cut in feature.cuts
        ]
        rings = [
            shapely.LinearRing(ring_points(ring))
            for ring in part.profile.rings
            if not any(_same_box(ring.bounds, box) for box in meant)
        ]
        if plate.least_web_mm is None:
            found = _thin(rings, least - 0.01)
            assert bool(found) <= bool(said), f"{part.name}: {sorted(found)[:3]}"
        every = [shapely.LinearRing(ring_points(ring)) for ring in part.profile.rings]
        for one in said:
            assert one.value < one.limit
            # A web before the edge may lie along the plate's edge before the joints cut it.
            edge = shapely.LinearRing(ring_points(plate.outline.outer))
            near = _thin([*every, edge], one.limit)
            assert min(abs(one.value - width) for width in near) <= 0.01, one


def _same_box(one, other):
    return all(
        abs(a - b) <= 1e-6
        for a, b in zip(
            (one.left, one.bottom, one.right, one.top),
            (other.left, other.bottom, other.right, other.top),
            strict=True,
        )
    )


def _thin(rings, below_mm):
    """Return every distance between two rings under `below_mm`."""
    tree = shapely.STRtree(rings)
    pairs = tree.query(rings, predicate="dwithin", distance=below_mm).T
    return [rings[i].distance(rings[j]) for i, j in pairs if i < j]


def test_every_part_carries_its_name_clear_of_every_cut(case):
    """By plain shapely: each scored stroke runs in the material, a millimetre or more from cuts.

    Nearer, the burnt edge of a cut swallows a stroke: common practice, no source.
    """
    for part in resolved(*case).parts:
        strokes = [
            [*((one.start.x, one.start.y) for one in mark.path.segments), tuple(mark.path.end)]
            for mark in part.marks
        ]
        assert strokes, part.name
        shape, name = polygon(part.profile), shapely.MultiLineString(strokes)
        assert shape.contains(name), part.name
        assert shape.boundary.distance(name) >= 1.0, part.name


def test_no_two_parts_claim_one_place(case):
    """By manifold3d: no two bodies share a thousandth of a cubic mm, and each is one piece."""
    name, thickness_mm = case
    made = bodies(resolved(name, thickness_mm))
    assert abs(overlap_mm3(made)) < NO_VOLUME_MM3
    assert [len(body.decompose()) for body in made] == [1] * len(made)


def test_without_play_the_joints_keep_the_volume(case):
    """At zero clearance, without holes, the parts together fill just what the slabs claimed.

    The volumes come from manifold3d, whose corners are right within about 1e-9 of the whole.
    """
    name, thickness_mm = case
    made = bare(assembly(name, thickness_mm))
    parts = union_solid(bodies(made.resolve())).volume()
    slabs = union_solid(slab_solid(p, tolerance_mm=COARSE_MM) for p in made.panels).volume()
    assert parts == pytest.approx(slabs, rel=1e-9, abs=NO_VOLUME_MM3)


def test_the_volume_would_show_a_lost_finger():
    """The check can fail: with the usual play the parts fill less than the slabs."""
    made = bare(assembly(FLAGSHIP)).with_practice(clearance_mm=0.1)
    loose = made.__class__(made.name, panels=made.panels, practice=made.practice)
    parts = union_solid(bodies(loose.resolve())).volume()
    slabs = union_solid(slab_solid(p, tolerance_mm=COARSE_MM) for p in made.panels).volume()
    assert slabs - parts > 10.0


@pytest.mark.parametrize("thickness_mm", [2.0, 12.0, 18.0, 24.0])
@pytest.mark.parametrize("name", NAMES)
def test_sheets_no_recipe_was_drawn_for_work_or_are_refused_by_name(name, thickness_mm):
    """Far off the usual sizes a run either cuts bodies that fit, or names the part and a remedy."""
    refusal: PlatekitError | None = None
    try:
        made = bodies(resolved(name, thickness_mm))
    except PlatekitError as err:
        refusal, made = err, []
    assert abs(overlap_mm3(made)) < NO_VOLUME_MM3
    if refusal is not None:
        said = str(refusal)
        panels = assembly(name).panels
        names = {panel.name for panel in panels}
        names |= {plate.name for panel in panels for plate in panel.layers}
        assert any(part in said for part in names), said
        assert "; " in said, f"no remedy: {said}"
