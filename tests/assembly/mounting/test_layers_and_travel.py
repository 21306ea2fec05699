"""Laminates and panels further along: what is pierced, what is gripped, where heads and nuts go."""

import math

import pytest

from platekit.assembly import Assembly, laminate, lying, standing
from platekit.assembly.mounting import bolted, mounted
from platekit.assembly.solids import overlap_mm3, solid
from platekit.errors import PartError
from platekit.hardware.devices.bearings import ball_bearing
from platekit.hardware.devices.motors import encoder, motor
from platekit.hardware.devices.panel_devices import gland, panel_device
from platekit.hardware.devices.shafts import shaft
from platekit.hardware.devices.standing_devices import rectangular_device
from platekit.panel.holes import hole
from platekit.panel.openings import slot
from tests.assembly.bodies import plate
from tests.assembly.mounting.space import holes, holes_on, in_the_way


def stack(count, thickness_mm=6.0):
    """Return a lying laminate whose upper face is at z = 0, its layers named from below."""
    layers = [plate(f"d{k}", thickness_mm, 200, 150) for k in range(count)]
    return lying(laminate("deck", *layers, dowels=0), top_mm=0)


def dial(**sizes):
    """Return an encoder: spigot 36 mm by 10 mm, three M4 on 48 mm; common practice, no source."""
    usual = {"body_length_mm": 50, "shaft_length_mm": 30, "depth_mm": 12} | sizes
    return encoder("58 mm clamping flange M4", **usual)


def ears():
    """Return a part that screws pass: two M4 through ears of 2 mm, 60 by 40 mm apart."""
    return rectangular_device(
        "board",
        width_mm=80,
        depth_mm=60,
        height_mm=30,
        holes=[(-30, -20), (30, 20)],
        thread="M4",
        flange_mm=2,
    )


def cut_in(resolved):
    """Return the diameters of the round holes of each part, smallest first."""
    found = {}
    for one in holes(resolved):
        found.setdefault(one.part, []).append(round(one.diameter_mm, 6))
    return {part: sorted(sizes) for part, sizes in found.items()}


def build(panels, *asked):
    """Resolve an assembly of panels and bought parts."""
    return Assembly("a").with_panels(*panels).with_hardware(*asked).resolve()


def of_plates(resolved, word):
    """Return what the finished parts say about a measure that holds this word."""
    return [f for part, _ in resolved.placed for f in part.findings if word in f.measure]


def bodies_overlap_mm3(resolved):
    """Return what parts and fasteners share, by manifold3d; chords lie inside the arcs."""
    things = [
        solid(part.profile, thickness_mm=part.sheet.thickness_mm, frame=frame)
        for part, frame in resolved.placed
    ]
    for fastening in resolved.fastenings:
        for body in fastening.bodies:
            things += [
                solid(b.profile, thickness_mm=b.height_mm, frame=body.frame.lifted(b.low_mm))
                for b in body.blocks
                if b.name != "shank"
            ]
    return overlap_mm3(things)


@pytest.mark.parametrize("side", ["up", "down"])
def test_a_spigot_opens_only_the_layers_it_reaches(side):
    """10 mm of spigot lie in the first 6 mm layer and 4 mm of the second; a shaft of 10 beyond.

    Play: 0.2 mm for the spigot, 2 mm for the shaft: common practice, no source. ISO 273: M4 4.5.
    """
    resolved = build([stack(4)], mounted(dial(), on="deck", side=side, name="dial"))
    near, far = ("d3", "d2"), ("d1", "d0")
    if side == "down":
        near, far = far[::-1], near[::-1]
    found = cut_in(resolved)
    assert {found[name][-1] for name in near} == {36.2}
    assert {found[name][-1] for name in far} == {12.0}
    assert {size for sizes in found.values() for size in sizes[:3]} == {4.5}


