"""Hub patterns against ISO 9409-1 and the trade."""

import math
import re

import pytest

from platekit.errors import UnknownNameError
from platekit.hardware.faces.hubs import hub_pattern, known_hub_patterns
from platekit.hardware.fasteners.screws import screw

# ISO 9409-1:2004 table 1: pilot recess and outside by pitch circle, mm. From memory, typed apart
# from the table: each is the next step of the R10 series down or up.
PILOT_OUTSIDE = {
    31.5: (20, 40),
    40: (25, 50),
    50: (31.5, 63),
    63: (40, 80),
    80: (50, 100),
    100: (63, 125),
    125: (80, 160),
}
ISO_NAMES = [name for name in known_hub_patterns() if name.startswith("ISO")]


@pytest.mark.parametrize("name", ISO_NAMES)
def test_a_designation_says_circle_count_and_screw(name):
    """ISO 9409-1 names a flange by them; the row must say the same."""
    said = re.fullmatch(r"ISO 9409-1-([\d.]+)-(\d+)-(M\d+)", name)
    hub = hub_pattern(name)
    assert said
    assert (hub.pcd_mm, hub.hole_count, hub.screw) == (float(said[1]), int(said[2]), said[3])


@pytest.mark.parametrize("name", ISO_NAMES)
def test_pilot_and_outside_are_those_of_the_circle(name):
    """ISO 9409-1 table 1."""
    hub = hub_pattern(name)
    assert (hub.pilot_diameter_mm, hub.outer_diameter_mm) == PILOT_OUTSIDE[hub.pcd_mm]


def test_the_flanges_of_the_standard_from_32_to_125_are_there():
    """None forgotten."""
    assert {hub_pattern(name).pcd_mm for name in ISO_NAMES} == set(PILOT_OUTSIDE)


@pytest.mark.parametrize("name", known_hub_patterns())
def test_the_screws_of_a_hub_have_room(name):
    """Heads do not touch each other, the pilot or the edge."""
    hub = hub_pattern(name)
    one = screw(hub.screw)
    points = hub.hole_points(start_deg=12.0)
    assert len(points) == hub.hole_count
    gap_mm = min(math.dist(points[0], other) for other in points[1:])
    assert gap_mm > one.head_diameter_mm
    if hub.pilot_diameter_mm is not None:
        assert hub.pcd_mm - hub.pilot_diameter_mm > one.nominal_mm
    if hub.outer_diameter_mm is not None:
        assert hub.outer_diameter_mm - hub.pcd_mm > one.nominal_mm
    assert hub.source


def test_six_bolts_are_the_common_way_to_fix_a_drum():
    """Trade fact, common practice, no source: hubs for such shafts have six screws."""
    common = [name for name in known_hub_patterns() if not name.startswith("ISO")]
    assert common
    assert all(hub_pattern(name).hole_count == 6 for name in common)
    assert hub_pattern("iso 9409-1-80-6-m8").hole_count == 6


def test_an_unknown_hub_says_which_are_known():
    """Nearest first."""
    with pytest.raises(UnknownNameError, match="ISO 9409-1-80-6-M8"):
        hub_pattern("ISO 9409-1-80-6-M6")
