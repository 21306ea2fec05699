"""On the axis of another, as far off as a belt says: places in space, planes and what is amiss."""

import math

import pytest

from platekit.assembly import Assembly, lying, standing
from platekit.assembly.mounting import belted, bolted, by_belt, mounted, on_axis
from platekit.errors import PartError, UnknownNameError
from platekit.findings import Severity
from platekit.hardware import belt_drive
from platekit.hardware.devices.bearings import ball_bearing
from platekit.hardware.devices.motors import motor
from platekit.hardware.devices.shafts import shaft
from tests.assembly.bodies import plate
from tests.assembly.mounting.space import holes

# 45 and 20 teeth of 2 mm pitch: 2.25 to one (common practice, no source).
SMALL = belt_drive("curvilinear 2 mm", teeth=(45, 20), belt_teeth=140, width_mm=6)
# Two pulleys of 24 teeth, 5 mm pitch, a belt of 60 teeth: 3.5433 in, so 90.0 mm apart (team
# teaching notes on belts, looked up).
EVEN = belt_drive("curvilinear 5 mm", teeth=(24, 24), belt_teeth=60, width_mm=9)


def drive_unit(shaft_length_mm=40.0):
    """Return a motor with a face to NEMA 23 (NEMA ICS 16), its shaft 0.25 in thick."""
    return motor("NEMA 23", body_length_mm=60, shaft_length_mm=shaft_length_mm, flange_mm=5)


def built(*asked, sheet_mm=6.0, further=()):
    """Resolve a lying panel of 300 x 200 mm, its upper face at z = 0, with what is asked."""
    deck = lying(plate("deck", float(sheet_mm), 300, 200), top_mm=0)
    return Assembly("a").with_panels(deck, *further).with_hardware(*asked).resolve()


def belt_between(
    drive, *, travel_mm=0.0, travel_deg=0.0, heading_deg=0.0, at=None, motor_shaft_mm=40.0, **how
):
    """Ask for a motor, an axle and a belt on the underside of the deck."""
    place = by_belt(drive, of="motor", heading_deg=heading_deg) if at is None else at
    return (
        mounted(
            drive_unit(motor_shaft_mm),
            on="deck",
            side="up",
            at=(80, 100),
            name="motor",
            travel_mm=travel_mm,
            travel_deg=travel_deg,
        ),
        mounted(shaft(8, 20, below_mm=60), on="deck", side="up", at=place, name="axle"),
        belted(drive, between=("motor", "axle"), on="deck", side="down", **how),
    )


def where(resolved, name):
    """Return the origin of a body in space."""
    (found,) = [body.frame.origin for body in resolved.bodies if body.name == name]
    return found


def span(resolved, name, part):
    """Return where along z a block of a body lies, lowest first."""
    (body,) = [body for body in resolved.bodies if body.name == name]
    (block,) = [block for block in body.blocks if block.name == part]
    return tuple(sorted(body.frame.point(0, 0, end).z for end in (block.low_mm, block.high_mm)))


def amiss(resolved):
    """Return severity, measure, value and limit of what is worse than a note."""
    return [
        (f.severity, f.measure, f.value, f.limit)
        for f in resolved.findings
        if f.severity > Severity.NOTE
    ]


def test_the_trade_counts_45_to_20_teeth_as_2_25_to_one():
    """Common practice, no source."""
    assert SMALL.ratio == pytest.approx(2.25)


@pytest.mark.parametrize("face", ["up", "down"])
def test_on_axis_is_in_line_in_space_whichever_way_panels_look(face):
    """A bearing in a panel below, drawn from its other side and set off to one side.

    The motor's axis stands at x = 80, y = 100; the other stands 62 to its right, which is -62
    along the panel's own x where it is drawn from below, and 5 along its y.
    """
    along = 62 if face == "up" else -62
    low = lying(plate("low", 9.0, 240, 160), face=face, top_mm=-50, left_mm=20, front_mm=30)
    resolved = built(
        mounted(drive_unit(), on="deck", side="up", at=(80, 100), name="motor"),
        mounted(ball_bearing("608"), on="low", side="up", at=on_axis("motor"), name="ring"),
        mounted(
            ball_bearing("608"),
            on="low",
            side="down",
            at=on_axis("motor", dx_mm=along, dy_mm=5),
            name="aside",
        ),
        further=(low,),
    )
    assert tuple(where(resolved, "ring")) == pytest.approx((80, 100, -50))
    assert tuple(where(resolved, "aside")) == pytest.approx((142, 105, -59))
    seats = [hole for hole in holes(resolved) if 22.0 <= hole.diameter_mm <= 22.03]
    assert sorted((round(h.near.x, 6), round(h.near.y, 6)) for h in seats) == sorted(
        [(80.0, 100.0), (142.0, 105.0)]
    )


