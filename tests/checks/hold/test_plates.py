"""Panels pushed and tipped across their plane, against tables, a bar of finite pieces, by hand."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from platekit import (
    Assembly,
    Plate,
    bolt_circle_points,
    load,
    lying,
    mounted,
    rectangle,
    round_device,
    standing,
)
from platekit.checks.hold.bent_plates import bending
from platekit.checks.hold.plates import plates
from platekit.checks.hold.spans import Span
from platekit.findings import Severity
from platekit.materials import sheet
from tests.checks.hold.loaded_rigs import PLY, case, least, subject, turret, weighed


def span(before=100.0, after=100.0, breadth=200.0, t=6.0, rib=None):
    """Return a span of a panel."""
    return Span(
        before_mm=before,
        after_mm=after,
        breadth_mm=breadth,
        thickness_mm=t,
        name="left to right",
        rib_mm=rib,
    )


@pytest.mark.parametrize(("ratio", "alpha", "beta"), [(1.0, 0.1267, 0.435), (1.6, 0.1715, 0.875)])
def test_four_sides_by_roark(ratio, alpha, beta):
    """Roark, table 11.4, case 1b, nu = 0.3, looked up: stress and sag under a centre load."""
    across = (span(), span(before=100.0 * ratio, after=100.0 * ratio))
    found = bending(across, axial_n=100.0, moment_nmm=0.0, foot_mm=20.0, modulus_mpa=7000.0)
    stress = 3 * 100.0 / (2 * math.pi * 36.0) * (1.3 * math.log(400.0 / (math.pi * 20.0)) + beta)
    assert found.pushed_mpa == pytest.approx(stress, rel=2e-3)
    assert found.sag_mm == pytest.approx(alpha * 100.0 * 200.0**2 / (7000.0 * 6.0**3), rel=5e-3)
    assert found.tipped_mpa == 0.0


def test_two_sides_are_a_strip():
    """F L / 4 and F L^3 / (48 E I), any handbook: a strip as wide as foot and half the span."""
    found = bending((span(),), axial_n=100.0, moment_nmm=0.0, foot_mm=20.0, modulus_mpa=7000.0)
    wide = 2 * 20.0 + 100.0
    assert found.pushed_mpa == pytest.approx(100.0 * 200.0 / 4 / (wide * 36.0 / 6))
    inertia = wide * 6.0**3 / 12
    assert found.sag_mm == pytest.approx(100.0 * 200.0**3 / (48 * 7000.0 * inertia))


def bar_of_pieces(*, half, foot, wide, t, modulus, moment):
    """Return stress outside the foot and rise of its edge, by bars of finite pieces.

    A bar resting on both ends, stiff over its foot, a moment in its middle; ordinary stiffness
    matrices of beams, solved with numpy. Knows nothing of the formula it is held against.
    """
    places = np.concatenate(
        [
            np.linspace(-half, -foot, 30),
            np.linspace(-foot, foot, 21)[1:],
            np.linspace(foot, half, 30)[1:],
        ]
    )
    inertia = wide * t**3 / 12
    whole = np.zeros((2 * len(places), 2 * len(places)))
    parts = []
    for k, length in enumerate(np.diff(places)):
        middle = (places[k] + places[k + 1]) / 2
        ei = modulus * inertia * (1e5 if abs(middle) < foot else 1.0)
        piece = (ei / length**3) * np.array(
            [
                [12, 6 * length, -12, 6 * length],
                [6 * length, 4 * length**2, -6 * length, 2 * length**2],
                [-12, -6 * length, 12, -6 * length],
                [6 * length, 2 * length**2, -6 * length, 4 * length**2],
            ]
        )
        parts.append(piece)
        whole[2 * k : 2 * k + 4, 2 * k : 2 * k + 4] += piece
    push = np.zeros(2 * len(places))
    centre = int(np.argmin(np.abs(places)))
    push[2 * centre + 1] = moment
    free = np.array([k for k in range(len(push)) if k not in (0, len(push) - 2)])
    moved = np.zeros_like(push)
    moved[free] = np.linalg.solve(whole[np.ix_(free, free)], push[free])
    edge = int(np.argmin(np.abs(places + foot)))
    inner = parts[edge - 1] @ moved[2 * (edge - 1) : 2 * (edge - 1) + 4]
    return abs(inner[3]) / (wide * t**2 / 6), abs(moved[2 * edge])


@pytest.mark.parametrize(("half", "foot"), [(100.0, 20.0), (150.0, 65.0), (60.0, 50.0)])
def test_a_tipped_foot_by_finite_pieces(half, foot):
    """Stress at the foot's edge and how far it rises, against a bar of 80 pieces."""
    one = span(before=half, after=half, breadth=1000.0)
    found = bending((one,), axial_n=0.0, moment_nmm=30_000.0, foot_mm=foot, modulus_mpa=7000.0)
    stress, rise = bar_of_pieces(
        half=half, foot=foot, wide=2 * foot + half, t=6.0, modulus=7000.0, moment=30_000.0
    )
    assert found.tipped_mpa == pytest.approx(stress, rel=1e-3)
    assert found.sag_mm == pytest.approx(rise, rel=2e-3)


