"""Loads followed along a shaft to its plates, against statics worked by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from platekit import (
    Assembly,
    Plate,
    ball_bearing,
    birch_plywood,
    hub,
    load,
    lying,
    motor,
    rectangle,
    round_device,
    shaft,
)
from platekit.assembly.frames import Frame, Vector, X, Y, Z
from platekit.assembly.mounting import Standing
from platekit.assembly.resolve import Resolved
from platekit.checks.hold.following import followed
from platekit.checks.hold.reactions import bearing_forces, reactions
from platekit.checks.subject import Subject

UP = Frame(Vector(50, 40, 0), X, Y)
DOWN = Frame(Vector(50, 40, 0), X.scaled(-1.0), Y)  # n points down
FLANGE = round_device(
    "flange", diameter_mm=100, height_mm=8, holes=[(40, 0), (-40, 0)], thread="M6", flange_mm=8
)


def at(frame: Frame, height_mm: float, *, x_mm: float = 0.0) -> Frame:
    """Return a frame moved up, and aside."""
    return frame.moved(Vector(x_mm, 0.0, height_mm))


def rig(lower_mm: float = 100.0, upper_mm: float = 180.0) -> list[Standing]:
    """A motor below a plate at 60, a shaft up to 216, two bearings, a hub under a table at 220."""
    turned = motor("NEMA 34", body_length_mm=90, shaft_mm=16, shaft_length_mm=38, flange_mm=8)
    spindle = shaft(30, 150, socket_mm=16, socket_depth_mm=36)
    bearing = ball_bearing("6006")
    top = hub("ISO 9409-1-80-6-M8", bore_mm=30, thickness_mm=18, hold="key")
    return [
        Standing("motor", turned, at(DOWN, 60), None, "motor plate"),
        Standing("spindle", spindle, at(UP, 66), None, "motor plate"),
        Standing("lower", bearing, at(UP, lower_mm + 6.5), None, "lower plate"),
        Standing("upper", bearing, at(UP, upper_mm + 6.5), None, "upper plate"),
        Standing("hub", top, at(DOWN, 220), None, "table"),
    ]


def subject(standing: list[Standing], *loads, held=()) -> Subject:
    """A job with these devices, whose plates do not matter here."""
    plate = lying(Plate("table", birch_plywood(6.0), rectangle(10, 10)))
    whole = Assembly("rig").with_panels(plate)
    use = replace(whole.use, loads=loads, held=held)
    done = Resolved((), (), (), (), standing=tuple(standing))
    return Subject(pieces=(), whole=(replace(whole, use=use), done))


def test_torque_goes_hub_shaft_socket_motor():
    """Two grips on the way, and the motor's screws hold what the hub was given."""
    (one,) = followed(subject(rig(), load("hub", torque_nm=35)))
    assert [(g.holder.name, g.shaft.name) for g in one.grasps] == [
        ("hub", "spindle"),
        ("spindle", "motor"),
    ]
    assert one.motor.name == "motor"
    # The hub's bore from 202 to 220 (and its spigot) is filled up to the shaft's end at 216.
    assert one.grasps[0].length_mm == pytest.approx(14.0)
    # The gearbox's shaft stands from its spigot to 60 + 38; the socket begins at 66.
    assert one.grasps[1].length_mm == pytest.approx(32.0)
    torques = {r.device.name: r.torque_nmm for r in reactions(subject(rig(), one.load))}
    assert torques["hub"] == torques["motor"] == 35_000
    assert torques["lower"] == torques["upper"] == 0


def test_the_table_on_the_hub_stands_for_the_hub():
    """A load on a panel enters by the hub that is screwed to it."""
    (one,) = followed(subject(rig(), load("table", torque_nm=35)))
    assert one.entry.name == "hub"
    assert one.motor.name == "motor"


def test_a_force_above_two_bearings_is_shared_as_by_a_beam():
    """120 N at 60 mm above the table's seat at 220, bearings at 100 and 180: moments by hand.

    About the lower one: 120 x (280 - 100) / 80 = 270 N on the upper; 270 - 120 = 150 on the lower.
    """
    (one,) = followed(subject(rig(), load("hub", radial_n=120, at_mm=60)))
    forces = {bearing.name: force for bearing, force in bearing_forces(one)}
    assert forces == pytest.approx({"lower": 150.0, "upper": 270.0})


@settings(max_examples=60, deadline=None)
@given(
    lower=st.floats(70, 120), apart=st.floats(20, 90), reach=st.floats(-100, 200),
    radial=st.floats(1, 1000),
)  # fmt: skip
def test_bearing_forces_balance(lower, apart, reach, radial):
    """Sum of forces and of moments is 0, solved by numpy."""
    standing = rig(lower, lower + apart)
    (one,) = followed(subject(standing, load("hub", radial_n=radial, at_mm=reach)))
    forces = {bearing.name: force for bearing, force in bearing_forces(one)}
    height = 220 + reach
    a, b = lower, lower + apart
    balance = np.linalg.solve([[1.0, 1.0], [a, b]], [radial, radial * height])
    assert [forces["lower"], forces["upper"]] == pytest.approx(np.abs(balance), rel=1e-6, abs=1e-6)


def test_a_single_bearing_shares_the_force_with_the_motor_s_face():
    """120 N at 280, a bearing at 100, the motor's face at 60: moments about the face, by hand.

    120 x 220 / 40 = 660 N on the bearing; 660 - 120 = 540 N across the motor's screws.
    """
    standing = [one for one in rig() if one.name != "upper"]
    job = subject(standing, load("hub", radial_n=120, at_mm=60))
    (one,) = followed(job)
    assert [force for _, force in bearing_forces(one)] == pytest.approx([660])
    passed = {r.device.name: r.radial_n for r in reactions(job)}
    assert (passed["lower"], passed["motor"]) == pytest.approx((660, 540))


