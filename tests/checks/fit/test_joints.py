"""Shares of joints against closed forms, printed ranges, tabs pushed about one by one."""

import math
import re
from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from platekit.assembly import Assembly, fingers, laminate, lying, screwed, standing, tabs
from platekit.assembly.box import box
from platekit.assembly.joints import passing, tongue
from platekit.checks.fit.alike import Alike, alike_of, lots_of
from platekit.checks.fit.joints import as_bought, go_together, hold_still
from platekit.checks.fit.lots import chance_for, drawn_range_mm
from platekit.findings import Severity
from platekit.geometry.chains import circle
from platekit.geometry.shapes import rectangle
from platekit.materials import Hold, birch_plywood, sheet
from platekit.panel.plate import Plate
from tests.checks.fit.rigs import MEASURED, corner, subject, tee

DRAWS = 200_000


def alike(kind="fingers", hold=Hold.GLUED, clearance=0.05, places=1, **other):
    """Return one sort of joint in measured plywood."""
    sheets = {"one": (MEASURED,), "other": (MEASURED,)} | other
    return Alike(kind=kind, hold=hold, clearance_mm=clearance, places=places, **sheets)


def within(share, exact, errors=4.0):
    """Tell whether a counted share lies within so many standard errors of what it should be."""
    return abs(share - exact) <= errors * math.sqrt(exact * (1 - exact) / DRAWS)


@pytest.mark.parametrize("clearance", [-0.14, -0.11, -0.08])
def test_one_finger_is_its_closed_form(clearance):
    """Clearance and twice the kerf's error: normal, half band 2 x 0.03 over three sigmas.

    NormalDist of Python's own statistics; glued plywood goes together from -0.1 on.
    """
    lots = lots_of(alike(), draws=DRAWS, seed=1)
    exact = 1.0 - NormalDist(clearance, 2 * 0.03 / 3).cdf(-0.1)
    assert within(lots.together(clearance), exact)


@pytest.mark.parametrize("hold", ["slip", "glued"])
def test_one_halving_is_two_slots_of_one_kerf(hold):
    """Least of two gaps that share the kerf: integrated over the kerf, NormalDist for the rest."""
    lots = lots_of(alike("halving", Hold(hold)), draws=DRAWS, seed=2)
    least, clearance = (0.0, 0.05) if hold == "slip" else (-0.1, -0.05)
    kerf, sheets = NormalDist(0, 0.01), NormalDist(0, 0.1 / 3)
    errors = [kerf.mean + 0.06 * ((k + 0.5) / 1000 - 0.5) * 2 for k in range(1000)]
    weights = [kerf.pdf(e) for e in errors]
    both = [sheets.cdf(clearance + e - least) ** 2 for e in errors]
    exact = math.fsum(w * b for w, b in zip(weights, both, strict=True)) / math.fsum(weights)
    assert 0.5 < exact < 0.99
    assert within(lots.together(clearance), exact)


@pytest.mark.parametrize(
    ("places", "mean", "most"),
    [
        (2, 1.128, 2.772),
        (3, 1.693, 3.314),
        (4, 2.059, 3.633),
        (5, 2.326, 3.858),
        (10, 3.078, 4.474),
    ],
)
def test_ranges_are_the_printed_ones(places, mean, most):
    """Range of n normal sizes in sigmas: mean d2 of control charts, 95 % point of Tukey's table.

    Both printed in handbooks of statistics (studentised range, infinite degrees of freedom); typed
    in from memory.
    """
    drawn = drawn_range_mm(3.0, places=places, count=DRAWS, chance=chance_for(3, places))
    assert float(np.mean(drawn)) == pytest.approx(mean, abs=0.008)
    assert float(np.mean(drawn <= most)) == pytest.approx(0.95, abs=0.002)


