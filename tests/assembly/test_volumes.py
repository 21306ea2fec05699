"""Whole assemblies as bodies in space.

Witness: manifold3d, a kernel that knows nothing of joints. Every part is extruded from its own
profile; no two may share a volume, and together they must fill what the slabs claimed.
"""

import random
from dataclasses import dataclass

import pytest
from hypothesis import given, settings, strategies as st

from platekit.assembly import (
    Assembly,
    butted,
    fingers,
    halving,
    lying,
    passing,
    standing,
    tabs,
    tongue,
    upright_on,
)
from platekit.assembly.box import box, crossed_ribs
from platekit.findings import Severity
from platekit.geometry.chains import circle
from platekit.geometry.points import polar
from platekit.geometry.shapes import rectangle
from platekit.materials import birch_plywood
from platekit.panel.plate import Plate
from tests.amounts import examples
from tests.assembly.bodies import plate, proof

OVERLAP_MM3 = 1e-3
KEPT_MM3 = 1e-2  # of some 500 000: what single precision chords of nothing but lines may lose
MEASURED = st.sampled_from([2.7, 3.0, 3.2, 4.0, 4.15, 6.0, 6.3, 9.0])


@dataclass(frozen=True)
class Case:
    """A case of panels of different thickness, with shelves and ribs that cross, in few numbers.

    Attributes:
        t: Thickness of floor and top, front and back, sides, shelves, ribs.
        size: Outer width, depth, height.
        closed: Whether it has a top.
        shelves: Heights of shelves.
        ribs: Distances of ribs from the left.
        order: In which order the panels stand.
    """

    t: tuple[float, ...]
    size: tuple[float, float, float]
    closed: bool
    shelves: tuple[float, ...]
    ribs: tuple[float, ...]
    order: int

    def assembly(self):
        """Return the case as panels in the order drawn."""
        t, (w, d, h) = self.t, self.size
        panels = [
            lying(plate("bottom", t[0], w, d)),
            standing(plate("front", t[1], w, h), facing="front"),
            standing(plate("back", t[1], w, h), facing="back", back_mm=d),
            standing(plate("left", t[2], d, h), facing="left"),
            standing(plate("right", t[2], d, h), facing="right", right_mm=w),
        ]
        if self.closed:
            panels.append(lying(plate("top", t[0], w, d), top_mm=h))
        for k, z in enumerate(self.shelves):
            panels.append(lying(plate(f"shelf {k}", t[3], w, d), bottom_mm=z))
        for k, x in enumerate(self.ribs):
            panels.append(standing(plate(f"rib {k}", t[4], d, h), facing="right", left_mm=x))
        random.Random(self.order).shuffle(panels)  # noqa: S311 - a seeded shuffle
        return Assembly("case").with_panels(*panels)


@st.composite
def cases(draw):
    """Sizes of at least fourteen of the thickest sheet; shelves and ribs anywhere inside."""
    t = tuple(draw(MEASURED) for _ in range(5))
    size = tuple(draw(st.floats(14 * max(t), 260)) for _ in range(3))

    def inside(length):
        shares = draw(st.lists(st.floats(0.2, 0.35), max_size=2))
        return tuple((share + 0.35 * k) * length for k, share in enumerate(shares))

    return Case(
        t, size, draw(st.booleans()), inside(size[2]), inside(size[0]), draw(st.integers(0, 99))
    )


@settings(max_examples=examples(14, thorough=40), derandomize=True, deadline=None)
@given(case=cases())
def test_nothing_is_claimed_twice_and_no_volume_is_lost(case):
    """At zero clearance the parts share nothing, fill the slabs, and are one piece each."""
    found = proof(case.assembly().with_practice(clearance_mm=0.0))
    assert found.overlap_mm3 < OVERLAP_MM3
    assert abs(found.lost_mm3) < KEPT_MM3
    assert set(found.pieces) == {1}
    assert not [f for f in found.resolved.findings if f.severity is Severity.STOP]


@settings(max_examples=examples(8, thorough=20), derandomize=True, deadline=None)
@given(case=cases(), clearance=st.floats(0.02, 0.3))
def test_clearance_only_takes_away(case, clearance):
    """With clearance nothing overlaps either, and what is lost lies on the mating faces.

    Bound: every gap is at most half the clearance wide on either side of an area no larger than
    the slabs' own faces at the joints, taken roughly as a band of two thicknesses round every
    panel and rib.
    """
    loose = proof(case.assembly().with_practice(clearance_mm=clearance))
    assert loose.overlap_mm3 < OVERLAP_MM3
    assert loose.lost_mm3 > 0
    assert set(loose.pieces) == {1}
    around = sum(
        2 * (panel.bounds.width_mm + panel.bounds.height_mm) * panel.thickness_mm
        for panel in case.assembly().panels
    )
    assert loose.lost_mm3 < 4 * around * clearance


