"""Loads of one name act together, against statics worked by hand and by brute force."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from platekit import load, round_device
from platekit.assembly.frames import Frame, Vector, X, Y, Z
from platekit.assembly.loads import GRAVITY_M_S2
from platekit.checks.hold.cases import cases
from platekit.checks.hold.following import followed
from platekit.checks.hold.grips import grips
from platekit.checks.hold.reactions import bearing_forces, reactions
from platekit.checks.hold.screws import screws
from platekit.checks.hold.shafts import shafts
from platekit.checks.hold.torques import torques
from tests.checks.hold.loaded_rigs import case, subject as job_of, turret, weighed
from tests.checks.hold.turning import DOWN, UP, at, found, put, spun, subject

FLANGE = round_device(
    "flange", diameter_mm=100, height_mm=8, holes=[(40, 0), (-40, 0)], thread="M6", flange_mm=8
)


def test_loads_of_one_name_are_one():
    """Two halves on one device are as the whole; under two names each is weighed alone."""
    whole = load("turret", torque_nm=20, radial_n=100, axial_n=50, at_mm=50, name="push")
    halves = (
        load("turret", torque_nm=20, axial_n=50, name="push"),
        load("turret", radial_n=100, at_mm=50, name="push"),
    )
    as_one = [one.margin for one in weighed(screws, case(turret(), whole))]
    assert [one.margin for one in weighed(screws, case(turret(), *halves))] == pytest.approx(as_one)
    apart = replace(halves[1], name="shove")
    alone = weighed(screws, case(turret(), halves[0], apart))
    assert min(one.margin for one in alone) > min(as_one)
    assert {word for one in alone for word in ("push", "shove") if word in one.measure} == {
        "push",
        "shove",
    }


def test_torques_on_one_line_add_where_they_go_the_same_way():
    """30 N m on the hub and 20 on the spindle below it: the hub's key has 30, the motor 50.

    By statics: what enters below the hub never comes to it.
    """
    acts = load("hub", torque_nm=30, name="gust"), load("spindle", torque_nm=20, name="gust")
    job = subject(spun(), *acts)
    (one,) = followed(job)
    assert one.load.torque_nmm == 50_000
    keys = {
        one.feature: one.formula for one in found(grips, job, says="pressure on the sides of the")
    }
    assert "1 x 30 N m" in keys["key on spindle"]
    (motor,) = [each for each in reactions(job) if each.device.name == "motor"]
    assert motor.torque_nmm == 50_000
    (hub,) = [each for each in reactions(job) if each.device.name == "hub"]
    assert hub.torque_nmm == 30_000
    (twisted,) = found(shafts, job, part="motor", says="stress of the shaft")
    assert twisted.value == pytest.approx(16 * 50_000 / (math.pi * 16**3) * math.sqrt(3), rel=1e-6)
    (held,) = torques(job)
    assert held.value == 50


def test_forces_across_one_line_add_as_it_is_worst():
    """120 N at 280 and 60 N at 40, bearings at 100 and 180: pointing the same or opposite ways.

    Statics by hand: 270 and 150 N from the first; from the second 60 x 60 / 80 = 45 N above and
    105 N below. Each bearing has the greatest of both signs.
    """
    acts = (
        load("hub", radial_n=120, at_mm=60, name="gust"),
        load("spindle", radial_n=60, at_mm=26, name="gust"),
    )
    (one,) = followed(subject(spun(), *acts))
    forces = {bearing.name: force for bearing, force in bearing_forces(one)}
    places = {round(push.force_n): push.at_mm for push in one.pushes}
    assert places == pytest.approx({120: -60.0, 60: 220 - 40})
    signs = [(s * 45 + 270, s * 105 - 150) for s in (1, -1)]
    assert forces["bearing 2"] == pytest.approx(max(abs(above) for above, _ in signs))
    assert forces["bearing 1"] == pytest.approx(max(abs(below) for _, below in signs))


def test_what_stands_longer_is_a_case_of_its_own():
    """EN 1995-1-1 3.1.3(2), from memory: a case stands as long as the shortest load of it."""
    acts = (
        load("hub", mass_kg=12, duration="permanent", name="gust"),
        load("hub", torque_nm=35, duration="instant", name="gust"),
        load("hub", mass_kg=1, name="other"),
    )
    said = [(one.name, one.duration, len(one.loads)) for one in cases(acts)]
    assert said == [
        ("gust (permanent part)", "permanent", 1),
        ("gust", "instant", 2),
        ("other", "short", 1),
    ]


def test_where_it_is_held_a_whole_case_arrives():
    """Two turrets on one bottom, each 20 N m: the one that holds it has both."""
    acts = [load(name, torque_nm=20, name="both") for name in ("one", "two")]
    standing = [
        put("one", FLANGE, UP, 200),
        put("two", FLANGE, Frame(Vector(150, 40, 0), X, Y), 200),
        put("base", FLANGE, DOWN, 0),
    ]
    (held,) = [
        each
        for each in reactions(subject(standing, *acts, held=("base",)))
        if each.device.name == "base"
    ]
    assert held.torque_nmm == pytest.approx(40_000)
    apart = [replace(one, name=one.on) for one in acts]
    alone = [
        each.torque_nmm
        for each in reactions(subject(standing, *apart, held=("base",)))
        if each.device.name == "base"
    ]
    assert alone == pytest.approx([20_000, 20_000])


def _frames():
    side = Frame(Vector(0, 0, 0), Z, X)  # n along y
    return st.sampled_from([UP, DOWN, side])


@settings(max_examples=25, deadline=None)
@given(
    frames=st.tuples(_frames(), _frames()),
    acts=st.lists(
        st.fixed_dictionaries(
            {
                "torque_nm": st.floats(0, 50),
                "radial_n": st.floats(0, 200),
                "axial_n": st.floats(0, 200),
                "mass_kg": st.floats(0.1, 20),
                "at_mm": st.floats(-100, 100),
            }
        ),
        min_size=2,
        max_size=2,
    ),
)
def test_no_direction_is_worse_than_what_is_said(frames, acts):
    """Brute force in numpy: every sign and 24 directions of each; r x F about the flange's seat."""
    standing = [
        put("one", FLANGE, frames[0], 200),
        put("two", FLANGE, frames[1].moved(Vector(130, -70, 0)), 80),
        put("base", FLANGE, at(DOWN, 0).moved(Vector(30, 10, 0)), 0),
    ]
    loads = [load(name, name="all", **one) for name, one in zip(("one", "two"), acts, strict=True)]
    (held,) = [
        each
        for each in reactions(subject(standing, *loads, held=("base",)))
        if each.device.name == "base"
    ]
    seat = np.array(standing[2].frame.origin)
    forces, moments = zip(
        *(_ways(one, acts, about=seat) for one, acts in zip(standing[:2], loads, strict=True)),
        strict=True,
    )
    # Every way of the one with every way of the other.
    force = forces[0][:, None, :] + forces[1][None, :, :]
    moment = moments[0][:, None, :] + moments[1][None, :, :]
    most = np.array(
        [
            np.abs(moment[..., 2]).max(),
            np.hypot(moment[..., 0], moment[..., 1]).max(),
            np.abs(force[..., 2]).max(),
            np.hypot(force[..., 0], force[..., 1]).max(),
        ]
    )
    said = np.array([held.torque_nmm, held.moment_nmm, held.axial_n, held.radial_n])
    assert (said >= most * (1 - 0.002) - 1e-6).all()
    # It is the worst direction, not the sum of all lengths: a coarse search comes close.
    assert (said <= most * 1.03 + 1e-6).all()


def _ways(one, acts, *, about):
    """Return force and moment of a load about a place, one sign and direction after another."""
    n, u, v = (np.array(axis) for axis in (one.frame.n, one.frame.u, one.frame.v))
    arm = np.array(one.frame.point(0, 0, -acts.at_mm)) - about
    forces, moments = [], []
    for push, turn, k in itertools.product((1, -1), (1, -1), range(24)):
        way = 2 * math.pi * k / 24
        force = push * acts.axial_n * n + acts.radial_n * (math.cos(way) * u + math.sin(way) * v)
        force = force - np.array([0, 0, acts.mass_kg * GRAVITY_M_S2])
        forces.append(force)
        moments.append(np.cross(arm, force) + turn * acts.torque_nmm * n)
    return np.array(forces), np.array(moments)


def test_the_name_of_a_case_stands_in_every_finding():
    """A user looks for the case."""
    acts = load("turret", torque_nm=5, name="gust"), load("turret", axial_n=9, name="gust")
    for one in weighed(screws, case(turret(), *acts)):
        assert "gust" in one.measure
    assert len(followed(job_of(case(turret(), *acts)))) == 1
