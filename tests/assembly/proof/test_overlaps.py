"""Overlaps of two bodies: closed forms for the volume, the depth that counts, and what is none."""

import math

import numpy as np
import pytest
from manifold3d import Manifold

from platekit.assembly.proof.overlaps import RUB_MM, SHRED_MM, overlap, overlaps


def block(*corners):
    """Return a box between two corners: least x, y, z, greatest x, y, z."""
    x0, y0, z0, x1, y1, z1 = corners
    return Manifold.cube((x1 - x0, y1 - y0, z1 - z0)).translate((x0, y0, z0))


def joined(*bodies):
    """Return several bodies as one."""
    whole = bodies[0]
    for body in bodies[1:]:
        whole = whole + body
    return whole


def test_a_box_in_a_box_shares_all_of_the_smaller():
    """Closed form: 3 x 4 x 5 mm, its middle, and 2 V / S = 120 / 94."""
    found = overlap(block(0, 0, 0, 20, 20, 20), block(2, 3, 4, 5, 7, 9), over_mm=SHRED_MM)
    assert found.volume_mm3 == pytest.approx(60, rel=1e-9)
    assert tuple(found.at) == pytest.approx((3.5, 5.0, 6.5))
    assert found.depth_mm == pytest.approx(120 / 94, rel=1e-6)


@pytest.mark.parametrize("apart", [2.0, 6.0, 10.0, 15.0])
def test_two_cylinders_share_a_lens(apart):
    """Closed form (circle-circle intersection, equal radii): 2 r^2 acos(d/2r) - d/2 sqrt(4r^2-d^2).

    The circles are drawn with 720 corners: their area is short by (2 pi / 720)^2 / 6, 1.3e-5.
    """
    r, height = 8.0, 5.0
    disc = Manifold.cylinder(height, r, circular_segments=720)
    found = overlap(disc, disc.translate((apart, 0, 0)), over_mm=SHRED_MM)
    lens = 2 * r * r * math.acos(apart / 2 / r) - apart / 2 * math.sqrt(4 * r * r - apart * apart)
    assert found.volume_mm3 == pytest.approx(lens * height, rel=1e-3)
    assert tuple(found.at) == pytest.approx((apart / 2, 0, height / 2), abs=0.01)


@pytest.mark.parametrize(
    "other",
    [
        pytest.param(block(10, 0, 0, 20, 10, 10), id="face on face"),
        pytest.param(block(10, 10, 0, 20, 20, 10), id="edge on edge"),
        pytest.param(block(10, 10, 10, 20, 20, 20), id="corner on corner"),
        pytest.param(block(30, 0, 0, 40, 10, 10), id="apart"),
    ],
)
def test_bodies_that_touch_share_nothing(other):
    """Touching is no overlap."""
    assert overlap(block(0, 0, 0, 10, 10, 10), other, over_mm=0.0) is None


@pytest.mark.parametrize("depth", [0.1, 0.2])
def test_a_joint_held_by_interference_is_none(depth):
    """Faces pressed 0.1 and 0.2 mm into each other rub, whatever their size."""
    one = block(0, 0, 0, 200, 100, 6)
    assert overlap(one, block(0, 0, 6 - depth, 200, 100, 12), over_mm=RUB_MM) is None


@pytest.mark.parametrize("depth", [0.3, 0.5, 2.0])
def test_deeper_than_a_rub_is_found(depth):
    """The same faces pressed deeper are found, with the volume of the plate between them."""
    one = block(0, 0, 0, 200, 100, 6)
    found = overlap(one, block(0, 0, 6 - depth, 200, 100, 12), over_mm=RUB_MM)
    assert found.volume_mm3 == pytest.approx(200 * 100 * depth, rel=1e-5)


def test_several_pieces_add_up_and_the_thickest_gives_the_place():
    """Two pegs in a plate: 4 x 4 x 6 and 8 x 8 x 6 mm, and a shred that does not count."""
    plate = block(0, 0, 0, 100, 50, 6)
    pegs = joined(
        block(10, 10, -5, 14, 14, 11),
        block(50, 20, -5, 58, 28, 11),
        block(80, 10, 5.98, 90, 20, 9),
    )
    found = overlap(plate, pegs, over_mm=SHRED_MM)
    assert found.volume_mm3 == pytest.approx(16 * 6 + 64 * 6, rel=1e-6)
    assert tuple(found.at) == pytest.approx((54, 24, 3), abs=1e-6)


def test_of_pieces_equally_deep_the_first_in_space_is_named():
    """Three pegs alike, built in any order: the leftmost, and of two in line the nearest."""
    plate = block(0, 0, 0, 100, 50, 6)
    near, far, right = (
        block(10 + x, 10 + y, -5, 14 + x, 14 + y, 11) for x, y in ((0, 0), (0, 20), (50, 0))
    )
    for pegs in ((near, far, right), (right, far, near), (far, right, near)):
        found = overlap(plate, joined(*pegs), over_mm=SHRED_MM)
        assert tuple(found.at) == pytest.approx((12, 12, 3), abs=1e-6)


def test_a_blob_on_a_wide_shred_is_found_and_placed():
    """A press fit over a whole face does not hide a corner that stands 5 mm deep in the other.

    The shred is 0.1 mm over 200 x 100 mm, so that twice volume over surface is 0.1 mm; the blob,
    5 x 5 x 5 mm beneath it, must be found, and its place is where the blob is.
    """
    low = block(0, 0, 0, 200, 100, 10)
    high = joined(block(0, 0, 9.9, 200, 100, 20), block(150, 20, 4.9, 155, 25, 12))
    found = overlap(low, high, over_mm=RUB_MM)
    assert found is not None
    assert tuple(found.at) == pytest.approx((152.5, 22.5, 7.45), abs=0.5)
    assert found.depth_mm > RUB_MM


@pytest.mark.parametrize("angle", [0, 17, 30, 45])
def test_three_thin_walls_that_meet_in_a_corner_are_thin(angle):
    """Shreds 0.1 mm thick along all three faces of a corner are still shreds."""
    corner = joined(
        block(0, 0, 0, 40, 40, 0.1), block(0, 0, 0, 40, 0.1, 40), block(0, 0, 0, 0.1, 40, 40)
    ).rotate((angle, angle / 2, 0))
    whole = block(-100, -100, -100, 100, 100, 100)
    assert overlap(corner, whole, over_mm=RUB_MM) is None


@pytest.mark.parametrize("angle", [0, 10, 30, 45])
@pytest.mark.parametrize("wide", [0.6, 1.0, 2.0])
def test_a_thin_peg_is_found_however_it_lies(angle, wide):
    """A square peg thicker than a rub counts, though 2 V / S is only half its width."""
    peg = block(0, 0, 0, wide, wide, 8).rotate((angle, 0, angle))
    found = overlap(peg, block(-50, -50, -50, 50, 50, 50), over_mm=RUB_MM)
    assert found is not None
    assert found.volume_mm3 == pytest.approx(wide * wide * 8, rel=1e-3)


@pytest.mark.parametrize("seed", range(40))
def test_whether_two_overlap_agrees_with_how_much(seed):
    """The quick answer and the measured one say the same of random boxes, deep and barely."""
    chance = np.random.default_rng(seed)
    corner, size = chance.uniform(-1, 9, 3), chance.uniform(0.05, 6, 3)
    one = Manifold.cube((8, 8, 8))
    other = Manifold.cube(size).translate(corner)
    for over in (0.01, 0.06, 0.25, 1.0):
        assert overlaps(one, other, over_mm=over) == (overlap(one, other, over_mm=over) is not None)
