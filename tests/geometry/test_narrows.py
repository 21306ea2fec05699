"""Narrow places of rings, against closed forms and against shapely eroding and opening a shape."""

import math

import pytest
import shapely
from hypothesis import assume, given, settings, strategies as st

from platekit.geometry.booleans import difference, single, union
from platekit.geometry.chains import circle
from platekit.geometry.motion import Motion
from platekit.geometry.narrows import narrows
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import arc_slot, polygon, rectangle, ring, slot
from tests.amounts import examples
from tests.geometry.offset_shapes import random_profiles, seeded


def dumb_bell(neck_mm: float, length_mm: float) -> Profile:
    """Two 20 mm squares joined by a straight neck."""
    h, half = neck_mm / 2, length_mm / 2
    right = [(half, -h), (half, -10), (half + 20, -10), (half + 20, 10), (half, 10), (half, h)]
    left = [(-x, -y) for x, y in right]
    return Profile(polygon([*right, *left]))


@pytest.mark.parametrize("neck_mm", [0.05, 1.0, 2.999])
@pytest.mark.parametrize("length_mm", [0.5, 15.0])
def test_a_neck_is_found_with_its_width_and_place(neck_mm, length_mm):
    """Closed form: the neck is as wide as drawn, and lies in the middle."""
    (found,) = narrows(dumb_bell(neck_mm, length_mm), within_mm=3.0)
    assert found.width_mm == pytest.approx(neck_mm, abs=1e-9)
    assert math.hypot(*found.at) < 1e-6
    assert found.ring == 0


def test_what_is_as_wide_as_asked_is_not_narrow():
    """3 mm asked and 3 mm there."""
    assert narrows(dumb_bell(3.0, 15.0), within_mm=3.0) == ()


def test_a_neck_between_two_arcs_is_their_centres_distance_less_the_radii():
    """Two bites of radius 9 into a strip 20 high, from above and below: 20 - 18 = 2 are left."""
    bites = [circle((0, y), diameter_mm=18) for y in (-10, 10)]
    left = single(difference(rectangle(80, 20, centre=(0, 0)), *bites), after="two bites")
    (found,) = narrows(left, within_mm=3.0)
    assert found.width_mm == pytest.approx(2.0, abs=1e-9)
    assert math.hypot(*found.at) < 0.05


def test_a_bent_strip_is_as_wide_as_its_radii_differ():
    """A slot along three quarters of a circle in a disc: the bridge and the void beside it."""
    bent = arc_slot(radius_mm=20, sweep_deg=270, width_mm=1.5)
    plate = Profile(circle((0, 0), diameter_mm=60), (bent,))
    voids = narrows(plate, within_mm=2.0, of_void=True)
    assert {round(one.width_mm, 9) for one in voids} == {1.5}
    assert {one.ring for one in voids} == {1}
    assert narrows(plate, within_mm=2.0) == ()
    strip = Profile(arc_slot(radius_mm=20, sweep_deg=270, width_mm=1.5))
    assert narrows(strip, within_mm=2.0)[0].width_mm == pytest.approx(1.5, abs=1e-9)


def test_small_discs_and_holes_are_as_wide_as_their_diameter():
    """A disc of 1.2 mm, and one of 60 mm with a hole of 0.9."""
    assert narrows(Profile(circle((0, 0), diameter_mm=1.2)), within_mm=2)[0].width_mm == 1.2
    bored = ring(outside_mm=60, inside_mm=0.9)
    assert narrows(bored, within_mm=2) == ()
    assert narrows(bored, within_mm=2, of_void=True)[0].width_mm == pytest.approx(0.9)


@pytest.mark.parametrize("tip_deg", [5, 20, 60, 90, 130])
def test_sharp_corners_are_no_narrow_places(tip_deg):
    """A triangle comes as near to itself as one likes, at its tip: that is a corner."""
    reach = 60 * math.tan(math.radians(tip_deg / 2))
    assert narrows(Profile(polygon([(0, 0), (60, -reach), (60, reach)])), within_mm=5) == ()


@pytest.mark.parametrize(("tip_mm", "root_mm", "narrow"), [(1, 2, True), (1, 60, False)])
def test_a_tongue_that_tapers_a_little_is_narrow_and_a_cut_off_wedge_is_not(
    tip_mm, root_mm, narrow
):
    """30 mm long on a block: walls that lean by 1 degree face each other, by 45 they do not."""
    points = [(0, -40), (0, -root_mm / 2), (30, -tip_mm / 2), (30, tip_mm / 2), (0, root_mm / 2)]
    found = narrows(Profile(polygon([*points, (0, 40), (-50, 40), (-50, -40)])), within_mm=3)
    assert bool(found) is narrow
    if narrow:
        assert found[0].width_mm == pytest.approx(tip_mm, rel=0.01)


