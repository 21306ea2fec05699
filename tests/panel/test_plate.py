"""Plates: what is accepted, what is refused and in which words, and how fast."""

import math

import pytest
from hypothesis import given, settings, strategies as st

from platekit.errors import PartError, PlatekitError, UnknownNameError
from platekit.geometry.booleans import union
from platekit.geometry.chains import circle, closed_polyline
from platekit.geometry.faults import find_faults
from platekit.geometry.hull import hull
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import rectangle, ring, slot
from platekit.materials import sheet
from platekit.panel.faces import cable_gland, motor_face
from platekit.panel.holes import bolt_circle, hole
from platekit.panel.lightening import lightening
from platekit.panel.openings import notch, nut_pocket, opening, vent_honeycomb, window
from platekit.panel.part import Grain, Part
from platekit.panel.places import beside, centre, corners, from_edges, grid, on_edge
from platekit.panel.plate import Plate

PLYWOOD = sheet("birch plywood", nominal_mm=6)


def test_a_first_plate_takes_few_lines():
    """Motor face, feet and a bolt circle: areas add up, nothing is worth a finding."""
    plate = Plate("motor base", PLYWOOD, rectangle(140, 110, fillet_mm=8)).with_features(
        motor_face("NEMA 23", at=centre()),
        hole("M5", at=corners(inset_mm=12), name="foot"),
    )
    part = plate.part()
    # 38.3 pilot with clearance; M5 holds a NEMA 23 face or M4: read from the part's own circles.
    holes = sum(math.pi * float(r.table[0, 6]) ** 2 for r in part.profile.inners)
    assert part.profile.area_mm2 == pytest.approx(140 * 110 - (4 - math.pi) * 64 - holes)
    assert len(part.profile.inners) == 9
    assert (part.name, part.sheet, part.quantity, part.grain) == (
        "motor base",
        PLYWOOD,
        1,
        Grain.ANY,
    )
    assert plate.findings == ()


def test_outlines_may_be_contours_profiles_or_booleans():
    """A ring brings its hole; a union of overlapping shapes is one outline."""
    assert Plate("washer", PLYWOOD, ring(outside_mm=60, inside_mm=30)).part().profile.inners
    joined = union(Profile(rectangle(80, 20)), Profile(rectangle(20, 80)))
    assert Plate("elbow", PLYWOOD, joined).profile.area_mm2 == pytest.approx(2 * 1600 - 400)
    around = hull([((0, 0), 20), ((60, 0), 20), ((30, 50), 10)], margin_mm=8)
    bosses = (hole(20, at=(0, 0)), hole(20, at=(60, 0)), hole(10, at=(30, 50)))
    assert len(Plate("bracket", PLYWOOD, around).with_features(*bosses).profile.inners) == 3


APART = union(Profile(rectangle(9, 9)), Profile(rectangle(9, 9, centre=(40, 0))))

OUTLINES = [
    (lambda: Plate("x", PLYWOOD, ()), "nothing of the plate is left"),
    (
        lambda: Plate("x", PLYWOOD, APART),
        "falls into 2 pieces",
    ),
    (lambda: Plate("x", PLYWOOD, "square"), "the outline is a str"),
    (lambda: Plate("x", PLYWOOD, closed_polyline([(0, 0), (9, 9), (9, 0), (0, 12)])), "crosses"),
    (lambda: Plate("x", PLYWOOD, rectangle(2e5, 10)), "200000 x 10 mm"),
    (
        lambda: Plate("x", PLYWOOD, Profile(rectangle(20, 20), (circle((40, 40), diameter_mm=3),))),
        "hole 1 lies outside the outline",
    ),
    (lambda: Plate("x", PLYWOOD, rectangle(9, 9), least_web_mm=-1), "least_web_mm is -1 mm"),
    (lambda: Plate("x", PLYWOOD, rectangle(9, 9), quantity=0), "quantity is 0"),
    (lambda: Plate("x", PLYWOOD, rectangle(9, 9), quantity=True), "quantity is True"),
    (lambda: Plate("x", PLYWOOD, rectangle(9, 9), quantity=2.0), "quantity is 2.0"),
]  # fmt: skip


@pytest.mark.parametrize(("make", "says"), OUTLINES)
def test_bad_outlines_are_refused(make, says):
    """The message names the plate and what is wrong with it."""
    with pytest.raises(PartError) as caught:
        make()
    assert says in str(caught.value)
    assert str(caught.value).startswith("x: ")
    assert caught.value.remedy


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("", "which is empty"),
        ("   ", "which is empty"),
        (None, "is None"),
        ("lid/left", "holds '/'"),
        ("..", "holds '.'"),
        ("a\\b", "holds '\\\\'"),
        ("lid\n", "holds '\\n'"),
        ("d\u00e9ck", "holds"),
        (" lid", "begins or ends with a space"),
        ("CON", "device on some systems"),
        ("lpt1", "device on some systems"),
        ("x" * 65, "has 65 letters"),
    ],
)
def test_names_that_are_no_file_names_are_refused(name, says):
    """Empty, separators, odd letters, devices, too long: refused with what is allowed."""
    with pytest.raises(PartError) as caught:
        Plate(name, PLYWOOD, rectangle(50, 50))
    assert says in str(caught.value)
    with pytest.raises(PartError):
        Part(name, PLYWOOD, Profile(rectangle(50, 50)))


