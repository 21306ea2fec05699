"""Boxes and grids are what their outer sizes say."""

import pytest

from platekit.assembly.box import box, crossed_ribs
from platekit.errors import PartError, UnknownNameError
from platekit.materials import birch_plywood
from tests.assembly.bodies import proof


@pytest.mark.parametrize("t", [3, 4, 6, 9])
@pytest.mark.parametrize("lid", ["none", "joined", "screwed"])
def test_a_box_has_its_outer_sizes(t, lid):
    """At every thickness width, depth and height are the box's own, the lid included."""
    over = 5.0 if lid == "screwed" else 0.0
    made = box(
        "b",
        birch_plywood(t),
        width_mm=210,
        depth_mm=160,
        height_mm=120,
        lid=lid,
        overhang_mm=over or None,
        shelves_mm=[50],
        dividers_mm=[90],
    )
    reach = [panel.reach for panel in made.panels]
    low = tuple(min(ends[0][k] for ends in reach) for k in range(3))
    high = tuple(max(ends[1][k] for ends in reach) for k in range(3))
    assert low == pytest.approx((-over, -over, 0))
    assert high == pytest.approx((210 + over, 160 + over, 120))
    found = proof(made.with_practice(clearance_mm=0.0))
    assert found.overlap_mm3 < 1e-3
    assert set(found.pieces) == {1}


def test_a_panel_can_be_left_out():
    """Without its front a box becomes a shelf unit, and its neighbours are whole at that side."""
    shelf = box("s", birch_plywood(6), width_mm=200, depth_mm=120, height_mm=150, shelves_mm=[70])
    found = proof(shelf.without("front").with_practice(clearance_mm=0.0))
    assert [part.name for part in found.resolved.parts] == [
        "bottom",
        "back",
        "left",
        "right",
        "shelf 1",
    ]
    assert abs(found.lost_mm3) < 1e-3


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({"width_mm": 0}, ("width", "0 mm")),
        ({"height_mm": float("inf")}, ("height", "inf")),
        ({"depth_mm": 11}, ("depth", "11 mm", "two thicknesses")),
        ({"lid": "hinged"}, ("hinged", "screwed")),
        ({"shelves_mm": [200]}, ("shelf", "200 mm", "inside")),
        ({"lid": "screwed", "thread": "M99"}, ("M99",)),
    ],
)
def test_boxes_that_cannot_be_are_refused(more, words):
    """The message names the size and the value."""
    sizes = {"width_mm": 100, "depth_mm": 80, "height_mm": 60}
    with pytest.raises((PartError, UnknownNameError)) as caught:
        box("b", birch_plywood(6), **{**sizes, **more})
    assert [word for word in words if word not in str(caught.value)] == []


def test_ribs_too_many_are_refused():
    """Ribs that would touch are counted and the spacing is said."""
    with pytest.raises(PartError, match="20 crosswise ribs"):
        crossed_ribs("g", birch_plywood(6), width_mm=100, depth_mm=100, height_mm=40, crosswise=20)
