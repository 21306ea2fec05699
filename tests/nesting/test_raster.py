"""The raster never leaves out a touched cell; the occupancy finds exactly the free places."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings, strategies as st

from platekit.nesting.cells import occupancy, raster
from platekit.nesting.cells.occupancy import Occupancy
from platekit.nesting.cells.raster import blocks, cells_touched


@st.composite
def ragged(draw):
    """Draw a star-shaped polygon about (12, 10), some corners on whole cells."""
    count = draw(st.integers(3, 12))
    points = []
    for k in range(count):
        r = draw(st.floats(0.5, 9))
        angle = 2 * math.pi * k / count
        x, y = 12 + r * math.cos(angle), 10 + r * math.sin(angle)
        points.append((round(x), round(y)) if draw(st.booleans()) else (x, y))
    return shapely.Polygon(points)


@settings(max_examples=150, deadline=None, derandomize=True)
@given(polygon=ragged().filter(lambda p: p.is_valid and p.area > 0.1))
def test_touched_cells_are_exactly_those_shapely_finds(polygon):
    """A cell is marked when its square and the polygon share area, and only then."""
    ring = np.asarray(polygon.exterior.coords)
    mask = cells_touched([ring], columns=24, rows=20)
    i, j = np.meshgrid(np.arange(24), np.arange(20), indexing="ij")
    shared = shapely.area(shapely.intersection(shapely.box(i, j, i + 1, j + 1), polygon))
    assert not np.any(mask & (shared == 0.0))
    assert not np.any(~mask & (shared > 1e-4))  # what a corner within TOUCH_CELLS can cover


def test_edges_in_portions_give_the_same_cells(monkeypatch):
    """A star of four hundred edges worked off a few columns at a time leaves the same cells."""
    k = np.arange(401)
    radius = np.where(k % 2 == 0, 40.0, 25.0)
    ring = np.stack([radius * np.cos(k * np.pi / 200), radius * np.sin(k * np.pi / 200)], axis=1)
    ring = ring + 41.3
    whole = cells_touched([ring], columns=83, rows=83)
    monkeypatch.setattr(raster, "MOST_SPANNED", 7)
    assert np.array_equal(cells_touched([ring], columns=83, rows=83), whole)


def test_a_hole_stays_open():
    """Cells wholly inside a hole are free: two rings, counted even-odd."""
    outer = np.array([(0, 0), (10, 0), (10, 10), (0, 10), (0, 0)], dtype=float)
    inner = np.array([(2, 2), (2, 8), (8, 8), (8, 2), (2, 2)], dtype=float)
    mask = cells_touched([outer, inner], columns=10, rows=10)
    expected = np.ones((10, 10), dtype=bool)
    expected[2:8, 2:8] = False
    assert np.array_equal(mask, expected)


masks = st.integers(0, 2**63).map(lambda seed: np.random.default_rng(seed).random((6, 5)) < 0.6)


@settings(max_examples=100, deadline=None, derandomize=True)
@given(mask=masks)
def test_blocks_are_the_mask(mask):
    """The rectangles cover the mask's cells once each, and no others."""
    covered = np.zeros(mask.shape, dtype=int)
    for block in blocks(mask):
        across = slice(block.column, block.column + block.columns)
        covered[across, block.row : block.row + block.rows] += 1
    assert np.array_equal(covered, mask.astype(int))


@settings(max_examples=100, deadline=None, derandomize=True)
@given(
    mask=masks,
    seed=st.integers(0, 10**6),
    density=st.floats(0, 0.4),
    strip=st.sampled_from([1, 3, occupancy.STRIP]),
)
def test_free_places_are_those_a_plain_loop_finds(mask, seed, density, strip):
    """Shifting whole strips finds the same places as trying every one, each once."""
    taken = np.random.default_rng(seed).random((20, 12)) < density
    cells = Occupancy(rows=12)
    cells.take(taken, column=0, row=0)
    columns, rows = 20 - mask.shape[0] + 1, 12 - mask.shape[1] + 1
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(occupancy, "STRIP", strip)
        strips = list(cells.free_strips(blocks(mask), columns=columns, rows=rows))
    assert all(places for _, places in strips)
    free = sum(places << (first * 12) for first, places in strips)
    for i in range(20):
        for j in range(12):
            plain = (
                i < columns
                and j < rows
                and not np.any(taken[i : i + mask.shape[0], j : j + mask.shape[1]] & mask)
            )
            assert bool(free >> (i * 12 + j) & 1) == plain
