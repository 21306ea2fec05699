"""Embedment and yield moments against worked examples of EN 1995-1-1."""

import pytest

from platekit.errors import PartError, UnknownNameError
from platekit.formulas.timber_embedment import (
    across_grain_loss,
    bolt_in_particleboard_mpa,
    bolt_in_plywood_mpa,
    bolt_in_timber_mpa,
    nail_in_hardboard_mpa,
    nail_in_particleboard_mpa,
    nail_in_plywood_mpa,
    nail_in_timber_mpa,
    yield_moment_nmm,
)


@pytest.mark.parametrize(
    ("density_kg_m3", "angle_deg", "strength_mpa", "rel"),
    [
        # University course in timber structures, worked examples C1, C2 and C3 (looked up): 12 mm.
        (350, 0, 25.3, 0.003),
        (350, 70, 17.2, 0.003),
        (380, 39, 22.6, 0.004),
        (430, 39, 25.6, 0.004),
    ],
)
def test_bolts_in_softwood(density_kg_m3, angle_deg, strength_mpa, rel):
    """Along the grain and at angles to it, a 12 mm fastener."""
    got = bolt_in_timber_mpa(density_kg_m3, diameter_mm=12, angle_deg=angle_deg)
    assert got == pytest.approx(strength_mpa, rel=rel)
    # The grain has no sense of direction.
    turned = bolt_in_timber_mpa(density_kg_m3, diameter_mm=12, angle_deg=180 - angle_deg)
    assert turned == pytest.approx(got)


def test_across_the_grain_by_wood():
    """k90 at 12 mm: 1.53 softwood, 1.48 LVL, 1.08 hardwood (EN 1995-1-1, 8.33, from memory)."""
    for wood, loss in (("softwood", 1.53), ("lvl", 1.48), ("hardwood", 1.08)):
        assert across_grain_loss(diameter_mm=12, wood=wood) == pytest.approx(loss)
        along = bolt_in_timber_mpa(500, diameter_mm=12, wood=wood)
        across = bolt_in_timber_mpa(500, diameter_mm=12, angle_deg=90, wood=wood)
        assert along / across == pytest.approx(loss)


@pytest.mark.parametrize(
    ("diameter_mm", "strength_mpa"),
    [
        # 24 mm gussets of birch plywood of 630 kg/m3: inputs Porteous & Kermani, chapter 12
        # (looked up), output 60.98 computed beside them; smaller bolts from the same list.
        (3, 67.221), (4, 66.528), (5, 65.835), (6, 65.142), (8, 63.756), (10, 62.37), (12, 60.984),
    ],
)  # fmt: skip
def test_bolts_in_birch_plywood(diameter_mm, strength_mpa):
    """EN 1995-1-1, 8.36."""
    got = bolt_in_plywood_mpa(630, diameter_mm=diameter_mm)
    assert got == pytest.approx(strength_mpa, rel=0.0005)


def test_nails_of_worked_examples():
    """Handbook of I-joists, example 5.3.4.1, by way of an open design program's tests (looked up).

    Nail of 2.5 mm and 600 MPa: plywood of 410 kg/m3 34.27 MPa, timber of 380 23.67 MPa, OSB of
    10 mm 43.1 MPa, yield moment 1949 N mm.
    """
    assert nail_in_plywood_mpa(410, diameter_mm=2.5) == pytest.approx(34.27, rel=0.0005)
    assert nail_in_timber_mpa(380, diameter_mm=2.5) == pytest.approx(23.67, rel=0.0005)
    assert nail_in_particleboard_mpa(10, diameter_mm=2.5) == pytest.approx(43.1, rel=0.0005)
    assert yield_moment_nmm(600, diameter_mm=2.5) == pytest.approx(1949, rel=0.001)


def test_nails_in_birch_plywood_on_timber():
    """Inputs of Porteous & Kermani, Example 10.13.2 (looked up), outputs computed beside them."""
    assert nail_in_plywood_mpa(630, diameter_mm=3) == pytest.approx(49.84, rel=0.0005)
    assert nail_in_timber_mpa(320, diameter_mm=3) == pytest.approx(18.87, rel=0.0005)
    assert yield_moment_nmm(650, diameter_mm=3) == pytest.approx(3393, rel=0.001)


