"""Features: what is cut into a plate or marked on it, asked for and placed."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

from platekit.geometry.chains import Bounds, Contour
from platekit.geometry.motion import STILL, Motion
from platekit.geometry.points import Point
from platekit.hardware.items import Item
from platekit.panel.part import Mark
from platekit.panel.places import MIDDLE, Place


@dataclass(frozen=True, kw_only=True)
class Feature:
    """Something to cut or mark, drawn about its own origin (0, 0), and where it is to go.

    Attributes:
        kind: What it is, in workshop words: "M5 hole". Names it where `name` is empty.
        name: Name of its own, for messages and for placing others beside it.
        cuts: Closed contours to be cut through.
        marks: Lines to be scored or noted.
        items: Bought things each one asks for.
        rooms: What other cuts and the edge should keep out of: under a lock nut, say.
        at: Where its origin goes: a place, or plain (x, y) in plate coordinates.
        turn_deg: Turned by this much first, counter-clockwise.
        web_mm: Material it leaves on purpose, between its own cuts or to others; webs down to
            this are no finding. None where it says nothing of the kind.
        most_panel_mm: Thickest plate that what goes there can clamp; None where none is known.
        opens_edge: Whether its cuts are meant to run out over the plate's edge.
        upright: Whether it must never be mirrored: lettering.
        of: The bought part that several features serve, its opening and its screws' holes: they
            stand in each other's room by its own pattern. Empty where it is by itself.
    """

    kind: str
    name: str = ""
    cuts: tuple[Contour, ...] = ()
    marks: tuple[Mark, ...] = ()
    items: tuple[Item, ...] = ()
    rooms: tuple[Contour, ...] = ()
    at: Place | tuple[float, float] = MIDDLE
    turn_deg: float = 0.0
    web_mm: float | None = None
    most_panel_mm: float | None = None
    opens_edge: bool = False
    upright: bool = False
    of: str = ""

    @property
    def label(self) -> str:
        """Its name, or what it is."""
        return self.name or self.kind

    def placed_at(
        self, at: Place | tuple[float, float], *, turn_deg: float | None = None, name: str = ""
    ) -> Feature:
        """Return the same feature for another place."""
        turn = self.turn_deg if turn_deg is None else turn_deg
        return replace(self, at=at, turn_deg=turn, name=name or self.name)


@dataclass(frozen=True, kw_only=True)
class Placed:
    """A feature in its place on a plate; everything in plate coordinates.

    Attributes:
        name: Name unlike any other on the plate: "foot 2".
        kind: What it is.
        motion: How it came from its own origin to its place.
        cuts: Closed contours to be cut through.
        marks: Lines to be scored or noted.
        items: Bought things it asks for.
        rooms: What other cuts and the edge should keep out of.
        web_mm: Material it leaves on purpose; None where it says nothing of the kind.
        most_panel_mm: Thickest plate that what goes there can clamp; None where none is known.
        opens_edge: Whether its cuts run out over the plate's edge on purpose.
        of: What it serves: a bought part, with other features, or the panel that a joint makes
            room for; empty for nothing but itself.
    """

    name: str
    kind: str
    motion: Motion = STILL
    cuts: tuple[Contour, ...] = ()
    marks: tuple[Mark, ...] = ()
    items: tuple[Item, ...] = ()
    rooms: tuple[Contour, ...] = ()
    web_mm: float | None = None
    most_panel_mm: float | None = None
    opens_edge: bool = False
    of: str = ""

    @property
    def at(self) -> Point:
        """Where its origin lies."""
        return Point(self.motion.dx_mm, self.motion.dy_mm)

    @cached_property
    def bounds(self) -> Bounds:
        """Bounds of its cuts and marks; a point where there are none."""
        here = Bounds(self.at.x, self.at.y, self.at.x, self.at.y)
        boxes = [ring.bounds for ring in self.cuts] + [mark.path.bounds for mark in self.marks]
        if not boxes:
            return here
        box = boxes[0]
        for other in boxes[1:]:
            box = box.joined(other)
        return box


def placed(feature: Feature, *, motion: Motion, name: str) -> Placed:
    """Return `feature` turned, then carried by `motion`, under `name`."""
    if feature.upright and motion.mirrored:
        motion = replace(motion, mirrored=False)
    if feature.turn_deg:
        motion = Motion(turn_deg=feature.turn_deg).then(motion)
    return Placed(
        name=name,
        kind=feature.kind,
        motion=motion,
        cuts=tuple(cut.moved(motion) for cut in feature.cuts),
        marks=tuple(mark.moved(motion) for mark in feature.marks),
        items=feature.items,
        rooms=tuple(room.moved(motion) for room in feature.rooms),
        web_mm=feature.web_mm,
        most_panel_mm=feature.most_panel_mm,
        opens_edge=feature.opens_edge,
        of=feature.of,
    )