@settings(max_examples=examples(8, thorough=15), derandomize=True, deadline=None)
@given(
    t=MEASURED,
    w=st.floats(200, 300),
    d=st.floats(200, 300),
    h=st.floats(20, 80),
    rows=st.integers(1, 4),
    columns=st.integers(1, 4),
    clearance=st.floats(0.0, 0.3),
)
def test_crossed_ribs_lose_exactly_their_clearance(*, t, w, d, h, rows, columns, clearance):
    """A grid of halvings loses, at each crossing, both slots' gaps and no more.

    Closed form, derived here: each slot is c wider than the sheet of thickness t and c / 4 deeper
    than half the height h. Beside the other's slab it loses (h / 2 + c / 4) c t, twice; within
    both slabs the two slot bottoms stand c / 2 apart, which loses t t c / 2.
    """
    grid = crossed_ribs(
        "grid",
        birch_plywood(t),
        width_mm=w,
        depth_mm=d,
        height_mm=h,
        lengthwise=rows,
        crosswise=columns,
    ).with_practice(clearance_mm=clearance)
    found = proof(grid)
    each = 2 * (h / 2 + clearance / 4) * clearance * t + t * t * clearance / 2
    assert found.overlap_mm3 < OVERLAP_MM3
    assert found.lost_mm3 == pytest.approx(rows * columns * each, abs=KEPT_MM3)


def corner(t, *joints, clearance, a=60.0, b=50.0, length=120.0):
    """A floor and a wall that meet at an edge of the floor."""
    return (
        Assembly("corner")
        .with_panels(
            lying(plate("floor", t, length, a)),
            standing(plate("wall", t, length, b), facing="front"),
        )
        .with_joints(*joints)
        .with_practice(clearance_mm=clearance)
    )


def tee(t, *joints, clearance, length=120.0):
    """A shelf that ends in the middle of a wall, at its far face."""
    return (
        Assembly("tee")
        .with_panels(
            standing(plate("wall", t, length + 80, 100), facing="front", left_mm=-40),
            lying(plate("shelf", t, length, 60), front_mm=0, bottom_mm=40),
        )
        .with_joints(*joints)
        .with_practice(clearance_mm=clearance)
    )


@pytest.mark.parametrize("t", [3.0, 4.15, 6.0])
@pytest.mark.parametrize("count", [2, 3, 4, 5])
def test_a_finger_joint_loses_half_the_clearance_at_every_flank(t, count):
    """With n fingers there are n - 1 flank pairs, each c / 2 apart over t x t. Closed form."""
    c = 0.12
    found = proof(corner(t, fingers("floor", "wall", count=count), clearance=c))
    assert found.overlap_mm3 < OVERLAP_MM3
    assert found.lost_mm3 == pytest.approx((count - 1) * c / 2 * t * t, abs=1e-4)


@pytest.mark.parametrize("t", [3.0, 4.15, 6.0])
@pytest.mark.parametrize(
    ("joint", "tabs_count"),
    [
        (tabs("shelf", into="wall", count=2, width_mm=18), 2),
        (tabs("shelf", into="wall", count=3, width_mm=18), 3),
    ],
)
def test_tabs_lose_the_gap_round_each_tab(t, joint, tabs_count):
    """A slot is c wider and c longer than its tab; each face of the tab's ends gives c / 4.

    Closed form: within the wall's thickness t, the slot (w + c / 2)(t + c) less the tab
    (w - c / 2) t, w the nominal width.
    """
    c, w = 0.1, 18.0
    found = proof(tee(t, joint, clearance=c))
    each = ((w + c / 2) * (t + c) - (w - c / 2) * t) * t
    assert found.overlap_mm3 < OVERLAP_MM3
    assert found.lost_mm3 == pytest.approx(tabs_count * each, abs=1e-3)


@pytest.mark.parametrize(
    "joint",
    [
        None,
        tongue("shelf", into="wall"),
        tongue("shelf", into="wall", shoulder_mm=20),
        fingers("shelf", "wall", first="wall"),
        butted("shelf", against="wall"),
        passing("shelf", through="wall"),
    ],
)
@pytest.mark.parametrize("t", [3.0, 6.0, 9.0])
def test_every_rule_deals_a_tee_without_loss(joint, t):
    """Whatever the rule, the bar goes to one of the two and to one only."""
    found = proof(tee(t, *([joint] if joint else []), clearance=0.0))
    assert found.overlap_mm3 < OVERLAP_MM3
    assert abs(found.lost_mm3) < 1e-3
    assert set(found.pieces) == {1}