def pushed_about(places, clearance, *, hold_mm, chance, tries=2000):
    """Return the share of tab joints that go in, each drawn edge by edge and pushed to and fro.

    Nothing of ours: every tab and slot has two edges along and two across, and the plate with the
    tabs is tried at 161 settings each way. A slot wider than its tab by `-hold_mm` less is forced.
    """
    shifts = np.linspace(-0.4, 0.4, 161)[:, None]
    good = 0
    for _ in range(tries):
        kerf, sheet_mm = chance.normal(0, 0.01), 6.0 + chance.normal(0, 0.1 / 3)
        held = np.arange(places) * 40.0
        slots = held + chance.normal(0, 0.05 / 3, places)
        slot_half, tab_half = (18 + clearance + kerf) / 2, (18 - kerf) / 2
        left = held + shifts - tab_half - (slots - slot_half) - hold_mm / 2
        right = slots + slot_half - (held + shifts + tab_half) - hold_mm / 2
        along = bool(np.any(np.all((left >= 0) & (right >= 0), axis=1)))
        rows = chance.normal(0, 0.05 / 3, places)
        wide = (6.0 + clearance + kerf - sheet_mm - hold_mm) / 2
        across = bool(np.any(np.all(np.abs(shifts - rows) <= wide, axis=1)))
        good += along and across
    return good / tries


@pytest.mark.parametrize(
    ("places", "hold", "clearance"), [(1, "slip", 0.06), (3, "slip", 0.1), (6, "glued", 0.01)]
)
def test_tabs_pushed_about_go_in_as_often(places, hold, clearance):
    """Against tabs drawn edge by edge and tried at many settings; settings are 0.005 mm apart."""
    least = 0.0 if hold == "slip" else -0.1
    tried = pushed_about(places, clearance, hold_mm=least, chance=np.random.default_rng(4))
    lots = lots_of(alike("tabs", Hold(hold), places=places), draws=20_000, seed=4)
    # Between two settings lies play that a coarse push misses: at most one step of it.
    low, high = lots.together(clearance - 0.005), lots.together(clearance)
    error = 4 * math.sqrt(tried * (1 - tried) / 2000) + 0.01
    assert 0.3 < tried < 0.995
    assert low - error <= tried <= high + error


@pytest.mark.parametrize("name", ["birch plywood", "MDF", "cast acrylic"])
@pytest.mark.parametrize("hold", ["glued", "slip"])
def test_usual_clearances_pass(name, hold):
    """What the table of fits gives by itself is sound: nothing to tell."""
    plain = sheet(name, nominal_mm=6.0, thickness_mm=6.05)
    for rig in (
        tee(tabs("wall", into="floor", hold=hold), sheet=plain),
        corner(fingers("floor", "wall", hold=hold), sheet=plain),
    ):
        found = [*go_together(subject(rig)), *hold_still(subject(rig))]
        assert len(found) == 2
        assert {one.severity for one in found} == {Severity.PASSED}, [str(one) for one in found]


def test_a_pressed_joint_of_several_tabs_grips():
    """Three tabs never line up to a hair: with the usual 0 mm they hold, and still go in."""
    rig = subject(tee(tabs("wall", into="floor", hold="press", count=3)))
    (goes,), (grips,) = go_together(rig), hold_still(rig)
    assert goes.severity is Severity.PASSED
    assert grips.measure == "share that grips"
    (alone,) = hold_still(subject(tee(tabs("wall", into="floor", hold="press", count=1))))
    assert alone.value < grips.value


def test_too_tight_too_loose_and_what_to_give():
    """One change: the clearance. The clearance that the finding gives makes it pass."""

    def found(clearance):
        joint = tabs("wall", into="floor", count=4, clearance_mm=clearance)
        rig = subject(tee(joint))
        return (*go_together(rig), *hold_still(rig))

    tight, _ = found(-0.05)
    assert (tight.severity, tight.part) == (Severity.WARNING, "wall + floor")
    assert tight.feature == "4 glued tabs"
    gives = float(re.search(r"clearance_mm=(-?[\d.]+)", tight.remedy)[1])
    assert {one.severity for one in found(gives)} == {Severity.PASSED}
    _, loose = found(0.3)
    assert (loose.severity, loose.check) == (Severity.WARNING, "fit.rattle")
    gives = float(re.search(r"clearance_mm=(-?[\d.]+)", loose.remedy)[1])
    assert {one.severity for one in found(gives)} == {Severity.PASSED}
    # Tight by a file's stroke beyond what veneers give way by is not hopeless yet.
    assert found(-0.2)[0].severity is Severity.WARNING
    hopeless, _ = found(-0.5)
    assert hopeless.severity is Severity.STOP
    assert hopeless.margin < tight.margin < found(0.1)[0].margin


