"""Names on pieces: burnt into the face, or as notes that no laser follows."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from platekit.cutting.drawing import Note
from platekit.export.captions import text_width_px
from platekit.export.label_room import CELL_PX, LabelRoom
from platekit.export.svg import CAPITAL_OF_FONT_SIZE
from platekit.geometry.chains import Chain
from platekit.geometry.points import Point
from platekit.geometry.profile import Profile
from platekit.panel.flipping import Face
from platekit.panel.lettering import spelt
from platekit.panel.naming import name_marks
from platekit.panel.part import Part

# A note is read on a screen, where one can look closer: on small pieces it becomes small.
NOTE_HEIGHTS_MM = (6.0, 5.0, 4.0, 3.0, 2.0, 1.4, 1.0, 0.7, 0.5, 0.35)
CLEAR_OF_LINES = 0.3  # of a note's height

# Room is looked for in cells: finer than letters, and not too many on a large piece.
FINEST_CELL_MM = 0.1
CELLS_ACROSS = 300


def without_name(part: Part) -> Part:
    """Return a part with its name not scored on it; every other mark stays."""
    return replace(part, marks=tuple(mark for mark in part.marks if not mark.is_name))


def lettered(face: Face) -> Face:
    """Return a face with its name scored on it, if its letters have strokes and it has room."""
    marks, _ = name_marks(face.profile, spelt(face.name), marks=face.marks)
    return replace(face, marks=(*face.marks, *marks))


def name_note(name: str, profile: Profile, *, marks: Iterable[Chain] = ()) -> Note:
    """Return a name as a note on a piece: inside it and clear of its lines where there is room.

    Args:
        name: What it says.
        profile: The piece where it lies.
        marks: Lines on its face, in the same coordinates.
    """
    box = profile.bounds
    cell = max(FINEST_CELL_MM, max(box.width_mm, box.height_mm) / CELLS_ACROSS)
    room = LabelRoom(profile, marks=marks, scale=CELL_PX / cell)
    for height in NOTE_HEIGHTS_MM:
        # As wide as the widest common face would set it.
        length = text_width_px(name, size_px=height / CAPITAL_OF_FONT_SIZE)
        long, across = (one + 2 * CLEAR_OF_LINES * height for one in (length, height))
        for turn_deg in (0.0, 90.0):
            wide, high = (long, across) if turn_deg == 0.0 else (across, long)
            spot = room.spot(width_px=wide * CELL_PX / cell, height_px=high * CELL_PX / cell)
            if spot is not None:
                return _centred(name, spot, length_mm=length, height_mm=height, turn_deg=turn_deg)
    height = NOTE_HEIGHTS_MM[-1]
    length = text_width_px(name, size_px=height / CAPITAL_OF_FONT_SIZE)
    return _centred(name, box.centre, length_mm=length, height_mm=height, turn_deg=0.0)


def _centred(text: str, at: Point, *, length_mm: float, height_mm: float, turn_deg: float) -> Note:
    """Return a note whose middle lies at `at`."""
    c, s = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
    x, y = length_mm / 2, height_mm / 2
    start = Point(at.x - c * x + s * y, at.y - s * x - c * y)
    return Note(text, start, height_mm, turn_deg)
