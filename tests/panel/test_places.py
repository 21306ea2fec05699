"""Places: coordinates nobody has to compute by hand."""

import math

import pytest
from hypothesis import given, settings, strategies as st

from platekit.errors import PartError, PlatekitError, UnknownNameError
from platekit.geometry.chains import Bounds
from platekit.geometry.motion import Motion
from platekit.geometry.shapes import rectangle
from platekit.materials import birch_plywood
from platekit.panel.holes import hole
from platekit.panel.openings import slot
from platekit.panel.places import (
    Frame,
    around,
    beside,
    centre,
    corners,
    from_edges,
    grid,
    mirrored,
    on_edge,
    places,
    spots_at,
)
from platekit.panel.plate import Plate

FRAME = Frame(
    Bounds(10.0, 20.0, 150.0, 130.0), {"pilot": Motion(dx_mm=80.0, dy_mm=75.0, turn_deg=30.0)}
)


def at(place) -> list[tuple[float, float]]:
    """Coordinates of a place on the frame above."""
    return [(spot.dx_mm, spot.dy_mm) for spot in spots_at(place, FRAME)]


PLACES = [
    (centre(), [(80, 75)]),
    (centre(5, -5), [(85, 70)]),
    ((12.0, 34.0), [(12, 34)]),
    (from_edges(left_mm=12), [(22, 75)]),
    (from_edges(right_mm=12, top_mm=7), [(138, 123)]),
    (from_edges(bottom_mm=3), [(80, 23)]),
    (corners(inset_mm=12), [(22, 32), (138, 32), (138, 118), (22, 118)]),
    (corners(inset_mm=12, inset_y_mm=5), [(22, 25), (138, 25), (138, 125), (22, 125)]),
    (beside("pilot", dx_mm=20), [(100, 75)]),
    (on_edge("top"), [(80, 130)]),
    (on_edge("left", along_mm=(30, 60)), [(10, 50), (10, 80)]),
    (on_edge("bottom", along_mm=-20, from_middle=True), [(60, 20)]),
    (around("pilot", radius_mm=10, count=4), [(90, 75), (80, 85), (70, 75), (80, 65)]),
    (around((0, 0), radius_mm=5, count=2, start_deg=90, step_deg=90), [(0, 5), (-5, 0)]),
    (grid(columns=2, rows=2, pitch_mm=10), [(75, 70), (85, 70), (75, 80), (85, 80)]),
    (grid(columns=3, rows=1, pitch_mm=4, about=(0, 0)), [(-4, 0), (0, 0), (4, 0)]),
    (mirrored((20, 30)), [(20, 30), (140, 30)]),
    (mirrored((20, 30), across="horizontal"), [(20, 30), (20, 120)]),
    (mirrored((20, 30), across="both"), [(20, 30), (140, 30), (20, 120), (140, 120)]),
    (places((1, 2), centre()), [(1, 2), (80, 75)]),
]


@pytest.mark.parametrize(("place", "expected"), PLACES)
def test_places_resolve_to_the_coordinates_one_would_compute(place, expected):
    """Each place lies where pencil and paper put it on a frame from (10, 20) to (150, 130)."""
    assert at(place) == [pytest.approx(point, abs=1e-12) for point in expected]


@pytest.mark.parametrize(
    ("edge", "inward"), [("bottom", (0, 1)), ("top", (0, -1)), ("left", (1, 0)), ("right", (-1, 0))]
)
def test_edge_places_face_into_the_plate(edge, inward):
    """A feature's own +y points inwards at every edge."""
    spot = on_edge(edge).spots(FRAME)[0]
    tip, foot = spot.apply((0, 1)), spot.apply((0, 0))
    assert (tip.x - foot.x, tip.y - foot.y) == inward


