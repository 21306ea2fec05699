"""Outlines read back from the words they were written in."""

import math

import pytest
import svgelements
from hypothesis import given, settings, strategies as st

from platekit.errors import GeometryError
from platekit.export.build import OUTLINE_DECIMALS
from platekit.export.pathdata import path_data
from platekit.export.pathread import contour_read, profile_read
from platekit.geometry.booleans import difference
from platekit.geometry.chains import circle
from platekit.geometry.curves import Arc
from platekit.geometry.faults import require_sound
from platekit.geometry.motion import Motion
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import arc_slot, d_shape, rectangle, regular_polygon, slot

NANOMETRE_MM = 1e-6

SHAPES = {
    "rectangle": rectangle(120.0, 80.0),
    "rounded": rectangle(120.1234567, 80.7654321, fillet_mm=7.7777777),
    "circle": circle((17.3, -4.1), diameter_mm=22.123456),
    "slot": slot(40.0, 5.5, angle_deg=33.0),
    "bent slot": arc_slot(radius_mm=60.0, sweep_deg=100.0, width_mm=4.3),
    "most of a circle": d_shape(8.0, 7.5),
    "hexagon": regular_polygon(6, across_flats_mm=8.1),
}


def written(contour):
    """Return the words that build.json holds."""
    return path_data(contour, decimals=OUTLINE_DECIMALS)


def points_of(words, *, steps=7):
    """Return points that another reader of SVG (svgelements) finds on a path."""
    for segment in svgelements.Path(words):
        if isinstance(segment, svgelements.Arc | svgelements.Line):
            for k in range(steps):
                at = segment.point(k / steps)
                yield at.x, at.y


def off(contour, x, y):
    """Return how far a point lies from a contour, by school geometry, arc by arc."""
    return min(_off_segment(segment, x, y) for segment in contour.segments)


def _off_segment(segment, x, y):
    (x0, y0), (x1, y1) = segment.start, segment.end
    if isinstance(segment, Arc):
        cx, cy = segment.centre
        here, first = (math.atan2(b - cy, a - cx) for a, b in ((x, y), (x0, y0)))
        last = math.atan2(y1 - cy, x1 - cx)
        turn = 1 if segment.ccw else -1
        swept = (turn * (last - first)) % math.tau or math.tau
        if (turn * (here - first)) % math.tau <= swept:
            return abs(math.hypot(x - cx, y - cy) - segment.radius_mm)
        return min(math.hypot(x - x0, y - y0), math.hypot(x - x1, y - y1))
    along = ((x - x0) * (x1 - x0) + (y - y0) * (y1 - y0)) / ((x1 - x0) ** 2 + (y1 - y0) ** 2)
    along = min(max(along, 0.0), 1.0)
    return math.hypot(x - x0 - along * (x1 - x0), y - y0 - along * (y1 - y0))


@pytest.mark.parametrize("name", SHAPES)
def test_what_is_read_is_what_another_reader_finds(name):
    """The curve lies within a nanometre of the shape and of what svgelements makes of the words."""
    words = written(SHAPES[name])
    read = contour_read(words)
    points = list(points_of(words))
    assert len(points) >= 12
    for x, y in points:
        assert off(read, x, y) < NANOMETRE_MM
        assert off(SHAPES[name], x, y) < NANOMETRE_MM


@pytest.mark.parametrize("name", SHAPES)
def test_arcs_stay_arcs(name):
    """Same number of straight lines, same radii, same total length; a circle is one circle."""
    shape, read = SHAPES[name], contour_read(written(SHAPES[name]))
    assert read.is_circle == shape.is_circle
    assert read.is_ccw == shape.is_ccw
    assert read.length_mm == pytest.approx(shape.length_mm, abs=20 * NANOMETRE_MM)
    assert read.area_mm2 == pytest.approx(shape.area_mm2, abs=NANOMETRE_MM * shape.length_mm)
    radii = [
        {round(one.radius_mm, 6) for one in ring.segments if isinstance(one, Arc)}
        for ring in (shape, read)
    ]
    assert radii[0] == radii[1]


@settings(max_examples=60, deadline=None)
@given(
    width=st.floats(1.0, 900.0),
    fillet=st.floats(0.02, 0.49),
    turn=st.floats(0.0, 360.0),
    dx=st.floats(-2000.0, 2000.0),
)
def test_any_rounded_plate_comes_back(width, fillet, turn, dx):
    """Written and read, a plate anywhere at any angle keeps every edge within a nanometre."""
    plate = rectangle(width, 1.7 * width, fillet_mm=fillet * width)
    plate = plate.moved(Motion(dx_mm=dx, dy_mm=-dx / 3, turn_deg=turn))
    read = contour_read(written(plate))
    for x, y in points_of(written(plate), steps=3):
        assert off(plate, x, y) < NANOMETRE_MM
        assert off(read, x, y) < NANOMETRE_MM


def test_a_plate_keeps_its_holes():
    """A profile read back leaves nothing of the first when it is taken away, and the reverse."""
    holes = (circle((30.0, 10.0), diameter_mm=5.5), slot(20.0, 4.2, centre=(-20.0, 0.0)))
    plate = Profile(rectangle(120.0, 80.0, fillet_mm=6.0, centre=(0.0, 0.0)), holes)
    read = profile_read([written(ring) for ring in plate.rings])
    assert len(read.inners) == 2
    assert require_sound(read) is None
    assert difference(plate, read) == ()
    assert difference(read, plate) == ()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        pytest.param("", "a ring is written ''", id="nothing"),
        pytest.param("M 0 0 Z", "goes nowhere", id="no steps"),
        pytest.param("M 0 0 L 9 0 L 9 9", "a ring is written", id="not closed"),
        pytest.param("M 0 0 L 9 0 L 9 9 L 5 5 Z", "open", id="gap"),
        pytest.param("M 0 0 C 1 1 2 2 3 3 Z", "goes on with", id="a curve of another kind"),
        pytest.param("M 0 0 L nan 0 L 9 9 L 0 0 Z", "goes on with", id="no number"),
        pytest.param("M 0 0 L 1e99 0 L 9 9 L 0 0 Z", "goes on with", id="an exponent"),
        pytest.param("M 0 0 L 99999999 0 L 9 9 L 0 0 Z", "coordinate", id="beyond every sheet"),
        pytest.param("M 0 0 A 2 2 0 0 1 9 0 L 0 0 Z", "spans 9 mm", id="too short a radius"),
        pytest.param("M 0 0 A 9 8 0 0 1 9 0 L 0 0 Z", "the radii 9 and 8", id="an ellipse"),
        pytest.param("M 0 0 a 2 2 0 1 1 4 0 a 2 2 0 1 0 -4 0 Z", "circle", id="halves disagree"),
        pytest.param("M 0 0 a 2 2 0 1 1 5 0 a 2 2 0 1 1 -5 0 Z", "circle", id="no half circle"),
        pytest.param("M 0 0 a 0 0 0 1 1 0 0 a 0 0 0 1 1 -0 0 Z", "diameter is 0", id="a dot"),
        pytest.param("M 0 0 L 9 0 L 0 0 Z M 0 0", "a ring is written", id="two rings in one"),
    ],
)
def test_words_that_are_no_ring_of_ours(words, said):
    """One clear error, never another exception."""
    with pytest.raises(GeometryError, match=said):
        contour_read(words)


def test_no_ring_at_all():
    """A part without an edge is none."""
    with pytest.raises(GeometryError, match="no rings"):
        profile_read([])
