"""Screws of loaded devices, against statics by hand, printed groups and EN 1995 worked out here."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from platekit import Assembly, load
from platekit.checks.hold.screw_groups import most_across_n, most_along_n
from platekit.checks.hold.screw_strengths import ultimate_mpa
from platekit.checks.hold.screws import screws
from platekit.findings import Severity
from platekit.hardware import bolt_circle_points
from platekit.materials import Strength, sheet
from tests.checks.hold.loaded_rigs import case, least, subject, turret, weighed

coordinate = st.floats(-200.0, 200.0)
places = st.lists(st.tuples(coordinate, coordinate), min_size=3, max_size=8).filter(
    lambda given: float(np.linalg.eigvalsh(np.cov(np.array(given).T))[0]) > 25.0
)


def ring(count, pcd_mm):
    """Return a bolt circle as plain pairs."""
    return [tuple(at) for at in bolt_circle_points(count, pcd_mm=pcd_mm)]


def test_a_coupling_of_six_bolts_in_print():
    """B. K. Sarkar, Strength of Materials, problem 7.14: 28.14 MPa in bolts of 20 mm, looked up."""
    force = most_across_n(ring(6, 300.0), torque_nmm=7_957_750.0, radial_n=0.0)
    assert force / (math.pi / 4 * 20.0**2) == pytest.approx(28.14, abs=0.05)


def test_a_bracket_in_print_lies_within_the_worst_direction():
    """Bhandari, Design of Machine Elements, example 7.3: 12 093.4 N where the load points down.

    The torsion's 10 000 N and the even 2 500 N stand at acos 0.8 to each other there; in the
    worst direction they point the same way.
    """
    group = [(-100.0, 75.0), (100.0, 75.0), (-100.0, -75.0), (100.0, -75.0)]
    twist = most_across_n(group, torque_nmm=5_000_000.0, radial_n=0.0)
    even = most_across_n(group, torque_nmm=0.0, radial_n=10_000.0)
    printed = math.sqrt(twist**2 + even**2 + 2 * twist * even * 0.8)
    assert printed == pytest.approx(12_093.4, abs=0.1)
    both = most_across_n(group, torque_nmm=5_000_000.0, radial_n=10_000.0)
    assert both == pytest.approx(12_500.0, rel=1e-6)


@given(group=places, torque=st.floats(0.0, 1e5), radial=st.floats(0.0, 1e3))
@settings(max_examples=40, deadline=None)
def test_the_worst_direction_by_brute_force(group, torque, radial):
    """Rigid plate on equal springs, solved with numpy in 720 directions: statics, by hand."""
    at = np.array(group)
    n = len(at)
    # Unknown: both shifts and the turn of the plate about the axis; springs of stiffness 1.
    moves = np.zeros((2 * n, 3))
    moves[0::2, 0] = moves[1::2, 1] = 1.0
    moves[0::2, 2], moves[1::2, 2] = -at[:, 1], at[:, 0]
    worst = 0.0
    for way in np.linspace(0.0, 2 * np.pi, 720, endpoint=False):
        load_ = np.array([radial * np.cos(way), radial * np.sin(way), torque])
        force = moves @ np.linalg.solve(moves.T @ moves, load_)
        worst = max(worst, float(np.max(np.hypot(force[0::2], force[1::2]))))
    found = most_across_n(group, torque_nmm=torque, radial_n=radial)
    assert found == pytest.approx(worst, rel=3e-3, abs=1e-3)


@pytest.mark.parametrize("bolts", [3, 4, 6, 8, 12])
def test_a_tipped_flange(bolts):
    """4 M / (n D), the greatest bolt force of a round flange: textbooks, from memory."""
    pull = most_along_n(ring(bolts, 80.0), moment_nmm=10_000.0, axial_n=0.0, reach_mm=0.0)
    assert pull == pytest.approx(4 * 10_000.0 / (bolts * 80.0), rel=1e-3)
    both = most_along_n(ring(bolts, 80.0), moment_nmm=10_000.0, axial_n=600.0, reach_mm=0.0)
    assert both - pull == pytest.approx(600.0 / bolts)


def test_two_screws_in_line_need_a_foot():
    """Nothing holds the moment about their line but the foot's edge: M / (2 r), balance."""
    line = [(-40.0, 0.0), (40.0, 0.0)]
    assert most_along_n(line, moment_nmm=1_000.0, axial_n=0.0, reach_mm=0.0) == math.inf
    held = most_along_n(line, moment_nmm=1_000.0, axial_n=0.0, reach_mm=25.0)
    # About their line 20 N; about a line beside it no more than a lever of the smaller half.
    assert 1_000.0 / 50.0 <= held < 1_000.0 / 40.0 * 1.5


