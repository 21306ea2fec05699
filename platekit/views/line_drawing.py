"""Line drawings: what a rig in space comes to on paper, ready for a pen of any kind."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from platekit.assembly.proof.things import ThingKind
from platekit.geometry.tables import Floats

StrokeKind = Literal["outline", "edge"]
Shade = Literal["top", "left", "right"]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Stroke:
    """One visible line.

    Attributes:
        points: Its corners, mm on the picture, y up; the last is the first again where it closes;
            shape (n, 2).
        thing: Name of the thing it is of.
        kind: ``outline`` where the thing ends for the eye, ``edge`` where two faces that are seen
            meet.
        new: Whether the thing is one to be pointed out.
    """

    points: Floats
    thing: str
    kind: StrokeKind
    new: bool = False


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Face:
    """A region in which one thing is seen, its holes left open. No two faces overlap.

    Attributes:
        rings: Corners of its rings, mm on the picture, y up: the outer one first,
            counter-clockwise, then its holes; not closed; each of shape (n, 2).
        thing: Name of the thing.
        kind: What the thing is.
        new: Whether it is one to be pointed out.
        shade: Which way the face looks: up, or else to the picture's left or right.
    """

    rings: tuple[Floats, ...]
    thing: str
    kind: ThingKind
    new: bool = False
    shade: Shade = "top"

    @property
    def area_mm2(self) -> float:
        """Area on the picture, holes left out: by the shoelace formula."""
        doubled = 0.0
        for ring in self.rings:
            x, y = ring[:, 0], ring[:, 1]
            doubled += float(x[:-1] @ y[1:] - y[:-1] @ x[1:] + x[-1] * y[0] - y[-1] * x[0])
        return doubled / 2


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class LineDrawing:
    """A picture in lines.

    Attributes:
        strokes: What is drawn with a pen.
        faces: What may be tinted beneath.
        box: Least and greatest x, y of everything, mm, shape (2, 2).
    """

    strokes: tuple[Stroke, ...]
    faces: tuple[Face, ...]
    box: Floats

    @property
    def width_mm(self) -> float:
        """Width."""
        return float(self.box[1, 0] - self.box[0, 0])

    @property
    def height_mm(self) -> float:
        """Height."""
        return float(self.box[1, 1] - self.box[0, 1])