def test_margin_is_how_often_it_may_fail_over_how_often_it_does():
    """5 in 100 may fail; by hand from the share."""
    (found,) = go_together(subject(tee(tabs("wall", into="floor", count=4, clearance_mm=-0.05))))
    assert found.margin == pytest.approx(5.0 / (100.0 - found.value))
    (sound,) = go_together(subject(tee(tabs("wall", into="floor", count=1))))
    assert sound.margin > 10.0


def test_a_hair_is_a_note():
    """Many fingers at the usual clearance of MDF: 0.01 mm more would do, so nobody is alarmed."""
    rig = corner(
        fingers("floor", "wall", count=39), sheet=sheet("MDF", nominal_mm=3.0, thickness_mm=3.05)
    )
    (found,) = go_together(subject(rig, draws=40_000))
    assert found.value < 95.0
    assert (found.severity, found.margin < 1.0) == (Severity.NOTE, True)


def test_what_no_clearance_gives_is_said():
    """A share of 99.9 % cannot be had of sheets that scatter by more than glue fills."""
    rig = tee(tabs("wall", into="floor", clearance_mm=0.25)).with_factors(fit=0.9999)
    (found,) = hold_still(subject(rig))
    assert "no clearance gives both" in found.remedy


def test_joints_alike_are_one_finding_and_worst_comes_first():
    """Two walls, the same joint: one finding that names both; a worse third one stands first."""
    case = box("case", MEASURED, width_mm=200, depth_mm=150, height_mm=100)
    found = tuple(go_together(subject(case)))
    joints = case.resolve().joints
    assert len(found) == len({(one.tabs, one.clearance_mm) for one in joints}) < len(joints)
    assert [one.margin for one in found] == sorted(one.margin for one in found)
    worse = case.with_joints(fingers("front", "left", clearance_mm=-0.2))
    first = next(iter(go_together(subject(worse))))
    assert first.part == "front + left"
    assert first.severity is not Severity.PASSED


def test_screws_draw_a_loose_joint_together():
    """Nothing rattles that is screwed; it must go together all the same."""
    rig = subject(tee(screwed("wall", to="floor", screws=2, clearance_mm=0.6)))
    assert not tuple(hold_still(rig))
    assert len(tuple(go_together(rig))) == 1


def test_a_sheet_not_measured_is_a_note_and_one_for_the_sheet():
    """EN 315, 6 mm sanded: 6 - (0.4 + 0.03 x 6) to 6 + 0.2 + 0.03 x 6, by hand (from memory)."""
    bought = birch_plywood(6.0)
    (note,) = as_bought(subject(tee(tabs("wall", into="floor"), sheet=bought)))
    assert note.severity is Severity.NOTE
    assert "5.42 to 6.38 mm" in note.measure
    # Goes together up to 0.2 mm thicker, a fifth of a millimetre over a band of 0.96: 0.78 / 0.96,
    # less a little for tabs that lie off; NormalDist-free estimate by hand.
    assert note.value == pytest.approx(100 * 0.78 / 0.96, abs=5.0)
    assert not tuple(as_bought(subject(tee(tabs("wall", into="floor")))))
    # Fingers do not grip the thickness.
    assert not tuple(as_bought(subject(corner(fingers("floor", "wall"), sheet=bought))))


def test_only_layers_that_reach_count():
    """A floor of two layers, of which one is too small to meet the wall: one sheet in the joint."""
    floor = laminate(
        "floor",
        Plate("small", MEASURED, circle((100.0, 60.0), diameter_mm=60.0)),
        Plate("large", MEASURED, rectangle(200.0, 120.0)),
        dowels=0,
    )
    wall = Plate("wall", MEASURED, rectangle(200.0, 80.0))
    rig = Assembly("rig").with_panels(lying(floor), standing(wall, facing="front"))
    (joint,) = alike_of(subject(rig))
    assert (len(joint.one), len(joint.other)) == (1, 1)
    both = laminate(
        "floor",
        *(Plate(f"layer {k}", MEASURED, rectangle(200.0, 120.0)) for k in (1, 2)),
        dowels=0,
    )
    rig = Assembly("rig").with_panels(lying(both), standing(wall, facing="front"))
    (joint,) = alike_of(subject(rig))
    assert sorted((len(joint.one), len(joint.other))) == [1, 2]


