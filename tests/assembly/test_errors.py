"""What cannot work is said with both panels, the place and what to do."""

import pytest

from platekit.assembly import (
    Assembly,
    butted,
    fingers,
    halving,
    lying,
    passing,
    screwed,
    standing,
    tabs,
)
from platekit.errors import PartError, PlatekitError, UnknownNameError
from platekit.findings import Severity
from platekit.geometry.shapes import rectangle
from platekit.materials import birch_plywood
from platekit.panel.holes import hole
from platekit.panel.plate import Plate
from tests.assembly.bodies import plate, proof

T = 6.0


def tee(*joints, reach=T, **shelf):
    """A wall and a shelf that reaches `reach` into it."""
    return (
        Assembly("tee")
        .with_panels(
            standing(plate("wall", T, 200, 100), facing="front", left_mm=-40),
            lying(plate("shelf", T, 120, 60), front_mm=T - reach, bottom_mm=40, **shelf),
        )
        .with_joints(*joints)
    )


def cross(*joints, high=60.0, foot=0.0, length=100.0):
    """Two ribs that cross; the second `high`, its foot at `foot`."""
    return (
        Assembly("cross")
        .with_panels(
            standing(plate("a", T, length, 60), facing="front", middle_y_mm=50),
            standing(
                plate("b", T, 100, high), facing="right", middle_x_mm=length / 2, bottom_mm=foot
            ),
        )
        .with_joints(*joints)
    )


CASES = [
    pytest.param(
        lambda: tee(fingers("wall", "shelf"), reach=-12.0),
        ("wall + shelf", "12 mm apart along y", "overlap by a full thickness"),
        id="slabs apart",
    ),
    pytest.param(
        lambda: tee(fingers("wall", "shelf"), reach=0.0),
        ("wall + shelf", "only touch along y"),
        id="slabs that touch",
    ),
    pytest.param(
        lambda: tee(tabs("shelf", into="wal")), ("wal", "wall", "shelf"), id="unknown panel"
    ),
    pytest.param(
        lambda: tee(tabs("shelf", into="wall"), fingers("wall", "shelf")),
        ("wall + shelf", "two joints"),
        id="two joints for one pair",
    ),
    pytest.param(
        lambda: tee(halving("wall", "shelf")),
        ("wall + shelf", "shelf ends there", "x 60, y 3, z 43 mm", "tabs()"),
        id="halving where one ends",
    ),
    pytest.param(
        lambda: tee(tabs("wall", into="shelf")),
        ("wall + shelf", "wall goes on beyond shelf", "caged", "z 43"),
        id="tabs of the panel that goes on",
    ),
    pytest.param(
        lambda: tee(tabs("shelf", into="wall"), reach=T + 5),
        ("shelf + wall", "shelf goes on beyond wall", "far face"),
        id="tabs of a shelf that sticks out",
    ),
    pytest.param(
        lambda: cross(fingers("a", "b")), ("a + b", "cross", "halving()"), id="fingers in a cross"
    ),
    pytest.param(
        lambda: cross(butted("a", against="b")),
        ("a + b", "cut in two", "halving()"),
        id="butting a panel that goes on",
    ),
    pytest.param(
        lambda: cross(halving("a", "b"), high=20.0, foot=20.0),
        ("a + b", "no slot would open", "passing()"),
        id="halving in the middle of a panel",
    ),
    pytest.param(
        lambda: cross(halving("a", "b", slotted_first="b"), high=80.0, foot=-40.0),
        ("a + b", "slot of b", "slotted_first='a'"),
        id="the slot asked for would be closed",
    ),
    pytest.param(
        lambda: tee().with_panels(lying(plate("board", T, 50, 50), bottom_mm=42, front_mm=10)),
        ("shelf + board", "parallel", "laminate"),
        id="parallel panels in one place",
    ),
    pytest.param(
        lambda: Assembly("askew").with_panels(
            standing(plate("a", T, 100, 60), facing="front", middle_y_mm=50),
            standing(plate("b", T, 100, 60), facing="front", middle_y_mm=50).turned(
                about="z", angle_deg=60, through=(50, 50, 0)
            ),
        ),
        ("a + b", "60 degrees", "x 50, y 50, z 30 mm"),
        id="panels at sixty degrees",
    ),
    pytest.param(
        lambda: tee().with_practice(joined=False),
        ("wall + shelf", "no joint is named", "x 60, y 3, z 43 mm"),
        id="a pair without a joint where none is chosen",
    ),
    pytest.param(
        lambda: (
            Assembly("gone")
            .with_panels(
                standing(plate("wall", T, 100, 60), facing="front"),
                standing(plate("stub", T, 6, 60), facing="left", left_mm=10),
            )
            .with_joints(butted("stub", against="wall"))
        ),
        ("stub", "take all of it", "butted stub / wall"),
        id="a panel its joints take whole",
    ),
    pytest.param(
        lambda: cross(passing("b", through="a"), high=80.0, foot=-10.0),
        ("a", "2 pieces", "passing b / a"),
        id="a panel cut in two by the one that passes",
    ),
    pytest.param(lambda: Assembly("none"), ("none", "no panels", "with_panels"), id="no panels"),
    pytest.param(
        lambda: tee().with_panels(lying(plate("Shelf", T, 20, 20), bottom_mm=90)),
        ("Shelf", "two panels"),
        id="a name used twice",
    ),
    pytest.param(
        lambda: lying(plate("two", T, 20, 20, quantity=2)),
        ("two", "quantity is 2", "name"),
        id="two copies in one place",
    ),
    pytest.param(lambda: screwed("a", to="b", thread="M7.5"), ("M7.5", "M8"), id="unknown thread"),
    pytest.param(
        lambda: fingers("a", "b", clearance_mm=20),
        ("a + b", "20 mm", "2 mm"),
        id="a clearance in the wrong unit",
    ),
    pytest.param(lambda: fingers("a", "b", hold="welded"), ("welded", "glued"), id="unknown hold"),
    pytest.param(lambda: fingers("a", "a"), ("a + a", "itself"), id="joined to itself"),
    pytest.param(lambda: fingers("a", "b", count=1), ("1", "from 2"), id="one finger"),
    pytest.param(
        lambda: fingers("a", "b", first="c"), ("'c'", "'a' or 'b'"), id="first finger to a third"
    ),
    pytest.param(
        lambda: tabs("a", into="b", width_mm=float("nan")), ("a + b", "width"), id="width NaN"
    ),
]