@pytest.mark.parametrize(
    ("ultimate_mpa", "moment_nmm"),
    # The same course's examples: bolt of C1, dowel of C2, bolt of C3, all 12 mm.
    [(600, 115118), (360, 69070), (800, 153491)],
)
def test_yield_moments_of_the_course(ultimate_mpa, moment_nmm):
    """0.3 fu d^2.6."""
    got = yield_moment_nmm(ultimate_mpa, diameter_mm=12)
    assert got == pytest.approx(moment_nmm, rel=0.0005)


def test_yield_moment_passes_the_plastic_moment_near_4_mm():
    """Full plastic moment of a round bar, fu d^3 / 6 (statics): below it from 4.35 mm on."""
    for diameter_mm in (4.4, 5, 6, 8, 12):
        assert yield_moment_nmm(600, diameter_mm=diameter_mm) < 600 * diameter_mm**3 / 6
    for diameter_mm in (3, 4, 4.3):
        assert yield_moment_nmm(600, diameter_mm=diameter_mm) > 600 * diameter_mm**3 / 6


def test_square_nails_bend_half_as_hard_again():
    """Plastic bending: fu s^3 / 4 of a square over fu d^3 / 6 of a round section is 1.5."""
    square = yield_moment_nmm(600, diameter_mm=3, shape="square")
    assert square == pytest.approx(1.5 * yield_moment_nmm(600, diameter_mm=3))


def test_predrilled_holes_pay_for_thick_nails():
    """At 1 mm the driven nail bites as well; at 6 mm the predrilled one is far better."""
    driven, drilled = (
        [nail_in_timber_mpa(350, diameter_mm=d, predrilled=p) for d in (1, 3, 6)]
        for p in (False, True)
    )
    assert driven[0] == pytest.approx(0.082 * 350)
    assert drilled[0] == pytest.approx(0.99 * driven[0])
    # A predrilled nail is pressed on as a bolt along the grain is: 8.16 and 8.32 are one form.
    assert drilled == pytest.approx([bolt_in_timber_mpa(350, diameter_mm=d) for d in (1, 3, 6)])
    assert drilled[2] > 1.5 * driven[2]


def test_boards_by_thickness():
    """Worked by hand: hardboard at d 1, t 1 gives 30; twice as thick 2^0.6 times; OSB likewise."""
    assert nail_in_hardboard_mpa(1, diameter_mm=1) == pytest.approx(30)
    assert nail_in_hardboard_mpa(4, diameter_mm=1) == pytest.approx(30 * 2.2974, rel=1e-4)
    assert nail_in_hardboard_mpa(1, diameter_mm=8) == pytest.approx(30 * 0.53589, rel=1e-4)
    assert bolt_in_particleboard_mpa(1, diameter_mm=1) == pytest.approx(50)
    assert bolt_in_particleboard_mpa(32, diameter_mm=32 / 2) == pytest.approx(
        50 * 2 / 5.278, rel=1e-4
    )


def test_what_lies_outside_is_refused():
    """Each with its value and a remedy."""
    with pytest.raises(PartError, match="nail diameter is 9 mm; give at most 8 mm"):
        nail_in_timber_mpa(350, diameter_mm=9)
    with pytest.raises(PartError, match="bolt diameter is 36 mm; give at most 30 mm"):
        bolt_in_plywood_mpa(630, diameter_mm=36)
    with pytest.raises(PartError, match=r"density is 0\.63 kg/m3; give a density from 50"):
        bolt_in_plywood_mpa(0.63, diameter_mm=6)
    with pytest.raises(UnknownNameError, match="kind of wood 'hartwood'"):
        bolt_in_timber_mpa(600, diameter_mm=6, wood="hartwood")
    with pytest.raises(UnknownNameError, match="shape of fastener 'hex'"):
        yield_moment_nmm(600, diameter_mm=6, shape="hex")
