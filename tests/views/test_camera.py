"""Cameras: parallel projection against the figures of the standard's axonometries."""

from __future__ import annotations

import math

import numpy as np
import pytest

from platekit.assembly.frames import Vector
from platekit.errors import GeometryError
from platekit.views.camera import ISOMETRIC, Camera

X, Y, Z = Vector(1.0, 0.0, 0.0), Vector(0.0, 1.0, 0.0), Vector(0.0, 0.0, 1.0)


def angle_deg(way) -> float:
    """Angle of a direction on the picture, 0 to 360."""
    return math.degrees(math.atan2(way[1], way[0])) % 360


def test_isometric_axes_lie_120_degrees_apart_and_are_equally_shortened():
    """ISO 5456-3:1996, isometric axonometry (from memory): 120 degrees, all scales sqrt(2/3)."""
    ways = [ISOMETRIC.on_picture(axis) for axis in (X, Y.scaled(-1.0), Z)]  # towards the eye
    turns = sorted(angle_deg(way) for way in ways)
    assert np.diff([*turns, turns[0] + 360]) == pytest.approx(np.full(3, 120.0))
    for way in ways:
        assert math.hypot(*way) == pytest.approx(math.sqrt(2 / 3))
    assert angle_deg(ISOMETRIC.on_picture(Z)) == pytest.approx(90)


@pytest.mark.parametrize("azimuth", [-200.0, 0.0, 33.0, 90.0, 311.0])
@pytest.mark.parametrize("elevation", [-90.0, -20.0, 0.0, 35.0, 90.0])
def test_a_view_only_turns_space(azimuth, elevation):
    """Its axes are orthonormal and right-handed, so that lengths across the view stay true."""
    axes = Camera(azimuth_deg=azimuth, elevation_deg=elevation).axes
    assert axes @ axes.T == pytest.approx(np.eye(3))
    assert np.linalg.det(axes) == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("azimuth", "right", "towards_the_eye"),
    [
        (0.0, X, (0, -1, 0)),
        (90.0, Y, X),
        (180.0, (-1, 0, 0), Y),
        (270.0, (0, -1, 0), (-1, 0, 0)),
    ],
)
def test_level_views_are_the_views_of_the_workshop(azimuth, right, towards_the_eye):
    """The workshop's x to the right, y to the back, z up, as the frames of panels have it."""
    axes = Camera(azimuth_deg=azimuth, elevation_deg=0.0).axes
    assert axes == pytest.approx(np.array([right, (0, 0, 1), towards_the_eye], float))


def test_from_above_the_front_is_at_the_bottom():
    """As a plan is drawn."""
    above = Camera(azimuth_deg=0.0, elevation_deg=90.0)
    assert above.at(Vector(3.0, 5.0, 7.0)) == pytest.approx((3.0, 5.0))


@pytest.mark.parametrize("angles", [{"elevation_deg": 91.0}, {"azimuth_deg": math.nan},
                                    {"elevation_deg": math.nan}])  # fmt: skip
def test_an_eye_that_is_nowhere_is_refused(angles):
    """The message names the angle."""
    with pytest.raises(GeometryError, match="elevation"):
        Camera(**angles)
