"""Bolt circles against the handbook's table."""

import math

import pytest
from hypothesis import given, settings, strategies as st

from platekit.errors import PartError
from platekit.hardware.patterns import bolt_circle_points, rectangle_points

# Hole-circle tables of machinery handbooks, unit diameter, first hole on +x. Layout from memory,
# values computed and equal to the printed five places from memory.
HANDBOOK = {
    3: [(0.5, 0.0), (-0.25, 0.43301), (-0.25, -0.43301)],
    4: [(0.5, 0.0), (0.0, 0.5), (-0.5, 0.0), (0.0, -0.5)],
    5: [
        (0.5, 0.0), (0.15451, 0.47553), (-0.40451, 0.29389), (-0.40451, -0.29389),
        (0.15451, -0.47553),
    ],
    6: [
        (0.5, 0.0), (0.25, 0.43301), (-0.25, 0.43301), (-0.5, 0.0), (-0.25, -0.43301),
        (0.25, -0.43301),
    ],
    8: [
        (0.5, 0.0), (0.35355, 0.35355), (0.0, 0.5), (-0.35355, 0.35355), (-0.5, 0.0),
        (-0.35355, -0.35355), (0.0, -0.5), (0.35355, -0.35355),
    ],
}  # fmt: skip
# Chord between neighbours for unit diameter: handbook constants, from memory.
CHORDS = {
    3: 0.866025, 4: 0.707107, 5: 0.587785, 6: 0.5, 7: 0.433884, 8: 0.382683, 9: 0.342020,
    10: 0.309017, 11: 0.281733, 12: 0.258819,
}  # fmt: skip


@pytest.mark.parametrize("count", HANDBOOK)
def test_bolt_circles_stand_as_in_the_handbook(count):
    """Coordinates agree with the table to its last digit, at any diameter."""
    for pcd_mm in (1.0, 80.0, 98.425):
        points = bolt_circle_points(count, pcd_mm=pcd_mm)
        for point, printed in zip(points, HANDBOOK[count], strict=True):
            assert point == pytest.approx([pcd_mm * p for p in printed], abs=5.1e-6 * pcd_mm)


@pytest.mark.parametrize("count", CHORDS)
def test_neighbours_are_a_handbook_chord_apart(count):
    """The spacing a workshop checks with a calliper."""
    points = bolt_circle_points(count, pcd_mm=100.0, start_deg=17.0)
    for a, b in zip(points, points[1:] + points[:1], strict=True):
        assert math.dist(a, b) == pytest.approx(100.0 * CHORDS[count], abs=6e-5)


@pytest.mark.parametrize("count", [4, 8, 12, 20, 36, 60, 100, 360])
def test_holes_on_the_axes_are_on_them_to_the_last_bit(count):
    """No 6e-17: a quarter turn is exact."""
    points = bolt_circle_points(count, pcd_mm=70.0)
    assert points[0] == (35.0, 0.0)
    assert points[count // 4] == (0.0, 35.0)
    assert points[count // 2] == (-35.0, 0.0)
    assert points[3 * count // 4] == (0.0, -35.0)


@settings(derandomize=True, max_examples=60)
@given(
    st.integers(1, 90),
    st.floats(1.0, 900.0),
    st.floats(-720.0, 720.0),
    st.tuples(st.floats(-500.0, 500.0), st.floats(-500.0, 500.0)),
)
def test_every_hole_lies_on_its_circle(count, pcd_mm, start_deg, centre):
    """And the circle's centre is the one asked for."""
    points = bolt_circle_points(count, pcd_mm=pcd_mm, start_deg=start_deg, centre=centre)
    assert len(points) == count
    for point in points:
        assert math.dist(point, centre) == pytest.approx(pcd_mm / 2, abs=1e-9)
    if count > 1:
        mean = (sum(p.x for p in points) / count, sum(p.y for p in points) / count)
        assert mean == pytest.approx(centre, abs=1e-9)


@pytest.mark.parametrize("count", [0, -6, 2.5, True, 721, "six"])
def test_a_count_that_is_none_is_refused(count):
    """Says what it was given and what it takes."""
    with pytest.raises(PartError, match="whole number"):
        bolt_circle_points(count, pcd_mm=80.0)


@pytest.mark.parametrize("pcd_mm", [0.0, -80.0, math.nan, math.inf])
def test_a_circle_that_is_none_is_refused(pcd_mm):
    """Zero, negative, NaN and infinite alike."""
    with pytest.raises(PartError, match="PCD above 0"):
        bolt_circle_points(6, pcd_mm=pcd_mm)


def test_an_angle_that_is_none_is_refused():
    """NaN would put every hole nowhere."""
    with pytest.raises(PartError, match="finite angle"):
        bolt_circle_points(6, pcd_mm=80.0, start_deg=math.nan)


def test_a_rectangle_gives_its_four_corners():
    """Counter-clockwise from the lower left, about the centre."""
    points = rectangle_points(width_mm=30.0, height_mm=20.0, centre=(1.0, 2.0))
    assert points == ((-14.0, -8.0), (16.0, -8.0), (16.0, 12.0), (-14.0, 12.0))


def test_a_flat_rectangle_gives_two_holes():
    """The two screws of an inlet."""
    assert rectangle_points(width_mm=40.0, height_mm=0.0) == ((-20.0, 0.0), (20.0, 0.0))


@pytest.mark.parametrize(("width", "height"), [(0, 0), (-1, 5), (5, math.nan), (math.inf, 5)])
def test_a_rectangle_that_is_none_is_refused(width, height):
    """No extent, negative, NaN, infinite."""
    with pytest.raises(PartError, match="pattern"):
        rectangle_points(width_mm=width, height_mm=height)