@pytest.mark.parametrize(
    ("face", "clear", "opening", "washer"),
    [
        # ISO 273 medium; the widest of head (ISO 4762: 5.5, 7) and washer (ISO 7089: 7, 9) and
        # 1 mm of room (common practice, no source); the washer's height.
        pytest.param("58 mm clamping flange", 3.4, 7 + 1, 0.5, id="M3"),
        pytest.param("58 mm clamping flange M4", 4.5, 9 + 1, 0.8, id="M4"),
    ],
)
def test_deeper_layers_let_heads_in(face, clear, opening, washer):
    """Of four layers two are gripped; the others get a hole for head and washer."""
    device = encoder(face, body_length_mm=50, shaft_length_mm=30, depth_mm=12)
    asked = mounted(device, on="deck", side="up", grip_layers=2, name="dial")
    resolved = build([stack(4)], asked)
    found = cut_in(resolved)
    assert [found[name][:3] for name in ("d2", "d3")] == [[clear] * 3] * 2
    assert [found[name].count(opening) for name in ("d0", "d1")] == [3, 3]
    assert bodies_overlap_mm3(resolved) < 1e-6
    for fastening in resolved.fastenings:
        assert fastening.holds == ("dial", "d3", "d2")
        assert len(holes_on(resolved, fastening)) == 4
        assert fastening.bodies[0].frame.origin.z == pytest.approx(
            -12 - sum(washer for body in fastening.bodies if body.kind.value == "washer")
        )


@pytest.mark.parametrize("what", ["flange", "bolt"])
def test_deeper_layers_let_nuts_in(what):
    """Two of three layers gripped: nut, washer and wrench need room in the third.

    M4: nut 7.66 over its corners (ISO 4032), washer 9 (ISO 7089): at least 9 mm clear. A
    manifold3d proof that nothing shares room.
    """
    if what == "flange":
        asked = mounted(ears(), on="deck", side="up", grip_layers=2, name="board")
    else:
        asked = bolted("M4", on="deck", side="up", at=(70, 55), grip_layers=2, name="pin")
    resolved = build([stack(3)], asked)
    for fastening in resolved.fastenings:
        last = holes_on(resolved, fastening)[-1]
        assert last.part == "d0"
        assert last.diameter_mm > 9.0
        assert not in_the_way(resolved, fastening)
    assert bodies_overlap_mm3(resolved) < 1e-6


def test_a_captive_nut_lies_in_the_last_layer_and_the_bolts_end_goes_on():
    """M5 through 6 mm: washer 1, nut 4.7 (ISO 4032), two pitches of 0.8 mm: 13.3, so 16 mm.

    It ends 15 mm below the upper face, 3 mm within the third layer, which lets it through.
    Pocket: 8 mm across flats and 0.2 mm of play (common practice, no source).
    """
    asked = bolted(
        "M5", on="deck", side="up", at=(70, 55), grip_layers=2, nut_pocket=True, name="pin"
    )
    resolved = build([stack(3)], asked)
    (fastening,) = resolved.fastenings
    assert fastening.designation == "ISO 4762 M5x16 8.8"
    assert not in_the_way(resolved, fastening)
    assert bodies_overlap_mm3(resolved) < 1e-6
    pocket = next(part for part in resolved.parts if part.name == "d1").profile
    assert not pocket.contains((70, 55 + 4.09))
    assert pocket.contains((70, 55 + 4.11)) or pocket.contains((70 + 4.11, 55))
    assert cut_in(resolved) == {"d2": [5.5], "d0": [5.5]}


def test_a_pocket_needs_a_layer_of_its_own():
    """One layer only: the message says so."""
    with pytest.raises(PartError, match=r"deck / pin: its nut's pocket takes a layer"):
        build(
            [lying(plate("deck", 6.0, 200, 150), top_mm=0)],
            bolted("M5", on="deck", side="up", nut_pocket=True, name="pin"),
        )


def test_what_is_let_in_stands_on_the_layer_below():
    """Let in by one layer: the upper is opened for its body of 58 mm, the lower screwed through.

    1 mm of room for the body, 0.2 mm for the spigot: common practice, no source.
    """
    asked = mounted(dial(), on="deck", side="up", lift_mm=-6, through=("deck",), name="dial")
    resolved = build([stack(2)], asked)
    assert cut_in(resolved) == {"d1": [59.0], "d0": [4.5, 4.5, 4.5, 36.2]}
    assert all(one.holds == ("dial", "d0") for one in resolved.fastenings)
    half = mounted(dial(), on="deck", side="up", lift_mm=-3, through=("deck",), name="dial")
    with pytest.raises(PartError, match="let it in by whole layers"):
        build([stack(2)], half)


