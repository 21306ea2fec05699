"""Polygons laid over each other: areas by closed form, and by an independent kernel."""

import math

import numpy as np
import pytest
from manifold3d import CrossSection, FillRule

from platekit.geometry.flats import Flat

STILL = np.eye(2)


def block(left, bottom, right, top):
    """Return a rectangle's corners, counter-clockwise."""
    return np.array([[left, bottom], [right, bottom], [right, top], [left, top]], dtype=float)


def disc(x, y, r, corners=64):
    """Return a circle's corners, counter-clockwise."""
    angle = np.arange(corners) * 2 * np.pi / corners
    return np.column_stack([x + r * np.cos(angle), y + r * np.sin(angle)])


def test_two_rectangles_share_their_overlap():
    """Closed form: 30 x 10 and 10 x 40, the second 25 to the right and 8 down: 5 x 10 mm2."""
    shared = Flat([block(0, 0, 30, 10)]).shared_mm2(
        Flat([block(0, 0, 10, 40)]), axes=STILL, at=np.array([25.0, -8.0])
    )
    assert shared == pytest.approx(50.0)


def test_a_bar_through_a_hole_shares_nothing():
    """A bar as wide as the hole it stands in only touches."""
    plate = Flat([block(0, 0, 30, 30), block(10, 10, 20, 20)[::-1]])
    bar = Flat([block(0, 0, 10, 10)])
    assert plate.shared_mm2(bar, axes=STILL, at=np.array([10.0, 10.0])) == pytest.approx(0.0)
    assert plate.shared_mm2(bar, axes=STILL, at=np.array([12.0, 10.0])) == pytest.approx(20.0)


@pytest.mark.parametrize("turned_over", [False, True])
@pytest.mark.parametrize("angle_deg", [0.0, 30.0, 90.0, 217.0])
def test_laid_askew_and_turned_over_as_the_kernel_sees_it(angle_deg, turned_over):
    """Independent: the intersection of manifold3d's cross-sections."""
    plate = [block(0, 0, 60, 40), disc(20, 20, 9)[::-1], disc(45, 25, 6)[::-1]]
    other = [disc(0, 0, 14), block(-4, -6, 7, 5)[::-1]]
    c, s = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    axes = np.array([(c, s), (-s, c)]) * ([[-1.0], [1.0]] if turned_over else 1.0)
    at = np.array([24.0, 17.0])
    laid = [ring @ axes + at for ring in other]
    if turned_over:
        laid = [ring[::-1] for ring in laid]
    shared = CrossSection(plate, FillRule.Positive) ^ CrossSection(laid, FillRule.Positive)
    assert shared.area() > 50
    found = Flat(plate).shared_mm2(Flat(other), axes=axes, at=at)
    assert found == pytest.approx(shared.area(), rel=1e-6)
    # Seen from the other, which has fewer holes: the same meeting the other way round.
    back = Flat(other).shared_mm2(Flat(plate), axes=axes.T, at=-(at @ axes.T))
    assert back == pytest.approx(shared.area(), rel=1e-6)


def test_far_apart_shares_nothing():
    """Closed form: discs of radius 5 and 7, 12.1 mm apart."""
    one, other = Flat([disc(0, 0, 5)]), Flat([disc(0, 0, 7)])
    assert one.shared_mm2(other, axes=STILL, at=np.array([12.1, 0.0])) == 0.0
