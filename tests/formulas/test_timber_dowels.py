"""Johansen's modes against worked examples and against statics solved by bisection."""

import pytest

from platekit.errors import PartError, UnknownNameError
from platekit.formulas.timber_dowels import (
    Fastener,
    Member,
    Mode,
    double_shear,
    single_shear,
    weakest,
)
from platekit.formulas.timber_embedment import (
    bolt_in_timber_mpa,
    nail_in_plywood_mpa,
    nail_in_timber_mpa,
    yield_moment_nmm,
)


def _bolt12(ultimate_mpa, **more):
    moment = yield_moment_nmm(ultimate_mpa, diameter_mm=12)
    return Fastener(diameter_mm=12, yield_moment_nmm=moment, **more)


def _wood(density_kg_m3, thickness_mm, angle_deg=0.0):
    strength = bolt_in_timber_mpa(density_kg_m3, diameter_mm=12, angle_deg=angle_deg)
    return Member(embedment_mpa=strength, thickness_mm=thickness_mm)


def _yielding(modes):
    return [mode.yielding_n for mode in modes]


# University course in timber structures, worked examples C1 to C3 (looked up), double shear with
# 12 mm fasteners; g, h, j, k in N. The notes round embedment to three figures: 0.4 %.
@pytest.mark.parametrize(
    ("side", "middle", "ultimate_mpa", "modes_n"),
    [
        (_wood(350, 36), _wood(350, 48), 600, [10930, 7286, 6657, 9614]),
        (_wood(350, 80, 70), _wood(350, 80), 360, [16512, 12144, 7075, 6699]),
        (_wood(380, 75, 39), _wood(430, 115, 39), 800, [20340, 17664, 9330, 10808]),
        (_wood(380, 75), _wood(430, 115), 800, [24660, 21390, 10895, 11901]),
    ],
)
def test_double_shear_of_the_course_examples(side, middle, ultimate_mpa, modes_n):
    """Without rope."""
    modes = double_shear(side, middle, _bolt12(ultimate_mpa))
    assert "".join(mode.letter for mode in modes) == "ghjk"
    assert _yielding(modes) == pytest.approx(modes_n, rel=0.004)
    assert weakest(modes).strength_n == pytest.approx(min(modes_n), rel=0.004)


def test_washers_of_the_course_example_pull():
    """Example C3: 13568 N under the washer lift j to 11662 N (a quarter more), k to 13510 N."""
    bolt = _bolt12(800, axial_n=13568)
    modes = {m.letter: m for m in double_shear(_wood(380, 75, 39), _wood(430, 115, 39), bolt)}
    assert modes["j"].strength_n == pytest.approx(11662, rel=0.004)
    assert modes["k"].strength_n == pytest.approx(13510, rel=0.004)
    assert modes["g"].rope_n == modes["h"].rope_n == 0.0


def _nailed(shape="round", axial_n=0.0):
    wire = yield_moment_nmm(600, diameter_mm=2.5, shape=shape)
    nail = Fastener(diameter_mm=2.5, yield_moment_nmm=wire, kind=f"{shape} nail", axial_n=axial_n)
    plywood = Member(embedment_mpa=nail_in_plywood_mpa(410, diameter_mm=2.5), thickness_mm=18)
    timber = Member(embedment_mpa=nail_in_timber_mpa(380, diameter_mm=2.5), thickness_mm=32)
    return {mode.letter: mode for mode in single_shear(plywood, timber, nail)}


def test_a_nailed_web_of_a_handbook():
    """Handbook of I-joists, example 5.3.4.1, by an open design program's tests (looked up).

    2.5 mm nail, 18 mm plywood of 410 kg/m3 on timber of 380: mode f 601 N, printed; mode d 601.5 N
    computed beside it; a grooved nail 647 N by mode d.
    """
    round_nail = _nailed()
    assert round_nail["f"].strength_n == pytest.approx(601, rel=0.002)
    assert round_nail["d"].strength_n == pytest.approx(601.5, rel=0.002)
    assert weakest(list(round_nail.values())).letter == "f"
    grooved = weakest(list(_nailed("square").values()))
    assert (grooved.letter, grooved.strength_n) == ("d", pytest.approx(647, rel=0.003))


def test_a_nail_in_birch_plywood_on_timber():
    """Inputs of Porteous & Kermani, Example 10.13.2 (looked up); 705.6 N computed beside them."""
    nail = Fastener(
        diameter_mm=3, yield_moment_nmm=yield_moment_nmm(650, diameter_mm=3), kind="round nail"
    )
    plywood = Member(embedment_mpa=nail_in_plywood_mpa(630, diameter_mm=3), thickness_mm=12)
    timber = Member(embedment_mpa=nail_in_timber_mpa(320, diameter_mm=3), thickness_mm=38)
    mode = weakest(single_shear(plywood, timber, nail))
    assert (mode.letter, mode.strength_n) == ("d", pytest.approx(705.6, rel=0.002))


def _root(function, low, high):
    """Bisection on a function that rises through zero once."""
    assert function(low) < 0 < function(high)
    for _ in range(200):
        middle = (low + high) / 2
        low, high = (middle, high) if function(middle) < 0 else (low, middle)
    return (low + high) / 2