def test_the_tool_reaches_through_a_panel_named_for_it():
    """A hole for the head, M4 washer 9 + 1 mm, on every screw's axis; none in what it grips."""
    panels = [
        lying(plate("top", 6.0, 200, 150), top_mm=0),
        lying(plate("low", 6.0, 240, 190), top_mm=-40, left_mm=-20, front_mm=-20),
        standing(plate("wall", 6.0, 100, 60), facing="front", left_mm=0, bottom_mm=10, front_mm=0),
    ]
    device = dial(shaft_length_mm=20)
    asked = mounted(device, on="top", side="up", access=("low",), name="dial")
    resolved = build(panels, asked)
    for fastening in resolved.fastenings:
        assert [hole.diameter_mm for hole in holes_on(resolved, fastening)] == [10.0, 4.5]
    own = mounted(device, on="top", side="up", access=("top",), name="dial")
    with pytest.raises(PartError, match=r"top / dial screw 1: .*head would fall through"):
        build(panels, own)
    for word in ("access", "through"):
        aside = mounted(device, on="top", side="up", name="dial", **{word: ("wall",)})
        with pytest.raises(PartError, match=f"top / dial: {word} names wall.*not lie across"):
            build(panels, aside)


@pytest.mark.parametrize("first", ["ring", "axle"])
def test_a_shaft_passes_its_own_bearing_through_one_hole(first):
    """608: 22 mm outside, 7 mm wide (ISO 15); its seat H7 lies 0 to 21 um above 22 (ISO 286).

    The panel further along gets the shaft's own hole, 8 + 2 mm (common practice, no source).
    """
    panels = [
        lying(plate("top", 6.0, 200, 150), top_mm=0),
        lying(plate("low", 6.0, 200, 150), top_mm=-40),
    ]
    ring = mounted(ball_bearing("608"), on="top", side="up", at=(60, 70), name="ring")
    axle = mounted(shaft(8, 20, below_mm=60), on="top", side="up", at=(60, 70), name="axle")
    order = (ring, axle) if first == "ring" else (axle, ring)
    found = cut_in(build(panels, *order))
    assert found["low"] == [10.0]
    (seat,) = found["top"]
    assert 22.0 <= seat <= 22.021


@pytest.mark.parametrize("side", ["up", "down"])
@pytest.mark.parametrize("along", [0.0, 90.0, 30.0])
def test_slots_run_the_way_asked_in_every_panel_it_passes(side, along):
    """A motor moved by 12 mm: its screws, its spigot and, in the panel beyond, its shaft.

    NEMA 23: spigot 1.5 in, holes on 2.625 in (NEMA ICS 16). The slots' ends lie 6 mm to either
    side of where holes would be, along the direction drawn on the panel.
    """
    panels = [
        lying(plate("top", 6.0, 200, 150), face=side, top_mm=0),
        lying(plate("low", 6.0, 200, 150), top_mm=-40 if side == "up" else 40),
    ]
    device = motor("NEMA 23", body_length_mm=80, shaft_length_mm=60, flange_mm=5)
    asked = mounted(
        device, on="top", side=side, travel_mm=12, travel_deg=along, turn_deg=50, name="motor"
    )
    resolved = build(panels, asked)
    top, low = (part.profile for part in resolved.parts)
    assert (len(top.inners), len(low.inners)) == (5, 1)
    c, s = math.cos(math.radians(along)), math.sin(math.radians(along))
    centre = (100.0, 75.0)
    # Looking at the drawn face of "top", x to the right; from above, its x runs left if it looks
    # down.
    for profile, flip, radius in (
        (top, 1.0, 1.5 * 25.4 / 2 + 0.1),
        (low, -1.0 if side == "down" else 1.0, 6.35 / 2 + 1.0),
    ):
        end = 6 + radius
        for sign in (1, -1):
            for reach, inside in ((end - 0.01, False), (end + 0.01, True)):
                spot = (centre[0] + sign * flip * c * reach, centre[1] + sign * s * reach)
                assert profile.contains(spot) is inside
            aside = sign * (radius + 0.01)
            assert profile.contains((centre[0] - flip * s * aside, centre[1] + c * aside))
    for fastening in resolved.fastenings:
        assert not in_the_way(resolved, fastening)


