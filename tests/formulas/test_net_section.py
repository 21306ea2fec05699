"""Holed rings against shear summed over points of the cut, and against geometry tables."""

import math
from dataclasses import replace

import numpy as np
import pytest

from platekit.errors import PartError
from platekit.formulas.net_section import (
    HoledRing,
    circle_shear_mpa,
    hole_rim_stress_mpa,
    net_shear_mpa,
    ring_torque_nmm,
)

ADAPTER = HoledRing(bore_mm=40, outside_mm=90, circle_mm=70, holes=6, hole_mm=5.5, thickness_mm=6.4)


def _summed_torque(ring, shear_mpa):
    """Return the torque of an even shear over the points of the bolt circle outside its holes."""
    angle = (np.arange(600_000) + 0.5) * 2 * np.pi / 600_000
    x, y = np.cos(angle) * ring.circle_mm / 2, np.sin(angle) * ring.circle_mm / 2
    solid = np.full(angle.shape, fill_value=True)
    for k in range(ring.holes):
        at = 2 * np.pi * k / ring.holes
        away = np.hypot(x - np.cos(at) * ring.circle_mm / 2, y - np.sin(at) * ring.circle_mm / 2)
        solid &= away > ring.hole_mm / 2
    step = np.pi * ring.circle_mm / 600_000
    return solid.sum() * step * ring.thickness_mm * shear_mpa * ring.circle_mm / 2


@pytest.mark.parametrize(
    "ring", [ADAPTER, replace(ADAPTER, holes=3, hole_mm=13), replace(ADAPTER, holes=10)]
)
def test_shear_between_holes_adds_up_to_the_torque(ring):
    """Six hundred thousand points of the circle, those in holes left out."""
    shear = net_shear_mpa(ring, torque_nmm=80e3)
    assert _summed_torque(ring, shear) == pytest.approx(80e3, rel=1e-4)


@pytest.mark.parametrize(
    ("holes", "chord"),
    [(3, 0.866025), (4, 0.707107), (5, 0.587785), (6, 0.5), (8, 0.382683), (12, 0.258819)],
)
def test_walls_by_the_table_of_chords(holes, chord):
    """Chords of a circle of diameter 1, handbook table (from memory)."""
    ring = replace(ADAPTER, holes=holes)
    assert ring.wall_between_mm == pytest.approx(70 * chord - 5.5, abs=1e-4)
    assert ring.wall_to_bore_mm == pytest.approx(35 - 20 - 2.75)
    assert ring.wall_to_rim_mm == pytest.approx(45 - 35 - 2.75)


def test_a_disc_is_a_bar_of_its_thickness_unrolled():
    """Shear on a circle: Bredt's T/(2 A t), Gere ch. 3 (from memory), with A the circle's area."""
    shear = circle_shear_mpa(50e3, diameter_mm=40, thickness_mm=6)
    assert shear == pytest.approx(50e3 / (2 * math.pi * 20**2 * 6))


def test_tiny_holes_leave_the_plain_circle_and_kirschs_four():
    """Kirsch, hole in a sheet: 3 along and -1 across, so shear gives 3 + 1 (from memory)."""
    pinholes = replace(ADAPTER, hole_mm=0.001)
    plain = circle_shear_mpa(1000, diameter_mm=70, thickness_mm=6.4)
    assert net_shear_mpa(pinholes, torque_nmm=1000) == pytest.approx(plain, rel=1e-4)
    assert hole_rim_stress_mpa(pinholes, torque_nmm=1000) == pytest.approx(
        (3 - -1) * plain, rel=1e-4
    )


def test_larger_and_more_holes_weaken():
    """The mean shear climbs with every hole and every tenth of a millimetre."""
    by_size = [
        net_shear_mpa(replace(ADAPTER, hole_mm=d), torque_nmm=1) for d in (3, 4, 5, 6, 8, 10)
    ]
    by_number = [net_shear_mpa(replace(ADAPTER, holes=n), torque_nmm=1) for n in range(2, 13)]
    assert by_size == sorted(by_size)
    assert by_number == sorted(by_number)


def test_the_weaker_cut_sets_the_torque():
    """At the bore of the adapter; between the holes once there are many large ones."""
    at_bore = ring_torque_nmm(ADAPTER, shear_mpa=9.5)
    assert circle_shear_mpa(at_bore, diameter_mm=40, thickness_mm=6.4) == pytest.approx(9.5)
    riddled = replace(ADAPTER, bore_mm=50, holes=14, hole_mm=13)
    between = ring_torque_nmm(riddled, shear_mpa=9.5)
    assert net_shear_mpa(riddled, torque_nmm=between) == pytest.approx(9.5)
    assert between < ring_torque_nmm(replace(riddled, hole_mm=2), shear_mpa=9.5)
    blank = replace(ADAPTER, bore_mm=0)
    assert ring_torque_nmm(blank, shear_mpa=9.5) > at_bore


def test_rings_that_cannot_be_are_refused():
    """Walls eaten up, and holes too near for the estimate."""
    with pytest.raises(PartError, match=r"wall to the bore is -2.75 mm with holes of 5.5 mm on 70"):
        replace(ADAPTER, bore_mm=70)
    with pytest.raises(PartError, match=r"wall between holes is .*; give fewer holes"):
        replace(ADAPTER, holes=40)
    with pytest.raises(PartError, match=r"wall to the rim is"):
        replace(ADAPTER, outside_mm=75)
    with pytest.raises(PartError, match=r"holes of 12 mm are 21.6.* mm apart; give them 24 mm"):
        hole_rim_stress_mpa(replace(ADAPTER, holes=10, hole_mm=12), torque_nmm=1)