@pytest.mark.parametrize(("make", "words"), CASES)
def test_what_cannot_work_is_said(make, words):
    """The error names what is concerned, the place or value, and a remedy."""
    with pytest.raises(PlatekitError) as caught:
        make().resolve()
    said = str(caught.value)
    assert [word for word in words if word not in said] == []
    assert isinstance(caught.value, (PartError, UnknownNameError))


@pytest.mark.parametrize("reach", [1.0, 3.0, 5.5])
def test_a_shelf_that_reaches_part_way_is_found(reach):
    """Part-way reach is a blind pocket: a stop that names both, the depth, and both remedies.

    And what comes out still claims nothing twice.
    """
    found = proof(tee(reach=reach).with_practice(clearance_mm=0.0))
    (said,) = found.resolved.findings
    assert said.severity is Severity.STOP
    assert said.part == "wall + shelf"
    assert said.value == pytest.approx(reach)
    assert said.limit == T
    for word in ("face of wall", f"{reach:g} mm shorter", f"{T - reach:g} mm longer"):
        assert word in said.remedy
    assert "x 60" in said.feature
    assert found.overlap_mm3 < 1e-3
    assert abs(found.lost_mm3) < 1e-3


def test_the_same_recipe_at_other_thicknesses_says_so():
    """A shelf drawn for 3 mm walls, 6 mm too long, is found at 4 and 6 mm and not at 3."""

    def case(t):
        return Assembly("case").with_panels(
            standing(plate("front", t, 120, 70), facing="front"),
            standing(plate("back", t, 120, 70), facing="back", back_mm=90),
            lying(plate("shelf", t, 100, 90 - 2 * t + 6), left_mm=10, front_mm=t - 3, bottom_mm=30),
        )

    stops = {t: len(case(t).resolve().findings) for t in (3.0, 4.0, 6.0)}
    assert stops == {3.0: 0, 4.0: 2, 6.0: 2}


