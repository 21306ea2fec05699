"""Screwed joints: holes by ISO 273, nuts by ISO 4032, lengths by ISO 4762, and they go together."""

import math

import pytest

from platekit.assembly import Assembly, lying, screwed, standing
from platekit.assembly.box import box
from platekit.assembly.frames import Frame, Vector
from platekit.assembly.screwing import NUT_PLAY_MM, TIP_ROOM_MM
from platekit.assembly.solids import solid
from platekit.findings import Severity
from platekit.geometry.chains import circle
from platekit.geometry.profile import Profile
from platekit.materials import birch_plywood
from tests.assembly.bodies import plate, proof


def bracket(t, thread, *, over=20.0, length=160.0, **how):
    """A wall screwed under a top that stands out beyond it by `over`."""
    return (
        Assembly("bracket")
        .with_panels(
            standing(plate("wall", t, length, 80), facing="front", left_mm=20, front_mm=over),
            lying(plate("top", t, length + 40, 60), top_mm=80),
        )
        .with_joints(screwed("wall", to="top", thread=thread, **how))
    )


@pytest.mark.parametrize(
    ("thread", "hole", "flats", "height"),
    [
        pytest.param("M3", 3.4, 5.5, 2.4, id="M3"),
        pytest.param("M4", 4.5, 7.0, 3.2, id="M4"),
        pytest.param("M5", 5.5, 8.0, 4.7, id="M5"),
    ],
)
def test_openings_have_the_standards_sizes(thread, hole, flats, height):
    """Hole: ISO 273 medium. Nut: ISO 4032 across flats and height. Pockets add the play stated."""
    resolved = bracket(6.0, thread, screws=2).resolve()
    wall, top = (part.profile for part in resolved.parts)
    holes = [ring for ring in top.inners if ring.is_circle]
    assert [ring.bounds.width_mm for ring in holes] == pytest.approx([hole, hole])
    # The middle of the wall's thickness, as the top sees it.
    assert [ring.centroid.y for ring in holes] == pytest.approx([23.0, 23.0])
    at = holes[0].centroid.x - 20
    nut_at = 2 * float(thread[1:])
    depth = 74.0 - nut_at - (height + NUT_PLAY_MM) / 2
    half = (flats + NUT_PLAY_MM) / 2
    assert not wall.contains((at + half - 0.01, depth))
    assert wall.contains((at + half + 0.01, depth))
    assert not wall.contains((at, 74.0 - nut_at + 0.01))
    assert wall.contains((at + half - 0.01, 74.0 - nut_at + 0.01))
    assert wall.contains((at + half - 0.01, 74.0 - nut_at - height - NUT_PLAY_MM - 0.01))


@pytest.mark.parametrize("t", [4.0, 6.0, 9.0])
@pytest.mark.parametrize("thread", ["M3", "M4", "M5"])
def test_screw_and_nut_go_in_and_reach(t, thread):
    """Bodies of the screw's shank and the nut share no volume with either part.

    Witness: manifold3d. The shank is a cylinder of the thread's diameter and the length on the
    bill, its head's underside a washer above the top; the nut a hexagonal prism of the standard's
    size at its place. The shank must reach through the nut by a pitch.
    """
    from platekit.hardware import screw

    resolved = bracket(t, thread, screws=1).resolve()
    bought = screw(thread)
    designation = next(i.designation for i in resolved.items if i.designation.startswith("screw"))
    length = float(designation.split("x")[1].split()[0])
    top = resolved.parts[1].profile
    (hole,) = [ring for ring in top.inners if ring.is_circle]
    x, y = hole.centroid
    head = 80 + bought.washer_height_mm
    shank = solid(
        Profile(circle((0, 0), diameter_mm=bought.nominal_mm)),
        thickness_mm=length,
        frame=Frame(Vector(x, y, head - length)),
    )
    nut_top = 80 - t - 2 * bought.nominal_mm
    from platekit.geometry.shapes import regular_polygon

    flats = Profile(regular_polygon(6, across_flats_mm=bought.nut_across_flats_mm))
    nut = solid(
        flats,
        thickness_mm=bought.nut_height_mm,
        frame=Frame(Vector(x, y, nut_top - NUT_PLAY_MM / 2 - bought.nut_height_mm)),
    )
    for part, frame in resolved.placed:
        body = solid(part.profile, thickness_mm=part.sheet.thickness_mm, frame=frame)
        assert (body ^ shank).volume() < 1e-6
        # Two flats lie along the pocket's ends or its corners do; either way its width is ample
        # in one direction only, so the prism is turned until its flats face the pocket's ends.
        assert min((body ^ turned(nut, x, y, a)).volume() for a in (0, 30)) < 1e-6
    assert head - length <= nut_top - NUT_PLAY_MM - bought.nut_height_mm - bought.pitch_mm + 1e-9