def test_a_step_in_a_wall_is_no_narrow_place():
    """Walls 1.35 mm apart that look the same way, as beside a nut in its pocket."""
    stepped = polygon([(0, 0), (50, 0), (50, 20), (48.65, 20), (48.65, 40), (0, 40)])
    assert narrows(Profile(stepped), within_mm=5) == ()
    assert narrows(Profile(stepped), within_mm=5, of_void=True) == ()


def test_a_narrow_slot_is_narrow_across_its_void_alone():
    """A slot 0.4 mm wide in a plate, and a notch as wide."""
    plate = Profile(rectangle(60, 40, centre=(0, 0)), (slot(20, 0.4),))
    assert narrows(plate, within_mm=2) == ()
    assert narrows(plate, within_mm=2, of_void=True)[0].width_mm == pytest.approx(0.4)
    notched = single(difference(plate, rectangle(0.3, 20, centre=(25, 20))), after="a notch")
    width, ring_number = min(
        (n.width_mm, n.ring) for n in narrows(notched, within_mm=2, of_void=True)
    )
    assert (round(width, 9), ring_number) == (0.3, 0)


def shavings(whole: shapely.Polygon, r: float) -> shapely.Geometry:
    """Return what a disc of radius r leaves in each square outer corner, a hair more of it."""
    ring = list(shapely.orient_polygons(whole).exterior.coords)[:-1]
    made = []
    for k, (x, y) in enumerate(ring):
        (ax, ay), (bx, by) = ring[k - 1], ring[(k + 1) % len(ring)]
        if (x - ax) * (by - y) - (y - ay) * (bx - x) > 0:
            sx, sy = math.copysign(r, ax - x + bx - x), math.copysign(r, ay - y + by - y)
            square = shapely.box(min(x, x + sx), min(y, y + sy), max(x, x + sx), max(y, y + sy))
            disc = shapely.buffer(shapely.Point(x + sx, y + sy), r, quad_segs=64)
            made.append(shapely.difference(square, disc))
    return shapely.buffer(shapely.union_all(made), 0.01)


CELLS = st.sets(st.tuples(st.integers(0, 7), st.integers(0, 7)), min_size=20, max_size=60)


@settings(derandomize=True, max_examples=examples(30, thorough=80), deadline=None)
@given(cells=CELLS, within=st.sampled_from([1.5, 2.5, 3.5]))
def test_it_agrees_with_shapely_eroding_and_opening_rectilinear_shapes(cells, within):
    """Independent library: narrow is what falls apart when eroded, or is gone when opened.

    Opening with a disc rounds every square corner; what is lost beyond that is a tongue too thin
    for the disc.
    """
    joined = shapely.union_all([shapely.box(x, y, x + 1, y + 1) for x, y in sorted(cells)])
    largest = max(shapely.get_parts(joined), key=lambda part: part.area)
    whole = shapely.Polygon(largest.exterior).simplify(0)
    eroded = shapely.buffer(whole, -0.01)
    assume(whole.is_valid and isinstance(eroded, shapely.Polygon))
    r = within / 2
    core = shapely.buffer(whole, -r, quad_segs=64)
    opened = shapely.buffer(core, r + 1e-3, quad_segs=64)
    lost = shapely.difference(shapely.difference(whole, opened), shavings(whole, r))
    thin = len(shapely.get_parts(core)) != 1 or lost.area > 1e-3
    found = narrows(Profile(polygon(list(whole.exterior.coords)[:-1])), within_mm=within)
    assert bool(found) is thin


@pytest.mark.parametrize("seed", range(0, 60, 3))
def test_the_narrowest_place_does_not_turn_with_the_shape(seed):
    """A turned and mirrored copy is as narrow as the shape itself: random lines and arcs."""
    moved = Motion(dx_mm=3.3, dy_mm=-7.1, turn_deg=33.0, mirrored=True)
    for shape in random_profiles(seeded(seed), grid=None if seed % 2 else 1.0):
        for of_void in (False, True):
            # No width of the grid, which rounding might put on either side of the limit.
            found = narrows(shape, within_mm=4.0713, of_void=of_void)
            again = narrows(shape.moved(moved), within_mm=4.0713, of_void=of_void)
            assert bool(found) is bool(again)
            if found:
                assert again[0].width_mm == pytest.approx(found[0].width_mm, abs=1e-9)


def test_a_disc_that_hangs_on_a_wall_is_joined_by_a_neck():
    """Closed form: a circle of radius 10 whose middle is 8 above a wall: the chord is 2 x 6."""
    wall, disc = rectangle(80, 20, centre=(0, -10)), circle((0, 8), diameter_mm=20)
    (found,) = narrows(single(union(wall, disc), after="joining"), within_mm=13)
    assert found.width_mm == pytest.approx(12.0, abs=1e-9)
    assert math.hypot(*found.at) < 0.05
