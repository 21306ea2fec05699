"""How material fills a band, held against shapely on polygons fine enough to tell."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings, strategies as st

from platekit.geometry.chains import circle
from platekit.geometry.chords import to_polygon
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import rectangle, slot
from platekit.geometry.strips import Band, filling

PLATES = {
    "square": Profile(rectangle(60, 40)),
    "round corners": Profile(rectangle(60, 40, fillet_mm=9)),
    "chamfers": Profile(rectangle(60, 40, chamfer_mm=7)),
    "disc": Profile(circle((30, 20), diameter_mm=44)),
    "holes": Profile(
        rectangle(60, 40, fillet_mm=3),
        (
            circle((15, 12), diameter_mm=11),
            slot(22, 7, centre=(38, 25), angle_deg=25),
            rectangle(6, 9, centre=(50, 9)),
        ),
    ),
}


@settings(max_examples=150, derandomize=True, deadline=None)
@given(
    name=st.sampled_from(sorted(PLATES)),
    angle=st.one_of(st.sampled_from([0, 90, 180, 270]), st.floats(0, 360)),
    low=st.floats(-60, 60),
    wide=st.floats(1, 12),
    mirrored=st.booleans(),
    zero=st.floats(-50, 50),
)
def test_filling_agrees_with_shapely(*, name, angle, low, wide, mirrored, zero):
    """Along 200 lines across the band, full is full width, partial is some, else none.

    Witness: shapely's intersection of each line with the polygon, chords 2 um off. Lines within
    0.05 mm of a change are left out.
    """
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    across = (s, -c) if mirrored else (-s, c)
    band = Band((c, s), across, zero, 0.0, low, low + wide)
    filled = filling(PLATES[name], band)
    polygon = to_polygon(PLATES[name])
    changes = [edge for run in (*filled.full, *filled.partial) for edge in run]
    for at in np.linspace(-80 + zero, 120 + zero, 200):
        if any(abs(at - edge) < 0.05 for edge in changes):
            continue
        line = shapely.LineString([band.point(at, low + 0.01), band.point(at, low + wide - 0.01)])
        share = line.intersection(polygon).length / line.length
        full = any(a < at < b for a, b in filled.full)
        partial = any(a < at < b for a, b in filled.partial)
        assert not (full and partial)
        if full:
            assert share == pytest.approx(1, abs=1e-6)
        elif partial:
            assert line.distance(polygon) < 0.02
            assert not polygon.buffer(-0.02).covers(line)
        else:
            assert share < 1e-3


def test_band_coordinates_undo_points():
    """Points and coordinates of a band are each other's inverse."""
    band = Band((0.6, 0.8), (0.8, -0.6), 3.0, -2.0, 0.0, 6.0)
    assert band.coordinates(band.point(12.0, 4.0)) == pytest.approx((12.0, 4.0))


def test_edges_on_the_band_s_own_sides_do_not_count():
    """A plate whose edge is the band's side fills it in full; half way in it is a ledge."""
    flat = Profile(rectangle(60, 40))
    edge = Band((1, 0), (0, 1), 0, 0, 34, 40)
    assert filling(flat, edge).full == ((0.0, 60.0),)
    assert filling(flat, edge).ledges == ()
    half = Band((1, 0), (0, 1), 0, 0, 37, 43)
    assert filling(flat, half).full == ()
    assert filling(flat, half).partial == ((0.0, 60.0),)
    (ledge,) = filling(flat, half).ledges
    assert (ledge.start_mm, ledge.end_mm, ledge.across_mm) == (0.0, 60.0, 40.0)


def test_a_fillet_leaves_its_own_length_partial():
    """Corners of 9 mm in a band of 6 mm at the edge: 9 mm at either end are filled in part.

    Within 0.005 mm: there the arc has left its tangent by no more than a nanometre.
    """
    filled = filling(PLATES["round corners"], Band((1, 0), (0, 1), 0, 0, 34, 40))
    assert filled.full[0] == pytest.approx((9.0, 51.0), abs=5e-3)
    start, end = filled.partial[0]
    assert (start, end) == pytest.approx((9 - math.sqrt(81 - 9), 9.0), abs=5e-3)