@given(group=places, moment=st.floats(1.0, 1e6), reach=st.floats(0.0, 100.0))
@settings(max_examples=40, deadline=None)
def test_a_foot_never_makes_it_worse(group, moment, reach):
    """The edge is another way to keep the balance: it can only help."""
    without = most_along_n(group, moment_nmm=moment, axial_n=0.0, reach_mm=0.0)
    assert most_along_n(group, moment_nmm=moment, axial_n=0.0, reach_mm=reach) <= without


def across_of(assembly):
    """Return the finding on the force across."""
    return next(one for one in screws(subject(assembly)) if one.measure.startswith("force across"))


def test_a_flange_on_plywood_by_hand():
    """EN 1995-1-1, 8.9: 0.4 fh t d of a thin plate, kmod 0.9, gamma 1.3, worked here (memory)."""
    found = across_of(case(turret(flange_mm=3.0)))
    embedment = 0.11 * (1 - 0.01 * 5.0) * 630.0
    assert found.limit == pytest.approx(0.9 * 0.4 * embedment * 6.0 * 5.0 / 1.3)
    # Even share and torsion of the circle, times 1.5.
    assert found.value == pytest.approx(1.5 * (100.0 / 6 + 20_000.0 / (6 * 30.0)))
    assert found.margin == pytest.approx(found.limit / found.value)


def test_a_tapped_part_on_plywood_by_hand():
    """EN 1995-1-1, 8.10: the three ways of a thick plate with rope, worked here (memory)."""
    found = across_of(case(turret(thread="M8", tapped_mm=16.0)))
    d, t = 8.0, 6.0
    line = 0.11 * (1 - 0.01 * d) * 630.0 * d
    bends = 0.3 * 800.0 * d**2.6
    # ISO 7089 M8: 16 mm wide over a 9 mm hole; 3 fc,90, fc,90 = 0.007 rho (EN 384, memory).
    rope = 3 * 0.007 * 630.0 * math.pi / 4 * (16.0**2 - 9.0**2) / 4
    hinge = line * t * (math.sqrt(2 + 4 * bends / (line * t**2)) - 1)
    hinges = 2.3 * math.sqrt(bends * line)
    ways = [line * t] + [way + min(rope, way / 4) for way in (hinge, hinges)]
    assert found.limit == pytest.approx(0.9 * min(ways) / 1.3)


def test_the_washer_by_hand():
    """EN 1995-1-1, 8.5.2: 3 fc,90 on the washer's ring; ISO 7089 M5 is 10 mm wide, hole 5.5."""
    found = next(one for one in screws(subject(case())) if one.measure.startswith("pull"))
    area = math.pi / 4 * (10.0**2 - 5.5**2)
    assert found.limit == pytest.approx(0.9 * 3 * 0.007 * 630.0 * area / 1.2)
    assert "washer" in found.measure


@pytest.mark.parametrize(
    ("grade", "mpa"), [("8.8", 800), ("010.9", 1000), ("4.6", 400), ("A2-70", 700), ("A4-80", 800)]
)
def test_classes(grade, mpa):
    """ISO 898-1 and ISO 3506-1: nominal tensile strength, from memory."""
    assert ultimate_mpa(grade) == mpa


def test_a_sound_rig_is_passed_and_both_forces_are_told():
    """Across, along, and both together; the part is the panel, the feature the screws."""
    found = list(screws(subject(case())))
    assert [one.severity for one in found] == [Severity.PASSED] * 3
    assert {(one.part, one.feature) for one in found} == {("bottom", "turret screws")}
    over, pull, both = (one.margin for one in found)
    assert 1 / both == pytest.approx(math.hypot(1 / over, 1 / pull))


