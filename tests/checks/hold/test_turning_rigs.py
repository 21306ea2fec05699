"""Whole rigs that turn: the flagship and the belt turntable as drawn, odd ones by the hundred."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings, strategies as st

from platekit import (
    Plate,
    belt_drive,
    belted,
    birch_plywood,
    drive,
    load,
    lying,
    panel_device,
    rectangle,
    rectangular_device,
)
from platekit.assembly.loads import Use
from platekit.checks.hold.adapters import adapters
from platekit.checks.hold.bearings import bearings
from platekit.checks.hold.grips import grips
from platekit.checks.hold.motors import motors
from platekit.checks.hold.plates import plates
from platekit.checks.hold.reactions import reactions
from platekit.checks.hold.screws import screws
from platekit.checks.hold.shafts import shafts
from platekit.checks.hold.torques import torques
from platekit.checks.subject import Subject
from platekit.errors import PartError
from platekit.findings import Severity
from platekit.hardware.keys import key_for
from platekit.hardware.solids import known_solids
from tests.checks.hold.turning import PLAIN, UP, found, put, spun, subject, turned
from tests.recipes.builds import assembly, resolved

CHECKS = (torques, grips, adapters, shafts, bearings, motors)
GUST = load("hub", torque_nm=35, radial_n=120, at_mm=60, mass_kg=12, name="gust")


def _drawn(name, *loads, **use):
    """A recipe as it is drawn, used like this and in no other way."""
    rig = replace(assembly(name), use=Use(loads=loads, **use))
    return Subject(pieces=(), whole=(rig, resolved(name)))


def test_the_flagship_is_sound_and_nothing_is_cried_out():
    """35 N m and 120 N on a dish, 12 kg: everything that turns holds; the key is weakest.

    By hand: 16 mm of the gearbox under 1.5 x 35 N m, 16 T / (pi D^3) sqrt 3 = 113 MPa.
    """
    job = _drawn("dish_rotator", GUST, drives=assembly("dish_rotator").use.drives)
    every = [one for check in CHECKS for one in check(job)]
    assert {one.severity for one in every} <= {Severity.PASSED, Severity.NOTE}
    assert len([one for one in every if one.severity is Severity.NOTE]) <= 2
    weakest = min((one for one in every if one.margin is not None), key=lambda one: one.margin)
    assert "sides of the key" in weakest.measure
    (plain,) = found(shafts, job, part="motor", says="stress of the shaft")
    assert plain.value == pytest.approx(16 * 52_500 / (math.pi * 16**3) * math.sqrt(3), rel=1e-6)


def test_the_flagship_breaks_where_it_should():
    """Ten times the torque: first the key in the aluminium hub, then the gearbox's keyway."""
    job = _drawn("dish_rotator", replace(GUST, torque_nmm=350_000))
    stops = [one for check in CHECKS for one in check(job) if one.severity is Severity.STOP]
    assert {one.part for one in stops} >= {"hub", "motor"}
    assert all(one.margin < 1 for one in stops)


def test_a_belt_to_a_motor_holds_a_torque():
    """The turntable's motor stands beside its shaft; the hub's clamp is asked about."""
    job = _drawn("belt_turntable", load("hub", torque_nm=5))
    (held,) = torques(job)
    assert held.severity is Severity.PASSED
    (clamp,) = grips(job)
    assert "hub" in clamp.part
    # On the shaft itself the belt takes the torque before it comes to the hub.
    shaft = _drawn("belt_turntable", load("main shaft", torque_nm=5))
    assert list(grips(shaft)) == list(adapters(shaft)) == []


def test_a_belt_pulls_across_both_lines():
    """5 N m on 72 and 20 teeth of 5 mm, by hand.

    Pitch diameters 72 x 5 / pi = 114.6 and 31.83 mm: 2 x 5000 / 114.6 = 87.27 N pull both shafts;
    the motor gets 5000 x 20 / 72 = 1389 N mm. The bearings share the pull as a beam does.
    """
    job = _drawn("belt_turntable", load("hub", torque_nm=5))
    seats = {one.device.name: one for one in reactions(job)}
    assert seats["motor"].torque_nmm == pytest.approx(5000 * 20 / 72)
    assert seats["motor"].radial_n == pytest.approx(2 * 5000 * math.pi / (72 * 5))
    # The motor stands on 6 mm; the belt runs 8 mm below that, its middle half of 9 mm and a
    # pulley's flange of a millimetre or two further: so far off it tips the motor.
    lever_mm = seats["motor"].moment_nmm / seats["motor"].radial_n
    assert 6 + 8 + 4.5 < lever_mm < 6 + 8 + 4.5 + 2.5
    pull = seats["lower bearing"].radial_n + seats["upper bearing"].radial_n
    assert pull == pytest.approx(87.27, abs=0.01)
    for check in (screws, plates):
        assert [one for one in check(job) if "motor" in f"{one.feature} {one.measure}"], check
    assert found(shafts, job, part="motor")


