"""What became of the joints: of every pair one, in workshop words, as it was dealt."""

import pytest

from platekit.assembly import Assembly, butted, fingers, laminate, lying, screwed, standing, tabs
from platekit.assembly.box import box, crossed_ribs
from platekit.geometry.shapes import rectangle
from platekit.materials import Hold, birch_plywood
from platekit.panel.plate import Plate
from tests.assembly.bodies import plate


def made(assembly):
    """Return the joints of an assembly by pair."""
    return {frozenset(one.between): one for one in assembly.resolve().joints}


def corner(*joints, length=120.0, t=6.0):
    """Return a floor and a wall on its front edge."""
    return (
        Assembly("corner")
        .with_panels(
            lying(plate("floor", t, length, 80)),
            standing(plate("wall", t, length, 60), facing="front"),
        )
        .with_joints(*joints)
    )


def test_a_box_has_a_joint_on_every_edge_of_its_walls():
    """Five plates of an open box share eight edges: a cube has twelve, less the four on top."""
    found = made(box("case", birch_plywood(6.0), width_mm=200, depth_mm=150, height_mm=100))
    assert len(found) == 8
    assert {one.kind for one in found.values()} == {"fingers"}
    # Outer sizes: four edges upright, two across, two deep.
    lengths = sorted(one.length_mm for one in found.values())
    assert lengths == pytest.approx([100] * 4 + [150] * 2 + [200] * 2)


def test_what_was_asked_for_is_what_is_said():
    """Count, hold and clearance of a joint that names them."""
    (one,) = (
        corner(fingers("floor", "wall", count=7, hold="press", clearance_mm=-0.05)).resolve().joints
    )
    assert (one.between, one.kind, one.tabs) == (("floor", "wall"), "fingers", 7)
    assert (one.hold, one.clearance_mm, one.screws) == (Hold.PRESS, -0.05, 0)
    (one,) = corner(screwed("wall", to="floor", thread="M3", screws=2), length=200).resolve().joints
    assert (one.between, one.kind) == (("wall", "floor"), "screwed")
    assert (one.tabs, one.screws, one.hold) == (3, 2, Hold.SLIP)


def test_practice_is_said_where_a_joint_says_nothing():
    """Hold and clearance of the whole assembly."""
    (one,) = corner().with_practice(hold="slip", clearance_mm=0.3).resolve().joints
    assert (one.hold, one.clearance_mm) == (Hold.SLIP, 0.3)


@pytest.mark.parametrize(
    "assembly",
    [
        pytest.param(corner(butted("wall", against="floor")), id="asked for"),
        pytest.param(corner(length=10.0), id="no room for two fingers"),
    ],
)
def test_plates_that_only_butt(assembly):
    """No opening, so no clearance; what holds them is left to the maker."""
    (one,) = assembly.resolve().joints
    assert (one.kind, one.hold, one.clearance_mm, one.tabs) == ("butted", None, None, 0)


def test_crossing_plates_are_halved():
    """Every rib along crosses every rib across: two times three joints, none with a tab."""
    ribs = crossed_ribs(
        "grid",
        birch_plywood(6.0),
        width_mm=300,
        depth_mm=200,
        height_mm=40,
        lengthwise=2,
        crosswise=3,
    )
    found = [one for one in made(ribs).values() if one.kind == "halving"]
    assert len(found) == 6
    assert {(one.tabs, one.length_mm) for one in found} == {(0, 40.0)}


def test_layers_are_called_by_their_laminate():
    """A floor with a narrower layer on it: the wall meets the lower one, the side both."""
    sheet = birch_plywood(6.0)
    floor = laminate(
        "floor",
        Plate("lower", sheet, rectangle(160, 100, centre=(80, 50))),
        Plate("upper", sheet, rectangle(160, 80, centre=(80, 60))),
        dowels=0,
    )
    assembly = Assembly("step").with_panels(
        lying(floor),
        standing(plate("wall", 6.0, 160, 60), facing="front"),
        standing(plate("side", 6.0, 100, 60), facing="left"),
    )
    both = (
        (("floor", "wall"), "tabs", 160.0),
        (("floor", "side"), "tabs", 180.0),  # along both layers, 100 and 80 mm deep
    )
    joints = assembly.with_joints(tabs("wall", into="floor"), tabs("floor", into="side"))
    lengths = {(frozenset(one.between), one.kind): one.length_mm for one in joints.resolve().joints}
    for pair, kind, length in both:
        assert lengths[frozenset(pair), kind] == pytest.approx(length)
    # Left to themselves the lower layer, which ends there as the side does, gets fingers.
    alone = [one for one in assembly.resolve().joints if set(one.between) == {"floor", "side"}]
    assert {one.kind: one.length_mm for one in alone} == {"fingers": 100.0, "tabs": 80.0}
