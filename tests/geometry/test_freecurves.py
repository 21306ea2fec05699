"""Free curves: chords stay within the stated tolerance and claim to be nothing else."""

import math

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from platekit.errors import GeometryError
from platekit.geometry.chains import closed_polyline, polyline
from platekit.geometry.freecurves import bezier, ellipse, spline

COORDINATE = st.floats(-100, 100)
POINT = st.tuples(COORDINATE, COORDINATE)


def off_chords(points, curve) -> float:
    """Largest distance from curve points to the nearest chord, by brute force."""
    p = np.asarray(points)
    a, b = p[:-1], p[1:]
    worst = 0.0
    for q in curve:
        d = b - a
        t = np.clip(np.sum((q - a) * d, axis=1) / np.maximum(np.sum(d * d, axis=1), 1e-30), 0, 1)
        worst = max(worst, float(np.min(np.hypot(*(a + t[:, None] * d - q).T))))
    return worst


@settings(derandomize=True, max_examples=60, deadline=None)
@given(a=POINT, b=POINT, c=POINT, d=POINT, tolerance=st.sampled_from([0.5, 0.05, 0.005]))
def test_bezier_chords_keep_the_tolerance(a, b, c, d, tolerance):
    """Points of the curve (Bernstein form) lie within the tolerance of the chords."""
    made = bezier(a, b, c, d, tolerance_mm=tolerance)
    t = np.linspace(0, 1, 400)[:, None]
    control = [np.asarray(p) for p in (a, b, c, d)]
    curve = sum(math.comb(3, k) * (1 - t) ** (3 - k) * t**k * control[k] for k in range(4))
    assert made[0] == a
    assert made[-1] == d
    assert off_chords(made, curve) <= tolerance * (1 + 1e-9)


@settings(derandomize=True, max_examples=40, deadline=None)
@given(w=st.floats(1, 200), h=st.floats(1, 200), tolerance=st.sampled_from([0.2, 0.02]))
def test_ellipse_chords_keep_the_tolerance(w, h, tolerance):
    """Corners lie on x = a cos t, y = b sin t, and the curve within the tolerance of the chords."""
    made = ellipse(w, h, tolerance_mm=tolerance)
    corners = made.table[:, :2]
    assert np.allclose((corners[:, 0] * 2 / w) ** 2 + (corners[:, 1] * 2 / h) ** 2, 1, atol=1e-12)
    t = np.linspace(0, 2 * math.pi, 500)
    curve = np.stack([w / 2 * np.cos(t), h / 2 * np.sin(t)], axis=1)
    assert off_chords(np.vstack([corners, corners[:1]]), curve) <= tolerance * (1 + 1e-9)


def test_free_curves_hold_no_arcs():
    """An ellipse, even a round one, is chords: nothing is dressed up as an arc."""
    assert not np.any(ellipse(30, 30).table[:, 7])
    assert not np.any(closed_polyline(spline([(0, 0), (9, 0), (9, 9)], closed=True)).table[:, 7])


@pytest.mark.parametrize(("w", "h"), [(180, 110), (30, 30), (1, 700), (33.3, 12)])
def test_an_ellipse_measures_its_axes(w, h):
    """A caliper across the cut part reads what was asked for, whatever the chords."""
    bounds = ellipse(w, h).bounds
    assert (bounds.width_mm, bounds.height_mm) == pytest.approx((w, h), abs=1e-9)


def test_ellipse_area_is_pi_a_b():
    """Area pi a b, less what the chords cut off: at most length times tolerance."""
    made = ellipse(100, 40, centre=(7, 3), turn_deg=30, tolerance_mm=0.001)
    assert 0 < math.pi * 50 * 20 - made.area_mm2 < made.length_mm * 0.001
    assert made.centroid == pytest.approx((7, 3), abs=1e-9)


def test_spline_passes_through_its_points():
    """Every given point is a point of the result; straight rows stay straight."""
    given_points = [(0, 0), (10, 12), (25, 3), (40, 8)]
    assert set(given_points) <= set(spline(given_points))
    row = spline([(0, 0), (5, 0), (20, 0), (30, 0)])
    assert all(y == 0 for _, y in row)
    assert polyline(row).length_mm == pytest.approx(30)


def test_closed_spline_is_smooth_at_its_seam():
    """Chords on both sides of the first point differ in direction no more than elsewhere."""
    points = [(20 * math.cos(k * math.pi / 4), 20 * math.sin(k * math.pi / 4)) for k in range(8)]
    made = closed_polyline(spline(points, closed=True, tolerance_mm=0.001))
    steps = made.table[:, 2:4] - made.table[:, :2]
    headings = np.unwrap(np.arctan2(steps[:, 1], steps[:, 0]))
    turns = np.diff(np.append(headings, headings[0] + 2 * math.pi))
    assert turns.max() < 0.12
    assert made.area_mm2 == pytest.approx(math.pi * 400, rel=0.01)


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: bezier((0, 0), (1, 1), (2, 2), (3, 0), tolerance_mm=0), "tolerance is 0 mm"),
        (lambda: bezier((0, 0), (1, 9), (2, 9), (3, 0), tolerance_mm=1e-14), "larger chord"),
        (lambda: ellipse(0, 5), "width is 0 mm"),
        (lambda: ellipse(5, math.nan), "height is nan mm"),
        (lambda: spline([(0, 0)]), "through 1 points"),
        (lambda: spline([(0, 0), (1, 1)], closed=True), "at least 3"),
        (lambda: spline([(0, 0), (0, 0), (1, 1)]), "twice running through (0, 0)"),
    ],
)
def test_bad_curves_are_refused(make, says):
    """The message gives the value and the remedy."""
    with pytest.raises(GeometryError) as caught:
        make()
    assert says in str(caught.value)
