"""Names on pieces: scored inside the part or not at all, noted on every piece."""

from __future__ import annotations

import math

import pytest
import shapely
from shapely import affinity

from platekit.geometry.chains import circle
from platekit.geometry.chords import polyline_points, to_polygon
from platekit.geometry.motion import Motion
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import polygon, rectangle
from platekit.job.names import NOTE_HEIGHTS_MM, lettered, name_note, without_name
from platekit.materials import birch_plywood
from platekit.panel.flipping import Face
from platekit.panel.marking import centre_mark
from platekit.panel.part import Mark
from platekit.panel.plate import Plate

PLATE = Profile(rectangle(120, 60))
RING = Profile(circle((0, 0), diameter_mm=80), (circle((0, 0), diameter_mm=56),))
LSHAPE = Profile(polygon([(0, 0), (90, 0), (90, 18), (18, 18), (18, 70), (0, 70)]))
NEEDLE = Profile(rectangle(4, 90))
DOT = Profile(circle((5, 5), diameter_mm=3))


def box_of(note) -> shapely.Polygon:
    """Return the box a note fills in DejaVu Sans: advances in em read from that face."""
    advances = {"l": 0.278, "i": 0.278, "d": 0.635, " ": 0.318, "1": 0.636, "2": 0.636}
    long = sum(advances[letter] for letter in note.text) * note.height_mm / 0.7
    flat = shapely.box(note.at.x, note.at.y, note.at.x + long, note.at.y + note.height_mm)
    return affinity.rotate(flat, note.turn_deg, origin=(note.at.x, note.at.y))


@pytest.mark.parametrize("shape", [PLATE, RING, LSHAPE, NEEDLE, DOT])
@pytest.mark.parametrize("turn_deg", [0.0, 37.0, 90.0])
def test_a_note_lies_on_its_piece(shape, turn_deg):
    """Whatever the shape and however it lies: by shapely, the text is on the material."""
    moved = shape.moved(Motion(dx_mm=300, dy_mm=200, turn_deg=turn_deg))
    note = name_note("lid 12", moved)
    assert note.text == "lid 12"
    assert note.height_mm in NOTE_HEIGHTS_MM
    assert to_polygon(moved).covers(box_of(note))


def test_a_note_keeps_off_scored_lines():
    """A line across the middle pushes it aside."""
    line = Mark(polygon([(0, 28), (120, 28), (120, 32), (0, 32)])).path
    note = name_note("lid", PLATE, marks=[line])
    assert not shapely.box(0, 28, 120, 32).intersects(box_of(note))


def test_a_note_for_which_there_is_no_room_stands_all_the_same():
    """On a speck it is as small as notes get, in its middle."""
    note = name_note("a long name for a speck", Profile(rectangle(0.5, 0.5, centre=(9, 9))))
    assert note.height_mm == NOTE_HEIGHTS_MM[-1]
    assert math.hypot(note.at.x - 9, note.at.y - 9) < 6


@pytest.mark.parametrize("shape", [PLATE, LSHAPE])
def test_a_scored_name_lies_inside(shape):
    """2 mm from every cut, by shapely."""
    face = lettered(Face(name="lid 12", profile=shape))
    strokes = shapely.MultiLineString(
        [polyline_points(mark.path, tolerance_mm=1e-3) for mark in face.marks]
    )
    assert to_polygon(shape).buffer(-1.99).covers(strokes)
    assert all(mark.is_name and mark.layer == "score" for mark in face.marks)


def test_accents_are_dropped_and_other_letters_are_not_guessed():
    """É is scored as E; what has no strokes is not scored at all, nor what has no room."""
    plain = lettered(Face(name="lide", profile=PLATE))
    accented = lettered(Face(name="lid\N{LATIN SMALL LETTER E WITH ACUTE}", profile=PLATE))
    assert plain.marks == accented.marks
    assert lettered(Face(name="\N{GREEK SMALL LETTER OMEGA}", profile=PLATE)).marks == ()
    assert lettered(Face(name="lid", profile=DOT)).marks == ()


def test_a_part_without_its_name_keeps_its_other_marks():
    """Only the strokes of the name go."""
    plate = Plate("lid", birch_plywood(6.0), rectangle(120, 60))
    part = plate.with_features(centre_mark(at=(30, 0))).part()
    bare = without_name(part)
    assert len(part.marks) > len(bare.marks) == 2
    assert bare.marks == plate.with_features(centre_mark(at=(30, 0))).marks
