"""Wood on steel plates against statics of rigid pins and against the limits of wood on wood."""

import math

import pytest

from platekit.errors import PartError
from platekit.formulas.bolt_groups import bolt_forces, largest
from platekit.formulas.timber_dowels import Fastener, Member, single_shear, weakest
from platekit.formulas.timber_embedment import bolt_in_timber_mpa, yield_moment_nmm
from platekit.formulas.timber_steel_plates import (
    plate_between,
    plate_strength_n,
    thick_plate,
    thick_plates_outside,
    thin_plate,
    thin_plates_outside,
)

WOODS = [Member(embedment_mpa=fh, thickness_mm=t) for fh, t in ((65.8, 6.4), (25, 40), (25, 120))]
PIN = Fastener(diameter_mm=5, yield_moment_nmm=7890)


def _by_letter(modes):
    return {mode.letter: mode.yielding_n for mode in modes}


def _root(function, low, high):
    """Bisection on a function that rises through zero once."""
    assert function(low) < 0 < function(high)
    for _ in range(200):
        middle = (low + high) / 2
        low, high = (middle, high) if function(middle) < 0 else (low, middle)
    return (low + high) / 2


def _at_plate_nmm(wood, force_n):
    """Moment at the plate of a rigid pin that `force_n` turns in the wood, N mm.

    Pressed one way to depth x, back the other way from there on: force fh d (2 x - t).
    """
    line = wood.embedment_mpa * PIN.diameter_mm
    depth = (force_n / line + wood.thickness_mm) / 2
    return line * (2 * depth**2 - wood.thickness_mm**2) / 2


@pytest.mark.parametrize("wood", WOODS)
def test_modes_follow_from_statics(wood):
    """Second witness: moments on the pin, solved by bisection.

    Free to turn at a thin plate (a), yielding at a thick one (d), or with hinges: a piece down to
    a hinge in the wood is pressed over F / (fh d), moment F^2 / (2 fh d) (b, e). The standard
    rounds a's sqrt(2) - 1 = 0.414 to 0.4, and adds 1.15 to b and e.
    """
    line, moment = wood.embedment_mpa * PIN.diameter_mm, PIN.yield_moment_nmm
    crush = line * wood.thickness_mm
    tilt = _root(lambda force: _at_plate_nmm(wood, force), 0, crush)
    held = _root(lambda force: _at_plate_nmm(wood, force) - moment, 0, 99 * crush)
    hinged = _root(lambda force: force**2 / (2 * line) - moment, 0, 99 * crush)
    twice = _root(lambda force: force**2 / (2 * line) - 2 * moment, 0, 99 * crush)
    thin, thick = _by_letter(thin_plate(wood, PIN)), _by_letter(thick_plate(wood, PIN))
    assert thin["a"] == pytest.approx(tilt, rel=0.035)
    assert thin["b"] == pytest.approx(1.15 * hinged)
    assert thick == pytest.approx({"c": crush, "d": held, "e": 1.15 * twice})
    assert _by_letter(plate_between(wood, PIN)) == pytest.approx(
        {"f": crush, "g": held, "h": 1.15 * twice}
    )
    assert _by_letter(thin_plates_outside(wood, PIN)) == pytest.approx(
        {"j": crush / 2, "k": 1.15 * hinged}
    )
    assert _by_letter(thick_plates_outside(wood, PIN)) == pytest.approx(
        {"l": crush / 2, "m": 1.15 * twice}
    )


@pytest.mark.parametrize("wood", WOODS)
def test_a_thick_plate_is_like_very_hard_wood(wood):
    """With a second member a million times harder, two hinges (f) become a thick plate's e."""
    hard = Member(embedment_mpa=1e6 * wood.embedment_mpa, thickness_mm=wood.thickness_mm)
    two_hinges = single_shear(wood, hard, PIN)[5].yielding_n
    assert _by_letter(thick_plate(wood, PIN))["e"] == pytest.approx(two_hinges, rel=1e-5)


def test_a_moment_connection_of_a_printed_example():
    """Porteous & Kermani, Structural Timber Design to Eurocode 5, Example 12.8.1 (looked up).

    3.25 kN m, 10.05 kN across and 1 kN along the grain on M12 of 400 MPa in C24 (350 kg/m3)
    between thick plates; 8 bolts at +-90 and +-85 mm (corners and middles of the sides: the figure
    was not at hand, its letters say so). 12.6 kN under the washer; mode m of the bolt most loaded
    12.7 kN with rope. The example takes the rope whole, which here only a screw's is.
    """
    places = [(x, y) for x in (-90, 0, 90) for y in (-85, 0, 85) if (x, y) != (0, 0)]
    load = largest(bolt_forces(places, force_x_n=1000, force_y_n=10050, moment_nmm=3.25e6))
    angle_deg = math.degrees(math.atan2(load.y_n, load.x_n))
    wood = Member(
        embedment_mpa=bolt_in_timber_mpa(350, diameter_mm=12, angle_deg=angle_deg),
        thickness_mm=100,
    )
    bolt = Fastener(
        diameter_mm=12,
        yield_moment_nmm=yield_moment_nmm(400, diameter_mm=12),
        kind="screw",
        axial_n=12600,
    )
    mode = thick_plates_outside(wood, bolt)[1]
    assert (mode.letter, mode.strength_n) == ("m", pytest.approx(12700, rel=0.006))


@pytest.mark.parametrize(
    ("plate_mm", "share"), [(0, 0), (2.5, 0), (3, 0.2), (3.75, 0.5), (5, 1), (12, 1)]
)
def test_between_thin_and_thick_the_strength_is_interpolated(plate_mm, share):
    """A 5 mm fastener: thin up to 2.5 mm, thick from 5 mm (EN 1995-1-1, 8.2.3, from memory)."""
    thin, thick = thin_plate(WOODS[1], PIN), thick_plate(WOODS[1], PIN)
    low, high = weakest(thin).strength_n, weakest(thick).strength_n
    assert low < high
    got = plate_strength_n(thin, thick, plate_mm=plate_mm, diameter_mm=5)
    assert got == pytest.approx(low + share * (high - low))


def test_rope_helps_only_what_bends():
    """Crushing and tilting have none; hinges gain up to a quarter with a bolt."""
    bolt = Fastener(diameter_mm=5, yield_moment_nmm=7890, axial_n=1e9)
    for modes in (
        thin_plate(WOODS[1], bolt), thick_plate(WOODS[1], bolt), plate_between(WOODS[1], bolt),
        thin_plates_outside(WOODS[1], bolt), thick_plates_outside(WOODS[1], bolt),
    ):  # fmt: skip
        for mode in modes:
            share = 0.0 if mode.letter in "acfjl" else 0.25
            assert mode.rope_n == pytest.approx(share * mode.yielding_n)


def test_impossible_plates_are_refused():
    """A thickness is 0 or more."""
    thin, thick = thin_plate(WOODS[0], PIN), thick_plate(WOODS[0], PIN)
    with pytest.raises(PartError, match="plate thickness is -1 mm"):
        plate_strength_n(thin, thick, plate_mm=-1, diameter_mm=5)
    assert math.isfinite(plate_strength_n(thin, thick, plate_mm=4, diameter_mm=5))
