"""Shafts: twist and bending joined, keyways, sockets, winding up; what comes to a gearbox."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from platekit import encoder, load, shaft
from platekit.assembly.driving import drive
from platekit.assembly.loads import Factors
from platekit.checks.hold.motors import motors
from platekit.checks.hold.shaft_bending import Bent, BentByAll
from platekit.checks.hold.shafts import bending_mpa, keyway_share, shafts
from platekit.findings import Severity
from platekit.hardware.devices.ratings import MotorRating
from platekit.hardware.keys import known_keys
from tests.checks.hold.turning import DOWN, UP, found, put, spun, subject, turned

TWISTED = load("hub", torque_nm=50, name="gust")


def _one(job, part, says):
    (one,) = found(shafts, job, part=part, says=says)
    return one


def test_a_solid_shaft_against_the_book():
    """Gere, example 3-2, looked up: 1200 N m at 40 MPa of shear needs 53.5 mm.

    Scaled to 30 mm the torque is 1200 (30 / 53.46)^3; von Mises makes 40 sqrt 3 of the shear.
    """
    torque = 1200 * (30 / 53.4602) ** 3
    one = _one(subject(spun(), load("hub", torque_nm=torque)), "spindle", "stress of the shaft")
    assert one.value == pytest.approx(40 * math.sqrt(3), rel=1e-4)
    assert one.limit == 340  # C45 normalised, EN ISO 683-1, from memory


def test_a_socket_is_a_hollow_shaft():
    """Gere, example 3-6, looked up: 4 kN m on 80/60 mm is 58.2 MPa.

    A 16 mm bore with its keyway reaches 20.6 mm; the ratio of 60/80 asks for 27.47 mm outside.
    """
    outside = 20.6 * 80 / 60
    torque = 4000 * (outside / 80) ** 3
    job = subject(spun(shaft_mm=outside), load("hub", torque_nm=torque))
    one = _one(job, "spindle", "socket")
    assert one.feature == "socket"
    assert one.value == pytest.approx(58.2052 * math.sqrt(3), rel=1e-4)


def test_twist_and_bending_join_as_principal_stresses_do():
    """Von Mises by the eigenvalues of the stress tensor, numpy; the moment by statics.

    300 N at 60 mm above the hub's seat at 220, bearings at 100 and 180: the moment is largest at
    the upper one, 300 x (280 - 180).
    """
    job = subject(spun(), load("hub", torque_nm=50, radial_n=300, at_mm=-60))
    # The hub hangs: its own axis points down, and so does at_mm.
    up = subject(spun(), load("hub", torque_nm=50, radial_n=300, at_mm=60))
    one = _one(up, "spindle", "stress of the shaft")
    moment = 300 * (280 - 180)
    bend, twist = 32 * moment / (math.pi * 30**3), 16 * 50e3 / (math.pi * 30**3)
    a, b, c = np.linalg.eigvalsh([[bend, twist, 0], [twist, 0, 0], [0, 0, 0]])
    assert one.value == pytest.approx(
        math.sqrt(((a - b) ** 2 + (b - c) ** 2 + (c - a) ** 2) / 2), rel=1e-9
    )
    # Nearer to the bearing it bends less: at 160, between both, 300 x 60 x 20 / 80.
    inside = _one(job, "spindle", "stress of the shaft")
    assert "M = 4.5 N m" in inside.formula
    assert inside.value < one.value


@settings(max_examples=100, deadline=None)
@given(
    supports=st.lists(st.floats(-100, 300), min_size=2, max_size=2, unique=True).filter(
        lambda two: abs(two[0] - two[1]) > 1
    ),
    at_mm=st.floats(-200, 400),
    force=st.floats(1, 1000),
)
def test_moments_are_the_sum_of_the_shear_force(supports, at_mm, force):
    """Bearing forces by numpy from balance; the moment is their shear summed along the line."""
    first, second = sorted(supports)
    held = np.linalg.solve([[1, 1], [first, second]], [force, force * at_mm])
    beam = Bent(force_n=force, at_mm=at_mm, supports_mm=(first, second))
    places = np.linspace(-250, 450, 141)
    whole = [
        sum(
            push * max(place - where, 0.0)
            for push, where in ((force, at_mm), (-held[0], first), (-held[1], second))
        )
        for place in places
    ]
    scale = force * 1000
    assert [beam.moment_nmm(place) for place in places] == pytest.approx(
        np.abs(whole), abs=1e-6 * scale
    )
    assert BentByAll(forces=(beam,)).most_nmm(-250, 450) >= max(np.abs(whole)) - 1e-6 * scale


def test_a_shaft_on_no_bearing_is_held_at_the_motors_face():
    """A cantilever: 100 N at 120, face at 60; tested on the gearbox's own shaft."""
    job = subject(turned(), load("hub", radial_n=100, at_mm=20))
    one = _one(job, "gearbox", "stress of the shaft")
    assert one.value == pytest.approx(32 * 100 * (120 - 60) / (math.pi * 14**3))
    one_end = Bent(force_n=100, at_mm=120, supports_mm=(60.0,))
    assert one_end.moment_nmm(60) == 6000
    assert one_end.moment_nmm(59) == one_end.moment_nmm(121) == 0
    assert Bent(force_n=100, at_mm=120, supports_mm=()).moment_nmm(100) == 0