def test_where_nothing_holds_a_torque_only_that_is_said():
    """The motor left out and 5 kN m: no grip, body or screw on the way is asked to hold it.

    Statics: what turns and is not held turns on; it presses on nothing.
    """
    job = subject(spun()[1:], replace(GUST, torque_nmm=5e6))
    said = [one for check in (*CHECKS, screws) for one in check(job)]
    assert [one.check for one in said if one.severity is Severity.STOP] == ["hold.torque"]
    assert all("5000 N m" not in one.formula for one in said if one.check != "hold.torque")
    # The hub screws and seats get nothing of it, the bearings their force across as before.
    assert {one.torque_nmm for one in reactions(job)} == {0.0}
    assert max(one.radial_n for one in reactions(job)) > 0.0


def test_how_tight_a_belt_is_set_is_asked_for_once():
    """Without it the pull of the torque alone counts; the recipe's own force across is enough."""
    turned = load("hub", torque_nm=5)
    both = turned, load("hub", torque_nm=4, name="other")
    for loads in ((turned,), both):
        told = found(bearings, _drawn("belt_turntable", *loads), part="main shaft", says="tight")
        assert [one.severity for one in told] == [Severity.NOTE]
        assert "87 N" in told[0].measure
    given = load("main shaft", radial_n=88, at_mm=20)
    assert not found(bearings, _drawn("belt_turntable", turned, given), says="tight")
    # In a case of its own it does not act with the torque, whose belt pulls as before.
    apart = _drawn("belt_turntable", turned, replace(given, name="alone"))
    assert found(bearings, apart, says="tight")
    pulled = sum(
        one.radial_n
        for one in reactions(apart)
        if one.load.name == "load" and "bearing" in one.device.name
    )
    assert pulled == pytest.approx(87.27, abs=0.01)


def test_a_belt_set_tight_pulls_as_it_is_set():
    """Both spans at 100 N: 200 N across, more than the torque's 87."""
    tight = drive("motor", output="hub", belt_pull_n=100.0)
    job = _drawn("belt_turntable", load("hub", torque_nm=5), drives=(tight,))
    seats = {one.device.name: one for one in reactions(job)}
    assert seats["motor"].radial_n == pytest.approx(200.0)
    assert not found(bearings, job, says="tight")


def test_a_belt_that_leads_to_no_motor_holds_nothing():
    """A belt to an encoder, say: the torque still ends at the spindle."""
    belt = belt_drive("curvilinear 3 mm", teeth=(60, 30), belt_teeth=120, width_mm=9.0)
    for other, severity in (("dial", Severity.STOP), ("motor", Severity.PASSED)):
        standing = spun()
        beside = replace(
            standing[0], name=other, frame=standing[0].frame.moved(_aside(standing[0]))
        )
        if other == "dial":
            beside = replace(beside, device=replace(beside.device, hazards=()))
        job = subject([*standing[1:], beside], load("hub", torque_nm=5))
        rig = job.whole[0].with_hardware(
            belted(belt, between=("spindle", other), on="table", side="up")
        )
        (one,) = torques(replace(job, whole=(rig, job.whole[1])))
        assert one.severity is severity


def _aside(standing):
    return standing.frame.u.scaled(100.0)


HOLDS = (
    {"hold": "key"},
    {"hold": "clamp"},
    {"hold": "clamp", "hold_thread": "M4", "hold_screws": 1},
    {"hold": "set screws", "hold_thread": "M6", "hold_screws": 3},
    {"hold": "flat", "across_flat_mm": 12.0},
    {"hold": "press", "interference_mm": 0.004},
    {"hold": "press", "interference_mm": 0.05},
)


