"""What shape an opening is said to have, against shapely and sizes typed by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from platekit.export.plans.drawings.hole_table import openings_of
from platekit.export.plans.drawings.opening_shape import shape_of
from platekit.geometry.booleans import difference, union
from platekit.geometry.chains import Contour, circle, closed_polyline
from platekit.geometry.curves import Arc
from platekit.geometry.motion import Motion
from platekit.geometry.points import Point
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import fillet, rectangle
from platekit.materials import birch_plywood
from platekit.panel.part import Part

TIMES, DIAMETER, DEGREE = "\N{MULTIPLICATION SIGN}", "\N{LATIN CAPITAL LETTER O WITH STROKE}", "°"


def hexagon(across_flats_mm: float) -> Contour:
    """Return a hexagon standing on a corner, by polar coordinates."""
    reach = across_flats_mm / math.sqrt(3.0)
    angles = np.radians(30.0 + 60.0 * np.arange(6))
    return closed_polyline(np.stack([reach * np.cos(angles), reach * np.sin(angles)], axis=1))


def joined(*shapes: Contour) -> Contour:
    """Return the outline of several shapes as one."""
    (whole,) = union(*map(Profile, shapes))
    return whole.outer


@pytest.mark.parametrize(
    ("ring", "said"),
    [
        (circle((3.0, 4.0), diameter_mm=5.5), f"{DIAMETER}5.5"),
        (rectangle(18.05, 6.1), f"18.05 {TIMES} 6.1"),
        (fillet(rectangle(72.0, 24.0), radius_mm=2.0), f"72 {TIMES} 24 R2"),
        (fillet(rectangle(16.5, 4.5), radius_mm=2.25), f"16.5 {TIMES} 4.5 round ends"),
        # A regular hexagon 8 across flats is 8 / cos 30 = 9.2376 over its corners.
        (hexagon(8.0), f"8 {TIMES} 9.24 hexagon"),
        (rectangle(30.0, 5.0).moved(Motion(turn_deg=30.0)), f"30 {TIMES} 5 at 30{DEGREE}"),
        (
            fillet(rectangle(30.0, 5.0), radius_mm=2.5).moved(Motion(turn_deg=120.0)),
            f"30 {TIMES} 5 round ends at 120{DEGREE}",
        ),
        (
            joined(circle((0.0, 0.0), diameter_mm=22.0), rectangle(3.0, 3.0, centre=(0.0, 11.5))),
            f"{DIAMETER}22, key 3 wide above, 24 over it",
        ),
    ],
    ids=["hole", "slot", "window", "long hole", "hexagon", "turned", "turned long", "keyed"],
)
def test_shapes_have_words_and_sizes(ring, said):
    """Sizes as they were drawn."""
    shape = shape_of(ring)
    assert shape.said == said
    assert shape.is_told


@pytest.mark.parametrize(("start", "end"), [(20.0, 70.0), (330.0, 400.0)])
def test_a_slot_along_an_arc_is_told_by_its_radius_and_angles(start, end):
    """6 wide, its middle line 40 from the centre; ends round, by polar coordinates."""

    def at(radius: float, angle_deg: float) -> Point:
        angle = math.radians(angle_deg)
        return Point(10.0 + radius * math.cos(angle), 5.0 + radius * math.sin(angle))

    centre = Point(10.0, 5.0)
    ring = Contour.of(
        [
            Arc(at(43.0, start), at(43.0, end), centre, 43.0, ccw=True),
            Arc(at(43.0, end), at(37.0, end), at(40.0, end), 3.0, ccw=True),
            Arc(at(37.0, end), at(37.0, start), centre, 37.0, ccw=False),
            Arc(at(37.0, start), at(43.0, start), at(40.0, start), 3.0, ccw=True),
        ]
    )
    shape = shape_of(ring)
    assert shape.said == f"6 wide on R40, {start:g}{DEGREE} to {end:g}{DEGREE}"
    assert shape.centre == pytest.approx((10.0, 5.0), abs=1e-6)


def test_a_flat_is_told_from_the_far_side():
    """A hole of 10 mm with a flat 4 mm from its middle: 9 mm over it."""
    (cut,) = difference(
        Profile(circle((0.0, 0.0), diameter_mm=10.0)),
        Profile(rectangle(20.0, 4.0, centre=(0.0, -6.0))),
    )
    shape = shape_of(cut.outer)
    assert shape.said == f"{DIAMETER}10 flat below, 9 over it"
    assert shape.centre == pytest.approx((0.0, 0.0), abs=1e-6)


@pytest.mark.parametrize("seed", range(8))
def test_turned_rectangles_have_the_sides_that_shapely_finds(seed):
    """The least rectangle around them, whichever way they lie."""
    rng = np.random.default_rng(seed)
    width, height = rng.uniform(5.0, 60.0, 2)
    turn = float(rng.uniform(0.0, 180.0))
    ring = rectangle(width, height).moved(Motion(turn_deg=turn))
    sides = shapely.Polygon([one.start for one in ring.segments]).minimum_rotated_rectangle
    corners = np.array(sides.exterior.coords)
    lengths = sorted(np.hypot(*np.diff(corners[:3], axis=0).T))
    words = shape_of(ring).said.split()
    assert sorted((float(words[0]), float(words[2]))) == pytest.approx(lengths, abs=0.0051)


def test_what_has_no_words_is_told_by_its_corners():
    """An L, its corners typed here, counted from the plate's own corner."""
    ell = [(20.0, 20.0), (50.0, 20.0), (50.0, 27.5), (31.0, 27.5), (31.0, 44.0), (20.0, 44.0)]
    (plate,) = difference(
        Profile(rectangle(80.0, 60.0, centre=(40.0, 30.0))), Profile(closed_polyline(ell))
    )
    (opening,) = openings_of(Part("plate", birch_plywood(6.0), plate))
    assert opening.is_told
    assert "own shape" in opening.said
    told = np.array([(one.x_mm, one.y_mm) for one in opening.corners])
    assert told == pytest.approx(np.array(ell), abs=1e-6)


def test_what_has_too_many_corners_is_not_told():
    """A star of 60 points is for the full-size page."""
    angles = np.radians(np.arange(120) * 3.0)
    reach = np.where(np.arange(120) % 2, 20.0, 22.0)
    star = np.stack([reach * np.cos(angles), reach * np.sin(angles)], axis=1)
    plain = rectangle(80.0, 60.0, centre=(0.0, 0.0))
    (plate,) = difference(Profile(plain), Profile(closed_polyline(star.tolist())))
    (opening,) = openings_of(Part("plate", birch_plywood(6.0), plate))
    assert not opening.is_told
    assert opening.corners == ()
