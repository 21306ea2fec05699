"""How finely an angle is told, how much the output plays, what a belt bears, how warm it gets."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from platekit import Severity, belt_drive, belted, drive, encoder_rating
from platekit.checks.drive.belting import belting

BELTED = {"on": "second", "output": "second", "belt": "belt"}


@pytest.mark.parametrize(("teeth", "turns"), [((30, 30), 1.0), ((60, 30), 2.0), ((30, 60), 0.5)])
def test_edges_of_two_channels_are_counted(
    bench: Any, teeth: tuple[int, int], turns: float
) -> None:
    """Against the edges of two sampled square waves a quarter of a line apart, brute force."""
    lines = 50
    angle = np.linspace(0.0, 2 * math.pi * turns, 200_001)
    a, b = np.sin(lines * angle + 1e-4) > 0, np.cos(lines * angle + 1e-4) > 0
    edges = int(np.sum(a[1:] != a[:-1]) + np.sum(b[1:] != b[:-1]))
    found = bench.one(
        "drive.encoder",
        "one count",
        told=encoder_rating(lines=lines),
        encoder="second",
        belt="belt",
        teeth=teeth,
        belt_teeth=120,
        resolution_deg=1.0,
    )
    assert 360.0 / found.value == pytest.approx(edges, abs=1.0)
    assert found.part == "second"


def test_a_coarse_encoder_is_told_how_many_lines_would_do(bench: Any) -> None:
    """0.1 degrees are 3600 counts: 900 lines in quadrature, by hand."""
    asked = {"encoder": "second", "belt": "belt", "resolution_deg": 0.1}
    coarse = bench.one("drive.encoder", "one count", told=encoder_rating(lines=500), **asked)
    assert coarse.severity is Severity.WARNING
    assert "900 lines" in coarse.remedy
    fine = bench.one("drive.encoder", "one count", told=encoder_rating(lines=900), **asked)
    assert fine.severity is Severity.PASSED
    bits = bench.one("drive.encoder", "one count", told=encoder_rating(bits=12), **asked)
    assert bits.value == pytest.approx(360 / 4096)


def test_an_encoder_built_into_the_motor_counts_its_turns(bench: Any) -> None:
    """500 lines at the motor's end, 10:1: 20 000 counts, 0.018 degrees; 30 rpm are 10 kHz."""
    told = encoder_rating(lines=500, most_hz=8_000.0)
    asked = {"encoder": told, "encoder_ratio": 10.0, "resolution_deg": 0.1, "speed_rpm": 30.0}
    fine, rate = bench.all("drive.encoder", **asked)
    assert fine.value == pytest.approx(0.018)
    assert rate.value == pytest.approx(10_000.0)
    assert rate.severity is Severity.WARNING
    assert rate.part == "motor"


def test_where_a_built_in_encoder_sits_is_asked_for(bench: Any) -> None:
    """Behind 10:1 it may turn once or ten times: 500 lines tell 0.18 or 0.018 degrees, by hand."""
    asked = {"encoder": encoder_rating(lines=500), "resolution_deg": 0.1}
    note, coarse = bench.all("drive.encoder", **asked)
    assert note.severity is Severity.NOTE
    assert "10 where it sits on the rotor" in note.remedy
    assert coarse.value == pytest.approx(0.18)
    assert "belt" not in coarse.remedy
    for ratio, value in ((1.0, 0.18), (10.0, 0.018)):
        (found,) = bench.all("drive.encoder", encoder_ratio=ratio, **asked)
        assert found.value == pytest.approx(value)


def test_an_encoder_on_the_motors_axis_turns_as_that_does(bench: Any) -> None:
    """Behind the motor a belt 30 to 60; from its shaft another, 60 to 30, to the encoder.

    By hand: the motor's shaft turns twice for one of the output, the encoder twice as often.
    """
    _, done = bench.subject(torque_nm=1.0).whole
    standing = {one.name: one for one in done.standing}
    belts = [
        belted(
            belt_drive("curvilinear 3 mm", teeth=teeth, belt_teeth=120, width_mm=9.0),
            between=("motor", end),
            on="base",
            side="up",
            name=end,
        )
        for teeth, end in (((30, 60), "axle"), ((60, 30), "second"))
    ]
    asked = drive("motor", output="axle", encoder="second", belt=("axle", "second"))
    found = belting(asked, belts, motor=standing["motor"], standing=standing)
    assert found.driving is not None
    assert found.driving.ratio == pytest.approx(2.0)
    assert found.encoder_ratio == pytest.approx(4.0)