def test_bolts_pass_open_slots_uncut_and_close_at_the_far_side():
    """The upper panel has a slot already: only the lower is drilled. M6 (ISO numbers by hand).

    Grip 12, washers 1.6 twice, nut 5.2, two pitches of 1 mm: 22.4, so 25 mm.
    """
    slotted = plate("top", 6.0, 200, 150).with_features(slot(30, 8, at=(50, 60)))
    panels = [lying(slotted, top_mm=0), lying(plate("low", 6.0, 200, 150), top_mm=-6)]
    resolved = build(panels, bolted("M6", on="top", side="up", at=(55, 60), name="pin"))
    (pin,) = resolved.fastenings
    assert pin.designation == "ISO 4762 M6x25 8.8"
    assert resolved.parts[0].profile == slotted.profile
    assert cut_in(resolved) == {"low": [6.6]}
    where = {
        body.name: [
            tuple(body.frame.point(0, 0, end).z for end in (b.low_mm, b.high_mm))
            for b in body.blocks
        ]
        for body in pin.bodies[2:]
    }
    assert where["pin washer"] == [(pytest.approx(-12), pytest.approx(-13.6))]
    assert where["pin nut"] == [(pytest.approx(-13.6), pytest.approx(-18.8))]
    assert bodies_overlap_mm3(resolved) < 1e-6


@pytest.mark.parametrize(
    ("at", "says"),
    [
        pytest.param((0, 60), r"-3.3 mm from the edge of top", id="on the edge"),
        pytest.param((3, 60), r"-0.3 mm from the edge of top", id="across the edge"),
        pytest.param(
            (9.2, 60),
            r"5.9 mm from the edge of top.*keeps 6 mm away: the sheet's thickness",
            id="near it",
        ),
        pytest.param((300, 60), r"no panel under it, at \(300, 60\)", id="off the panel"),
        pytest.param((67, 60), r"touches or overlaps 'slot' at", id="over a slot's end"),
    ],
)
def test_a_bolt_that_cannot_be_says_where_and_what_to_do(at, says):
    """Panel, feature, value and remedy, every time. M6: a hole of 6.6 mm (ISO 273)."""
    slotted = plate("top", 6.0, 200, 150).with_features(slot(30, 8, at=(50, 60)))
    with pytest.raises(PartError, match=says) as caught:
        build([lying(slotted, top_mm=0)], bolted("M6", on="top", side="up", at=at, name="pin"))
    assert (caught.value.part, caught.value.feature) == ("top", "pin")
    assert caught.value.remedy


@pytest.mark.parametrize(
    ("at", "says"),
    [
        pytest.param((-1, 75), r"no panel at \(-1, 75\): it spans 0..200 by 0..150", id="off it"),
        pytest.param((250, 75), r"no panel at \(250, 75\)", id="far off it"),
        pytest.param((10, 75), r"lies across the plate's edge", id="spigot over the edge"),
        pytest.param((27, 75), r"mm from the edge of deck", id="screws near the edge"),
        pytest.param(
            (100, 130), r"no panel under it, at \(100, 154\)", id="a screw beyond the edge"
        ),
        pytest.param((140, 75), r"touches or overlaps 'bore'", id="spigot over another hole"),
        pytest.param((70, 75), r"no panel under it, at \(70, 99\)", id="a screw in a hole"),
    ],
)
def test_a_device_that_cannot_stand_there_says_where_and_what_to_do(at, says):
    """Spigot 36 mm, screws on 48 mm, bores in the way at (165, 75) and (70, 100)."""
    deck = plate("deck", 6.0, 200, 150).with_features(
        hole(20, at=(165, 75), name="bore"), hole(11, at=(70, 100), name="bore 2")
    )
    with pytest.raises(PartError, match=says) as caught:
        build([lying(deck, top_mm=0)], mounted(dial(), on="deck", side="up", at=at, name="dial"))
    assert caught.value.part == "deck"
    assert caught.value.feature.startswith("dial")
    assert caught.value.remedy