def test_mirrored_things_are_mirrored(base):
    """A slanting slot and its mirror image slant opposite ways; two mirrorings make a half turn."""
    plate = base.with_features(
        slot(20, 5, turn_deg=30, at=mirrored((30, 30), across="both"), name="s")
    )
    boxes = [one.bounds for one in plate.features]
    assert {(round(b.width_mm, 9), round(b.height_mm, 9)) for b in boxes} == {
        (round(boxes[0].width_mm, 9), round(boxes[0].height_mm, 9))
    }
    first, right, upper, across = (one.cuts[0] for one in plate.features)
    lean = [cut.segments[0] for cut in (first, right, upper, across)]
    slopes = [(s.end.y - s.start.y) / (s.end.x - s.start.x) for s in lean]
    assert slopes == pytest.approx([math.tan(math.radians(a)) for a in (30, -30, -30, 30)])
    assert all(cut.is_ccw for cut in plate.profile.inners) is False


@settings(derandomize=True, max_examples=60)
@given(
    left=st.floats(0, 140), bottom=st.floats(0, 110), count=st.integers(1, 24), r=st.floats(1, 50)
)
def test_places_around_a_place_keep_their_radius(left, bottom, count, r):
    """However many, all lie at the radius and at equal steps of angle."""
    hub = from_edges(left_mm=left, bottom_mm=bottom)
    found = at(around(hub, radius_mm=r, count=count))
    (x, y), *_ = at(hub)
    assert all(math.dist(p, (x, y)) == pytest.approx(r, rel=1e-9) for p in found)
    chord = 2 * r * math.sin(math.pi / count)
    for k in range(count - 1):
        assert math.dist(found[k], found[k + 1]) == pytest.approx(chord, rel=1e-6)


def test_features_at_several_places_are_numbered(base):
    """Four feet are foot 1 to foot 4; a later feature finds them by name."""
    plate = base.with_features(
        hole("M5", at=corners(inset_mm=12), name="foot"), hole(3, at=beside("foot 3", dx_mm=-20))
    )
    assert [one.name for one in plate.features] == [
        *(f"foot {k}" for k in range(1, 5)),
        "3 mm hole",
    ]
    assert plate.feature("3 mm hole").at == (108, 98)


def test_unnamed_features_count_on(base):
    """Features without a name are told apart by number, over several calls too."""
    plate = base.with_features(hole(3, at=(20, 20)), hole(3, at=(30, 20)))
    plate = plate.with_features(hole(3, at=places((40, 20), (50, 20))))
    names = [one.name for one in plate.features]
    assert names == ["3 mm hole", "3 mm hole 2", "3 mm hole 3", "3 mm hole 4"]


BAD = [
    (lambda: centre(math.nan), PartError, "dx_mm is nan"),
    (lambda: from_edges(left_mm=1, right_mm=2), PartError, "both left_mm and right_mm"),
    (lambda: from_edges(top_mm=math.inf), PartError, "top_mm is inf"),
    (lambda: corners(inset_mm=0), PartError, "inset_mm is 0 mm"),
    (lambda: on_edge("north"), UnknownNameError, "unknown edge 'north'"),
    (lambda: around("pilot", radius_mm=-1), PartError, "radius_mm is -1 mm"),
    (lambda: around("pilot", radius_mm=5, count=0), PartError, "count is 0"),
    (lambda: grid(columns=2.5, rows=1, pitch_mm=3), PartError, "columns is 2.5"),
    (lambda: grid(columns=2, rows=1, pitch_mm=2e5), PartError, "check the unit"),
    (lambda: mirrored((0, 0), across="diagonal"), UnknownNameError, "'diagonal'"),
    (places, PartError, "no places are given"),
    (lambda: at(beside("pilto")), UnknownNameError, "did you mean pilot?"),
    (lambda: at((1.0, 2.0, 3.0)), PlatekitError, "is no point"),
    (lambda: at((1.0, math.nan)), PlatekitError, "is no point"),
]


@pytest.mark.parametrize(("make", "kind", "says"), BAD)
def test_bad_places_are_refused(make, kind, says):
    """The message gives what was asked for and what would do."""
    with pytest.raises(kind) as caught:
        make()
    assert says in str(caught.value)


@pytest.mark.parametrize("at", ["centre", 5, [1, 2], None])
def test_what_is_no_place_is_said(at):
    """A word, a number or a list in place of a place names what to write instead."""
    plate = Plate("a", birch_plywood(6.0), rectangle(100, 100))
    with pytest.raises(PartError, match="no place") as caught:
        plate.with_features(hole(5, at=at))
    assert caught.value.part == "a"
    assert "centre()" in caught.value.remedy