def test_a_foot_off_the_middle_by_hand():
    """M / L at both joints; the longer way of 140 - 20 mm is bent most. Balance."""
    one = span(before=60.0, after=140.0, breadth=90.0)
    found = bending((one,), axial_n=0.0, moment_nmm=20_000.0, foot_mm=20.0, modulus_mpa=7000.0)
    assert found.tipped_mpa == pytest.approx(20_000.0 / 200.0 * 120.0 / (90.0 * 36.0 / 6))


def test_a_rib_takes_its_share():
    """Two bars that bend alike share by E I: rib 6 x 40, strip 140 x 6; worked here by hand."""
    ribbed = span(rib=(40.0, 6.0))
    found = bending((ribbed,), axial_n=100.0, moment_nmm=0.0, foot_mm=20.0, modulus_mpa=7000.0)
    rib, strip = 6.0 * 40.0**3 / 12, 140.0 * 6.0**3 / 12
    assert found.sag_mm == pytest.approx(100.0 * 200.0**3 / (48 * 7000.0 * (rib + strip)))
    # The rib is the deeper one: its skin is stressed most.
    moment = 100.0 * 200.0 / 4 * rib / (rib + strip)
    assert found.pushed_mpa == pytest.approx(moment * 20.0 / rib)


@given(
    axial=st.floats(0.0, 500.0),
    moment=st.floats(0.0, 1e5),
    foot=st.floats(5.0, 80.0),
    times=st.floats(1.0, 5.0),
)
@settings(max_examples=60, deadline=None)
def test_scaling(axial, moment, foot, times):
    """So many times the loads, so many times stress and sag: it is all linear."""
    across = (span(), span(before=80.0, after=150.0))
    one, many = (
        bending(across, axial_n=k * axial, moment_nmm=k * moment, foot_mm=foot, modulus_mpa=7000.0)
        for k in (1.0, times)
    )
    assert many.pushed_mpa == pytest.approx(times * one.pushed_mpa)
    assert many.tipped_mpa == pytest.approx(times * one.tipped_mpa)
    assert many.sag_mm == pytest.approx(times * one.sag_mm)


def pushed(sheet_=PLY, **acts):
    """Return a case whose bottom is pushed and tipped."""
    acts = acts or {"axial_n": 60.0, "radial_n": 40.0, "at_mm": 60.0}
    return case(turret(), load("turret", name="push", **acts), sheet=sheet_)


def test_stress_and_sag_are_told_of_the_panel():
    """Both pass on a sound box; the bottom is named, and what it spans."""
    stress, sag = plates(subject(pushed()))
    assert stress.severity is sag.severity is Severity.PASSED
    assert (stress.part, stress.unit, sag.unit) == ("bottom", "MPa", "mm")
    assert "left to right" in stress.measure or "front to back" in stress.measure
    # 29.0 at 6.4 mm and 10.6 at 3.6 mm, Handbook of Finnish Plywood as in the table (memory).
    weaker = 10.6 + (29.0 - 10.6) * (6.0 - 3.6) / (6.4 - 3.6)
    assert stress.limit == pytest.approx(0.9 * weaker / 1.2)


def test_sag_warns_and_stress_stops():
    """A light push does no harm; under a heavy one the panel breaks, and sag still only warns."""
    stress, sag = plates(subject(pushed(axial_n=60.0)))
    assert (stress.severity, sag.severity) == (Severity.PASSED, Severity.PASSED)
    stress, sag = plates(subject(pushed(axial_n=3000.0)))
    assert (stress.severity, sag.severity) == (Severity.STOP, Severity.WARNING)


def test_thicker_and_narrower_is_better():
    """One change each: sheet of 4 mm, and a box of 400 mm."""
    base = least(plates, pushed())
    thin = least(plates, pushed(sheet("birch plywood", nominal_mm=4.0)))
    acts = {"axial_n": 60.0, "radial_n": 40.0, "at_mm": 60.0}
    wide = least(plates, case(turret(), load("turret", **acts), width_mm=400.0))
    assert thin < base
    assert wide < base