def test_a_belt_that_runs_elsewhere_is_said(bench: Any) -> None:
    """Neither end on the motor's axis nor at the encoder: it is named, and counts for nothing."""
    _, done = bench.subject(torque_nm=1.0).whole
    standing = {one.name: one for one in done.standing}
    belt = belt_drive("curvilinear 3 mm", teeth=(30, 60), belt_teeth=120, width_mm=9.0)
    lost = belted(belt, between=("second", "axle"), on="base", side="up")
    found = belting(drive("motor", belt="belt"), [lost], motor=standing["motor"], standing=standing)
    assert found.lost == ("belt",)
    assert found.driving is None


def test_a_wish_without_an_encoder_is_a_note(bench: Any) -> None:
    """Nobody says what the encoder tells: one note; without a wish, silence."""
    (note,) = bench.all("drive.encoder", encoder="second", resolution_deg=0.1)
    assert note.severity is Severity.NOTE
    assert bench.all("drive.encoder", encoder="second") == []


def test_play_of_the_gearbox_shrinks_behind_a_belt(bench: Any) -> None:
    """0.9 degrees over 3, and 0.1 mm of belt play at 72 teeth of 3 mm: chord over radius.

    By hand: 0.3 degrees and 0.1 / (72 x 3 / (2 pi)) rad = 0.1667 degrees.
    """
    rating = replace(bench.rating, backlash_deg=0.9)
    plain = bench.one("drive.backlash", "play", rating=rating, backlash_deg=1.0)
    assert plain.value == pytest.approx(0.9)
    assert plain.severity is Severity.PASSED
    asked = {"teeth": (24, 72), "belt_play_mm": 0.1, "backlash_deg": 0.4, **BELTED}
    behind = bench.one("drive.backlash", "play", rating=rating, **asked)
    radius_mm = 72 * 3 / (2 * math.pi)
    assert behind.value == pytest.approx(0.3 + math.degrees(0.1 / radius_mm), rel=1e-9)
    assert behind.severity is Severity.WARNING
    (note,) = bench.all("drive.backlash", backlash_deg=1.0)
    assert note.severity is Severity.NOTE


def test_a_belt_to_an_encoder_is_not_weighed(bench: Any) -> None:
    """It carries next to nothing."""
    asked = {"torque_nm": 8.0, "encoder": "second", "belt": "belt"}
    assert bench.all("drive.belt", **asked) == []


def test_seven_teeth_in_mesh_are_enough(bench: Any) -> None:
    """Six carry the full pull (ISO 5295, from memory); teeth in mesh by the wrap, by hand.

    24 and 72 teeth, 360 mm long: shafts 105.5 mm apart lean by asin(22.92 / 105.5), so that
    24 x (180 - 25.1) / 360 = 10.3 teeth lie in mesh, 10 of them whole.
    """
    found = bench.one("drive.belt", "teeth", torque_nm=1.0, teeth=(24, 72), **BELTED)
    assert found.value == 10
    assert found.limit == 6
    assert found.severity is Severity.PASSED


def test_width_of_a_belt_by_its_pull(bench: Any) -> None:
    """Pull by moments, 1.5 x 4 N m over the driven pulley's radius; over 10 N for each mm."""
    asked = {"torque_nm": 4.0, "teeth": (24, 72), **BELTED}
    pull_n = 1.5 * 4000.0 / (72 * 3 / (2 * math.pi))
    found = bench.one("drive.belt", "width", belt_limit_n_per_mm=10.0, **asked)
    assert found.value == pytest.approx(pull_n / 10.0, rel=1e-9)
    assert found.limit == 9.0
    assert found.severity is Severity.STOP
    assert found.feature == "belt"
    strong = bench.one("drive.belt", "width", belt_limit_n_per_mm=30.0, **asked)
    assert strong.margin == pytest.approx(3 * found.margin)
    assert strong.severity is Severity.PASSED
    (note,) = [one for one in bench.all("drive.belt", **asked) if one.limit is None]
    assert "belt_limit_n_per_mm" in note.remedy


def test_a_slack_belt_jumps(bench: Any) -> None:
    """A span set to less than half the pull goes loose under it: statics."""
    asked = {"torque_nm": 4.0, "teeth": (24, 72), **BELTED}
    pull_n = 1.5 * 4000.0 / (72 * 3 / (2 * math.pi))
    slack = bench.one("drive.belt", "at rest", belt_pull_n=0.4 * pull_n, **asked)
    tight = bench.one("drive.belt", "at rest", belt_pull_n=0.7 * pull_n, **asked)
    assert slack.severity is Severity.WARNING
    assert tight.severity is Severity.PASSED


