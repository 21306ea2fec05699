"""Joints of loaded panels, against statics by hand, least energy by numpy, and tabs by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from platekit import (
    Assembly,
    Plate,
    from_edges,
    load,
    lying,
    mounted,
    rectangle,
    screwed,
    standing,
    tabs,
)
from platekit.checks.hold.joint_groups import Spring, shares_across, shares_along
from platekit.checks.hold.joint_lines import joint_lines
from platekit.checks.hold.joints import joints
from platekit.findings import Severity
from platekit.materials import sheet
from tests.checks.hold.loaded_rigs import PLY, case, least, subject, turret, weighed

number = st.floats(-200.0, 200.0)
spring = st.builds(
    lambda x, y, turn, k: Spring(at=(x, y), way=(math.cos(turn), math.sin(turn)), stiffness=k),
    number,
    number,
    st.floats(0.0, 3.1),
    st.floats(1.0, 9.0),
)


def square(half=100.0, k=5.0):
    """Return four walls around an axis."""
    return [
        Spring(at=(0.0, -half), way=(1.0, 0.0), stiffness=k),
        Spring(at=(half, 0.0), way=(0.0, 1.0), stiffness=k),
        Spring(at=(0.0, half), way=(1.0, 0.0), stiffness=k),
        Spring(at=(-half, 0.0), way=(0.0, 1.0), stiffness=k),
    ]


def test_a_torque_in_a_square_of_walls():
    """Four walls at 100 mm share T / 4 each at that arm: balance, by hand."""
    shares = shares_along(square(), torque_nmm=40_000.0, radial_n=0.0)
    assert shares == pytest.approx([100.0] * 4)


def test_a_force_goes_to_the_walls_along_it():
    """Two walls lie along each way, so that each may have to take half: balance, by hand."""
    assert shares_along(square(), torque_nmm=0.0, radial_n=50.0) == pytest.approx([25.0] * 4)
    both = shares_along(square(), torque_nmm=40_000.0, radial_n=50.0)
    assert both == pytest.approx([125.0] * 4)


def test_an_open_side_turns_what_is_pushed():
    """Three walls of a square: one lies along x alone, at 100 mm from the push along x.

    By hand: it takes the push, and the pair along y holds the turn it makes, F 100 / 200.
    """
    shares = shares_along(square()[:2] + square()[3:], torque_nmm=0.0, radial_n=60.0)
    # A push along y adds 30 to each of the pair, square to the 30 of the turn: worst of all ways.
    assert shares == pytest.approx([60.0, math.hypot(30, 30), math.hypot(30, 30)])


@given(group=st.lists(spring, min_size=3, max_size=7), torque=st.floats(1.0, 1e5))
@settings(max_examples=60, deadline=None)
def test_shares_store_least_energy(group, torque):
    """Of all forces in balance with the load, those with the least energy: Castigliano.

    Solved another way than in the module: by numpy's pseudo-inverse of the balance, not by
    stiffness.
    """
    balance = np.array(
        [(*one.way, one.at[0] * one.way[1] - one.at[1] * one.way[0]) for one in group]
    ).T
    soft = np.sqrt([one.stiffness for one in group])
    scaled = balance * soft
    # The turn counted in 100 mm, so that the three rows have like sizes.
    scaled[2] /= 100.0
    if np.linalg.svd(scaled)[1][-1] < 0.3:
        return
    forces = soft * (np.linalg.pinv(scaled) @ np.array([0.0, 0.0, torque / 100.0]))
    found = shares_along(group, torque_nmm=torque, radial_n=0.0)
    assert found == pytest.approx(np.abs(forces), rel=1e-6, abs=1e-6 * torque)


def test_walls_of_one_direction_hold_no_push_across():
    """Nothing lies along y: it slides."""
    assert shares_along(square()[::2], torque_nmm=1.0, radial_n=0.0) is None
    assert shares_along([], torque_nmm=1.0, radial_n=0.0) is None


@given(
    group=st.lists(st.tuples(number, number), min_size=4, max_size=9),
    axial=st.floats(0.0, 500.0),
    moment=st.floats(0.0, 1e5),
)
@settings(max_examples=60, deadline=None)
def test_supports_by_least_squares(group, axial, moment):
    """Smallest forces in balance, numpy's least squares, in 360 directions of the moment."""
    at = np.array(group)
    if np.linalg.eigvalsh(np.cov(at.T))[0] < 100.0:
        return
    balance = np.array([np.ones(len(at)), at[:, 0], at[:, 1]])
    ways = np.linspace(0.0, 2 * np.pi, 360, endpoint=False)
    wanted = np.array([np.full(360, axial), moment * np.cos(ways), moment * np.sin(ways)])
    worst = np.max(np.abs(np.linalg.lstsq(balance, wanted, rcond=None)[0]), axis=1)
    found = shares_across(group, axial_n=axial, moment_nmm=moment)
    assert found == pytest.approx(worst, rel=1e-3, abs=1e-3)


