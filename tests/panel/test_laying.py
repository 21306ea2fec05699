"""Wishes for the sheet a plate is cut from: carried through, and face down only where it may be."""

from __future__ import annotations

import pytest
import shapely
from shapely import affinity

from platekit import Assembly, Laying, Plate, lying, standing
from platekit.errors import PartError
from platekit.geometry.chords import polyline_points, to_polygon
from platekit.geometry.shapes import polygon, rectangle
from platekit.materials import birch_plywood
from platekit.panel.flipping import face_of, flipped
from platekit.panel.holes import hole
from platekit.panel.lettering import text_width_mm
from platekit.panel.marking import centre_mark, lettering
from platekit.panel.part import Grain

SHEET = birch_plywood(6.0)
WISHES = Laying(may_flip=True, together="door", on="offcut 3")
# An L whose long leg lies along x: its mirror image is another shape.
LSHAPE = polygon([(0, 0), (120, 0), (120, 30), (40, 30), (40, 80), (0, 80)])


def lines(marks) -> shapely.MultiLineString:
    """Return marks as shapely sees them."""
    return shapely.MultiLineString(
        [polyline_points(mark.path, tolerance_mm=1e-3) for mark in marks]
    )


def test_a_plate_hands_its_wishes_to_its_part():
    """Alone, with features added, and cut away from."""
    plate = Plate("lid", SHEET, LSHAPE, laying=WISHES)
    assert plate.part().laying == WISHES
    assert plate.with_features(hole(8.0, at=(20, 20))).part().laying == WISHES
    assert plate.cut_away(rectangle(10, 10, centre=(0, 0))).part().laying == WISHES
    assert Plate("lid", SHEET, LSHAPE).part().laying == Laying()


def test_joints_keep_the_wishes():
    """A plate cut to its joints wants what it wanted before."""
    rig = Assembly("rig").with_panels(
        lying(Plate("floor", SHEET, rectangle(120, 80), laying=WISHES), bottom_mm=0),
        standing(Plate("wall", SHEET, rectangle(120, 60)), facing="front", front_mm=0, bottom_mm=0),
    )
    wishes = {part.name: part.laying for part in rig.resolve().parts}
    assert wishes == {"floor": WISHES, "wall": Laying()}


def test_what_is_scored_on_the_good_face_stays_there():
    """A scored mark and a plate that may lie face down exclude each other; a note does not."""
    plate = Plate("lid", SHEET, rectangle(120, 80), laying=Laying(may_flip=True))
    for feature in (lettering("UP", name="which way"), centre_mark(name="which way")):
        with pytest.raises(PartError, match=r"lid / which way: .*cannot be cut face down") as err:
            plate.with_features(feature).part()
        assert "may_flip" in err.value.remedy
    assert plate.with_features(centre_mark(layer="note")).part().marks


@pytest.mark.parametrize(
    ("wishes", "said"),
    [({"may_flip": 1}, "may_flip is 1"), ({"together": 3}, "together is 3"), ({"on": 3}, "on is")],
)
def test_wishes_of_another_type_are_refused(wishes, said):
    """By name and value."""
    with pytest.raises(PartError, match=said):
        Laying(**wishes)


def test_face_down_the_shape_is_mirrored_and_the_name_is_not():
    """By shapely: the shape is the mirror image; the name has its own width, on the material."""
    plate = Plate("lid", SHEET, LSHAPE, laying=Laying(may_flip=True), grain=Grain.ALONG_X)
    part = plate.with_features(hole(8.0, at=(20, 60))).part()
    down = flipped(face_of(part))
    true = affinity.scale(to_polygon(part.profile), -1, 1, origin=(0, 0))
    assert to_polygon(down.profile).symmetric_difference(true).area < 1e-6
    name = lines([mark for mark in down.marks if mark.is_name])
    assert true.buffer(-1.9).covers(name)
    left, bottom, right, top = name.bounds
    assert right - left == pytest.approx(text_width_mm("LID", height_mm=top - bottom), rel=0.02)
    # Read from the left: L, then I, then D. An L's foot is its only stroke on the base line
    # right of the stem; mirrored it would lie left of it.
    first = next(mark for mark in down.marks if mark.is_name)
    points = polyline_points(first.path, tolerance_mm=1e-3)
    assert points[0][0] == points[1][0] == pytest.approx(left)
    assert points[2][0] > left
    arrow = lines([mark for mark in down.marks if not mark.is_name])
    assert not arrow.is_empty
    assert arrow.distance(name) >= 1.9
    assert flipped(face_of(Plate("x", SHEET, LSHAPE, lettered=False).part())).marks == ()
