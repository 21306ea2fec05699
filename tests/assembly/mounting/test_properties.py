"""What must hold of any rig: turned in space its plates stay the same; order changes only order."""

import math
from itertools import permutations

import pytest
from hypothesis import given, settings, strategies as st

from platekit.assembly import Assembly, laminate, lying, standing
from platekit.assembly.frames import Vector
from platekit.assembly.mounting import belted, bolted, by_belt, mounted, on_axis
from platekit.geometry.booleans import difference
from platekit.hardware import belt_drive
from platekit.hardware.devices.bearings import ball_bearing
from platekit.hardware.devices.motors import encoder, motor
from platekit.hardware.devices.shafts import shaft
from platekit.panel.places import around, centre, corners
from tests.assembly.bodies import plate
from tests.assembly.mounting.space import holes_on, in_the_way

SIDES = {
    "up": (0, 0, 1),
    "down": (0, 0, -1),
    "left": (-1, 0, 0),
    "right": (1, 0, 0),
    "front": (0, -1, 0),
    "back": (0, 1, 0),
}
BELT = belt_drive("curvilinear 2 mm", teeth=(45, 20), belt_teeth=140, width_mm=6)
DRIVE = motor("NEMA 23", body_length_mm=60, shaft_length_mm=40, flange_mm=5)
DIAL = encoder("58 mm clamping flange", body_length_mm=50, shaft_length_mm=20, depth_mm=9)


def panels():
    """Return a laminate lying on two posts' worth of air above a plate, and a wall beside them."""
    layers = [plate(f"top {k}", 6.0, 300, 200) for k in range(2)]
    return (
        lying(laminate("top", *layers, dowels=0), top_mm=100),
        lying(plate("low", 6.0, 300, 200), top_mm=40),
        standing(plate("wall", 9.0, 200, 90), facing="left", left_mm=-9, front_mm=0, bottom_mm=0),
    )


def asked(look, *, turn_deg=20.0):
    """Return a motor, an axle, a belt, bolts and a dial; `look` renames where faces look."""
    return (
        mounted(
            DRIVE,
            on="top",
            side=look("up"),
            at=(80, 100),
            turn_deg=20,
            travel_mm=12,
            travel_deg=15,
            name="motor",
        ),
        mounted(
            shaft(8, 20, below_mm=90),
            on="top",
            side=look("up"),
            at=by_belt(BELT, of="motor", heading_deg=15),
            name="axle",
        ),
        mounted(ball_bearing("608"), on="low", side=look("down"), at=on_axis("axle"), name="ring"),
        belted(BELT, between=("motor", "axle"), on="top", side=look("down")),
        bolted("M5", on="top", side=look("down"), at=corners(inset_mm=20), name="pin"),
        mounted(DIAL, on="wall", side=look("right"), at=(100, 50), turn_deg=turn_deg, name="dial"),
    )


def shapes(resolved):
    """Return the profile of each part by name."""
    return {part.name: part.profile for part in resolved.parts}


def turned_side(about, quarters):
    """Return what names where a face looks after the whole is turned by quarters about an axis."""
    k = "xyz".index(about)
    c, s = ((1, 0), (0, 1), (-1, 0), (0, -1))[quarters % 4]

    def look(side):
        way = list(SIDES[side])
        i, j = (k + 1) % 3, (k + 2) % 3
        way[i], way[j] = c * way[i] - s * way[j], s * way[i] + c * way[j]
        return next(name for name, known in SIDES.items() if known == tuple(way))

    return look


def same(one, other):
    """Return whether two sets of plates are alike within a thousandth of a square millimetre."""
    return one.keys() == other.keys() and all(
        sum(piece.area_mm2 for piece in (*difference(a, b), *difference(b, a))) < 1e-3
        for a, b in ((one[name], other[name]) for name in one)
    )


