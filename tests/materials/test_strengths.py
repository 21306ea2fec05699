"""What sheets bear, against the handbook's figures and laminate theory worked here by hand."""

from __future__ import annotations

import itertools

import pytest

from platekit.materials import birch_plywood, sheet, strength_of

# Handbook of Finnish Plywood, 1.4 mm veneers, birch (from memory): mean thickness, bending
# strength and modulus along and across the face grain.
HANDBOOK = {
    6.5: (6.4, 50.9, 29.0, 12737, 4763),
    9: (9.2, 45.6, 32.1, 11395, 6105),
    12: (12.0, 42.9, 33.2, 10719, 6781),
}


@pytest.mark.parametrize("nominal", HANDBOOK)
def test_the_handbooks_rows(nominal):
    """A sheet that measures the handbook's mean thickness has the handbook's figures."""
    mean, along, across, stiff, soft = HANDBOOK[nominal]
    found = strength_of(birch_plywood(nominal, thickness_mm=mean))
    assert (found.bending_0_mpa, found.bending_90_mpa) == pytest.approx((along, across))
    assert (found.modulus_0_mpa, found.modulus_90_mpa) == pytest.approx((stiff, soft))


def laminate(plies: int) -> tuple[float, float]:
    """Modulus in bending along and across of a plywood of `plies` veneers, by layers.

    Faces 1.1 mm and inner veneers 1.4 mm of E 17500 MPa along, a thirtieth across: the rule the
    handbook's table was worked out with (classical laminate theory, textbook).
    """
    thick = [1.1, *([1.4] * (plies - 2)), 1.1]
    edges = [0.0, *itertools.accumulate(thick)]
    middle = edges[-1] / 2
    sums = [0.0, 0.0]
    for ply, (low, high) in enumerate(itertools.pairwise(edges)):
        second = ((high - middle) ** 3 - (low - middle) ** 3) / 3
        sums[ply % 2] += 17500 * second
    whole = edges[-1] ** 3 / 12
    return sums[0] / whole, sums[1] / whole


@pytest.mark.parametrize(("plies", "nominal"), [(3, 4), (5, 6.5), (7, 9), (9, 12), (11, 15)])
def test_moduli_follow_from_the_layers(plies, nominal):
    """The table's moduli are those of its veneers, within 1 %."""
    mean = {3: 3.6, 5: 6.4, 7: 9.2, 9: 12.0, 11: 14.8}[plies]
    found = strength_of(birch_plywood(nominal, thickness_mm=mean))
    along, across = laminate(plies)
    assert found.modulus_0_mpa == pytest.approx(along, rel=0.01)
    assert found.modulus_90_mpa == pytest.approx(across, rel=0.01)


def test_between_two_rows_and_beyond_them():
    """Straight between neighbours; outside the table its last row."""
    thin, between, thick = (
        strength_of(birch_plywood(9, thickness_mm=t)).bending_0_mpa for t in (9.2, 10.6, 12.0)
    )
    assert between == pytest.approx((thin + thick) / 2)
    assert strength_of(birch_plywood(3)) == strength_of(birch_plywood(4, thickness_mm=3.6))
    assert strength_of(birch_plywood(30)) == strength_of(birch_plywood(24, thickness_mm=23.2))


def test_what_is_not_known_is_none():
    """A material without figures has none; a figure that is not in the table neither."""
    assert strength_of(sheet("poplar plywood", nominal_mm=6)) is None
    assert strength_of(sheet("MDF", nominal_mm=6)).panel_shear_mpa is None


def test_timber_factors_are_for_wood_alone():
    """EN 1995-1-1 speaks of plywood and fibreboard, not of acrylic."""
    kinds = {
        name: strength_of(sheet(name, nominal_mm=6)).timber
        for name in ("birch plywood", "MDF", "cast acrylic")
    }
    assert kinds == {"birch plywood": "plywood", "MDF": "mdf", "cast acrylic": ""}
