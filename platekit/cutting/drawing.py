"""Drawings: what one cut file says, in the order in which the laser does it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from enum import Enum

from platekit.cutting.order import nearest_first, part_order
from platekit.geometry.chains import Contour, Path
from platekit.geometry.motion import STILL, Motion
from platekit.geometry.points import Point
from platekit.geometry.profile import Profile
from platekit.panel.part import Mark


class Layer(Enum):
    """What the laser does along a shape."""

    INSIDE_CUT = "inside cut"  # cuts through: holes and windows
    OUTSIDE_CUT = "outside cut"  # cuts through: frees the part
    SCORE = "score"  # burns a line into the surface
    NOTE = "note"  # nothing: for people to read


@dataclass(frozen=True, slots=True)
class Entry:
    """One shape the laser follows, and the part it belongs to."""

    layer: Layer
    shape: Contour | Path
    part: str


@dataclass(frozen=True, slots=True)
class Note:
    """A line of text for people; the laser ignores it.

    Attributes:
        text: What it says.
        at: Left end of its base line, mm.
        height_mm: Height of a capital letter, mm.
        turn_deg: How its line is turned about that end, counter-clockwise.
    """

    text: str
    at: Point
    height_mm: float
    turn_deg: float = 0.0


@dataclass(frozen=True, slots=True)
class Drawing:
    """One cut file: a part or a sheet, y up, the lower left corner at the origin.

    Attributes:
        width_mm: Extent along x, mm.
        height_mm: Extent along y, mm.
        entries: What the laser does, in cut order.
        notes: Text for people.
    """

    width_mm: float
    height_mm: float
    entries: tuple[Entry, ...]
    notes: tuple[Note, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One copy of a part where it is cut.

    Attributes:
        name: The part's name.
        path: Where the middle of the beam runs: the compensated profile.
        marks: Lines on the face, in the same coordinates.
        motion: From those coordinates to the sheet.
    """

    name: str
    path: Profile
    marks: Sequence[Mark] = ()
    motion: Motion = STILL

    def placed(self) -> Piece:
        """Return the piece with its motion carried out."""
        if self.motion == STILL:
            return self
        return Piece(
            name=self.name,
            path=self.path.moved(self.motion),
            marks=tuple(mark.moved(self.motion) for mark in self.marks),
        )


def part_drawing(
    name: str, path: Profile, *, marks: Iterable[Mark] = (), notes: Iterable[Note] = ()
) -> Drawing:
    """Return one part as a cut file of its own, its lower left corner moved to the origin.

    Args:
        name: The part's name.
        path: Where the middle of the beam runs: the compensated profile.
        marks: Lines on its face, in the same coordinates.
        notes: Text for people, in the same coordinates.
    """
    box = path.bounds
    there = Motion(dx_mm=-box.left, dy_mm=-box.bottom)
    piece = Piece(name=name, path=path, marks=tuple(marks), motion=there).placed()
    moved = tuple(replace(note, at=there.apply(note.at)) for note in notes)
    entries = tuple(_entries(piece, begin=Point(0.0, 0.0)))
    return Drawing(box.width_mm, box.height_mm, entries, moved)


def sheet_drawing(
    pieces: Iterable[Piece], *, width_mm: float, height_mm: float, notes: Iterable[Note] = ()
) -> Drawing:
    """Return a sheet as one cut file.

    Args:
        pieces: The parts on it; each is finished before the next begins, those that lie in the
            hole of another before that one.
        width_mm: Extent of the sheet along x.
        height_mm: Extent along y.
        notes: Text for people, in the sheet's coordinates.
    """
    placed = [piece.placed() for piece in pieces]
    here = Point(0.0, 0.0)
    entries: list[Entry] = []
    for k in part_order([piece.path for piece in placed], begin=here):
        entries += _entries(placed[k], begin=here)
        here = placed[k].path.outer.start
    return Drawing(width_mm, height_mm, tuple(entries), tuple(notes))


def _entries(piece: Piece, *, begin: Point) -> list[Entry]:
    """Return one part's shapes in cut order."""
    made = [
        Entry(Layer.SCORE if mark.layer == "score" else Layer.NOTE, mark.path, piece.name)
        for mark in piece.marks
    ]
    here = made[-1].shape.end if made else begin
    holes = piece.path.inners
    order = nearest_first([hole.start for hole in holes], begin=here)
    made += [Entry(Layer.INSIDE_CUT, holes[k], piece.name) for k in order]
    made.append(Entry(Layer.OUTSIDE_CUT, piece.path.outer, piece.name))
    return made
