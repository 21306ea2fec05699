"""Gaps between many chains, and free spots for rectangles."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings, strategies as st

from platekit.geometry.chains import circle, polyline
from platekit.geometry.chords import to_polygon
from platekit.geometry.distance import distance
from platekit.geometry.freespots import FreeSpots
from platekit.geometry.gaps import gaps_between, gaps_within, nested
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import arc_slot, rectangle, slot


def test_gaps_of_circles_are_centre_distances_less_radii():
    """Three holes in a row: 10 - 6 = 4 and 13 - 6 = 7 apart; the pair 23 apart is out of reach."""
    rings = [circle((x, 0), diameter_mm=6) for x in (0, 10, 23)]
    assert [(g.first, g.second, g.width_mm) for g in gaps_within(rings, within_mm=8)] == [
        (0, 1, pytest.approx(4, abs=1e-12)),
        (1, 2, pytest.approx(7, abs=1e-12)),
    ]


@settings(derandomize=True, max_examples=60, deadline=None)
@given(
    places=st.lists(
        st.tuples(st.integers(0, 40), st.integers(0, 40), st.integers(0, 2)), min_size=2, max_size=6
    ),
    within=st.sampled_from([0.5, 3, 12]),
)
def test_gaps_agree_with_distances_pair_by_pair(places, within):
    """The answer for many chains is that of the one-pair function for every pair."""
    chains = []
    for k, (x, y, kind) in enumerate(places):
        made = (
            circle((x, y), diameter_mm=3 + k),
            slot(9, 4, centre=(x, y), angle_deg=17 * k),
            arc_slot(radius_mm=8, sweep_deg=100, width_mm=3, start_deg=40 * k, centre=(x, y)),
        )
        chains.append(made[kind])
    expected = {
        (i, j): distance(chains[i], chains[j])
        for i in range(len(chains))
        for j in range(i + 1, len(chains))
    }
    found = {(g.first, g.second): g.width_mm for g in gaps_within(chains, within_mm=within)}
    near = {pair: gap for pair, gap in expected.items() if gap < within - 1e-9}
    assert near.keys() <= found.keys()
    assert all(gap == pytest.approx(expected[pair], abs=1e-9) for pair, gap in found.items())


def test_gaps_between_two_lists_leave_each_list_alone():
    """Only pairs across the lists count; nothing to compare gives nothing."""
    one = [circle((0, 0), diameter_mm=4), circle((1, 0), diameter_mm=4)]
    other = [circle((10, 0), diameter_mm=4)]
    assert [(g.first, g.second) for g in gaps_between(one, other, within_mm=9)] == [(1, 0), (0, 0)]
    assert gaps_between(one, [], within_mm=9) == ()
    assert gaps_within([], within_mm=9) == ()


def test_nested_rings_are_told_in_from_out():
    """A hole in a window is nested in it; one beside it is not."""
    rings = [rectangle(20, 20), circle((10, 10), diameter_mm=4), circle((40, 10), diameter_mm=4)]
    assert nested(rings) == ((1, 0),)
    assert nested(rings[:1]) == ()


def plate_with_holes() -> Profile:
    """A 60 x 40 plate with a large bore and a slot."""
    return Profile(
        rectangle(60, 40, fillet_mm=5),
        (circle((20, 20), diameter_mm=24), slot(20, 5, centre=(46, 10))),
    )


@pytest.mark.parametrize(("width", "height"), [(20, 4), (8, 8), (3, 12), (1, 1)])
def test_free_spots_are_free(width, height):
    """Shapely says the rectangle with its margin lies in the fine polygon of the plate."""
    profile = plate_with_holes()
    mark = polyline([(34, 30), (58, 30)])
    at = FreeSpots(profile, keep_clear=[mark]).nearest(
        (30, 20), width_mm=width, height_mm=height, margin_mm=1.5
    )
    assert at is not None
    half_x, half_y = width / 2 + 1.5, height / 2 + 1.5
    box = shapely.box(at.x - half_x, at.y - half_y, at.x + half_x, at.y + half_y)
    assert to_polygon(profile, tolerance_mm=1e-4).buffer(1e-9).covers(box)
    assert not box.intersects(shapely.LineString([(34, 30), (58, 30)]))


def test_no_spot_is_found_where_none_is():
    """A rectangle larger than the plate, or than its widest free strip, has no place."""
    spots = FreeSpots(plate_with_holes())
    assert spots.nearest((0, 0), width_mm=70, height_mm=2, margin_mm=0) is None
    assert spots.nearest((0, 0), width_mm=30, height_mm=25, margin_mm=0) is None


def test_the_nearest_spot_is_preferred():
    """On a bare plate the wished-for place itself is taken."""
    bare = FreeSpots(Profile(rectangle(100, 50)))
    assert bare.nearest((31.7, 20.1), width_mm=10, height_mm=5, margin_mm=1) == (31.7, 20.1)
    corner = bare.nearest((0, 50), width_mm=10, height_mm=5, margin_mm=1)
    assert np.allclose(corner, (6, 46.5))
    assert math.dist(corner, (0, 50)) < 8