def test_keyways_cost_about_a_quarter():
    """Moore's share by hand for 16 mm: 1 - 0.2 x 5 / 16 - 1.1 x 3 / 16 = 0.731.

    The old ASME code takes 25 per cent off shafts with keyways (from memory): Moore lies about it.
    """
    assert keyway_share(16) == pytest.approx(1 - 1 / 16 - 3.3 / 16)
    for key in known_keys()[3:]:
        assert 0.65 < keyway_share(key.shaft_to_mm) < 0.85
    job = subject(spun(), TWISTED)
    bare, keyed = (_one(job, "motor", says) for says in ("stress of the shaft", "keyway"))
    assert keyed.value / bare.value == pytest.approx(1 / keyway_share(16))
    assert keyed.feature == "keyway"


def test_the_weakest_section_is_named():
    """From thin to thick: a 14 mm gearbox shaft at its keyway; then the socket of a thin spindle.

    22 mm over a 14 mm bore with a keyway to 18.6 leaves 1.7 mm.
    """
    worst = min(shafts(subject(turned(), TWISTED)), key=lambda one: one.margin)
    assert (worst.part, worst.feature) == ("gearbox", "keyway")
    job = subject(spun(shaft_mm=22, bore_mm=14), TWISTED)
    spindle = [one for one in shafts(job) if one.part == "spindle" and one.unit == "MPa"]
    assert min(spindle, key=lambda one: one.margin).feature == "socket"


def test_the_motors_steel_is_taken_and_the_shafts_is_said():
    """Tempered where nobody says, and the formula says that it is taken."""
    job = subject(spun(made_of="stainless steel 1.4301"), TWISTED)
    assert "C45+QT, taken" in _one(job, "motor", "stress of the shaft").formula
    one = _one(job, "spindle", "stress of the shaft")
    assert "stainless" in one.formula
    assert one.limit == 190  # EN 10088-3, solution annealed, from memory


@settings(max_examples=40, deadline=None)
@given(
    torque=st.floats(1, 200), radial=st.floats(0, 500), shaft_mm=st.sampled_from([25.0, 30.0, 35.0])
)
def test_margins_scale_with_the_load(torque, radial, shaft_mm):
    """Twice of all is half the margin; a thicker shaft stands more."""
    ask = load("hub", torque_nm=torque, radial_n=radial, at_mm=40)
    twice = replace(ask, torque_nmm=2 * ask.torque_nmm, radial_n=2 * ask.radial_n)
    one, two = (
        _one(subject(spun(shaft_mm=shaft_mm), each), "spindle", "stress of the shaft")
        for each in (ask, twice)
    )
    assert one.margin == pytest.approx(2 * two.margin)
    thick = _one(subject(spun(shaft_mm=shaft_mm + 5), ask), "spindle", "stress of the shaft")
    assert thick.margin > one.margin


def test_a_flat_leaves_the_circle_within():
    """Saint-Venant's D is stiffer than the circle that lies in it: 14 mm, 11 mm across the flat."""
    standing = spun(shaft_mm=30)
    plain = put("spindle", shaft(30, 154, socket_mm=16, socket_depth_mm=32), UP, 66)
    flat = put(
        "spindle", shaft(30, 154, socket_mm=16, socket_depth_mm=32, across_flat_mm=27), UP, 66
    )
    values = []
    for one in (plain, flat):
        standing[1] = one
        values.append(_one(subject(standing, TWISTED), "spindle", "stress of the shaft").value)
    assert values[1] / values[0] == pytest.approx((30 / 27) ** 3)


