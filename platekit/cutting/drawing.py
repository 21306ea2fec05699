"""Drawings: what one cut file says, in the order in which the laser does it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from platekit.geometry.chains import Contour, Path
from platekit.geometry.points import Point


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
    """

    text: str
    at: Point
    height_mm: float


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