def turned(body, x, y, angle_deg):
    """Return a body turned about the upright through (x, y)."""
    return body.translate((-x, -y, 0)).rotate((0, 0, angle_deg)).translate((x, y, 0))


def test_the_bill_lists_screw_washer_and_nut():
    """M4 through 6 mm into a nut 8 mm on: grip 14, washer 0.8, nut 3.2, two pitches: 20 mm.

    Worked by hand with ISO 4762 lengths: 16 is too short, 20 is made.
    """
    items = {i.designation: i.quantity for i in bracket(6.0, "M4", screws=3).resolve().items}
    assert items == {
        "screw ISO 4762 M4x20 8.8": 3,
        "washer ISO 7089 M4 200 HV": 3,
        "nut ISO 4032 M4 8": 3,
    }


def test_a_screwed_box_claims_nothing_twice():
    """Only its holes, slots and pockets are lost, counted from the standards' sizes."""
    lidded = box(
        "b", birch_plywood(6), width_mm=200, depth_mm=150, height_mm=100, lid="screwed"
    ).with_practice(clearance_mm=0.0)
    joints = tuple(
        type(joint)(**{**vars_of(joint), "clearance_mm": 0.0}) for joint in lidded.joints
    )
    found = proof(lidded.with_joints(*joints))
    screws = sum(i.quantity for i in found.resolved.items if i.designation.startswith("screw"))
    depth = 20 - 0.8 - 6 + TIP_ROOM_MM
    slot = 4.5 * depth + (7.0 - 4.5 + NUT_PLAY_MM) * (3.2 + NUT_PLAY_MM)
    each = 6 * (slot + math.pi * 4.5**2 / 4)
    assert screws == 4
    assert found.overlap_mm3 < 1e-3
    assert found.lost_mm3 == pytest.approx(screws * each, rel=2e-3)  # circles are chords there


def vars_of(joint):
    """Return a joint's fields."""
    return {name: getattr(joint, name) for name in joint.__dataclass_fields__}


def test_a_screw_whose_hole_runs_over_the_edge_is_a_stop():
    """M5 in the middle of a 4 mm edge breaks out: 5.5 mm in 4 mm. The remedy, followed, helps.

    Web of one thickness of plywood, common practice, no source: 4 + (5.5 - 4) / 2 = 4.75 mm.
    """
    found = bracket(4.0, "M5", over=0.0, screws=1).resolve().findings
    (said,) = [f for f in found if f.severity is Severity.STOP]
    assert said.part == "wall + top"
    assert "x 100, y 2, z 78 mm" in said.feature
    assert "let top stand out 4.75 mm beyond wall" in said.remedy
    resolved = bracket(4.0, "M5", over=4.75, screws=1).resolve()
    assert not [f for f in resolved.findings if f.severity is Severity.STOP]
    assert not resolved.parts[1].findings


def test_a_screw_whose_hole_only_just_keeps_to_the_panel_is_a_warning():
    """M3 in the middle of a 4 mm edge leaves (4 - 3.4) / 2 = 0.3 mm. The remedy, followed, helps.

    Web of one thickness of plywood, common practice, no source: 4 - 0.3 = 3.7 mm are to be added.
    """
    whole = bracket(4.0, "M3", over=0.0, screws=2).resolve()
    said = [*whole.findings, *(f for part, _ in whole.placed for f in part.findings)]
    (web,) = [f for f in said if "web" in f.measure]
    assert web.severity is Severity.WARNING
    assert web.value == pytest.approx(0.3)
    assert "let top stand out 3.7 mm beyond wall" in web.remedy
    out = bracket(4.0, "M3", over=3.7, screws=2).resolve()
    assert not [f for part, _ in out.placed for f in part.findings if "M3" in f.feature]
    assert not [f for f in out.findings if "web" in f.measure]


def test_a_thread_thicker_than_the_sheet_is_a_warning():
    """M5 along a slot in a 4 mm sheet has nothing to guide it."""
    found = bracket(4.0, "M5", screws=1).resolve().findings
    said = [f for f in found if "M5 screw" in f.measure]
    assert [(f.severity, f.value, f.limit) for f in said] == [(Severity.WARNING, 4.0, 5.0)]
