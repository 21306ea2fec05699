"""The section of a plate, and the bounds within which thin-plate formulas hold."""

import math

import pytest

from platekit.errors import PartError
from platekit.formulas.plates import (
    PlateBending,
    Slab,
    even_modulus_mpa,
    load_circle_mm,
    sag_is_small,
)


def test_stiffness_of_a_steel_plate():
    """Timoshenko & Woinowsky-Krieger's D (from memory): 206 GPa, 0.3, 2 mm -> 150.9 N m."""
    slab = Slab(thickness_mm=2, modulus_mpa=206e3)
    assert slab.stiffness_nmm == pytest.approx(150.9e3, rel=2e-4)


def test_skin_stress_holds_the_moment():
    """A triangle of stress over each half of the thickness, summed, is the moment put in."""
    slab = Slab(thickness_mm=4, modulus_mpa=1000)
    skin = slab.skin_stress_mpa(50)
    n = 4000
    z = [(k + 0.5) * 4 / n - 2 for k in range(n)]
    assert sum(skin * (at / 2) * at * 4 / n for at in z) == pytest.approx(50, rel=1e-6)


def test_the_mean_modulus_lies_between_both():
    """Birch plywood 6.5 mm, handbook table (from memory): 12737 along, 4763 across."""
    even = even_modulus_mpa(along_mpa=12737, across_mpa=4763)
    assert 4763 < even < 12737
    assert even / 4763 == pytest.approx(12737 / even)


def test_a_small_load_spreads_in_the_thickness():
    """Roark (from memory): 0.325 t for a point, no step to speak of where r = 0.5 t takes over."""
    assert load_circle_mm(0, thickness_mm=10) == pytest.approx(3.25)
    assert load_circle_mm(8, thickness_mm=10) == 8
    below, above = (load_circle_mm(r, thickness_mm=10) for r in (4.999999, 5))
    assert below == pytest.approx(above, rel=0.02)
    assert load_circle_mm(1, thickness_mm=10) > 3.25


def test_small_is_below_half_the_thickness():
    """Common practice, no source."""
    assert sag_is_small(1.99, thickness_mm=4)
    assert not sag_is_small(2, thickness_mm=4)


def test_the_larger_stress_counts():
    """Of middle and edge."""
    assert PlateBending(sag_mm=0, centre_stress_mpa=2, edge_stress_mpa=3).stress_mpa == 3


def test_impossible_plates_are_refused():
    """A plate of no thickness, a load of a negative size."""
    with pytest.raises(PartError, match="thickness is 0 mm"):
        Slab(thickness_mm=0, modulus_mpa=1000)
    with pytest.raises(PartError, match="Poisson's ratio is nan"):
        Slab(thickness_mm=1, modulus_mpa=1000, poisson=math.nan)
    with pytest.raises(PartError, match="load radius is -1 mm"):
        load_circle_mm(-1, thickness_mm=3)
