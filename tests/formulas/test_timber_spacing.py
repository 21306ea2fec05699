"""Rows, edges and splitting against worked examples and the standard's table."""

import math

import pytest

from platekit.errors import PartError
from platekit.formulas.timber_spacing import bolt_spacing, effective_number, splitting_n


@pytest.mark.parametrize(("pitch_mm", "counts"), [(60, 2.11), (90, 2.34)])
def test_rows_of_the_course_examples(pitch_mm, counts):
    """University course in timber structures, examples C1 and C3 (looked up): 3 bolts of 12 mm."""
    got = effective_number(3, pitch_mm=pitch_mm, diameter_mm=12)
    assert got == pytest.approx(counts, rel=0.004)


def test_rows_gain_nothing_beyond_their_number():
    """One bolt is one bolt, far apart they all count, across the grain they always do."""
    assert effective_number(1, pitch_mm=1000, diameter_mm=5) == 1.0
    assert effective_number(4, pitch_mm=1000, diameter_mm=5) == 4.0
    assert effective_number(4, pitch_mm=25, diameter_mm=5, angle_deg=90) == pytest.approx(4.0)
    along = effective_number(4, pitch_mm=25, diameter_mm=5)
    for angle_deg in (45, 135, -45, 225):
        got = effective_number(4, pitch_mm=25, diameter_mm=5, angle_deg=angle_deg)
        assert got == pytest.approx((along + 4) / 2)


# EN 1995-1-1, table 8.4 (from memory) for M12, at 0, 30 and 90 degrees; columns a1, a2, a3t, a3c,
# a4t, a4c in bolt diameters. 7 d is 84 mm there and rules over 80 mm.
@pytest.mark.parametrize(
    ("angle_deg", "diameters"),
    [
        (0, (5, 4, 7, 4, 3, 3)),
        (30, (4 + math.sqrt(3) / 2, 4, 7, 4, 3, 3)),
        (90, (4, 4, 7, 7, 4, 3)),
        (270, (4, 4, 7, 7, 4, 3)),
        (180, (5, 4, 7, 4, 3, 3)),
    ],
)
def test_least_distances(angle_deg, diameters):
    """In diameters of an M12."""
    got = bolt_spacing(12, angle_deg=angle_deg)
    assert (
        got.along_mm, got.across_mm, got.loaded_end_mm, got.free_end_mm, got.loaded_edge_mm,
        got.free_edge_mm,
    ) == pytest.approx([12 * n for n in diameters])  # fmt: skip


def test_loaded_ends_of_small_bolts_keep_80_mm():
    """max(7 d, 80 mm) (EN 1995-1-1, table 8.4, from memory)."""
    assert bolt_spacing(5).loaded_end_mm == 80.0


def test_splitting_by_hand():
    """Half-way up 45 by 200 mm: 14 * 45 * sqrt(100 / 0.5) = 8909.5 N (EN 1995-1-1, 8.4)."""
    got = splitting_n(breadth_mm=45, depth_mm=200, reach_mm=100)
    assert got == pytest.approx(8909.5, abs=0.1)
    # Farther from the loaded edge splits less readily; breadth counts in proportion.
    assert splitting_n(breadth_mm=45, depth_mm=200, reach_mm=150) > got
    assert splitting_n(breadth_mm=90, depth_mm=200, reach_mm=100) == pytest.approx(2 * got)


def test_impossible_distances_are_refused():
    """Each with its value and a remedy."""
    with pytest.raises(PartError, match="reach of the bolts is 200 mm in wood 200 mm deep"):
        splitting_n(breadth_mm=45, depth_mm=200, reach_mm=200)
    with pytest.raises(PartError, match="number of bolts is 0"):
        effective_number(0, pitch_mm=30, diameter_mm=5)
    with pytest.raises(PartError, match="bolt diameter is 0 mm"):
        bolt_spacing(0)
