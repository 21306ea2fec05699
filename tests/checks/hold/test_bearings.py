"""Bearings: life and standing still by ISO 281 and ISO 76, and the walls of their seats."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings, strategies as st

from platekit import Plate, birch_plywood, laminate, load, lying, rectangle, sheet as sheet_of
from platekit.assembly.driving import drive
from platekit.assembly.loads import Factors
from platekit.checks.hold.bearings import bearings
from platekit.findings import Severity
from platekit.hardware.devices.ratings import BearingRating, MotorRating
from platekit.materials import strength_of
from tests.checks.hold.turning import found, spun, subject

SLOW = (drive("motor", output="hub", speed_rpm=10.0),)
FREE = MotorRating(voltage_v=24, torque_constant_nmm_per_a=40, gear_ratio=50)


def _rated(standing, rating):
    return [
        replace(one, device=replace(one.device, rating=rating))
        if one.name.startswith("bearing")
        else one
        for one in standing
    ]


def test_standing_still_by_hand():
    """ISO 76 (from memory): P0 = 0.6 Fr + 0.5 Fa, no less than Fr.

    200 N at 60 mm above the hub at 220, bearings at 100 and 180: 200 x 180 / 80 = 450 N on the
    upper, 250 N on the lower. With 2000 N along the axis the upper has 0.6 x 450 + 1000 = 1270.
    """
    rated = _rated(spun(), BearingRating(dynamic_n=13200, static_n=8300, f0=14.8, source="typed"))
    job = subject(rated, load("hub", radial_n=200, axial_n=2000, at_mm=60))
    upper, lower = (
        found(bearings, job, part=f"bearing {k}", says="static")[0].value for k in (2, 1)
    )
    assert upper == pytest.approx(8300 / 1270)
    assert lower == pytest.approx(8300 / (0.6 * 250 + 0.5 * 2000))
    alone = subject(rated, load("hub", radial_n=200, at_mm=60))
    (one,) = found(bearings, alone, part="bearing 2", says="static")
    assert one.value == pytest.approx(8300 / 450)
    factored = subject(rated, load("hub", radial_n=200, at_mm=60), factors=Factors(load=2))
    (half,) = found(bearings, factored, part="bearing 2", says="static")
    assert half.value == pytest.approx(one.value / 2)


def test_life_by_the_handbooks_short_form():
    """L10h = (33.3 / n) (C / P)^3 500 h, old catalogues (from memory): 500 h at 33 1/3 rpm.

    At C = P and 33 1/3 rpm a bearing makes a million turns in 500 h.
    """
    radial = 13200 * 80 / 180  # 13200 N on the upper bearing: just its rating
    rated = _rated(spun(), BearingRating(dynamic_n=13200, static_n=1e6, f0=14.8, source="typed"))
    job = subject(
        rated,
        load("hub", radial_n=radial, at_mm=60),
        drives=(drive("motor", output="hub", speed_rpm=100 / 3),),
    )
    (one,) = found(bearings, job, part="bearing 2", says="life")
    assert one.value == pytest.approx(500, rel=1e-9)
    assert one.severity is Severity.STOP  # 5000 h are wanted
    assert one.limit == 5000
    half = subject(
        rated, load("hub", radial_n=radial / 2, at_mm=60), drives=SLOW, factors=Factors(load=1)
    )
    (slow,) = found(bearings, half, part="bearing 2", says="life")
    assert slow.value == pytest.approx(500 * 8 * (100 / 3) / 10)
    assert slow.severity is Severity.PASSED
    # A drive may name the panel on the hub as what it turns.
    by_panel = subject(
        rated,
        load("hub", radial_n=radial / 2, at_mm=60),
        drives=(drive("other motor", output="table", speed_rpm=10.0),),
    )
    (same,) = found(bearings, by_panel, part="bearing 2", says="life")
    assert same.value == slow.value


def test_a_push_along_the_axis_counts_as_iso_281_says():
    """Row f0 Fa / C0 = 0.689 of the table: e = 0.26, Y = 1.71, X = 0.56 (from memory).

    C0 = 14.8 x 1000 / 0.689, so that Fa = 1000 N stands on that row; Fr = 450 N: 0.56 Fr + Y Fa.
    """
    static = 14.8 * 1000 / 0.689
    rated = _rated(spun(), BearingRating(dynamic_n=20000, static_n=static, f0=14.8, source="typed"))
    job = subject(rated, load("hub", radial_n=200, axial_n=1000, at_mm=60), drives=SLOW)
    (one,) = found(bearings, job, part="bearing 2", says="life")
    equivalent = 0.56 * 450 + 1.71 * 1000
    assert one.value == pytest.approx(1e6 / (60 * 10) * (20000 / equivalent) ** 3, rel=1e-6)


def test_a_push_beyond_the_table_is_a_finding_and_no_error():
    """f0 Fa / C0 ends at 6.89 in ISO 281 (from memory)."""
    job = subject(spun(ball="6806"), load("hub", axial_n=20_000), drives=SLOW)
    pushed = found(bearings, job, says="push along")
    assert len(pushed) == 2
    assert all(one.severity is Severity.STOP for one in pushed)
    assert pushed[0].limit == 6.89


def test_without_a_speed_only_standing_still_is_weighed():
    """And that is said once, for four bearings under two loads."""
    job = subject(spun(), load("hub", radial_n=200), load("hub", radial_n=90, name="wind"))
    notes = [one for one in bearings(job) if one.severity is Severity.NOTE]
    assert len(notes) == 1
    assert "speed_rpm" in notes[0].remedy
    assert len(found(bearings, job, says="static")) == 4


def test_the_free_motor_bounds_the_speed():
    """Back-EMF: 24 V over 0.04 V s is 600 rad/s, over a ratio of 50: 114.6 rpm."""
    standing = spun()
    geared = replace(standing[0], device=replace(standing[0].device, rating=FREE))
    rated = [geared, *standing[1:]]
    ask = load("hub", radial_n=200, at_mm=60)
    (free,) = found(bearings, subject(rated, ask), part="bearing 2", says="life")
    (slow,) = found(bearings, subject(rated, ask, drives=SLOW), part="bearing 2", says="life")
    rpm = 24 / 0.04 / 50 * 60 / (2 * math.pi)
    assert slow.value / free.value == pytest.approx(rpm / 10)
    assert "free motor" in free.formula


def test_unknown_ratings_are_asked_for_once():
    """Both bearings of a kind that no list rates."""
    job = subject(_rated(spun(), None), load("hub", radial_n=200), drives=SLOW)
    notes = [one for one in bearings(job) if one.severity is Severity.NOTE]
    assert len(notes) == 1
    assert "own_bearings" in notes[0].remedy


def test_the_wall_of_a_seat_by_hand():
    """450 N on 55 mm by 6 mm of one sheet; a laminate of three carries on the ring's 13 mm.

    Limit: kmod 0.9 of plywood for a short load over gamma 1.2 (EN 1995-1-1, from memory) times
    the sheet's least compression in its plane, an input from the table of strengths.
    """
    sheet = birch_plywood(6.0)
    ask = load("hub", radial_n=200, at_mm=60)
    (one,) = found(bearings, subject(spun(), ask), part="table", says="seat of bearing 2")
    assert one.value == pytest.approx(450 / (55 * sheet.thickness_mm))
    strength = strength_of(sheet)
    bare = min(strength.compression_0_mpa, strength.compression_90_mpa)
    assert one.limit == pytest.approx(0.9 * bare / 1.2)
    lasting = subject(spun(), replace(ask, duration="permanent"))
    (worn,) = found(bearings, lasting, part="table", says="seat of bearing 2")
    assert worn.margin / one.margin == pytest.approx(0.6 / 0.9)
    thick = lying(Plate("table", birch_plywood(15.0), rectangle(300, 300)))
    (whole,) = found(
        bearings, subject(spun(), ask, panels=(thick,)), part="table", says="seat of bearing 2"
    )
    assert whole.value == pytest.approx(450 / (55 * 13))


def test_of_two_sheets_glued_together_the_weaker_counts():
    """A plastic of 7 MPa under plywood: factor 2 of plastics, no kmod; the formula tells it."""
    plywood, soft = birch_plywood(6.0), sheet_of("cast acrylic", nominal_mm=6.0)
    strength = strength_of(plywood)
    own = {soft.material.name: replace(strength, compression_0_mpa=7.0, timber="")}
    block = lying(
        laminate(
            "table",
            *(
                Plate(f"layer {k}", one, rectangle(300, 300))
                for k, one in enumerate((plywood, soft))
            ),
        )
    )
    ask = load("hub", radial_n=200, at_mm=60)
    job = subject(spun(), ask, panels=(block,), strengths=own)
    (one,) = found(bearings, job, part="table", says="seat of bearing 2")
    assert one.limit == pytest.approx(7 / 2)
    assert "kmod fc / gamma = 1 x 7 / 2" in one.formula


def test_a_sheet_of_unknown_strength_is_asked_for_once():
    """Both seats in a sheet of which no figure is known."""
    strength = replace(
        strength_of(birch_plywood(6.0)), compression_0_mpa=None, compression_90_mpa=None
    )
    own = {birch_plywood(6.0).material.name: strength}
    job = subject(spun(), load("hub", radial_n=200), drives=SLOW, strengths=own)
    (note,) = (one for one in bearings(job) if one.severity is Severity.NOTE)
    assert "with_strengths" in note.remedy


@settings(max_examples=40, deadline=None)
@given(apart=st.floats(20, 90), more=st.floats(1, 20), radial=st.floats(1, 2000))
def test_bearings_further_apart_never_bear_more(apart, more, radial):
    """The upper one stays at 185; the load is above it."""
    ask = load("hub", radial_n=radial, at_mm=60)
    near, far = (
        min(
            one.margin
            for one in bearings(subject(spun(bearings=(185 - gap, 185)), ask))
            if "static" in one.measure
        )
        for gap in (apart, apart + more)
    )
    assert far >= near


def test_nothing_is_said_without_a_force():
    """A torque alone presses on no bearing."""
    assert list(bearings(subject(spun(), load("hub", torque_nm=20)))) == []
    assert list(bearings(subject(spun()))) == []
    assert list(bearings(replace(subject(spun()), whole=None))) == []


def test_what_tips_a_shaft_in_one_bearing_is_told():
    """200 N at 60 mm above a hub at 220, one bearing at 100, no motor: 200 x 180 N mm, by hand."""
    ask = load("hub", radial_n=200, at_mm=60)
    one_ring = spun(bearings=(100.0,))
    free = [one for one in one_ring if one.name != "motor"]
    (told,) = found(bearings, subject(free, ask), says="tip the shaft")
    assert told.severity is Severity.WARNING
    assert told.measure.startswith("36 N m")
    # A motor's face holds it too, and so does a second bearing, as the remedy has it.
    two = [one for one in spun() if one.name != "motor"]
    for standing in (one_ring, two):
        assert not found(bearings, subject(standing, ask), says="tip the shaft")