def test_belts_pull_across_the_motors_shaft(bench: Any) -> None:
    """Both spans added as arrows in the plane, along tangents drawn from the pulleys' sizes."""
    rating = replace(bench.rating, gear_radial_n=400.0)
    asked = {"torque_nm": 4.0, "teeth": (24, 72), **BELTED}
    small, large = 24 * 3 / (2 * math.pi), 72 * 3 / (2 * math.pi)
    pull_n = 1.5 * 4000.0 / large
    found = bench.one("drive.belt", "across", belt_pull_n=pull_n, rating=rating, **asked)
    # The centres are where the belt of 360 mm is taut: bisection of its length, any handbook.
    low, high = large - small + 1e-6, 180.0
    for _ in range(100):
        centres = (low + high) / 2
        lean = math.asin((large - small) / centres)
        length = (
            2 * centres * math.cos(lean) + math.pi * (large + small) + 2 * lean * (large - small)
        )
        low, high = (centres, high) if length < 360.0 else (low, centres)
    tight, slack = 1.5 * pull_n, 0.5 * pull_n
    along = (tight + slack) * math.cos(lean)
    aside = (tight - slack) * math.sin(lean)
    assert found.value == pytest.approx(math.hypot(along, aside), rel=1e-6)
    assert found.part == "motor"


def test_winding_by_a_simulation_of_its_heating(bench: Any) -> None:
    """Against the same body integrated in small steps, resistance fixed at its mean warmth.

    First-order heating, C dT/dt = I^2 R - T / Rth, explicit steps of numpy-free arithmetic.
    """
    rating = replace(bench.rating, thermal_k_per_w=1.5, time_constant_s=60.0, most_winding_c=155.0)
    cycle = ((12.0, 30.0), (1.0, 60.0))
    found = bench.one("drive.heat", "winding", rating=rating, cycle=cycle, air_c=25.0)
    ohm, k = rating.resistance_ohm, rating.torque_constant_nmm_per_a / 1000
    amps = [nm / (k * 9.2) + 1.0 for nm, _ in cycle]
    mean_square = (amps[0] ** 2 * 30 + amps[1] ** 2 * 60) / 90
    # Warm copper: R (235 + T) / (235 + 20), T where mean heat leaves; found by repetition.
    warm_c = 25.0
    for _ in range(200):
        warm_c = 25.0 + 1.5 * mean_square * ohm * (235 + warm_c) / 255
    hot_ohm, rise, highest, step_s = ohm * (235 + warm_c) / 255, 0.0, 0.0, 0.02
    for turn in range(20):
        for amp, (_, seconds) in zip(amps, cycle, strict=True):
            for _ in range(round(seconds / step_s)):
                rise += step_s / 60.0 * (1.5 * amp**2 * hot_ohm - rise)
            highest = max(highest, rise) if turn > 15 else highest
    assert found.value == pytest.approx(25.0 + highest, rel=1e-3)


def test_steady_heat_of_copper_that_warms(bench: Any) -> None:
    """Where I^2 R(T) leaves through the thermal resistance, by repetition to a fixed point."""
    rating = replace(bench.rating, thermal_k_per_w=1.5, most_winding_c=130.0)
    found = bench.one("drive.heat", "winding", rating=rating, torque_nm=6.0, air_c=40.0)
    current_a = 6.0 / (rating.torque_constant_nmm_per_a / 1000 * 9.2) + 1.0
    warm_c = 40.0
    for _ in range(200):
        warm_c = 40.0 + 1.5 * current_a**2 * rating.resistance_ohm * (235 + warm_c) / 255
    assert found.value == pytest.approx(warm_c, rel=1e-9)
    hotter = bench.one("drive.heat", "winding", rating=rating, torque_nm=12.0, air_c=40.0)
    assert hotter.margin < found.margin
    assert hotter.severity is Severity.STOP


@settings(max_examples=40)
@given(torque_nm=st.floats(0.1, 500.0), kelvin=st.floats(0.01, 50.0))
def test_a_winding_that_runs_away_is_found_and_never_raises(
    bench: Any, torque_nm: float, kelvin: float
) -> None:
    """Heat that grows faster than it leaves is far too hot, not an error."""
    rating = replace(bench.rating, thermal_k_per_w=kelvin, most_winding_c=130.0)
    found = bench.one("drive.heat", "winding", rating=rating, torque_nm=torque_nm)
    amps = torque_nm / (rating.torque_constant_nmm_per_a / 1000 * 9.2) + 1.0
    at_least_c = 40.0 + kelvin * amps**2 * rating.resistance_ohm * 275 / 255
    assert found.value >= at_least_c * (1 - 1e-9)


def test_what_is_not_said_of_heat(bench: Any) -> None:
    """With a current of all day: silent, torque says it. With neither: one note."""
    assert bench.all("drive.heat", torque_nm=6.0) == []
    bare = replace(bench.rating, continuous_a=None)
    (note,) = bench.all("drive.heat", torque_nm=6.0, rating=bare)
    assert note.severity is Severity.NOTE
    half = replace(bench.rating, thermal_k_per_w=1.5)
    (limit,) = bench.all("drive.heat", torque_nm=6.0, rating=half)
    assert "most_winding_c" in limit.remedy