def test_winding_up_is_advice_and_nothing_more():
    """T L / (G J) by hand, 12 mm between the middles of both grips; a warning, never a stop."""
    standing = spun(shaft_mm=12, bore_mm=7)
    one = _one(subject(standing, load("hub", torque_nm=25)), "spindle", "twist between")
    # Middle of the socket 66 + 16, of the hub's bore (its spigot is 5 mm high): 196 to 225.
    length = (196 + 225) / 2 - 82
    by_hand = math.degrees(25e3 * length * 32 / (81000 * math.pi * 12**4))
    assert one.value == pytest.approx(by_hand, rel=1e-9)
    assert one.severity is Severity.WARNING
    stiff = _one(subject(spun(), load("hub", torque_nm=25)), "spindle", "twist between")
    assert stiff.severity is Severity.PASSED


def test_bending_of_a_tube_by_its_moment_of_area():
    """M r / I, I of a ring summed over thin rings."""
    radii = np.linspace(10, 15, 20001)
    middle = (radii[1:] + radii[:-1]) / 2
    moment_of_area = float(np.sum(math.pi * middle**3 * np.diff(radii)))
    assert bending_mpa(1e5, diameter_mm=30, bore_mm=20) == pytest.approx(
        1e5 * 15 / moment_of_area, rel=1e-6
    )


def test_nothing_is_said_of_what_is_not_on_the_way():
    """An encoder on the same line, no load, a single plate."""
    standing = spun()
    dial = encoder("58 mm clamping flange", body_length_mm=48, shaft_length_mm=30, depth_mm=6)
    standing.append(put("dial", dial, DOWN, 300))
    assert not found(shafts, subject(standing, TWISTED), part="dial")
    assert list(shafts(subject(standing))) == []
    assert list(shafts(replace(subject(standing), whole=None))) == []


# What comes to a gearbox.

RATED = MotorRating(
    voltage_v=24,
    torque_constant_nmm_per_a=40,
    gear_ratio=50,
    gear_continuous_nmm=30e3,
    gear_peak_nmm=60e3,
    gear_radial_n=200,
    gear_axial_n=150,
)


def _rated(standing, rating=RATED):
    first = standing[0]
    return [replace(first, device=replace(first.device, rating=rating)), *standing[1:]]


def test_a_gearbox_is_held_to_its_sheet():
    """All day without the factor of 1.5; with it at times, for a blow, and for forces."""
    used = Factors()
    (day,) = motors(subject(_rated(turned()), TWISTED, factors=used))
    assert (day.value, day.limit, day.severity) == (50, 30, Severity.STOP)
    (blow,) = motors(subject(_rated(turned()), replace(TWISTED, duration="instant"), factors=used))
    assert (blow.value, blow.limit, blow.severity) == (75, 60, Severity.STOP)
    across, along = motors(
        subject(_rated(turned()), load("hub", radial_n=250, axial_n=100), factors=used)
    )
    assert across.margin == pytest.approx(200 / (1.5 * 250))
    assert along.margin == pytest.approx(150 / (1.5 * 100))


def test_two_bearings_keep_forces_off_the_gearbox_and_one_shares_them():
    """One bearing at 100, face at 60, load at 280: by moments about the bearing 250 x 180 / 40."""
    ask = load("hub", radial_n=250, axial_n=100, at_mm=60)
    assert list(motors(subject(_rated(spun()), ask))) == []
    (one,) = motors(subject(_rated(spun(bearings=(100.0,))), ask))
    assert one.value == pytest.approx(250 * 180 / 40)
    assert one.severity is Severity.STOP


def test_a_motor_without_a_sheet_is_told_once():
    """And a drive that names the motor has its torque weighed elsewhere."""
    job = subject(turned(), TWISTED, replace(TWISTED, name="wind"))
    (one,) = motors(job)
    assert one.severity is Severity.NOTE
    driven = subject(_rated(turned()), TWISTED, drives=(drive("gearbox", output="hub"),))
    assert list(motors(driven)) == []
    # What two supports share is known here only.
    ask = load("hub", radial_n=250, at_mm=60)
    shared = subject(_rated(spun(bearings=(100.0,))), ask, drives=(drive("motor", output="hub"),))
    assert [one.unit for one in motors(shared)] == ["N"]
