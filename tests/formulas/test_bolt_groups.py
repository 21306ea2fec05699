"""Bolt groups against published examples and against a spring model solved by numpy."""

import math

import numpy as np
import pytest

from platekit.errors import PartError
from platekit.formulas.bolt_groups import (
    bolt_circle_force_n,
    bolt_circle_torque_nmm,
    bolt_forces,
    centroid_mm,
    largest,
    moment_about_nmm,
    polar_sum_mm2,
)
from platekit.formulas.bolt_joints import bearing_force_n
from platekit.formulas.timber_embedment import bolt_in_plywood_mpa

# University course in timber structures, worked example C3 (looked up): six bolts.
COURSE = ((90, 40), (0, 40), (-90, 40), (-90, -40), (0, -40), (90, -40))
# The note prints 7271 N along y on the first bolt; its own resultant of 8329 N needs 7721 N.
COURSE_FORCES = [
    (3124, 7721, 8329), (3124, -250, 3134), (3124, -8221, 8795),
    (10210, -8221, 13108), (10210, -250, 10213), (10210, 7721, 12801),
]  # fmt: skip


def _course():
    return bolt_forces(COURSE, force_x_n=40000, force_y_n=-1500, moment_nmm=3.72e6)


def test_each_bolt_of_the_course_example():
    """Both components and the resultant, within the note's rounding of 2 N."""
    assert polar_sum_mm2(COURSE) == pytest.approx(42000, abs=0.5)
    for force, (x_n, y_n, size_n) in zip(_course(), COURSE_FORCES, strict=True):
        assert (force.x_n, force.y_n, force.size_n) == pytest.approx((x_n, y_n, size_n), abs=2)
    assert largest(_course()).size_n == pytest.approx(13108, abs=2)


def test_the_rows_of_the_course_example_add_up():
    """The note sums each row along x: 9372 and 30630 N (within 3 N, its rounding)."""
    forces = _course()
    assert sum(force.x_n for force in forces[:3]) == pytest.approx(9372, abs=3)
    assert sum(force.x_n for force in forces[3:]) == pytest.approx(30630, abs=3)


def test_a_bracket_under_an_eccentric_load():
    """Shigley, Mechanical Engineering Design, Example 8-7: 16 kN at 425 mm on 4 bolts.

    Statement looked up, results from memory: 4.0 kN direct, 96.0 mm, 17.7 kN by the moment, 21.0
    and 14.8 kN together.
    """
    places = ((-75, 60), (75, 60), (75, -60), (-75, -60))
    moment = moment_about_nmm(centroid_mm(places), (425, 0), force_y_n=-16000)
    assert moment == pytest.approx(-6.8e6)
    assert math.sqrt(polar_sum_mm2(places) / 4) == pytest.approx(96.0, abs=0.1)
    direct = bolt_forces(places, force_y_n=-16000)
    turned = bolt_forces(places, moment_nmm=moment)
    assert [force.size_n for force in direct] == pytest.approx([4000] * 4, abs=10)
    assert [force.size_n for force in turned] == pytest.approx([17700] * 4, abs=50)
    both = bolt_forces(places, force_y_n=-16000, moment_nmm=moment)
    assert [force.size_n for force in both] == pytest.approx([14800, 21000, 21000, 14800], abs=50)


@pytest.mark.parametrize(
    ("places", "force_y_n", "moment_nmm", "largest_n", "abs_n"),
    [
        # Bhandari, Design of Machine Elements, Examples 7.3 (p. 233) and 7.4 (p. 235), looked up.
        (((-100, 75), (100, 75), (-100, -75), (100, -75)), -10000, -5e6, 12093.4, 2),
        (((-75, 0), (0, 0), (75, 0)), -5000, -1.525e6, 11833.3, 1),
        # Online worked example to AS 4100, six bolts; its polar sum of 29200 mm2 and direct share
        # of 20 kN are printed, the corner's resultant was computed beside it.
        (((0, 0), (0, 70), (0, 140), (80, 0), (80, 70), (80, 140)), -120000, -24e6, 78142, 20),
    ],
)
def test_largest_force_of_printed_examples(places, force_y_n, moment_nmm, largest_n, abs_n):
    """The bolt on the load's side carries most."""
    forces = bolt_forces(places, force_y_n=force_y_n, moment_nmm=moment_nmm)
    assert largest(forces).size_n == pytest.approx(largest_n, abs=abs_n)


