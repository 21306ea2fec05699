"""Chaining: walks against what graph theory and rulers say of them."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise

import numpy as np
import pytest
import shapely

from platekit.views.chaining import chained, straightened


def links_of(walks) -> Counter:
    """Every link walked, whichever way round."""
    return Counter(frozenset(pair) for walk in walks for pair in pairwise(walk))


@pytest.mark.parametrize("seed", range(5))
def test_each_link_is_walked_once(seed):
    """On random graphs; a walk goes through no fork."""
    chance = np.random.default_rng(seed)
    pairs = {tuple(sorted(pair)) for pair in chance.integers(0, 20, (40, 2)) if pair[0] != pair[1]}
    ends = np.array(sorted(pairs))
    walks = chained(ends)
    assert links_of(walks) == Counter(frozenset(map(int, pair)) for pair in ends)
    degree = Counter(ends.ravel().tolist())
    for walk in walks:
        assert all(degree[node] == 2 for node in walk[1:-1])


def test_a_ring_is_one_walk_and_so_is_a_line():
    """Five links in a ring, and three in a line apart from it, given in any order."""
    ends = np.array([(2, 3), (0, 1), (4, 0), (1, 2), (3, 4), (11, 12), (12, 13), (10, 11)])
    walks = sorted(chained(ends), key=len)
    assert sorted(walks[0]) == [10, 11, 12, 13]
    assert walks[1][0] == walks[1][-1]
    assert len(walks[1]) == 6


def test_corners_on_a_straight_way_go_and_others_stay():
    """The line is the same as before, by shapely's own distance of lines."""
    points = np.array([(0, 0), (1, 0), (2.5, 0), (4, 0), (4, 3), (4, 3.5), (0, 3.5)], float)
    kept = straightened(points)
    assert kept.tolist() == [[0, 0], [4, 0], [4, 3.5], [0, 3.5]]
    turns = np.linspace(0, np.pi, 40)
    arc = 20 * np.column_stack([np.cos(turns), np.sin(turns)])
    drawn = shapely.LineString(straightened(arc))
    assert shapely.hausdorff_distance(drawn, shapely.LineString(arc)) < 0.02


def test_a_way_back_is_no_straight_way():
    """A spike keeps its tip."""
    spike = np.array([(0, 0), (5, 0), (2, 0)], float)
    assert straightened(spike).tolist() == spike.tolist()