@pytest.mark.parametrize("about", ["x", "y", "z"])
@pytest.mark.parametrize("quarters", [1, 2, 3])
def test_turning_the_rig_in_space_leaves_every_plate_the_same(about, quarters):
    """The same rig lying on its side, its faces named by where they look now."""
    upright = Assembly("rig").with_panels(*panels()).with_hardware(*asked(str))
    look = turned_side(about, quarters)
    lain = [panel.turned(about=about, angle_deg=90 * quarters) for panel in panels()]
    aside = Assembly("rig").with_panels(*lain).with_hardware(*asked(look))
    one, other = upright.resolve(), aside.resolve()
    assert same(shapes(one), shapes(other))
    assert [x.designation for x in one.fastenings] == [x.designation for x in other.fastenings]
    assert sorted(map(str, one.items)) == sorted(map(str, other.items))
    for fastening in other.fastenings:
        assert not in_the_way(other, fastening)


@given(angle=st.floats(-44, 44), about=st.sampled_from("xyz"), turn=st.floats(0, 360))
@settings(max_examples=8, deadline=None)
def test_by_less_than_an_eighth_of_a_turn_faces_keep_their_names(angle, about, turn):
    """Odd angles: plates stay the same, every screw's hole stays about its axis."""
    upright = Assembly("rig").with_panels(*panels()).with_hardware(*asked(str, turn_deg=turn))
    leaning = [panel.turned(about=about, angle_deg=angle) for panel in panels()]
    other = Assembly("rig").with_panels(*leaning).with_hardware(*asked(str, turn_deg=turn))
    resolved = other.resolve()
    assert same(shapes(upright.resolve()), shapes(resolved))
    for fastening in resolved.fastenings:
        assert not in_the_way(resolved, fastening)


def test_the_order_of_unrelated_parts_changes_nothing_but_order():
    """Motor, dial and bolts know nothing of each other: six orders, one rig."""
    motor_, _, _, _, pins, dial = asked(str)
    found = []
    for order in permutations((motor_, pins, dial)):
        resolved = Assembly("rig").with_panels(*panels()).with_hardware(*order).resolve()
        found.append(
            (
                shapes(resolved),
                sorted(map(str, resolved.items)),
                {x.name: (x.designation, x.bodies[0].frame) for x in resolved.fastenings},
                sorted(map(str, resolved.findings)),
            )
        )
    first, *others = found
    for other in others:
        assert same(first[0], other[0])
        assert first[1:] == other[1:]


@given(
    thick=st.sampled_from([3.0, 4.0, 6.0, 9.0]),
    count=st.integers(1, 4),
    grip=st.integers(1, 4),
    start=st.floats(0, 360),
    side=st.sampled_from(["up", "down"]),
    turned=st.booleans(),
)
@settings(max_examples=12, deadline=None)
def test_every_screw_runs_through_the_middle_of_every_hole_in_its_way(
    *, thick, count, grip, start, side, turned
):
    """Three dials on a circle, on laminates of any make: holes and screws never part."""
    layers = [plate(f"d{k}", thick, 400, 400) for k in range(count)]
    stack = layers[0] if count == 1 else laminate("deck", *layers, dowels=0)
    panel = lying(stack, top_mm=0)
    place = around(centre(), radius_mm=110, count=3, start_deg=start, turned=turned)
    dials = mounted(
        DIAL, on=panel.name, side=side, at=place, grip_layers=grip, turn_deg=17, name="dial"
    )
    resolved = Assembly("a").with_panels(panel).with_hardware(dials).resolve()
    for body in resolved.bodies:
        away = math.dist(body.frame.origin[:2], (200, 200))
        assert away == pytest.approx(110)
        assert body.frame.n == pytest.approx(Vector(0, 0, 1 if side == "up" else -1))
    for fastening in resolved.fastenings:
        assert not in_the_way(resolved, fastening)
        assert len(holes_on(resolved, fastening)) == count
        assert len(fastening.holds) == 1 + min(count, grip)