def test_an_axis_along_a_panel_is_no_place_on_it():
    """A wall beside the motor: its axis never meets it square."""
    wall = standing(plate("wall", 6.0, 100, 60), facing="front", left_mm=0, bottom_mm=9, front_mm=0)
    with pytest.raises(PartError, match=r"wall / ring: the axis of motor is not square to it"):
        built(
            mounted(drive_unit(), on="deck", side="up", at=(80, 100), name="motor"),
            mounted(ball_bearing("608"), on="wall", side="front", at=on_axis("motor"), name="ring"),
            further=(wall,),
        )


@pytest.mark.parametrize("heading", [0.0, 90.0, 30.0, -135.0])
def test_by_belt_is_as_far_as_the_worked_example_says(heading):
    """90.0 mm: two pulleys of 24 teeth, a belt of 60, 5 mm pitch (teaching notes, looked up)."""
    at = (150, 100)
    resolved = built(
        mounted(shaft(8, 20, below_mm=30), on="deck", side="up", at=at, name="one"),
        mounted(
            shaft(8, 20, below_mm=30),
            on="deck",
            side="up",
            at=by_belt(EVEN, of="one", heading_deg=heading),
            name="other",
        ),
    )
    x, y, _ = where(resolved, "other")
    way = math.radians(heading)
    assert (x, y) == pytest.approx((150 + 90 * math.cos(way), 100 + 90 * math.sin(way)), abs=5e-3)


@pytest.mark.parametrize("sheet", [3, 4, 6, 9, 12])
@pytest.mark.parametrize("side", ["up", "down"])
def test_the_belts_plane_follows_the_sheet(sheet, side):
    """A 6 mm belt runs between flanges whose lower face is 2 mm off the panel's face.

    Both pulleys and the belt lie in one plane, whatever the sheet; the motor stands on the other
    face and its shaft passes the sheet.
    """
    other = {"up": "down", "down": "up"}[side]
    asked = (
        mounted(drive_unit(), on="deck", side=other, at=(80, 100), name="motor", travel_mm=12),
        mounted(
            shaft(8, 20, below_mm=60),
            on="deck",
            side=other,
            at=by_belt(SMALL, of="motor"),
            name="axle",
        ),
        belted(SMALL, between=("motor", "axle"), on="deck", side=side),
    )
    resolved = built(*asked, sheet_mm=sheet)
    face = {"up": 0.0, "down": -float(sheet)}[side]
    way = {"up": 1.0, "down": -1.0}[side]
    assert not amiss(resolved)
    teeth = [span(resolved, f"belt pulley on {name}", "teeth") for name in ("motor", "axle")]
    assert teeth[0] == pytest.approx(teeth[1])
    belt = span(resolved, "belt", "belt")
    assert sum(belt) == pytest.approx(sum(teeth[0]))
    assert belt[1] - belt[0] == pytest.approx(6.0)
    assert teeth[0][0] < belt[0] < belt[1] < teeth[0][1]
    for name in ("motor", "axle"):
        origin = where(resolved, f"belt pulley on {name}")
        assert origin.z == pytest.approx(face + 2.0 * way)
        assert math.dist(origin[:2], where(resolved, name)[:2]) == pytest.approx(0, abs=1e-9)


def test_a_thicker_sheet_leaves_a_short_shaft_out_of_its_pulley():
    """26 mm of shaft: 6 mm of sheet and 2 of air leave 18, 12 and 2 leave 12, 24 and 2 nothing.

    The pulley for a 6 mm belt is 9 mm thick here: the two of 12 and 24 mm differ in the finding.
    """
    for sheet, held in ((6, None), (12, None), (18, 6.0), (24, 0.0)):
        resolved = built(*belt_between(SMALL, travel_mm=12, motor_shaft_mm=26.0), sheet_mm=sheet)
        stops = [found for found in amiss(resolved) if found[0] is Severity.STOP]
        if held is None:
            assert not stops
            continue
        ((_, measure, value, _),) = stops
        assert measure == "length of shaft in the pulley"
        assert value == pytest.approx(held)


@pytest.mark.parametrize("travel", [0.0, 2.0])
def test_a_belt_that_does_not_reach_is_refused(travel):
    """Put 95 mm apart where the worked example says 90.0: a short slot does not bring it home."""
    with pytest.raises(PartError, match=r"95 mm apart.* asks for 90 mm") as caught:
        built(*belt_between(EVEN, travel_mm=travel, at=(175, 100)))
    assert caught.value.part
    assert caught.value.feature == "belt"
    assert "by_belt" in caught.value.remedy


def test_a_long_slot_brings_the_shafts_to_their_distance():
    """20 mm of travel reach 10 mm to either side: 95 mm become 90."""
    resolved = built(*belt_between(EVEN, travel_mm=20.0, at=(175, 100)))
    assert [found for found in amiss(resolved) if found[0] is Severity.STOP] == []


