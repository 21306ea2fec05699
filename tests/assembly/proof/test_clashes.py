"""Clashes: what overlaps is named, measured and placed, and what only fits is left alone."""

import math

import pytest

from platekit.assembly import Assembly, fingers, lying, standing
from platekit.assembly.frames import Frame, Vector, X
from platekit.assembly.proof import Thing, ThingKind, prove, things_in
from platekit.assembly.proof.clashes import clash_findings, clashes
from platekit.assembly.proof.things import Prism
from platekit.findings import Severity
from platekit.geometry.chains import circle
from platekit.geometry.profile import Profile
from tests.assembly.bodies import plate
from tests.assembly.proof.rigs import bar, brick, case, screw


def test_a_motor_in_a_wall_is_named_measured_and_placed():
    """Closed form: a 40 mm wide motor 10 mm deep in a 6 mm floor: all of 40 x 40 x 6 mm."""
    motor = brick("motor", (30, 20, -4), (70, 60, 40), kind=ThingKind.DEVICE)
    (said,) = clash_findings([*case(lid=False), motor])
    assert said.severity is Severity.STOP
    assert said.part == "floor + motor"
    assert said.value == pytest.approx(40 * 40 * 6, rel=0.01)
    assert said.unit == "mm3"
    assert "x 50, y 40, z 3" in said.feature
    assert "through=('floor',)" in said.remedy


def test_two_crossed_shafts_share_what_steinmetz_says():
    """Closed form: two cylinders of one radius, square to each other, share 16 r^3 / 3."""
    r = 10.0
    rod = Profile(circle((0, 0), diameter_mm=2 * r))
    one = Thing("upright", ThingKind.DEVICE, (Prism(rod, Frame(Vector(5, 7, 0)), -30, 30),))
    along = Frame(Vector(5, 7, 0)).turned(
        about=Vector(0, 1, 0), angle_deg=90, through=Vector(5, 7, 0)
    )
    two = Thing("level", ThingKind.DEVICE, (Prism(rod, along, -30, 30),))
    ((a, b, found),) = clashes([one, two])
    assert {a.name, b.name} == {"upright", "level"}
    assert found.volume_mm3 == pytest.approx(16 * r**3 / 3, rel=0.01)
    assert tuple(found.at) == pytest.approx((5, 7, 0), abs=0.5)


@pytest.mark.parametrize("deep", [0.5, 1.0, 3.0])
def test_a_screw_in_a_panels_edge_is_found_with_its_segment(deep):
    """Closed form: the segment of a 5 mm shank that stands `deep` in the plate, times 20 mm."""
    held = screw("screw", ("plate",), (50, -2.5 + deep, 25), grip=20.0, head=(4.0, 2.0))
    ((a, b, found),) = clashes([brick("plate", (0, 0, 0), (100, 60, 25)), held])
    assert {a.name, b.name} == {"plate", "screw"}
    r, h = 2.5, deep
    segment = r * r * math.acos((r - h) / r) - (r - h) * math.sqrt(2 * r * h - h * h)
    # Chords lie up to 0.05 mm inside the circle.
    chord = 2 * math.sqrt(2 * r * h - h * h)
    assert found.volume_mm3 == pytest.approx(segment * 20, abs=0.05 * chord * 1.6 * 20)
    assert found.at.x == pytest.approx(50, abs=0.1)
    assert found.at.y == pytest.approx(deep / 2, abs=0.1)
    assert found.at.z == pytest.approx(15, abs=0.1)


def test_what_lies_against_each_other_does_not_clash():
    """A case of bricks, a shaft in a bore of its own size, a screw in a hole of its own."""
    shaft = Thing(
        "shaft",
        ThingKind.DEVICE,
        (Prism(Profile(circle((50, 40), diameter_mm=12)), Frame(), -20, 80),),
    )
    bored = brick("wheel", (30, 20, 70), (70, 60, 76), holes=((50, 40, 12),), kind=ThingKind.PULLEY)
    floor = brick("floor", (0, 0, 0), (100, 80, 6), holes=((50, 40, 12), (10, 10, 5)))
    held = screw("screw", ("floor",), (10, 10, 6), grip=6.0)
    assert clash_findings([shaft, bored, floor, held]) == ()
    assert clash_findings(case()) == ()


