"""Frames stay square to the last bit at quarter turns, and turn by the book elsewhere."""

import math

import numpy as np
import pytest
from hypothesis import given, settings, strategies as st

from platekit.assembly.frames import NOWHERE, Frame, Vector, X, Y, Z, angle_between_deg
from platekit.errors import GeometryError


@pytest.mark.parametrize("about", [X, Y, Z])
def test_four_quarter_turns_are_none(about):
    """Exactly, not nearly."""
    start = Frame(Vector(1.1, 2.2, 3.3), Y, Z)
    frame = start
    for _ in range(4):
        frame = frame.turned(about=about, angle_deg=90)
        assert {abs(c) for c in (*frame.u, *frame.v)} == {0.0, 1.0}
    assert (frame.u, frame.v) == (start.u, start.v)
    assert tuple(frame.origin) == pytest.approx(tuple(start.origin), abs=1e-15)


def matrix(axis, angle_deg):
    """Return the turn as numpy builds it from the axis: exp of the cross product matrix."""
    a = math.radians(angle_deg)
    k = np.array([[0, -axis[2], axis[1]], [axis[2], 0, -axis[0]], [-axis[1], axis[0], 0]])
    series, term = np.eye(3), np.eye(3)
    for n in range(1, 40):
        term = term @ (k * a) / n
        series = series + term
    return series


@settings(max_examples=60, derandomize=True, deadline=None)
@given(
    axis=st.tuples(*[st.floats(-1, 1)] * 3).filter(lambda v: math.hypot(*v) > 0.1),
    angle=st.floats(-180, 180),
    through=st.tuples(*[st.floats(-100, 100)] * 3),
    place=st.tuples(*[st.floats(-100, 100)] * 3),
)
def test_turns_agree_with_the_matrix_exponential(axis, angle, through, place):
    """Witness: the exponential series of the rotation's generator, in numpy."""
    unit = Vector(*(c / math.hypot(*axis) for c in axis))
    turned = Frame(Vector(*place), Y, Z).turned(
        about=unit, angle_deg=angle, through=Vector(*through)
    )
    m = matrix(unit, angle)
    assert np.allclose(turned.u, m @ Y, atol=1e-9)
    assert np.allclose(turned.n, m @ X, atol=1e-9)
    assert np.allclose(turned.origin, m @ np.subtract(place, through) + through, atol=1e-9)


def test_coordinates_undo_points():
    """A place found from panel coordinates has them again."""
    frame = Frame(Vector(5, -3, 2), Y, Z).turned(about=Z, angle_deg=37)
    assert frame.coordinates(frame.point(4, 7, -2)) == pytest.approx((4, 7, -2))


def test_angle_between_planes():
    """Planes turned by 30 degrees lie at 30; beyond 90 the other side counts."""
    flat = Frame()
    for turn, angle in ((0, 0), (30, 30), (90, 90), (150, 30), (180, 0)):
        turned = flat.turned(about=X, angle_deg=turn)
        assert angle_between_deg(flat, turned) == pytest.approx(angle, abs=1e-9)


@pytest.mark.parametrize(
    ("u", "v"),
    [(X, X), (X.scaled(2), Y), (X, Vector(0.1, 1, 0)), (Vector(math.nan, 0, 0), Y)],
)
def test_axes_that_are_none_are_refused(u, v):
    """Axes must be unit vectors square to each other."""
    with pytest.raises(GeometryError, match="square"):
        Frame(NOWHERE, u, v)