def test_polar_sum_of_the_printed_bracket_off_its_origin():
    """29200 mm2 about the middle at (40, 70), though its places are told from a corner."""
    places = ((0, 0), (0, 70), (0, 140), (80, 0), (80, 70), (80, 140))
    assert centroid_mm(places) == pytest.approx((40, 70))
    assert polar_sum_mm2(places) == pytest.approx(29200, abs=0.5)


def test_forces_are_those_of_a_rigid_plate_on_springs():
    """Second witness: stiffness matrix of a rigid plate on equal springs, solved by numpy."""
    places = np.array([(3.0, 4.0), (50.0, -7.0), (-20.0, 31.0), (11.0, 60.0), (8.0, 8.0)])
    load = np.array([700.0, -420.0, 9.1e4])
    x, y = (places - places.mean(axis=0)).T
    one, none = np.ones_like(x), np.zeros_like(x)
    # Displacement of each bolt for the plate's shift along x, along y and its turn.
    rows_x, rows_y = np.column_stack((one, none, -y)), np.column_stack((none, one, x))
    moved = np.linalg.solve(rows_x.T @ rows_x + rows_y.T @ rows_y, load)
    got = bolt_forces(
        [tuple(p) for p in places], force_x_n=load[0], force_y_n=load[1], moment_nmm=load[2]
    )
    assert [force.x_n for force in got] == pytest.approx(rows_x @ moved)
    assert [force.y_n for force in got] == pytest.approx(rows_y @ moved)


# Sadhu Singh, Machine Design, Example 7.1 p. 195 and Example 7.6 p. 205 (looked up; the force per
# bolt computed beside them): power with overload in W, turns per minute; torque in N m.
@pytest.mark.parametrize(
    ("drive", "bolts", "radius_mm", "answer"),
    [((25e3, 240), 4, 75, (994.718, 3315.73)), ((135e3, 120), 6, 150, (10743.0, 11936.6))],
)
def test_bolt_circles_of_shaft_couplings(drive, bolts, radius_mm, answer):
    """Torque of the drive onto the bolts of its coupling, within 2 N."""
    power_w, turns_per_minute = drive
    torque_n_m, force_n = answer
    torque_nmm = 1000 * power_w / (2 * math.pi * turns_per_minute / 60)
    assert torque_nmm == pytest.approx(1000 * torque_n_m, abs=500)
    got = bolt_circle_force_n(torque_nmm, bolts=bolts, radius_mm=radius_mm)
    assert got == pytest.approx(force_n, abs=2)
    back = bolt_circle_torque_nmm(got, bolts=bolts, radius_mm=radius_mm)
    assert back == pytest.approx(torque_nmm)


def test_bearing_of_plywood_on_a_bolt_circle():
    """Six M5 on a circle of 70 mm in 6.4 mm birch plywood of 630 kg/m3, computed by hand.

    0.11 (1 - 0.05) 630 = 65.8 MPa, over 5 by 6.4 mm 2107 N per bolt, on 35 mm 442 N m. An upper
    bound: no factors, no edges, no splitting.
    """
    strength = bolt_in_plywood_mpa(630, diameter_mm=5)
    each_n = bearing_force_n(strength, diameter_mm=5, thickness_mm=6.4)
    assert each_n == pytest.approx(2107, abs=1)
    torque = bolt_circle_torque_nmm(each_n, bolts=6, radius_mm=35)
    assert torque == pytest.approx(442e3, abs=500)


@pytest.mark.parametrize("bolts", [2, 3, 5, 8])
def test_a_circle_is_a_group(bolts):
    """Evenly spaced holes as a group give the closed form, whatever the first angle."""
    angles = [0.3 + 2 * math.pi * k / bolts for k in range(bolts)]
    places = [(35 * math.cos(a), 35 * math.sin(a)) for a in angles]
    alike = bolt_circle_force_n(9000, bolts=bolts, radius_mm=35)
    forces = bolt_forces(places, moment_nmm=-9000)
    assert [force.size_n for force in forces] == pytest.approx([alike] * bolts)


def test_impossible_groups_are_refused():
    """No bolt, one place under a moment, a place that is no number."""
    with pytest.raises(PartError, match="without a bolt"):
        bolt_forces([])
    with pytest.raises(PartError, match="bolts in one place"):
        bolt_forces([(5, 5), (5, 5)], moment_nmm=10)
    with pytest.raises(PartError, match="y of a bolt is nan"):
        bolt_forces([(5, math.nan)])
    with pytest.raises(PartError, match="number of bolts is 0"):
        bolt_circle_force_n(100, bolts=0, radius_mm=10)
    with pytest.raises(PartError, match="no force"):
        largest([])