def test_tabs_in_one_line_hold_no_tipping():
    """About their own line nothing has a lever; a push through them is shared."""
    line = [(x, 0.0) for x in (-60.0, 0.0, 60.0)]
    assert shares_across(line, axial_n=30.0, moment_nmm=1.0) is None
    assert shares_across(line, axial_n=30.0, moment_nmm=0.0) == pytest.approx([10.0] * 3)


def tray(*asked, t=6.0, material="birch plywood"):
    """Return a floor between four walls, a turret on it; its tabs go into the walls."""
    cut = sheet(material, nominal_mm=t)
    wide, deep, high = 200.0, 150.0, 90.0
    floor = Plate("floor", cut, rectangle(wide, deep))
    return (
        Assembly("tray")
        .with_panels(
            lying(floor, bottom_mm=40.0),
            standing(Plate("front", cut, rectangle(wide, high)), facing="front"),
            standing(Plate("back", cut, rectangle(wide, high)), facing="back", back_mm=deep),
            standing(Plate("left", cut, rectangle(deep, high)), facing="left"),
            standing(Plate("right", cut, rectangle(deep, high)), facing="right", right_mm=wide),
        )
        .with_joints(*asked)
        .with_hardware(mounted(turret(), on="floor", side="up", name="turret"))
    )


def lines_of(assembly):
    """Return the joint lines of an assembly's first panel by the other panel."""
    found = joint_lines(subject(assembly), assembly.resolve().panels[0])
    return {one.mate: one for one in found}


def test_lines_lie_where_the_walls_are():
    """A floor of 200 by 150 mm: its joints run along the middles of four walls 6 mm thick."""
    lines = lines_of(tray())
    assert set(lines) == {"front", "back", "left", "right"}
    front, right = lines["front"], lines["right"]
    assert (front.start[1], front.end[1]) == pytest.approx((3.0, 3.0))
    assert (right.start[0], right.end[0]) == pytest.approx((197.0, 197.0))
    assert front.length_mm == pytest.approx(200.0)
    assert front.tabbed
    assert front.layers == ("floor",)


@pytest.mark.parametrize("asked", [(), (tabs("floor", into="left", count=2, width_mm=30.0),)])
def test_tabs_are_those_that_are_cut(asked):
    """How many and how wide: the slots in the finished wall, as the beam cuts them."""
    rig = tray(*asked)
    wall = next(part for part in rig.resolve().parts if part.name == "left")
    slots = [max(ring.bounds.width_mm, ring.bounds.height_mm) for ring in wall.profile.inners]
    line = lines_of(rig)["left"]
    assert line.count == len(slots)
    # Slots have play, and a tab gives way by its own half of it.
    assert line.tab_mm == pytest.approx(min(slots), abs=0.2)


def test_a_tab_along_its_joint_by_hand():
    """Birch plywood of 6 mm presses over 6 x 6 mm; compression the weaker way at 6 mm, worked here.

    Handbook of Finnish Plywood as in the table (memory): 20.2 at 3.6 mm and 22.8 at 6.4 mm.
    """
    (found,) = weighed(joints, tray().with_loads(load("turret", torque_nm=10.0)))
    crushing = 20.2 + (22.8 - 20.2) * (6.0 - 3.6) / (6.4 - 3.6)
    assert found.limit == pytest.approx(0.9 * crushing * 36.0 / 1.3)
    # Walls at 97 and 72 mm, as stiff as their tabs: J = 2 (n 97^2 + m 72^2).
    lines = lines_of(tray())
    spread = 2 * (lines["right"].count * 97.0**2 + lines["front"].count * 72.0**2)
    assert found.value == pytest.approx(1.5 * 10_000.0 * 97.0 / spread)
    assert found.part in {"floor + left", "floor + right"}


def test_a_push_through_the_middle_is_shared_by_all_tabs():
    """Out of the plane: each of all the tabs takes its even share, by hand."""
    count = sum(line.count for line in lines_of(tray()).values())
    (found,) = weighed(joints, tray().with_loads(load("turret", axial_n=80.0)))
    assert found.value == pytest.approx(1.5 * 80.0 / count)
    # Rolling shear of the tab, 2/3 of its section; at 6 mm the table has 1.78 MPa (memory).
    assert found.limit == pytest.approx(0.9 * 1.78 * 18.0 * 6.0 / 1.5 / 1.3)
    assert "roll" in found.measure


def test_more_load_stops_and_names_the_joint():
    """A hundred times what passes does not."""
    found = weighed(joints, tray().with_loads(load("turret", torque_nm=900.0, name="jam")))
    assert found[0].severity is Severity.STOP
    assert found[0].part.startswith("floor + ")
    assert found[0].feature == "tabs"