@pytest.mark.parametrize("name", ["lid", "motor base 2", "Wall_left-3", "x" * 64, "console"])
def test_ordinary_names_pass(name):
    """Letters, digits, spaces, - and _ up to 64."""
    assert Plate(name, PLYWOOD, rectangle(50, 50)).name == name


FEATURES = [
    ([hole(10, at=(200, 50))], "10 mm hole", "lies off the plate, at (200, 50)"),
    ([hole(10, at=(0, 55))], "10 mm hole", "lies across the plate's edge"),
    ([hole(10, at=(5, 55))], "10 mm hole", "lies across the plate's edge"),
    ([hole(10, at=(3, 3))], "10 mm hole", "it spans -2..8 by -2..8 mm on a plate of 0..140"),
    ([hole(300)], "300 mm hole", "lies off the plate"),
    ([hole(10, at=(50, 50), name="a"), hole(10, at=(55, 50), name="b")], "a", "overlaps 'b'"),
    ([hole(10, at=(50, 50), name="a"), hole(10, at=(60, 50), name="b")], "a", "touches or"),
    ([window(40, 40, name="w"), hole(5, at=centre(), name="h")], "h", "touches or overlaps 'w'"),
    ([bolt_circle(12, 20, pcd_mm=60)], "bolt circle", "its own cuts touch or overlap"),
    ([hole(5, at=grid(columns=3, rows=1, pitch_mm=4), name="g")], "g 1", "overlaps 'g 2'"),
    ([hole(5, at=beside("pilot"))], "5 mm hole", "unknown feature 'pilot'"),
    ([hole(5, at=(50, 50), name="a"), hole(5, at=(90, 50), name="a")], "a", "named 'a' already"),
    (
        [opening(closed_polyline([(0, 0), (9, 9), (9, 0), (0, 12)]), at=(50, 50))],
        "opening",
        "its cut crosses or touches itself",
    ),
    ([notch(20, 10, at=(70, 55))], "notch", "does not reach the plate's edge"),
    ([notch(20, 200, at=on_edge("bottom"))], "notch", "falls into 2 pieces"),
    ([notch(400, 300, at=on_edge("bottom"))], "notch", "nothing of the plate is left"),
    ([hole(6, at=(70, 8)), notch(20, 10, at=on_edge("bottom"))], "6 mm hole", "lies across"),
    ([hole(6, at=(70, 5)), notch(20, 10, at=on_edge("bottom"))], "6 mm hole", "lies off the plate"),
    ([nut_pocket("M5", reach_mm=20, at=(70, 50))], "M5 nut pocket", "does not reach"),
    ([hole(100), lightening(web_mm=8, cell_mm=60)], "lightening", "no pocket of 60 mm fits"),
    ([lightening(web_mm=0.1, cell_mm=0.5)], "lightening", "make them larger"),
    (["a hole"], "", "a str is no feature"),
]


@pytest.mark.parametrize(("features", "feature", "says"), FEATURES)
def test_misplaced_features_name_plate_feature_and_remedy(base, features, feature, says):
    """The error names the plate and the feature, says where, and what to do."""
    with pytest.raises(PlatekitError) as caught:
        base.with_features(*features)
    assert says in str(caught.value)
    assert caught.value.part == "base"
    assert caught.value.feature == feature
    assert caught.value.remedy


def test_features_added_later_are_checked_against_earlier_ones(base):
    """One by one or all at once: the same overlap is found."""
    with pytest.raises(PartError, match="overlaps 'pilot'"):
        base.with_features(hole(30, name="pilot")).with_features(hole(5, name="new"))


def test_holes_in_an_opening_of_the_outline_are_refused():
    """A ring's middle is not material; nor may a cut swallow it."""
    washer = Plate("washer", PLYWOOD, ring(outside_mm=80, inside_mm=40))
    for bad in (hole(5, at=(0, 0)), hole(60, at=(0, 0)), hole(5, at=(20, 0))):
        with pytest.raises(PartError):
            washer.with_features(bad)
    assert washer.with_features(hole(5, at=(30, 0))).profile.inners