def test_a_butted_shelf_may_be_drawn_to_any_depth():
    """Asked for a butt joint, a shelf that reaches through is cut back and nothing is said."""
    found = proof(tee(butted("shelf", against="wall")).with_practice(clearance_mm=0.0))
    assert found.resolved.findings == ()
    assert found.resolved.parts[1].profile.bounds.height_mm == pytest.approx(60 - T)


@pytest.mark.parametrize(
    ("joint", "value"),
    [
        (fingers("floor", "wall", count=21), 100 / 21),
        (tabs("wall", into="floor", count=12), (100 - 13 * 3) / 12),
    ],
)
def test_fingers_too_thin_are_found(joint, value):
    """A count that makes them thinner than the sheet is a stop, with the most that would do.

    Limit: one thickness for plywood, common practice, no source.
    """
    thin = (
        Assembly("thin")
        .with_panels(
            lying(plate("floor", T, 100, 60)), standing(plate("wall", T, 100, 60), facing="front")
        )
        .with_joints(joint)
    )
    (said,) = thin.resolve().findings
    assert said.severity is Severity.STOP
    assert said.part == "floor + wall"
    assert said.value == pytest.approx(value, abs=1e-3)
    assert said.limit == T
    assert "x 50, y 3, z 3 mm" in said.feature
    assert "use at most" in said.remedy
    most = int(said.remedy.split("use at most ")[1].split()[0])
    again = thin.with_joints(
        fingers("floor", "wall", count=most)
        if "fingers" in said.remedy
        else tabs("wall", into="floor", count=most)
    )
    assert again.resolve().findings == ()


def test_an_edge_too_short_for_fingers_says_that_it_only_butts():
    """Ten millimetres of 6 mm sheet hold no two fingers: a warning, not a silent butt joint."""
    short = Assembly("short").with_panels(
        lying(plate("floor", T, 100, 60)),
        standing(plate("lug", T, 10, 60), facing="front", left_mm=40),
    )
    (said,) = short.resolve().findings
    assert said.severity is Severity.WARNING
    assert said.part == "floor + lug"
    assert said.value == pytest.approx(10)


def test_a_feature_in_a_joints_way_is_named_with_the_joint():
    """Of a hole on the slot line, plate, hole, joint and place are named."""
    blocked = tee(tabs("shelf", into="wall", count=1)).with_features(
        "wall", hole(8, at=(100, 43), name="peep")
    )
    with pytest.raises(PartError) as caught:
        blocked.resolve()
    said = str(caught.value)
    for word in ("wall", "peep", "tabs shelf / wall", "x 60, y 3, z 43 mm", "clear of shelf"):
        assert word in said


def test_features_clear_of_joints_are_kept_as_they_are():
    """A hole elsewhere comes out as the circle it was."""
    drilled = tee().with_features("wall", hole(8, at=(20, 20), name="peep"))
    wall = drilled.resolve().parts[0].profile
    (circle,) = [ring for ring in wall.inners if ring.is_circle]
    assert circle.bounds.width_mm == 8.0
    assert circle.centroid == (20.0, 20.0)


@pytest.mark.parametrize("width_mm", [1.0, 200.0])
def test_a_named_width_is_kept_or_refused(width_mm: float) -> None:
    """Fingers narrower than the sheet allows, or wider than the edge, are never quietly changed."""
    wood = birch_plywood(6.0)
    floor, wall = (Plate(name, wood, rectangle(100, 60)) for name in ("floor", "wall"))
    pair = Assembly("pair").with_panels(lying(floor), standing(wall, facing="front"))
    with pytest.raises(PartError, match=rf"a width of {width_mm:g} mm is asked for around"):
        pair.with_joints(fingers("floor", "wall", width_mm=width_mm)).resolve()
