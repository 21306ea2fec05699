"""Pulleys: what they fill, and bores that leave too little."""

import math
from itertools import pairwise

import pytest

from platekit.errors import PartError
from platekit.hardware.belts.drives import belt_drive
from platekit.hardware.belts.profiles import belt_profile, known_belt_profiles
from platekit.hardware.belts.pulleys import belt_above_face_mm, pulley


def test_a_pulley_fills_what_it_is():
    """Plain geometry: rings of pi/4 (D^2 - d^2); 60 teeth of 3 mm pitch are 180/pi across."""
    one = pulley(
        "curvilinear 3 mm", 60, bore_mm=30, width_mm=9, hub_diameter_mm=40, hub_length_mm=8
    )
    blocks = {block.name: block for block in one.blocks}
    outside_mm = 180 / math.pi - 2 * 0.381
    assert blocks["teeth"].profile.area_mm2 == pytest.approx(math.pi / 4 * (outside_mm**2 - 30**2))
    assert blocks["hub"].profile.area_mm2 == pytest.approx(math.pi / 4 * (40**2 - 30**2))
    assert blocks["hub"].height_mm == 8
    assert min(block.low_mm for block in one.blocks) == 0
    assert [item.designation for item in one.items] == [
        "pulley curvilinear 3 mm, 60 teeth, bore 30 mm, belt 9 mm wide"
    ]
    assert one.shaft is None
    assert one.fixing is None


@pytest.mark.parametrize("flanges", [True, False])
@pytest.mark.parametrize("name", known_belt_profiles())
def test_the_belt_lies_between_the_flanges_on_the_teeth(name, flanges):
    """Blocks stack without gap or overlap, and the belt runs midway on the teeth."""
    profile = belt_profile(name)
    width_mm = profile.widths_mm[-1]
    one = pulley(profile, 30, bore_mm=4, width_mm=width_mm, flanges=flanges)
    stack = sorted(one.blocks, key=lambda block: block.low_mm)
    assert [block.name for block in stack] == (
        ["flange", "teeth", "flange"] if flanges else ["teeth"]
    )
    for below, above in pairwise(stack):
        assert below.high_mm == above.low_mm
    teeth = next(block for block in stack if block.name == "teeth")
    low_mm = belt_above_face_mm(profile, width_mm=width_mm, flanges=flanges)
    assert low_mm - teeth.low_mm == pytest.approx(teeth.high_mm - low_mm - width_mm)
    assert teeth.height_mm > width_mm
    if flanges:
        assert stack[0].profile.bounds.width_mm > teeth.profile.bounds.width_mm


def test_the_belt_touches_the_teeth_and_does_not_enter_them():
    """Belt and pulley as bodies: the belt's lands lie on the outside diameter."""
    drive = belt_drive("curvilinear 3 mm", teeth=(60, 30), belt_teeth=120, width_mm=9)
    belt = drive.outline((0, 0), (drive.centres_mm, 0))
    teeth = pulley(drive.profile, 60, bore_mm=30, width_mm=9).blocks[0].profile
    left_mm = teeth.bounds.left
    assert belt.inners[0].bounds.left == pytest.approx(left_mm, abs=1e-9)
    assert belt.contains((left_mm - 0.01, 0))
    assert not belt.contains((left_mm + 0.01, 0))


def test_usual_bores_pass_and_larger_ones_are_refused_with_the_largest_that_does():
    """Common practice, no source: 20 teeth of 2 mm pitch are sold with bores of 5 to 8 mm."""
    for bore_mm in (5, 6.35, 8):
        pulley("curvilinear 2 mm", 20, bore_mm=bore_mm, width_mm=6)
    with pytest.raises(PartError, match=r"wall of 0\.86 mm.*at most 8\.3 mm") as caught:
        pulley("curvilinear 2 mm", 20, bore_mm=9, width_mm=6)
    assert caught.value.part == "pulley curvilinear 2 mm, 20 teeth"
    pulley("curvilinear 2 mm", 20, bore_mm=8.3, width_mm=6)


@pytest.mark.parametrize(
    ("asked", "message"),
    [
        ({"hub_diameter_mm": 40}, "or neither"),
        ({"hub_length_mm": 8}, "or neither"),
        ({"hub_diameter_mm": 31, "hub_length_mm": 8}, "hub.*wall"),
        ({"hub_diameter_mm": 40, "hub_length_mm": -8}, "hub length"),
        ({"bore_mm": 0}, "bore is 0"),
        ({"width_mm": math.inf}, "belt width"),
        ({"teeth": 9}, "below its least teeth"),
    ],
)
def test_what_cannot_be_is_refused_with_a_remedy(asked, message):
    """By name, value and what to do."""
    given = {"teeth": 60, "bore_mm": 30, "width_mm": 9, **asked}
    with pytest.raises(PartError, match=message):
        pulley("curvilinear 3 mm", given.pop("teeth"), **given)
