"""Cells between segments: counted by Euler's formula for planar graphs, measured by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from platekit.geometry.arrangement import cells_between, inner_point


def grid_lines(across: int, up: int) -> np.ndarray:
    """Lines of a grid of 10 mm squares, 3 mm longer than it at each end."""
    upright = [((10 * k, -3), (10 * k, 10 * up + 3)) for k in range(across + 1)]
    level = [((-3, 10 * k), (10 * across + 3, 10 * k)) for k in range(up + 1)]
    return np.array(upright + level, float)


def test_a_grid_has_its_squares_and_loose_ends_do_no_harm():
    """4 by 3 squares of 100 mm2; each point lies in its own."""
    cells = cells_between(grid_lines(4, 3))
    assert shapely.area(cells.polygons) == pytest.approx(np.full(12, 100.0))
    inside = {(int(x // 10), int(y // 10)) for x, y in cells.inside}
    assert inside == {(x, y) for x in range(4) for y in range(3)}


@pytest.mark.parametrize("seed", range(4))
def test_random_lines_have_as_many_cells_as_euler_says(seed):
    """Chords of a circle through random points: cells = 1 + chords + crossings (textbook).

    For n chords with k crossings inside a disc, no three in one point, V - E + F = 2 gives
    F = n + k + 1 regions of the disc; the rim here is a polygon through all their ends.
    """
    chance = np.random.default_rng(seed)
    turns = np.sort(chance.uniform(0, 2 * math.pi, 24))
    rim = 100 * np.column_stack([np.cos(turns), np.sin(turns)])
    ends = chance.permutation(24).reshape(-1, 2)
    # A chord between neighbours is a piece of the rim itself.
    ends = np.array([pair for pair in ends if abs(pair[0] - pair[1]) not in {1, 23}])
    chords = rim[ends]
    low, high = ends.min(axis=1), ends.max(axis=1)
    crossings = sum(
        low[i] < low[j] < high[i] < high[j] or low[j] < low[i] < high[j] < high[i]
        for i in range(len(ends))
        for j in range(i)
    )
    sides = np.stack([rim, np.roll(rim, -1, axis=0)], axis=1)
    cells = cells_between(np.concatenate([sides, chords]))
    assert len(cells.polygons) == 1 + len(ends) + crossings
    x, y = rim.T
    area = (x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2
    assert shapely.area(cells.polygons).sum() == pytest.approx(area, rel=1e-4)


def test_cells_of_one_label_are_one_region_with_its_holes():
    """The middle of 3 by 3 squares is another's: a ring of 800 mm2 about 100 mm2."""
    cells = cells_between(grid_lines(3, 3))
    middle = (np.abs(cells.inside - 15.0) < 5.0).all(axis=1)
    regions = dict(cells.together(np.where(middle, 7, 2)))
    assert sorted(regions) == [2, 7]
    outer, hole = regions[2]
    ring = shapely.Polygon(outer, [hole])
    assert ring.area == pytest.approx(800.0)
    assert shapely.LinearRing(outer).is_ccw
    assert not shapely.LinearRing(hole).is_ccw
    assert cells.together(np.full(9, -1)) == []


def test_the_inner_point_of_a_ring_lies_in_its_wide_part():
    """A plate of 100 by 40 with a slot along its left: the middle of the free end."""
    plate = np.array([(0, 0), (100, 0), (100, 40), (0, 40)], float)
    slot = np.array([(5, 5), (5, 35), (55, 35), (55, 5)], float)
    x, y = inner_point((plate, slot))
    # The largest circle free of the slot has 40 mm across and its middle 20 mm from three edges.
    assert y == pytest.approx(20.0, abs=1.5)
    assert 74.0 < x < 81.5