@settings(max_examples=100, deadline=None)
@given(
    how=st.sampled_from(HOLDS),
    made_of=st.sampled_from(known_solids()),
    sizes=st.fixed_dictionaries(
        {"collar_mm": st.floats(14.5, 60), "thickness_mm": st.floats(0.5, 20)}
    ),
    acts=st.fixed_dictionaries(
        {
            "torque_nm": st.floats(0, 1000),
            "radial_n": st.floats(0, 10_000),
            "axial_n": st.floats(0, 10_000),
            "at_mm": st.floats(-500, 500),
        }
    ),
)
def test_no_hub_makes_a_check_fall_over(how, made_of, sizes, acts):
    """Margins agree with value and limit; stop means below 1; every finding says what to do."""
    ask = load("hub", mass_kg=0.001, **acts)
    standing = turned(made_of=made_of, key_length_mm=None, **sizes, **how)
    for job in (subject(standing, ask), subject([*standing, *_rings()], ask)):
        for one in (one for check in CHECKS for one in check(job)):
            assert one.check.startswith("hold.")
            assert one.remedy or one.severity is Severity.PASSED
            unheld = one.check == "hold.torque" and one.margin is None
            assert one.severity is not Severity.STOP or unheld or one.margin < 1
            if one.margin is not None and one.value and one.limit:
                ratio = one.value / one.limit
                assert one.margin == pytest.approx(ratio) or one.margin == pytest.approx(1 / ratio)


def _rings():
    """Two bearings beside the line's hub, of the bore of nothing on it."""
    return [one for one in spun(bearings=(70.0, 90.0)) if one.name.startswith("bearing")]


@pytest.mark.parametrize("bore_mm", [4.0, 5.5, 6.0, 60.0])
def test_a_bore_without_a_standard_key_is_a_note(bore_mm):
    """DIN 6885-1 begins over 6 mm here; a hub is refused where its key is ordered."""
    standing = turned(hold="clamp", key_length_mm=None)
    with pytest.raises(PartError, match="no standard key"):
        key_for(bore_mm)
    gripped = replace(standing[1].device.grips[0], bore_mm=bore_mm, hold="key", outer_mm=66)
    ends = replace(standing[0].device.shaft, diameter_mm=bore_mm)
    standing = [
        replace(standing[0], device=replace(standing[0].device, shaft=ends)),
        replace(standing[1], device=replace(standing[1].device, grips=(gripped,))),
    ]
    job = subject(standing, load("hub", torque_nm=5), factors=PLAIN)
    for check in (grips, adapters, shafts):
        assert {one.severity for one in check(job)} <= {Severity.NOTE, Severity.PASSED}
        assert any("no standard key" in one.measure for one in check(job))


def test_two_of_one_name_are_no_trouble():
    """The same device twice on a line: each grip is its own."""
    standing = turned()
    twin = put("hub", standing[1].device, standing[1].frame, 0)
    assert found(grips, subject([*standing, twin], GUST))


def test_a_load_that_nothing_takes_is_told():
    """Books on a bare shelf, a push on a button without screws: silence would look like a pass."""
    shelf = lying(Plate("shelf", birch_plywood(6.0), rectangle(300, 300)))
    button = put("stop", panel_device("emergency stop 22 mm"), UP, 6, "shelf")
    books = load("shelf", mass_kg=20, name="books")
    push = load("stop", axial_n=50, name="push")
    told = list(torques(subject([button], books, push, panels=(shelf,))))
    assert [one.part for one in told] == ["shelf", "stop"]
    assert {one.severity for one in told} == {Severity.WARNING}
    assert "books" in told[0].measure
    # The remedy helps: a tray with screws takes the books.
    tray = rectangular_device(
        "tray", width_mm=80, depth_mm=80, height_mm=5, thread="M5", flange_mm=5,
        holes=[(30, 30), (-30, 30), (-30, -30), (30, -30)],
    )  # fmt: skip
    seated = replace(books, on="tray")
    assert not list(torques(subject([put("tray", tray, UP, 6, "shelf")], seated, panels=(shelf,))))


def test_feet_that_hold_a_rig_together_are_told():
    """Four feet of one name: none of them stands under that name, so none was weighed."""
    carried = load("hub", mass_kg=5)
    told = list(torques(_drawn("belt_turntable", carried, held=("foot",))))
    assert [(one.part, one.severity) for one in told] == [("foot", Severity.NOTE)]
    assert not list(torques(_drawn("belt_turntable", carried, held=("lower bearing",))))