# Unlike members, so that no symmetry hides a slip; thick enough that hinges have room.
UNLIKE = [(25.0, 40.0, 38.0, 55.0), (60.0, 18.0, 22.0, 70.0), (30.0, 60.0, 30.0, 60.0)]


def _pressed(member, force_n, diameter_mm):
    """Moment at the shear plane, N mm, of a rigid pin in a member it presses on both ways.

    Pressed one way from the plane to depth x, back the other way from there to the far face:
    force fh d (2 x - t), moment fh d (2 x^2 - t^2) / 2.
    """
    line = member.embedment_mpa * diameter_mm
    depth = (force_n / line + member.thickness_mm) / 2
    return line * (2 * depth**2 - member.thickness_mm**2) / 2


@pytest.mark.parametrize(("fh1", "t1", "fh2", "t2"), UNLIKE)
def test_modes_follow_from_statics(fh1, t1, fh2, t2):
    """Second witness: forces and moments on the rigid pieces of a pin, no closed form.

    Without hinge (c) the moments of both sides cancel at the shear plane. With a hinge in the
    other member its piece down to the hinge adds F^2 / (2 fh d), and the sum is the yield moment
    (d, e). With hinges on both sides twice the yield moment is at hand (f). The code's 1.05 and
    1.15 come on top.
    """
    first = Member(embedment_mpa=fh1, thickness_mm=t1)
    second = Member(embedment_mpa=fh2, thickness_mm=t2)
    d, moment = 6.0, 2.2e4
    fastener = Fastener(diameter_mm=d, yield_moment_nmm=moment)
    most = d * min(fh1 * t1, fh2 * t2)

    def to_hinge(member, force_n):
        return force_n**2 / (2 * member.embedment_mpa * d)

    tilt = _root(lambda f: _pressed(first, f, d) + _pressed(second, f, d), 0.0, most)
    hinge_2 = _root(lambda f: _pressed(first, f, d) + to_hinge(second, f) - moment, 0.0, 9 * most)
    hinge_1 = _root(lambda f: _pressed(second, f, d) + to_hinge(first, f) - moment, 0.0, 9 * most)
    both = _root(lambda f: to_hinge(first, f) + to_hinge(second, f) - 2 * moment, 0.0, 9 * most)
    expected = [d * fh1 * t1, d * fh2 * t2, tilt, 1.05 * hinge_2, 1.05 * hinge_1, 1.15 * both]
    assert _yielding(single_shear(first, second, fastener)) == pytest.approx(expected, rel=1e-9)
    # Two planes: the middle member is shared, no piece of it can tilt.
    modes = double_shear(first, second, fastener)
    assert _yielding(modes) == pytest.approx(
        [expected[0], expected[1] / 2, expected[3], expected[5]], rel=1e-9
    )


def test_exchanging_the_members_exchanges_the_modes():
    """What is first has no meaning: a with b, d with e, the rest as before."""
    first = Member(embedment_mpa=31, thickness_mm=12)
    second = Member(embedment_mpa=17, thickness_mm=40)
    fastener = Fastener(diameter_mm=5, yield_moment_nmm=9000)
    one = _yielding(single_shear(first, second, fastener))
    other = _yielding(single_shear(second, first, fastener))
    assert other == pytest.approx([one[i] for i in (1, 0, 2, 4, 3, 5)])


@pytest.mark.parametrize(
    ("kind", "most"),
    # EN 1995-1-1, 8.2.2 (2), from memory.
    [("round nail", 0.15), ("square nail", 0.25), ("other nail", 0.5), ("screw", 1.0),
     ("bolt", 0.25), ("dowel", 0.0)],
)  # fmt: skip
def test_rope_is_capped_by_kind(kind, most):
    """A quarter of the axial strength, or a share of the yielding part."""
    wood = Member(embedment_mpa=25, thickness_mm=40)
    endless = Fastener(diameter_mm=6, yield_moment_nmm=2e4, kind=kind, axial_n=1e9)
    mode = single_shear(wood, wood, endless)[5]
    assert mode.rope_n == pytest.approx(most * mode.yielding_n)
    little = Fastener(diameter_mm=6, yield_moment_nmm=2e4, kind=kind, axial_n=400)
    assert single_shear(wood, wood, little)[5].rope_n == pytest.approx(100 if most else 0)


def test_impossible_joints_are_refused():
    """Each with its value and a remedy."""
    with pytest.raises(PartError, match="member thickness is 0 mm"):
        Member(embedment_mpa=20, thickness_mm=0)
    with pytest.raises(PartError, match="yield moment is -1 N mm"):
        Fastener(diameter_mm=5, yield_moment_nmm=-1)
    with pytest.raises(UnknownNameError, match="kind of fastener 'rivet'"):
        Fastener(diameter_mm=5, yield_moment_nmm=10, kind="rivet")
    with pytest.raises(PartError, match="no way of failing"):
        weakest([])
    assert weakest([Mode(letter="a", what="", yielding_n=5)]).strength_n == 5