def test_thinner_sheet_lowers_the_margin():
    """One change: 4 mm for 6 mm."""
    thin, thick = (tray(t=t).with_loads(load("turret", torque_nm=10.0)) for t in (4.0, 6.0))
    assert least(joints, thin) < least(joints, thick)


def test_more_tabs_never_lower_the_margin():
    """Two to six tabs in each wall."""
    margins = [
        least(
            joints,
            tray(
                *(
                    tabs("floor", into=wall, count=count, width_mm=12.0)
                    for wall in ("front", "back", "left", "right")
                )
            ).with_loads(load("turret", torque_nm=10.0, axial_n=50.0)),
        )
        for count in (2, 3, 4, 5)
    ]
    assert margins == sorted(margins)


def lidded(hold, *asked):
    """Return a case whose bottom is pushed out, its joints held as told."""
    return case(turret(), load("turret", axial_n=40.0)).with_practice(hold=hold).with_joints(*asked)


def test_glue_or_nothing_holds_what_is_drawn_off():
    """The bottom of a finger-jointed box is drawn off its fingers: glue holds, slip fits do not."""
    (glued,) = weighed(joints, lidded("glued"))
    assert "glue" in glued.measure
    (note,) = joints(subject(lidded("slip")))
    assert note.severity is Severity.WARNING
    assert note.part == "bottom"


def test_screws_hold_what_slips():
    """Walls screwed onto the bottom hold it by their screws' washers, or its own tabs."""
    walls = ("front", "back", "left", "right")
    held = lidded("slip", *(screwed(wall, to="bottom", thread="M4", screws=2) for wall in walls))
    (found,) = weighed(joints, held)
    # Eight screws share it evenly: balance.
    assert found.value == pytest.approx(1.5 * 40.0 / 8)
    assert "washer" in found.measure
    assert "one screw" in found.measure


def test_one_tab_holds_an_upright_against_its_shoulder():
    """A lone upright, one glued tab: drawn out by M / (L / 2) as its shoulder presses. Balance."""
    base = Plate("base", PLY, rectangle(160.0, 200.0))
    post = Plate("post", PLY, rectangle(200.0, 150.0))
    rig = (
        Assembly("rig")
        .with_panels(lying(base), standing(post, facing="right", left_mm=80.0))
        .with_joints(tabs("post", into="base", count=1, width_mm=60.0))
        .with_hardware(mounted(turret(), on="post", side="right", name="turret"))
        .with_loads(load("turret", torque_nm=12.0))
    )
    (found,) = weighed(joints, rig)
    assert found.part == "post + base"
    assert "glue" in found.measure
    assert found.value == pytest.approx(1.5 * 12_000.0 / 100.0)


def test_a_panel_that_is_held_is_not_asked():
    """What comes into the bottom leaves by it."""
    assert list(joints(subject(case(held=("bottom",))))) == []


@pytest.mark.parametrize("material", ["MDF", "cast acrylic", "poplar plywood"])
def test_what_nobody_knows_is_told_once(material):
    """One finding, however many loads; a warning where not one figure of the sheet is known."""
    rig = tray(material=material).with_loads(
        load("turret", torque_nm=1.0, name="one"), load("turret", torque_nm=2.0, name="two")
    )
    (found,) = joints(subject(rig))
    blind = material == "poplar plywood"
    severity = Severity.WARNING if blind else Severity.NOTE
    assert (found.severity, found.margin) == (severity, None)
    assert material in found.measure


def test_factors_are_the_users():
    """Twice the factor on joints, half the margin."""
    rig = tray().with_loads(load("turret", torque_nm=10.0))
    (careful,) = weighed(joints, rig.with_factors(connection=2.6))
    (base,) = weighed(joints, rig)
    assert base.margin / careful.margin == pytest.approx(2.0)


def test_a_shelf_on_one_line_of_tabs_is_more_than_a_note():
    """A cantilever shelf, 5 kg at 160 mm: what would break first is not weighed, and that warns."""
    shelf = Plate("shelf", PLY, rectangle(120.0, 200.0))
    back = Plate("back", PLY, rectangle(120.0, 180.0))
    rig = (
        Assembly("bracket")
        .with_panels(
            standing(back, facing="back", back_mm=200.0, bottom_mm=0.0),
            lying(shelf, bottom_mm=100.0),
        )
        .with_joints(tabs("shelf", into="back"))
        .with_hardware(
            mounted(
                turret(4, 40.0), on="shelf", side="up", at=from_edges(bottom_mm=50.0), name="turret"
            )
        )
        .with_loads(load("turret", mass_kg=5.0))
    )
    told = [one for one in joints(subject(rig)) if one.part == "shelf"]
    assert [one.severity for one in told] == [Severity.WARNING]
    assert "tipped" in told[0].measure
