"""Offsets of random shapes, held against an independent ruler and shapely's buffer.

The bulk tests draw a few hundred shapes, with ``--thorough`` more than two thousand contours;
`PLATEKIT_OFFSET_SHAPES` sets any other number of shapes.
"""

from __future__ import annotations

import math
import os
import warnings

import pytest
import shapely
from hypothesis import given, settings, strategies as st

from platekit.errors import ApproximationWarning
from platekit.geometry.chains import Contour, closed_polyline
from platekit.geometry.offset import Join, OffsetResult, offset, offset_rings
from platekit.geometry.offset.losses import LossKind
from platekit.geometry.profile import Profile
from tests.amounts import examples
from tests.geometry.offset_oracle import (
    buffered,
    polygon,
    rings_of,
    worst_deviation,
    worst_miss,
)
from tests.geometry.offset_shapes import random_profiles, rectangle, seeded

SHAPES = int(os.environ.get("PLATEKIT_OFFSET_SHAPES") or examples(300, thorough=1300))
EXACT_MM = 1e-6
# shapely's own error: 1.2 % of the distance (its input thinning) and its chords.
WITNESS_MM = 4e-3


def alone(ring: Contour, growth: float) -> tuple[list[Contour], OffsetResult]:
    """Return what one ring becomes: a hole is put in a plate that stays out of the way."""
    if ring.is_ccw:
        result = offset_rings(Profile(ring), growth_mm=growth)
        return [made for piece in result.profiles for made in piece.rings], result
    box = ring.bounds
    around = rectangle(box.left - 9, box.bottom - 9, box.right + 9, box.top + 9)
    result = offset_rings(Profile(around, (ring,)), growth_mm=growth)
    made = [r for piece in result.profiles for r in piece.rings]
    return [r for r in made if r.bounds.width_mm < box.width_mm + 9], result


def verdict(ring: Contour, growth: float) -> str:
    """Return "exact", "limit" or "chords", or raise on anything wrong."""
    with warnings.catch_warnings(record=True) as heard:
        warnings.simplefilter("always")
        made, result = alone(ring, growth)
    kinds = {loss.kind for loss in result.losses}
    warned = any(issubclass(w.category, ApproximationWarning) for w in heard)
    assert warned == (LossKind.APPROXIMATED in kinds), "a polyline is never silent"
    for contour in made:
        assert Contour(contour.table.copy()) == contour, "sound by the type's own check"
    if warned:
        return "chords"
    assert worst_deviation(ring, made, abs(growth)) <= EXACT_MM
    for sag_mm in (1e-3, 1e-4, 1e-5):  # shallow corners want a finer witness
        witness = buffered(ring, growth, sag_mm=sag_mm)
        agreed = len(rings_of(witness)) == len(made)
        allowed = 0.012 * abs(growth) + WITNESS_MM
        if agreed and (not made or worst_miss(witness, made) <= allowed):
            return "limit" if LossKind.KERF_LIMIT in kinds else "exact"
    assert LossKind.KERF_LIMIT in kinds, "only at the limit may the witness differ"
    return "limit"


def bulk(seeds: range, *, grid: float | None, growths: tuple[float, ...]) -> dict[str, int]:
    """Return how many rings of how many random shapes ended how."""
    counts = {"exact": 0, "limit": 0, "chords": 0}
    for seed in seeds:
        rng = seeded(seed)
        for piece in random_profiles(rng, grid=grid):
            growth = rng.choice(growths) if growths else rng.uniform(0.025, 0.25)
            if rng.random() < 0.3:
                growth = -growth
            for ring in piece.rings:
                if polygon(ring, sag_mm=1e-4).is_valid:
                    counts[verdict(ring, growth)] += 1
    return counts


def test_random_contours_are_exact() -> None:
    """Hundreds of contours: deviation under a nanometre's thousandth, topology as shapely's."""
    counts = bulk(range(1_000, 1_000 + SHAPES), grid=None, growths=())
    total = sum(counts.values())
    assert total >= 1.5 * SHAPES
    assert counts["chords"] * 5000 <= total, counts


@pytest.mark.parametrize("grid", [0.5, 0.25])
def test_shapes_on_a_grid_are_exact(grid: float) -> None:
    """Shared edges, tangencies, widths equal to the kerf: exact, or at the limit and said so."""
    seeds = range(9_000, 9_000 + SHAPES // 5)
    counts = bulk(seeds, grid=grid, growths=(0.05, 0.125, 0.25))
    assert sum(counts.values()) > len(seeds)
    assert counts["chords"] == 0, counts


@st.composite
def outlines(draw: st.DrawFn) -> Contour:
    """Polygons around a point: spikes, notches, needles."""
    count = draw(st.integers(3, 9))
    reach = st.floats(0.05, 20)
    points = []
    for k in range(count):
        angle = 2 * math.pi * (k + draw(st.floats(0, 0.9))) / count
        r = draw(reach)
        points.append((r * math.cos(angle), r * math.sin(angle)))
    ring = closed_polyline(points)
    return ring if ring.is_ccw else ring.reversed()


@settings(max_examples=examples(80, thorough=150), derandomize=True, deadline=None)
@given(ring=outlines(), growth=st.floats(0.01, 2.0), shrink=st.booleans())
def test_stars_and_needles_are_exact(ring: Contour, growth: float, shrink: bool) -> None:  # noqa: FBT001
    """Whatever the corners, the offset is exact, or at the limit, or says that it is not."""
    if polygon(ring, sag_mm=1e-4).is_valid and ring.area_mm2 > 0.01:
        verdict(ring, -growth if shrink else growth)


@settings(max_examples=examples(20, thorough=60), derandomize=True, deadline=None)
@given(seed=st.integers(0, 10**6), growth=st.floats(0.025, 0.25))
def test_mitred_contours_lie_between(seed: int, growth: float) -> None:
    """A pointed offset covers the round one and reaches at most the root of two further."""
    for piece in random_profiles(seeded(seed)):
        soft = offset_rings(piece, growth_mm=growth).profile
        sharp = offset_rings(piece, growth_mm=growth, join=Join.MITRE).profile
        fine = polygon(soft.outer, sag_mm=1e-5)
        pointed = polygon(sharp.outer, sag_mm=1e-5)
        assert pointed.is_valid
        assert shapely.area(shapely.difference(fine, pointed)) <= 2e-5 * fine.length
        assert sharp.area_mm2 >= soft.area_mm2 - 1e-9
        limit = growth * math.sqrt(2) + 1e-4
        source = polygon(piece.outer, sag_mm=1e-5)
        corners = shapely.points(shapely.get_coordinates(pointed))
        assert float(shapely.distance(source, corners).max()) <= limit


@settings(max_examples=examples(20, thorough=40), derandomize=True, deadline=None)
@given(seed=st.integers(0, 10**6), inset=st.floats(0.1, 1.5))
def test_insets_agree_with_shapely(seed: int, inset: float) -> None:
    """An inset of a whole shape has shapely's area, within what shapely's chords shave off."""
    for piece in random_profiles(seeded(seed)):
        made = offset(piece, distance_mm=-inset)
        holes = [polygon(ring, sag_mm=1e-4).exterior for ring in piece.inners]
        whole = shapely.Polygon(polygon(piece.outer, sag_mm=1e-4).exterior, holes)
        if not whole.is_valid:
            continue
        expected = whole.buffer(-inset, quad_segs=64)
        length = expected.length + piece.length_mm
        area = sum(part.area_mm2 for part in made.profiles)
        assert abs(area - expected.area) <= (0.012 * inset + 4e-3) * length