def grid(across, along, clearance):
    """Return crossed ribs, so many each way."""
    ribs = [
        *(
            standing(Plate(f"a {k}", MEASURED, rectangle(300, 40)), facing="front", front_mm=y)
            for k, y in enumerate(np.linspace(40, 200, across))
        ),
        *(
            standing(Plate(f"b {k}", MEASURED, rectangle(300, 40)), facing="left", left_mm=x)
            for k, x in enumerate(np.linspace(40, 200, along))
        ),
    ]
    return Assembly("grid").with_panels(*ribs).with_practice(hold="slip", clearance_mm=clearance)


def test_a_grid_goes_together_less_often_than_one_crossing():
    """Five ribs by four: all slots at once; one rib over four can be moved until it goes."""
    (alone,) = go_together(subject(grid(1, 4, 0.12)))
    (whole,) = go_together(subject(grid(5, 4, 0.12)))
    assert "grid of 5" in whole.feature
    assert "grid" not in alone.feature
    assert whole.value < alone.value - 1.0


KINDS = ["fingers", "tabs", "tongue", "halving", "screwed", "passing"]


@given(
    kind=st.sampled_from(KINDS),
    hold=st.sampled_from(list(Hold)),
    clearance=st.floats(-2.0, 2.0),
    places=st.integers(1, 12),
)
@settings(max_examples=60, deadline=None)
def test_wider_goes_together_better_and_holds_worse(kind, hold, clearance, places):
    """Whatever the joint: the wider it is, the more go in and the fewer hold; tabs only add."""
    lots = lots_of(alike(kind, hold, places=places), draws=500, seed=6)
    assert lots.together(clearance + 0.02) >= lots.together(clearance)
    assert lots.still(clearance + 0.02) <= lots.still(clearance)
    more = lots_of(alike(kind, hold, places=places + 1), draws=500, seed=6)
    assert more.together(clearance) <= lots.together(clearance)
    least, most = lots.window_mm(0.95)
    assert lots.together(least) >= 0.95 - 1e-9
    assert lots.still(most) >= 0.95 - 1e-9


@given(
    clearance=st.floats(-2.0, 2.0),
    hold=st.sampled_from(["press", "glued", "slip"]),
    name=st.sampled_from(["birch plywood", "MDF", "cast acrylic", "POM"]),
    wanted=st.sampled_from([0.0, 0.5, 0.95, 0.999999]),
    which=st.integers(0, 2),
)
@settings(max_examples=40, deadline=None)
def test_no_input_breaks_the_run(clearance, hold, name, wanted, which):
    """Every clearance a joint may have, every material: findings and no error."""
    joint = (
        tabs("wall", into="floor", hold=hold, clearance_mm=clearance, count=2),
        tongue("wall", into="floor", hold=hold, clearance_mm=clearance),
        passing("wall", through="floor", hold=hold, clearance_mm=clearance),
    )[which]
    rig = tee(joint, sheet=sheet(name, nominal_mm=6.0)).with_factors(fit=wanted)
    job = subject(rig, draws=200)
    found = [*go_together(job), *hold_still(job), *as_bought(job)]
    assert found
    assert all(0.0 <= one.value <= 100.0 and one.remedy and one.formula for one in found)


def test_the_seed_settles_everything():
    """The same seed gives the same findings; another gives nearly the same."""
    rig = tee(tabs("wall", into="floor", count=4, clearance_mm=-0.05))
    one, again = (tuple(go_together(subject(rig, seed=3))) for _ in range(2))
    assert one == again
    (other,) = go_together(subject(rig, seed=4))
    assert other.value == pytest.approx(one[0].value, abs=3.0)


@pytest.mark.parametrize(
    ("walls", "said"), [(1, "1 joint that grips it"), (2, "2 joints that grip it")]
)
def test_joints_of_a_sheet_not_measured_are_counted_in_words(walls, said):
    """One joint grips, several grip."""
    bought = birch_plywood(6.0)
    floor = lying(Plate("floor", bought, rectangle(200.0, 120.0)))
    stand = [
        standing(
            Plate(f"wall {k}", bought, rectangle(140.0 + 10 * k, 80.0)),
            facing="front",
            front_mm=30.0 + 40.0 * k,
            left_mm=20.0,
        )
        for k in range(walls)
    ]
    (found,) = as_bought(subject(Assembly("walls").with_panels(floor, *stand)))
    assert found.formula.endswith(said)
