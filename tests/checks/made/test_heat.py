"""Tips and dense cuts, against closed forms and against a count on a fine raster."""

import math

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from platekit import Plate, birch_plywood, circle, opening, polygon, rectangle, regular_polygon
from platekit.checks.made.heat import SQUARE_MM, corners, dense, densest, tips
from platekit.findings import Severity
from platekit.geometry.profile import Profile
from tests.checks.made.jobs import only, subject_of

PLY = birch_plywood(4.0)


@pytest.mark.parametrize("sides", [3, 4, 5, 8, 12])
def test_the_tips_of_a_regular_polygon(sides):
    """Euclid: the angle at each corner is 180 (n - 2) / n degrees."""
    angles, places = tips(Profile(regular_polygon(sides, circle_mm=60.0)))
    assert angles == pytest.approx([180.0 * (sides - 2) / sides] * sides)
    assert places.shape == (sides, 2)


def test_a_hole_has_tips_where_its_corners_point_inwards():
    """A cross cut out of a plate: four tips of 90 degrees reach into it, its own eight are none."""
    a, b = 5.0, 15.0
    arm = [(a, -b), (a, -a), (b, -a), (b, a), (a, a), (a, b)]
    cross = polygon([*arm, *((-x, -y) for x, y in arm)])
    angles, places = tips(Profile(rectangle(60, 60, centre=(0, 0)), (cross,)))
    assert sorted(angles) == pytest.approx([90.0] * 8)
    assert {tuple(map(abs, place)) for place in places.round(6).tolist()} == {(a, a), (30.0, 30.0)}


@pytest.mark.parametrize(
    ("tip_deg", "severity"), [(12.0, Severity.NOTE), (29.0, Severity.NOTE), (31.0, Severity.PASSED)]
)
def test_a_sharp_tip_is_a_note_with_its_angle_and_place(tip_deg, severity):
    """A wedge whose angle was drawn by its tangent; 30 degrees: common practice, no source."""
    half = 80 * math.tan(math.radians(tip_deg / 2))
    found = only(corners, Plate("wedge", PLY, polygon([(0, 0), (80, -half), (80, half)])))
    assert found.severity is severity
    assert found.value == pytest.approx(tip_deg)
    assert (found.part, found.feature) == ("wedge", "corner at x 0.0, y 0.0 mm")


def test_square_plates_and_round_ones_have_no_tips_to_tell_of():
    """90 degrees and none at all."""
    for outline in (rectangle(60, 60), circle((0, 0), diameter_mm=60)):
        assert list(corners(subject_of(Plate("plate", PLY, outline)))) == []


def hinge(pitch_mm: float) -> Plate:
    """Return a plate with a field of slits 1 mm wide, 100 mm long."""
    count = int(80 / pitch_mm)
    slits = (rectangle(1, 100, centre=(20.0 + pitch_mm * k, 60)) for k in range(count))
    plate = Plate("hinge", PLY, rectangle(120, 120), least_web_mm=0.5)
    return plate.with_features(*(opening(slit) for slit in slits))


@pytest.mark.parametrize(
    ("pitch_mm", "severity"),
    [(10.0, Severity.PASSED), (5.0, Severity.PASSED), (2.5, Severity.NOTE)],
)
def test_two_cuts_a_pitch_are_two_over_the_pitch(pitch_mm, severity):
    """Closed form: every slit is cut along both sides, so 2 / pitch mm of cut on a mm2."""
    found = only(dense, hinge(pitch_mm))
    assert found.value == pytest.approx(2 / pitch_mm, rel=0.02)
    assert (found.severity, found.limit) == (severity, 0.5)


@settings(derandomize=True, max_examples=15, deadline=None)
@given(
    rings=st.lists(
        st.tuples(st.floats(0, 100), st.floats(0, 100), st.floats(2, 40)), min_size=1, max_size=12
    )
)
def test_the_densest_square_agrees_with_points_counted_in_every_square(rings):
    """Brute force: circles as two thousand points each, counted in all four grids of squares."""
    table = np.concatenate([circle((x, y), diameter_mm=d).table for x, y, d in rings])
    most = 0.0
    turn = (np.arange(2_000) + 0.5) / 2_000 * math.tau
    for sx in (0, SQUARE_MM / 2):
        for sy in (0, SQUARE_MM / 2):
            squares: dict[tuple[int, int], float] = {}
            for x, y, d in rings:
                px = np.floor((x + d / 2 * np.cos(turn) - sx) / SQUARE_MM).astype(int)
                py = np.floor((y + d / 2 * np.sin(turn) - sy) / SQUARE_MM).astype(int)
                keys, counts = np.unique(np.stack([px, py]), axis=1, return_counts=True)
                for key, n in zip(keys.T.tolist(), counts.tolist(), strict=True):
                    at = (key[0], key[1])
                    squares[at] = squares.get(at, 0.0) + n / 2_000 * math.pi * d
            most = max(most, *squares.values())
    # The check follows the beam in steps of a mm: each ring may be off by one step or two.
    slack = 4 * len(rings) / SQUARE_MM**2
    assert densest(table)[0] == pytest.approx(most / SQUARE_MM**2, abs=slack)