def ribbed(rib_mm):
    """Return a floor between two walls, a turret in its middle, perhaps a rib below."""
    floor = Plate("floor", PLY, rectangle(240.0, 160.0))
    ends = Plate("left", PLY, rectangle(160.0, 120.0)), Plate("right", PLY, rectangle(160.0, 120.0))
    panels = [
        lying(floor, bottom_mm=60.0),
        standing(ends[0], facing="left"),
        standing(ends[1], facing="right", right_mm=240.0),
    ]
    if rib_mm:
        rib = Plate("rib", PLY, rectangle(240.0, rib_mm))
        panels.append(standing(rib, facing="front", front_mm=87.0, bottom_mm=66.0 - rib_mm))
    return (
        Assembly("bench")
        .with_panels(*panels)
        .with_hardware(mounted(turret(pcd_mm=50.0), on="floor", side="up", name="turret"))
        .with_loads(load("turret", axial_n=100.0, radial_n=100.0, at_mm=100.0))
    )


def test_a_rib_under_the_foot_helps():
    """One change: a rib of 40 mm joined below."""
    bare, stiff = (weighed(plates, ribbed(rib)) for rib in (0.0, 40.0))
    assert [one.part for one in stiff] == ["floor", "floor"]
    assert stiff[0].margin > bare[0].margin
    assert stiff[1].margin > 5 * bare[1].margin
    assert "rib 40 x 6" in stiff[0].formula


def test_a_rib_across_holds_a_foot_up_from_beside_it_and_from_beneath():
    """A foot that grows over a rib 40 mm from its axis: no step, and never weaker.

    By balance, as beside it: M / L at the farther joint, L from there to the rib.
    """
    bare = span(before=120.0, after=160.0)
    short = span(before=120.0, after=40.0)
    acts = {"axial_n": 100.0, "moment_nmm": 20_000.0, "modulus_mpa": 7000.0}

    def stress(foot):
        over = replace(bare, near=short, near_share=40.0 / foot) if foot >= 40.0 else short
        found = bending((over,), foot_mm=foot, **acts)
        return found.pushed_mpa, found.tipped_mpa, found.sag_mm

    assert stress(40.0) == pytest.approx(stress(40.0 - 1e-9), rel=1e-6)
    grown = [stress(foot) for foot in np.linspace(30.0, 110.0, 33)]
    for less, more in itertools.pairwise(grown):
        assert all(b <= a * (1 + 1e-9) for a, b in zip(less, more, strict=True))
    wide = 2 * 40.0 + 80.0 / 2 * 2
    assert stress(40.0)[1] == pytest.approx(20_000.0 / 160.0 * 80.0 / (wide * 36.0 / 6))
    # Nearer the axis a rib is next to none: it holds no moment by itself.
    middle = replace(bare, near=span(before=120.0, after=0.1), near_share=0.1 / 50.0)
    alone, ribbed_ = (bending((one,), foot_mm=50.0, **acts) for one in (bare, middle))
    assert ribbed_.tipped_mpa == pytest.approx(alone.tipped_mpa, rel=0.01)


def test_a_larger_foot_over_a_cross_rib_is_not_weaker():
    """The bench again, with a rib across at 40 mm: bolts on circles of 70, 79, 81 and 90 mm."""
    floor = ribbed(0.0)
    cross = Plate("cross", PLY, rectangle(160.0, 40.0))
    margins = []
    for pcd in (70.0, 79.0, 81.0, 90.0):
        rig = floor.with_panels(standing(cross, facing="left", left_mm=157.0, bottom_mm=26.0))
        square = bolt_circle_points(4, pcd_mm=pcd, start_deg=45.0)
        foot = round_device(
            "turret", diameter_mm=110.0, height_mm=20.0, holes=square, thread="M5", tapped_mm=12.0
        )
        asked = replace(rig.hardware[0], device=foot)
        margins.append(weighed(plates, replace(rig, hardware=(asked,)))[0].margin)
    assert margins == sorted(margins)
    # The two beside 80 mm differ by no more than the foot does.
    assert margins[2] / margins[1] < 1.1


def test_torque_alone_bends_nothing():
    """In the plane nothing bends."""
    assert list(plates(subject(pushed(torque_nm=20.0)))) == []


def test_user_factors():
    """Half the sag allowed, half its margin; twice the load factor, half the margin of stress."""
    base = weighed(plates, pushed())
    strict = weighed(plates, pushed().with_factors(most_sag=1 / 600, load=3.0))
    assert base[0].margin / strict[0].margin == pytest.approx(2.0)
    assert base[1].margin / strict[1].margin == pytest.approx(2.0)


def test_what_nobody_knows_is_told_once():
    """One note."""
    (found,) = plates(subject(pushed(sheet("POM", nominal_mm=6.0))))
    assert (found.severity, found.margin) == (Severity.NOTE, None)
    assert "POM" in found.measure