def test_cutting_away_checks_what_stands_in_the_rest(base):
    """A corner can be cut off, but not under a hole, and not into two plates."""
    plate = base.with_features(hole(10, at=(120, 90)))
    cut = plate.cut_away(rectangle(40, 40, centre=(0, 0)))
    # The 20 x 20 quarter inside, whose own corner was rounded at 8 mm already.
    assert plate.profile.area_mm2 - cut.profile.area_mm2 == pytest.approx(
        400 - (1 - math.pi / 4) * 64
    )
    with pytest.raises(PartError, match="10 mm hole"):
        plate.cut_away(rectangle(60, 60, centre=(130, 100)))
    with pytest.raises(PartError, match="falls into 2 pieces"):
        plate.cut_away(rectangle(10, 400, centre=(70, 50)))
    assert plate.cut_away(slot(20, 8, centre=(40, 40))).outline.inners


def test_thin_webs_are_findings_with_the_measured_value(base):
    """1.5 mm between two holes and 2 mm to the edge are reported, 6 mm is not."""
    plate = base.with_features(
        hole(10, at=(50, 50), name="a"), hole(10, at=(61.5, 50), name="b"),
        hole(10, at=(7, 60), name="rim"), hole(10, at=(90, 50), name="far"),
    )  # fmt: skip
    said = {(f.feature, f.measure): (f.value, f.limit) for f in plate.findings}
    assert said == {
        ("a + b", "web between them"): (pytest.approx(1.5, abs=1e-9), 6.0),
        ("rim", "web to the edge"): (pytest.approx(2.0, abs=1e-9), 6.0),
    }
    assert all(f.source and f.remedy and f.part == "base" for f in plate.findings)


def test_stated_webs_are_no_findings(base):
    """A comb with 3 mm webs is held to 3 mm, not to what the sheet would like."""
    assert base.with_features(vent_honeycomb(60, 50, web_mm=3)).findings == ()
    strict = Plate("strict", PLYWOOD, rectangle(100, 100), least_web_mm=1.0)
    assert strict.with_features(hole(10, at=(7, 50))).findings == ()


def test_crowded_parts_are_findings(base):
    """A lock nut's room that a hole or the edge enters is said by name."""
    plate = base.with_features(
        cable_gland("M20", at=(13, 55), name="gland"), hole(3, at=(27.5, 55), name="pin")
    )
    said = [f.measure for f in plate.findings if "room" in f.measure]
    assert "room for cable gland M20 is not clear of the edge" in said


def test_frame_and_features_by_name(base):
    """Unknown feature names offer the known ones."""
    plate = base.with_features(hole(30, name="pilot"))
    assert plate.feature("pilot").at == (70, 55)
    with pytest.raises(UnknownNameError, match="base: unknown feature 'pilt'; did you mean pilot"):
        plate.feature("pilt")


def test_a_plate_made_whole_is_checked_as_one_made_in_steps(base):
    """Features handed to the constructor, as joints do, are held against the outline."""
    placed = base.with_features(hole(10, at=(120, 90))).features
    assert Plate("same", PLYWOOD, rectangle(140, 110), features=placed).features == placed
    with pytest.raises(PartError, match="same / 10 mm hole"):
        Plate("same", PLYWOOD, rectangle(100, 80), features=placed)


def test_plates_are_values(base):
    """Adding a feature makes a new plate; the old one stays as it was."""
    more = base.with_features(hole(5))
    assert base.features == ()
    assert base == Plate("base", base.sheet, rectangle(140, 110, fillet_mm=8))
    assert more != base


@settings(derandomize=True, max_examples=80, deadline=None)
@given(
    x=st.floats(-20, 160), y=st.floats(-20, 130), d=st.floats(1, 60),
)  # fmt: skip
def test_a_hole_is_accepted_exactly_when_it_lies_inside(x, y, d):
    """On a plain rectangle: distance to every side above the radius, by arithmetic."""
    plate = Plate("p", PLYWOOD, rectangle(140, 110))
    x, y, d = round(x, 4), round(y, 4), round(d, 4)
    clear = min(x, y, 140 - x, 110 - y) - d / 2
    try:
        part = plate.with_features(hole(d, at=(x, y))).profile
    except PartError:
        assert clear <= 1e-6
    else:
        assert clear > 0
        assert find_faults(part) == ()


def test_two_hundred_holes_are_two_hundred_circles():
    """A grid of 20 by 10 is placed whole, every hole apart; its time is a benchmark's matter."""
    bare = Plate("sieve", PLYWOOD, rectangle(500, 300))
    plate = bare.with_features(hole(6, at=grid(columns=20, rows=10, pitch_mm=20)))
    assert len(plate.profile.inners) == 200
    assert all(ring.is_circle for ring in plate.profile.inners)


def test_from_edges_puts_a_hole_where_a_rule_would(base):
    """20 mm from the right and 15 mm from the top edge of a 140 x 110 plate is (120, 95)."""
    plate = base.with_features(hole(4, at=from_edges(right_mm=20, top_mm=15)))
    assert plate.features[0].at == (120, 95)
