"""Containment is judged to a fifth of its slack, arcs included: against closed forms."""

from __future__ import annotations

import pytest

from platekit.geometry.chains import circle, closed_polyline
from platekit.geometry.containment import edge_distance, keeps_inside, stands_inside
from platekit.geometry.distance import distance
from platekit.geometry.profile import Profile

SQUARE = Profile(closed_polyline([(0, 0), (100, 0), (100, 100), (0, 100)]))
WASHER = Profile(circle((50, 50), diameter_mm=100), (circle((50, 50), diameter_mm=40),))


def disc(x, y, diameter) -> Profile:
    """Return a disc."""
    return Profile(circle((x, y), diameter_mm=diameter))


@pytest.mark.parametrize(
    ("part", "shape", "inside"),
    [
        (SQUARE, SQUARE, True),
        (disc(50, 50, 100), SQUARE, True),
        (disc(50 + 7e-7, 50, 100), SQUARE, True),
        (disc(50 + 2e-6, 50, 100), SQUARE, False),
        (disc(50, 50, 100), disc(50, 50, 100), True),
        (disc(50, 50 - 7e-7, 100), disc(50, 50, 100), True),
        (disc(50, 50 - 2e-6, 100), disc(50, 50, 100), False),
        (disc(85, 50, 30), WASHER, True),  # touches both rims: 70 = 50 + 20, 100 = 50 + 50
        (disc(85, 50, 30.000004), WASHER, False),
        (disc(50, 50, 30), WASHER, False),  # in the hole
        (WASHER, WASHER, True),
        (disc(50, 50, 100), WASHER, False),  # over the hole
    ],
)
def test_reaching_out_by_no_more_than_the_slack(part, shape, inside):
    """With a slack of 1e-6 mm, what reaches out by 7e-7 is inside and by 2e-6 is not."""
    assert keeps_inside(part, shape, slack_mm=1e-6) is inside


def test_edges_are_as_far_off_as_the_nearest_ring():
    """A disc in a washer: to the outer rim 50 - 35 - 10 = 5, to the hole 35 - 20 - 10 = 5."""
    assert edge_distance(disc(85, 50, 20), WASHER) == pytest.approx(5.0, abs=1e-9)
    assert edge_distance(disc(50, 50, 30), WASHER) == pytest.approx(5.0, abs=1e-9)


def test_far_rings_do_not_change_how_far_off_edges_are():
    """With a hundred holes it is still the least over all rings, each asked by itself."""
    holes = tuple(circle((10 * x, 10 * y), diameter_mm=5) for x in range(10) for y in range(10))
    sieve = Profile(circle((45, 45), diameter_mm=150), holes)
    for x in range(-30, 100, 19):
        part = disc(x, 0.3 * x + 4, 6)
        each = min(distance(part.outer, ring) for ring in sieve.rings)
        assert edge_distance(part, sieve) == each


def test_a_part_stands_inside_when_no_hole_lies_under_it():
    """In the web yes; in the hole, over the hole or beside it all no; round the hole yes."""
    frame = Profile(circle((50, 50), diameter_mm=90), (circle((50, 50), diameter_mm=50),))
    assert stands_inside(disc(85, 50, 20), WASHER)
    assert stands_inside(frame, WASHER)
    for wrong in (disc(50, 50, 30), disc(50, 50, 60), disc(200, 50, 30)):
        assert not stands_inside(wrong, WASHER)