@pytest.mark.parametrize("clearance", [-0.2, -0.1, 0.0, 0.1])
def test_a_joint_held_by_interference_is_no_clash_and_goes_together(clearance):
    """Fingers pressed 0.1 mm into each other at every flank are a fit, not a fault."""
    corner = (
        Assembly("corner")
        .with_panels(
            lying(plate("floor", 4.0, 120, 60)),
            standing(plate("wall", 4.0, 120, 50), facing="front"),
        )
        .with_joints(fingers("floor", "wall", count=5))
        .with_practice(clearance_mm=clearance)
    )
    assert prove(things_in(corner.resolve())).findings == ()


def test_every_pair_that_clashes_is_said_once():
    """Three bricks through each other are three pairs; a fourth far off is in none."""
    things = [
        brick("a", (0, 0, 0), (40, 10, 10)),
        brick("b", (5, 5, 5), (15, 30, 30)),
        brick("c", (8, 0, 0), (12, 30, 9)),
        brick("d", (100, 0, 0), (120, 10, 10)),
    ]
    said = {f.part: f.value for f in clash_findings(things)}
    assert said == {
        "a + b": pytest.approx(10 * 5 * 5),
        "a + c": pytest.approx(4 * 10 * 9),
        "b + c": pytest.approx(4 * 25 * 4),
    }


def test_belts_lie_on_their_pulleys():
    """A belt that shares its teeth with a pulley is no clash, with a plate it is."""
    belt = Thing("belt", ThingKind.BELT, (bar((0, 0, 0), (80, 10, 6)),))
    pulley = brick("pulley", (0, 0, 0), (12, 10, 6), kind=ThingKind.PULLEY)
    wall = brick("wall", (40, 5, 0), (46, 40, 30))
    assert [f.part for f in clash_findings([belt, pulley, wall])] == ["belt + wall"]


def test_a_clash_reads_plainly():
    """One short line: who, where, how much, what to do."""
    (said,) = clash_findings(
        [brick("left", (0, 0, 0), (6, 50, 50)), brick("shelf", (2, 0, 20), (60, 50, 26))]
    )
    assert str(said) == (
        "left + shelf / at x 4, y 25, z 23 mm: they overlap by 1200 mm3; "
        "move one of them, or join them"
    )


def test_turned_things_clash_alike():
    """The same volume and place, turned, at any angle."""
    motor = Prism(Profile(circle((0, 0), diameter_mm=20)), Frame(Vector(20, 20, 0)), -3, 30)
    floor = bar((0, 0, 0), (80, 60, 6))
    ((_, _, still),) = clashes(
        [Thing("motor", ThingKind.DEVICE, (motor,)), Thing("floor", ThingKind.PLATE, (floor,))]
    )

    def turn(p):
        return Prism(p.profile, p.frame.turned(about=X, angle_deg=33), p.low_mm, p.high_mm)

    ((_, _, tilted),) = clashes(
        [
            Thing("motor", ThingKind.DEVICE, (turn(motor),)),
            Thing("floor", ThingKind.PLATE, (turn(floor),)),
        ]
    )
    assert tilted.volume_mm3 == pytest.approx(still.volume_mm3, rel=1e-4)
    place = Frame(still.at).turned(about=X, angle_deg=33).origin
    assert tuple(tilted.at) == pytest.approx(tuple(place), abs=0.5)


def test_what_overlaps_is_said_once_and_not_as_a_lock_too():
    """Seen from each of the two the other is in the way whichever way it came: one fault, once."""
    things = [
        brick("floor", (0, 0, 0), (100, 80, 6)),
        brick("gear", (30, 20, 6), (70, 60, 40), kind=ThingKind.DEVICE),
        brick("shaft", (45, 35, 30), (55, 45, 90), kind=ThingKind.DEVICE),
    ]
    found = prove(things)
    assert [f.part for f in found.findings] == ["gear + shaft"]
    assert "bore" in found.findings[0].remedy
    assert [step.things for step in found.steps] == [("floor",), ("gear",), ("shaft",)]