def test_interference_overlaps_by_what_was_asked():
    """A press fit of -0.1 mm overlaps at every flank by 0.05 mm. Closed form as for clearance."""
    found = proof(corner(4.0, fingers("floor", "wall", count=5), clearance=-0.1))
    assert found.overlap_mm3 == pytest.approx(4 * 0.05 * 4 * 4, abs=1e-4)


def test_a_panel_that_ends_short_of_a_corner_is_joined_where_it_is():
    """The wall stops 20 mm short of the side: nothing is cut from the floor there."""
    t = 6.0
    short = (
        Assembly("short")
        .with_panels(
            lying(plate("floor", t, 160, 100)),
            standing(plate("wall", t, 120, 60), facing="front", left_mm=20),
            standing(plate("side", t, 100, 60), facing="left"),
        )
        .with_practice(clearance_mm=0.0)
    )
    found = proof(short)
    assert found.overlap_mm3 < OVERLAP_MM3
    assert abs(found.lost_mm3) < 1e-3
    floor = found.resolved.parts[0].profile
    assert floor.contains((13, 1))
    assert floor.contains((159, 1))


def test_rounded_corners_give_way_to_square_ones():
    """A floor with 12 mm corners keeps its fingers, and the walls fill the corners."""
    t = 6.0
    floor = Plate("floor", birch_plywood(t), rectangle(160, 100, fillet_mm=12))
    tray = (
        Assembly("tray")
        .with_panels(
            lying(floor),
            standing(plate("front", t, 160, 60), facing="front"),
            standing(plate("left", t, 100, 60), facing="left"),
        )
        .with_practice(clearance_mm=0.0)
    )
    found = proof(tray)
    assert found.overlap_mm3 < OVERLAP_MM3
    assert abs(found.lost_mm3) < 0.05  # arcs are chords in the witness
    assert not [f for f in found.resolved.findings if f.severity is Severity.STOP]


def test_an_assembly_turned_in_space_comes_out_the_same():
    """Turned by 30 degrees about z and 90 about x, every part is the same to a nanometre."""
    still = box("b", birch_plywood(6), width_mm=150, depth_mm=120, height_mm=80, shelves_mm=[30])
    turned = Assembly("b").with_panels(
        *(
            panel.turned(about="z", angle_deg=30).turned(about="x", angle_deg=90)
            for panel in still.panels
        )
    )
    found = proof(turned.with_practice(clearance_mm=0.1))
    assert found.overlap_mm3 < OVERLAP_MM3
    straight = still.with_practice(clearance_mm=0.1).resolve()
    for one, other in zip(straight.parts, found.resolved.parts, strict=True):
        assert one.profile.area_mm2 == pytest.approx(other.profile.area_mm2, abs=1e-5)


def test_a_halving_asked_for_both_ways_gives_the_slot_as_asked():
    """The panel named has its slot at the foot of the line, the other at its head."""
    for named in ("a", "b"):
        cross = Assembly("cross").with_panels(
            standing(plate("a", 4, 100, 60), facing="front", middle_y_mm=50),
            standing(plate("b", 4, 100, 60), facing="right", middle_x_mm=50),
        )
        parts = cross.with_joints(halving("a", "b", slotted_first=named)).resolve().parts
        slotted = {part.name for part in parts if not part.profile.contains((50, 5))}
        assert slotted == {named}


def test_ribs_at_any_heading_stand_in_one_base():
    """Three ribs at 120 degrees, apart from each other, tab into a round base, clearance kept.

    Closed form as for tabs: each of the two tabs of a rib gives its slot's gaps.
    """
    t, c, w = 6.0, 0.1, 18.0
    base = lying(Plate("base", birch_plywood(t), circle((0, 0), diameter_mm=260)))
    ribs = [
        upright_on(
            plate(f"rib {k}", t, 90, 50),
            of=base,
            start=polar((0, 0), radius_mm=20, angle_deg=120 * k),
            heading_deg=120 * k,
        )
        for k in range(3)
    ]
    joints = [tabs(rib.name, into="base", count=2, width_mm=w) for rib in ribs]
    star = Assembly("star").with_panels(base, *ribs).with_joints(*joints)
    found = proof(star.with_practice(clearance_mm=c))
    each = ((w + c / 2) * (t + c) - (w - c / 2) * t) * t
    assert found.overlap_mm3 < OVERLAP_MM3
    assert found.lost_mm3 == pytest.approx(6 * each, abs=0.01)
    assert set(found.pieces) == {1}