def test_too_much_torque_stops():
    """Ten times the torque of a rig that just holds does not."""
    strong = load("turret", torque_nm=900.0, name="jam")
    (found,) = weighed(screws, case(turret(), strong))
    assert found.severity is Severity.STOP
    assert "jam" in found.measure
    assert found.margin < 1.0
    assert "screws" in found.remedy


@pytest.mark.parametrize(
    ("worse", "better"),
    [
        ({"bolts": 4}, {"bolts": 6}),
        ({"pcd_mm": 40.0}, {"pcd_mm": 60.0}),
        ({"thread": "M4"}, {"thread": "M6"}),
        ({"flange_mm": 12.0}, {"tapped_mm": 12.0}),
    ],
)
def test_one_change_for_the_worse(worse, better):
    """Fewer screws, a smaller circle, thinner screws, play in a flange: each lowers the margin."""
    assert least(screws, case(turret(**worse))) < least(screws, case(turret(**better)))


def test_a_lasting_load_weighs_more():
    """EN 1995-1-1 table 3.1: plywood indoors, kmod 0.6 permanent against 0.9 short (memory)."""
    lasting, short = (
        case(turret(), load("turret", torque_nm=20.0, duration=how))
        for how in ("permanent", "short")
    )
    assert least(screws, lasting) / least(screws, short) == pytest.approx(0.6 / 0.9)


@given(times=st.floats(0.1, 10.0))
@settings(max_examples=10, deadline=None)
def test_margins_fall_as_loads_rise(times):
    """So many times the load, so many times less margin."""
    one, many = (
        weighed(
            screws,
            case(turret(), load("turret", torque_nm=2.0 * k, radial_n=10.0 * k, at_mm=30.0)),
        )
        for k in (1.0, times)
    )
    for a, b in zip(one, many, strict=True):
        assert a.margin / b.margin == pytest.approx(times)


def test_factors_are_the_users():
    """Load factor and connection factor go straight into the margin."""
    base = case(turret(), load("turret", torque_nm=20.0))
    careful = base.with_factors(load=3.0, connection=2.6)
    assert least(screws, base) / least(screws, careful) == pytest.approx(2.0 * 2.0)


@pytest.mark.parametrize("material", ["MDF", "poplar plywood", "POM"])
def test_what_nobody_knows_is_told_once(material):
    """One finding for each figure that is missing, however many loads; nothing passes.

    MDF has figures but no rule; of the others nothing is known at all, and that warns.
    """
    loads = [load("turret", torque_nm=5.0, axial_n=9.0, name=f"load {k}") for k in range(3)]
    (found,) = screws(subject(case(turret(), *loads, sheet=sheet(material, nominal_mm=6.0))))
    severity = Severity.NOTE if material == "MDF" else Severity.WARNING
    assert (found.severity, found.margin) == (severity, None)
    assert material in found.measure


def test_own_figures_come_first():
    """Half the density, half the embedment strength: EN 1995-1-1 8.36."""
    own = Strength(density_kg_m3=315.0, timber="plywood", source="test")
    base = case(turret(), load("turret", torque_nm=20.0))
    light = base.with_strengths(birch_plywood=own)
    assert least(screws, base) / least(screws, light) > 1.5


def test_figures_that_cannot_be_are_told_and_not_raised():
    """A density of a gas is the user's slip: it is said, and the run goes on."""
    own = Strength(density_kg_m3=1.2, timber="plywood", source="test")
    (found,) = screws(subject(case().with_strengths(birch_plywood=own)))
    assert found.severity is Severity.NOTE
    assert "density" in found.measure


@pytest.mark.parametrize(
    ("device", "asked", "word"),
    [
        (turret(bolts=1, pcd_mm=40.0), {}, "one screw alone"),
        (turret(), {"travel_mm": 8.0}, "slots"),
        (turret(flange_mm=5.0), {"lift_mm": 10.0}, "free"),
    ],
)
def test_what_the_model_does_not_cover_is_said(device, asked, word):
    """One screw, slots and spacers hold by friction or bending, which is not weighed."""
    (found,) = screws(subject(case(device, **asked)))
    assert found.severity is Severity.NOTE
    assert word in found.measure


def test_without_loads_it_is_silent():
    """Nothing acts, nothing is said."""
    bare = Assembly("bare").with_panels(*case().panels)
    assert list(screws(subject(bare))) == []