@pytest.mark.parametrize(("gap", "grips"), [(0.0, 2), (0.005, 2), (0.1, 1), (5.0, 1)])
def test_only_what_lies_against_it_is_gripped(gap, grips):
    """A tenth of a millimetre of air is air: sheets are measured to a tenth."""
    panels = [
        lying(plate("top", 6.0, 200, 150), top_mm=0),
        lying(plate("low", 6.0, 200, 150), top_mm=-6 - gap),
    ]
    (pin,) = build(panels, bolted("M5", on="top", side="up", name="pin")).fastenings
    assert pin.holds == ("top", "low")[:grips]


def test_where_layers_reach_differently_it_stands_on_the_outermost_there():
    """The upper layer covers the left half only: to its right a part stands 6 mm lower."""
    short = plate("short", 6.0, 100, 150)
    panel = lying(laminate("deck", plate("long", 6.0, 200, 150), short, dowels=0), top_mm=0)
    resolved = build(
        [panel],
        mounted(dial(), on="deck", side="up", at=(50, 75), name="high"),
        mounted(dial(), on="deck", side="up", at=(150, 75), name="deep"),
        mounted(shaft(8, 20), on="deck", side="down", at=(105, 20), name="under"),
    )
    assert [body.frame.origin.z for body in resolved.bodies] == [0.0, -6.0, -12.0]
    held = {one.name: one.holds[1:] for one in resolved.fastenings}
    assert held["high screw 1"] == ("short", "long")
    assert held["deep screw 1"] == ("long",)


def test_slots_run_as_drawn_on_the_panel_even_for_what_stands_behind_it():
    """The direction is the panel's own: 30 degrees from its x, for a motor on its underside too."""
    device = motor("NEMA 23", body_length_mm=80, shaft_length_mm=60, flange_mm=5)
    asked = mounted(
        device, on="top", side="down", travel_mm=12, travel_deg=30, turn_deg=50, name="motor"
    )
    resolved = build([lying(plate("top", 6.0, 200, 150), top_mm=0)], asked)
    reach = 6 + 1.5 * 25.4 / 2 + 0.1  # half the travel, the spigot (NEMA ICS 16), half its play
    c, s = math.cos(math.radians(30)), math.sin(math.radians(30))
    profile = resolved.parts[0].profile
    assert not profile.contains((100 + (reach - 0.01) * c, 75 + (reach - 0.01) * s))
    assert profile.contains((100 + (reach + 0.01) * c, 75 + (reach + 0.01) * s))
    assert profile.contains((100 + (reach - 0.01) * c, 75 - (reach - 0.01) * s))


def test_a_parts_own_screws_do_not_stand_in_its_room():
    """A flanged inlet keeps others away, not the screws of its own flange; and a neighbour it does.

    The inlet's screws are 40 mm apart inside the 55 mm round it: common practice, no source.
    """
    back = standing(plate("back", 4.0, 200, 120), facing="back", back_mm=4)
    inlet = mounted(
        panel_device("mains inlet C14"), on="back", side="back", at=(60, 60), name="inlet"
    )
    near = mounted(gland("M16"), on="back", side="back", at=(60, 88), name="lead")
    assert of_plates(build([back], inlet), "room") == []
    crowded = {f.feature for f in of_plates(build([back], inlet, near), "room")}
    assert any("inlet" in one and "lead" in one for one in crowded)


def test_a_web_that_a_parts_own_pattern_sets_is_not_to_be_moved_apart():
    """A 42 mm motor's screws stand 9 mm from its spigot, whatever the recipe says: NEMA ICS 16."""
    panel = standing(plate("end", 12.0, 140, 110), facing="left", left_mm=0)
    face = motor("NEMA 17 metric", body_length_mm=40, shaft_length_mm=24)
    whole = build([panel], mounted(face, on="end", side="left", name="motor"))
    (web,) = of_plates(whole, "web between")
    assert web.feature == "motor + motor screws"
    # 43.84 / 2 - 22.2 / 2 - 3.4 / 2
    assert math.isclose(web.value, 9.12, abs_tol=0.01)
    assert "least_web_mm" in web.remedy
    assert "apart" not in web.remedy