@pytest.mark.parametrize(
    ("travel", "along", "heading", "enough"),
    [
        # By hand: 1.5 mm of tension (0.5 % of 300 mm, ISO 155 from memory); to lift the belt on,
        # a flange as high as the belt is thick and a tooth's height: under 8 mm for a 5 mm pitch.
        pytest.param(0, 0, 0, False, id="none"),
        pytest.param(2.9, 0, 0, False, id="less than twice the tension"),
        pytest.param(16, 0, 0, True, id="ample"),
        pytest.param(16, 90, 0, False, id="across the belt"),
        pytest.param(16, 90, 90, True, id="along it"),
        pytest.param(16, 180, 0, True, id="along it the other way"),
        pytest.param(8, 60, 0, False, id="half of it along"),
    ],
)
def test_too_little_travel_along_the_belt_is_a_warning(travel, along, heading, enough):
    """Slots across the belt tension nothing: 8 mm at 60 degrees count as 4."""
    asked = belt_between(EVEN, travel_mm=travel, travel_deg=along, heading_deg=heading)
    found = amiss(built(*asked))
    assert not [f for f in found if f[0] is Severity.STOP]
    warned = [f for f in found if "travel" in f[1]]
    assert [f[0] for f in warned] == ([] if enough else [Severity.WARNING])
    for _, _, value, limit in warned:
        share = abs(math.cos(math.radians(along - heading)))
        assert value == pytest.approx(travel * share, abs=1e-3)
        assert value < limit


@pytest.mark.parametrize(("own_panel", "enough"), [(True, True), (False, False)])
def test_a_panel_in_its_bolts_slots_tensions_the_belt_only_if_one_stands_on_it(own_panel, enough):
    """Both on the panel that moves: their distance stays what it is."""
    shelf = lying(plate("shelf", 6.0, 160, 120), left_mm=20, front_mm=40, top_mm=6)
    asked = (
        mounted(drive_unit(), on="shelf", side="up", at=(60, 60), name="motor"),
        mounted(
            shaft(8, 20, below_mm=60),
            on="deck" if own_panel else "shelf",
            side="up",
            at=by_belt(EVEN, of="motor"),
            name="axle",
        ),
        bolted("M5", on="shelf", side="up", at=(15, 20), travel_mm=16, name="pin"),
        belted(
            EVEN,
            between=("motor", "axle"),
            on="deck",
            side="down",
        ),
    )
    found = amiss(built(*asked, further=(shelf,)))
    assert (not [f for f in found if "travel" in f[1]]) is enough


def test_belts_that_cannot_run_say_why():
    """No shaft, a shaft along the panel, nobody of that name."""
    wall = standing(plate("wall", 6.0, 200, 90), facing="front", left_mm=0, bottom_mm=9, front_mm=0)
    one = mounted(drive_unit(), on="deck", side="up", at=(80, 100), name="motor")
    ring = mounted(ball_bearing("608"), on="deck", side="up", at=(180, 100), name="ring")
    axle = mounted(shaft(8, 20), on="wall", side="front", at=(100, 50), name="axle")
    cases = (
        (ring, ("motor", "ring"), PartError, "deck / ring: it offers no shaft"),
        (axle, ("motor", "axle"), PartError, "deck / axle: its shaft is not square to deck"),
        (ring, ("motor", "rong"), UnknownNameError, "deck / belt: .*'rong'; did you mean ring"),
    )
    for other, between, kind, says in cases:
        belt = belted(SMALL, between=between, on="deck", side="down")
        with pytest.raises(kind, match=says):
            built(one, other, belt, further=(wall,))


def test_two_belts_on_one_shaft_have_pulleys_of_their_own_names():
    """Messages and steps must tell them apart."""
    asked = (
        mounted(drive_unit(60.0), on="deck", side="up", at=(150, 100), name="motor"),
        mounted(
            shaft(8, 20, below_mm=60), on="deck", side="up", at=by_belt(SMALL, of="motor"), name="a"
        ),
        mounted(
            shaft(8, 20, below_mm=60),
            on="deck",
            side="up",
            at=by_belt(SMALL, of="motor", heading_deg=180),
            name="b",
        ),
        belted(SMALL, between=("motor", "a"), on="deck", side="down", name="first"),
        belted(SMALL, between=("motor", "b"), on="deck", side="down", gap_mm=20, name="second"),
    )
    names = [body.name for body in built(*asked).bodies]
    assert len(names) == len(set(names)) == 9


def test_a_slot_that_is_long_enough_only_off_its_middle_is_a_warning():
    """Both ways together are not enough where one is greater: a slot reaches half to each side.

    Tension: 0.5 % of 300 mm, 1.5 mm outwards (ISO 155, from memory); inwards more, for the flange.
    """
    inwards = EVEN.travel_mm - 1.5
    assert inwards > 1.5
    for travel, warned in ((inwards + 1.5, True), (2 * inwards + 0.01, False)):
        found = amiss(built(*belt_between(EVEN, travel_mm=travel)))
        assert bool([f for f in found if "travel" in f[1]]) is warned
