"""Sheets as cut files: pieces face down, names both ways up, the edges of an odd offcut."""

from __future__ import annotations

import numpy as np
import pytest

from platekit.cutting.drawing import Layer
from platekit.geometry.chords import polyline_points, to_polygon
from platekit.geometry.motion import Motion
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import polygon, rectangle
from platekit.job.drawings import sheet_drawings
from platekit.job.laid import LaidSheet
from platekit.job.names import lettered
from platekit.nesting import NestedSheet, Placement, Stock
from platekit.panel.flipping import Face
from platekit.panel.lettering import text_width_mm

HOOK = Profile(polygon([(0, 0), (120, 0), (120, 30), (40, 30), (40, 80), (0, 80)]))
# What a beam of 0.2 mm follows is a hair larger; here a plain shape will do.
PATH = Profile(polygon([(-1, -1), (121, -1), (121, 31), (41, 31), (41, 81), (-1, 81)]))


def drawing(*rows, names="score", shape=None):
    """Return the drawing of one sheet with the hook placed as (x, y, turn, face down)."""
    placements = tuple(
        Placement(part="hook", copy=k, x_mm=x, y_mm=y, rotation_deg=turn, mirrored=down)
        for k, (x, y, turn, down) in enumerate(rows, start=1)
    )
    nested = NestedSheet(
        stock=Stock(400, 300, 1, shape=shape),
        width_mm=400,
        height_mm=300,
        placements=placements,
        used_length_mm=400,
        utilisation=0.5,
    )
    face = Face(name="hook", profile=HOOK)
    face = lettered(face) if names == "score" else face
    made = sheet_drawings(
        [LaidSheet(nested=nested)], faces=[face], paths={"hook": PATH}, names=names
    )
    return made["sheets/1"]


def points(chain):
    """Return a chain's points."""
    return polyline_points(chain, tolerance_mm=0.01)


@pytest.mark.parametrize("turn", [0.0, 90.0, 37.0])
def test_a_piece_face_down_is_cut_where_its_placement_says(turn):
    """The beam's path is the part's, mirrored, turned and moved: by shapely, the same area."""
    made = drawing((250, 150, turn, True))
    (cut,) = (entry.shape for entry in made.entries if entry.layer is Layer.OUTSIDE_CUT)
    there = Motion(dx_mm=250, dy_mm=150, turn_deg=turn, mirrored=True)
    true = to_polygon(PATH.moved(there))
    assert to_polygon(Profile(cut)).symmetric_difference(true).area < 1e-6


def test_a_scored_name_reads_the_same_both_ways_up():
    """Face down its strokes are those of the name face up, only moved, and inside the piece."""
    up, down = (
        [e.shape for e in drawing((200, 100, 0, way)).entries if e.layer is Layer.SCORE]
        for way in (False, True)
    )
    first, second = (np.vstack([points(stroke) for stroke in strokes]) for strokes in (up, down))
    assert second - second.min(axis=0) == pytest.approx(first - first.min(axis=0), abs=1e-8)
    height = np.ptp(second[:, 1])
    assert np.ptp(second[:, 0]) == pytest.approx(text_width_mm("HOOK", height_mm=height), rel=0.02)
    there = HOOK.moved(Motion(dx_mm=200, dy_mm=100, mirrored=True))
    assert there.contains_each(second).all()


def test_a_noted_name_lies_on_each_piece():
    """One line of text a piece, its beginning on the material, whatever way the piece lies."""
    rows = [(10, 10, 0, False), (390, 150, 0, True), (200, 290, 180, False)]
    made = drawing(*rows, names="note")
    assert [note.text for note in made.notes] == ["hook"] * 3
    assert not [entry for entry in made.entries if entry.layer is Layer.SCORE]
    shapes = [
        PATH.moved(Motion(dx_mm=x, dy_mm=y, turn_deg=turn, mirrored=down))
        for x, y, turn, down in rows
    ]
    assert all(any(shape.contains(note.at) for note in made.notes) for shape in shapes)


def test_an_odd_offcut_is_put_down_by_its_edges():
    """Its rings come first, as notes that no laser follows; a whole sheet has none."""
    hole = rectangle(30, 30, centre=(60, 250))
    shape = Profile(polygon([(0, 0), (400, 0), (400, 100), (150, 300), (0, 300)]), (hole,))
    made = drawing((10, 10, 0, False), shape=shape)
    first, second = made.entries[:2]
    assert (first.layer, second.layer) == (Layer.NOTE, Layer.NOTE)
    assert (first.shape, second.shape) == shape.rings
    assert Layer.NOTE not in {entry.layer for entry in drawing((10, 10, 0, False)).entries}