def test_a_single_bearing_without_a_motor_takes_the_whole_force():
    """What tips it is not its own to hold."""
    standing = [one for one in rig() if one.name not in {"upper", "motor"}]
    (one,) = followed(subject(standing, load("hub", radial_n=120, at_mm=60)))
    assert [force for _, force in bearing_forces(one)] == [120]


def test_without_bearings_the_motor_holds_it_all():
    """Force across, along and what tips: 120 N at 280 above a seat at 60 is 26 400 N mm."""
    standing = [one for one in rig() if one.name not in {"upper", "lower"}]
    case = load("hub", radial_n=120, axial_n=30, at_mm=60)
    found = {r.device.name: r for r in reactions(subject(standing, case))}
    assert found["motor"].moment_nmm == pytest.approx(120 * 220)
    assert (found["motor"].radial_n, found["motor"].axial_n) == (120, 30)


def test_weight_acts_along_an_upright_axis_and_across_a_lying_one():
    """12 kg weigh 117.7 N (standard gravity)."""
    case = load("hub", mass_kg=12)
    (one,) = followed(subject(rig(), case))
    assert (one.axial_n, one.radial_n) == pytest.approx((117.68, 0.0), abs=0.01)
    lying_down = [replace(one, frame=one.frame.turned(about=X, angle_deg=90)) for one in rig()]
    (one,) = followed(subject(lying_down, case))
    assert (one.axial_n, one.radial_n) == pytest.approx((0.0, 117.68), abs=0.01)


def test_a_chain_that_ends_has_no_motor():
    """Without a socket of the motor's size the torque is held by nothing."""
    standing = [
        replace(one, device=shaft(30, 150)) if one.name == "spindle" else one for one in rig()
    ]
    (one,) = followed(subject(standing, load("hub", torque_nm=35)))
    assert [g.shaft.name for g in one.grasps] == ["spindle"]
    assert one.motor is None


def test_what_stands_aside_is_not_on_the_line():
    """A bearing on another axis takes nothing."""
    standing = [
        replace(one, frame=one.frame.moved(Vector(1.0, 0, 0))) if one.name == "upper" else one
        for one in rig()
    ]
    (one,) = followed(subject(standing, load("hub", radial_n=120, at_mm=60)))
    assert [bearing.name for bearing in one.bearings] == ["lower"]


def test_where_it_is_held_all_of_it_arrives():
    """A flange 40 mm aside at height 0: torque, weight, and what tips, from r x F by hand."""
    flange = Standing("flange", FLANGE, at(DOWN, 0, x_mm=40), None, "base")
    case = load("hub", torque_nm=35, radial_n=120, mass_kg=12, at_mm=60)
    job = subject([*rig(), flange], case, held=("flange",))
    (held,) = [one for one in reactions(job) if one.device.name == "flange"]
    weight = 12 * 9.80665
    # Worst turn about the flange: its own torque and the force across, 40 mm off.
    assert held.torque_nmm == pytest.approx(35_000 + 120 * 40, rel=1e-3)
    # Worst tipping: 120 N at 280 mm, and the weight 40 mm off, the same way.
    assert held.moment_nmm == pytest.approx(120 * 280 + weight * 40, rel=0.02)
    assert (held.radial_n, held.axial_n) == pytest.approx((120, weight), rel=1e-6)


@pytest.mark.parametrize("frame", [UP, DOWN])
def test_a_push_comes_either_way_and_weight_only_down(frame):
    """30 N along the axis and 5 kg: what holds the rig may get 30 + 49 N, whichever way it looks.

    By statics: an axial force is said to come either way, so it may add to the weight.
    """
    standing = [
        Standing("camera", FLANGE, at(frame, 220), None, "table"),
        Standing("flange", FLANGE, at(DOWN, 0, x_mm=40), None, "base"),
    ]
    job = subject(standing, load("camera", axial_n=30, mass_kg=5), held=("flange",))
    (held,) = [one for one in reactions(job) if one.device.name == "flange"]
    assert held.axial_n == pytest.approx(30 + 5 * 9.80665, rel=1e-9)
    assert held.moment_nmm == pytest.approx((30 + 5 * 9.80665) * 40, rel=1e-9)


def test_a_torque_comes_either_way_and_adds_to_what_weight_tips():
    """An axis that lies: 10 N m about it and 5 kg 40 mm aside tip what holds it by both."""
    side = Frame(Vector(50, 40, 0), Z, X)  # n points along y
    camera = Standing("camera", FLANGE, at(side, 220), None, "wall")
    for shift in (40.0, -40.0):
        flange = Standing("flange", FLANGE, at(DOWN, 0, x_mm=shift), None, "base")
        job = subject([camera, flange], load("camera", torque_nm=10, mass_kg=5), held=("flange",))
        (held,) = [one for one in reactions(job) if one.device.name == "flange"]
        assert held.moment_nmm == pytest.approx(10_000 + 5 * 9.80665 * 40, rel=1e-9)


def test_a_single_plate_has_nothing_to_follow():
    """No assembly, no loads."""
    assert followed(Subject(pieces=())) == ()
    assert reactions(Subject(pieces=())) == ()


def test_heights_run_along_the_axis():
    """A hub hangs from its table: what lies below it has a greater place than its seat."""
    (one,) = followed(subject(rig(), load("hub", torque_nm=1)))
    places = {each.name: one.place_mm(each, 0.0) for each in rig()}
    assert places["hub"] == 0.0
    assert places["motor"] == pytest.approx(160.0)
    assert Z.dot(one.entry.frame.n) == -1.0
