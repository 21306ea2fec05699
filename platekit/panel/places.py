"""Places: where on a plate something goes, said without computing a coordinate.

A place is asked for spots only when the plate is known: then it reads the outline's bounds and
the features already there. A spot is the motion that carries a feature from its own origin.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, Protocol

from platekit.errors import PartError, UnknownNameError
from platekit.geometry.chains import Bounds
from platekit.geometry.motion import (
    Motion,
    mirror_in_horizontal,
    mirror_in_vertical,
)
from platekit.geometry.points import Pair, as_point, polar
from platekit.panel.measures import require_angle, require_count, require_length, require_shift

Edge = Literal["left", "right", "bottom", "top"]
# Turn that points a feature's own +y into the plate from each edge.
INWARD_DEG: dict[str, float] = {"bottom": 0.0, "right": 90.0, "top": 180.0, "left": 270.0}


@dataclass(frozen=True, slots=True)
class Frame:
    """What a place can see of its plate.

    Attributes:
        bounds: Bounds of the outline.
        spots: Where each feature already there lies, by name.
    """

    bounds: Bounds
    spots: Mapping[str, Motion] = field(default_factory=dict)

    def spot_of(self, name: str) -> Motion:
        """Return where the feature `name` lies.

        Raises:
            UnknownNameError: There is no such feature; the message lists those there are.
        """
        if name not in self.spots:
            raise UnknownNameError.among("feature", name, self.spots)
        return self.spots[name]


class Place(Protocol):
    """Anything that can say where, once it sees the plate."""

    def spots(self, frame: Frame) -> tuple[Motion, ...]:
        """Return the spots, in the order in which features there are numbered."""


PlaceOrPoint = Place | Pair


def spots_at(place: PlaceOrPoint, frame: Frame) -> tuple[Motion, ...]:
    """Return the spots of a place, or the one of a plain (x, y) in plate coordinates.

    Raises:
        PartError: It is no place: a word, a list, a bare number.
    """
    if isinstance(place, tuple):
        at = as_point(place)
        return (Motion(dx_mm=at.x, dy_mm=at.y),)
    given: object = place
    if not hasattr(given, "spots"):
        raise PartError(
            f"at is {given!r}, which is no place",
            remedy="give (x, y) in mm, or a place: centre(), from_edges(left_mm=20), corners(...)",
        )
    return place.spots(frame)


@dataclass(frozen=True, slots=True)
class _Centre:
    dx_mm: float
    dy_mm: float

    def spots(self, frame: Frame) -> tuple[Motion, ...]:
        at = frame.bounds.centre
        return (Motion(dx_mm=at.x + self.dx_mm, dy_mm=at.y + self.dy_mm),)


def centre(dx_mm: float = 0.0, dy_mm: float = 0.0) -> Place:
    """Return the middle of the outline's bounds, moved by (dx_mm, dy_mm).

    Raises:
        PartError: A shift is not a finite number.
    """
    return _Centre(require_shift(dx_mm, "dx_mm"), require_shift(dy_mm, "dy_mm"))


MIDDLE: Place = centre()


@dataclass(frozen=True, slots=True)
class _FromEdges:
    left_mm: float | None
    right_mm: float | None
    bottom_mm: float | None
    top_mm: float | None

    def spots(self, frame: Frame) -> tuple[Motion, ...]:
        box = frame.bounds
        x, y = box.centre
        if self.left_mm is not None:
            x = box.left + self.left_mm
        if self.right_mm is not None:
            x = box.right - self.right_mm
        if self.bottom_mm is not None:
            y = box.bottom + self.bottom_mm
        if self.top_mm is not None:
            y = box.top - self.top_mm
        return (Motion(dx_mm=x, dy_mm=y),)


def from_edges(
    *,
    left_mm: float | None = None,
    right_mm: float | None = None,
    bottom_mm: float | None = None,
    top_mm: float | None = None,
) -> Place:
    """Return the place so far from the outline's outermost edges; centred where none is named.

    Raises:
        PartError: Both left and right, or both bottom and top are given; a distance is not a
            finite number.
    """
    given = {"left_mm": left_mm, "right_mm": right_mm, "bottom_mm": bottom_mm, "top_mm": top_mm}
    for one, other in (("left_mm", "right_mm"), ("bottom_mm", "top_mm")):
        if given[one] is not None and given[other] is not None:
            raise PartError(f"both {one} and {other} are given", remedy="give one of the two")
    for name, value in given.items():
        if value is not None:
            require_shift(value, name)
    return _FromEdges(left_mm, right_mm, bottom_mm, top_mm)


@dataclass(frozen=True, slots=True)
class _Corners:
    inset_x_mm: float
    inset_y_mm: float

    def spots(self, frame: Frame) -> tuple[Motion, ...]:
        box = frame.bounds
        left, right = box.left + self.inset_x_mm, box.right - self.inset_x_mm
        bottom, top = box.bottom + self.inset_y_mm, box.top - self.inset_y_mm
        around = ((left, bottom), (right, bottom), (right, top), (left, top))
        return tuple(Motion(dx_mm=x, dy_mm=y) for x, y in around)


def corners(*, inset_mm: float, inset_y_mm: float | None = None) -> Place:
    """Return four places, one near each corner of the outline's bounds.

    Numbered counter-clockwise from the lower left.

    Args:
        inset_mm: Distance from both edges, mm.
        inset_y_mm: Distance from the lower and upper edge where it differs, mm.

    Raises:
        PartError: An inset is not a number above 0.
    """
    x = require_length(inset_mm, "inset_mm")
    y = x if inset_y_mm is None else require_length(inset_y_mm, "inset_y_mm")
    return _Corners(x, y)


@dataclass(frozen=True, slots=True)
class _OnEdge:
    edge: str
    along_mm: tuple[float, ...]
    from_middle: bool

    def spots(self, frame: Frame) -> tuple[Motion, ...]:
        box = frame.bounds
        flat = self.edge in {"bottom", "top"}
        zero = 0.0
        if self.from_middle:
            zero = box.width_mm / 2 if flat else box.height_mm / 2
        found = []
        for along in self.along_mm:
            run = zero + along
            x = {"left": box.left, "right": box.right}.get(self.edge, box.left + run)
            y = {"bottom": box.bottom, "top": box.top}.get(self.edge, box.bottom + run)
            found.append(Motion(dx_mm=x, dy_mm=y, turn_deg=INWARD_DEG[self.edge]))
        return tuple(found)


def on_edge(
    edge: Edge, *, along_mm: float | tuple[float, ...] = 0.0, from_middle: bool | None = None
) -> Place:
    """Return places on an edge of the outline's bounds, turned to face into the plate.

    A feature's own +y points inwards there: what a notch or a nut pocket needs.

    Args:
        edge: "left", "right", "bottom" or "top".
        along_mm: Distance along the edge, from its left or lower end; several for several.
        from_middle: Measure from the edge's middle instead. Left out: from the middle when
            `along_mm` is left out, so that ``on_edge("top")`` is the middle of the top edge.

    Raises:
        UnknownNameError: There is no such edge.
        PartError: A distance is not a finite number.
    """
    if edge not in INWARD_DEG:
        raise UnknownNameError.among("edge", edge, INWARD_DEG)
    along = along_mm if isinstance(along_mm, tuple) else (along_mm,)
    middle = along == (0.0,) if from_middle is None else from_middle
    return _OnEdge(edge, tuple(require_shift(a, "along_mm") for a in along), middle)


@dataclass(frozen=True, slots=True)
class _Beside:
    name: str
    dx_mm: float
    dy_mm: float

    def spots(self, frame: Frame) -> tuple[Motion, ...]:
        at = frame.spot_of(self.name)
        return (Motion(dx_mm=at.dx_mm + self.dx_mm, dy_mm=at.dy_mm + self.dy_mm),)


def beside(feature: str, *, dx_mm: float = 0.0, dy_mm: float = 0.0) -> Place:
    """Return the place (dx_mm, dy_mm) from the centre of an earlier feature.

    Raises:
        UnknownNameError: The plate has no such feature (said when it is placed).
        PartError: A shift is not a finite number.
    """
    return _Beside(feature, require_shift(dx_mm, "dx_mm"), require_shift(dy_mm, "dy_mm"))


@dataclass(frozen=True, slots=True)
class _Polar:
    about: PlaceOrPoint
    radius_mm: float
    angles_deg: tuple[float, ...]
    turned: bool

    def spots(self, frame: Frame) -> tuple[Motion, ...]:
        found = []
        for hub in spots_at(self.about, frame):
            for angle in self.angles_deg:
                at = polar((hub.dx_mm, hub.dy_mm), radius_mm=self.radius_mm, angle_deg=angle)
                turn = angle if self.turned else 0.0
                found.append(Motion(dx_mm=at.x, dy_mm=at.y, turn_deg=turn))
        return tuple(found)


def around(
    about: str | PlaceOrPoint,
    *,
    radius_mm: float,
    count: int = 1,
    start_deg: float = 0.0,
    step_deg: float | None = None,
    turned: bool = True,
) -> Place:
    """Return places on a circle about a feature, a place or a point.

    Args:
        about: Name of an earlier feature, another place, or (x, y).
        radius_mm: Radius of the circle, mm.
        count: How many places.
        start_deg: Angle of the first, counter-clockwise from +x.
        step_deg: Angle from one to the next; left out, the whole circle is shared out evenly.
        turned: Whether features turn with their angle, so that their own +x points outwards.

    Raises:
        PartError: A radius, count or angle that cannot be.
    """
    require_length(radius_mm, "radius_mm")
    require_count(count, "count")
    start = require_angle(start_deg, "start_deg")
    step = 360.0 / count if step_deg is None else require_angle(step_deg, "step_deg")
    hub = _Beside(about, 0.0, 0.0) if isinstance(about, str) else about
    angles = tuple(start + k * step for k in range(count))
    return _Polar(hub, radius_mm, angles, turned)


@dataclass(frozen=True, slots=True)
class _Grid:
    about: PlaceOrPoint
    columns: int
    rows: int
    pitch_x_mm: float
    pitch_y_mm: float

    def spots(self, frame: Frame) -> tuple[Motion, ...]:
        return tuple(
            Motion(
                dx_mm=hub.dx_mm + (column - (self.columns - 1) / 2) * self.pitch_x_mm,
                dy_mm=hub.dy_mm + (row - (self.rows - 1) / 2) * self.pitch_y_mm,
            )
            for hub in spots_at(self.about, frame)
            for row in range(self.rows)
            for column in range(self.columns)
        )


def grid(
    *,
    columns: int,
    rows: int,
    pitch_mm: float,
    pitch_y_mm: float | None = None,
    about: PlaceOrPoint | None = None,
) -> Place:
    """Return places in rows and columns, centred on `about` (left out: the plate's centre).

    Numbered row by row from the lower left.

    Args:
        columns: How many side by side.
        rows: How many one above the other.
        pitch_mm: Distance from one to the next, mm.
        pitch_y_mm: Distance between rows where it differs, mm.
        about: Where the middle of the grid lies.

    Raises:
        PartError: A count below 1 or a pitch not above 0.
    """
    require_count(columns, "columns")
    require_count(rows, "rows")
    x = require_length(pitch_mm, "pitch_mm")
    y = x if pitch_y_mm is None else require_length(pitch_y_mm, "pitch_y_mm")
    return _Grid(centre() if about is None else about, columns, rows, x, y)


@dataclass(frozen=True, slots=True)
class _Mirrored:
    place: PlaceOrPoint
    across: str

    def spots(self, frame: Frame) -> tuple[Motion, ...]:
        middle = frame.bounds.centre
        upright = mirror_in_vertical(x_mm=middle.x)
        level = mirror_in_horizontal(y_mm=middle.y)
        given = spots_at(self.place, frame)
        found = list(given)
        if self.across in {"vertical", "both"}:
            found += [spot.then(upright) for spot in found]
        if self.across in {"horizontal", "both"}:
            found += [spot.then(level) for spot in found]
        return tuple(found)


ACROSS = ("vertical", "horizontal", "both")


def mirrored(
    place: PlaceOrPoint, *, across: Literal["vertical", "horizontal", "both"] = "vertical"
) -> Place:
    """Return a place together with its mirror image in the plate's centre line.

    What is put there is mirrored as well; lettering is not.

    Args:
        place: What to mirror.
        across: "vertical" centre line (left and right), "horizontal" one (up and down), or
            "both": four places.

    Raises:
        UnknownNameError: `across` is none of these.
    """
    if across not in ACROSS:
        raise UnknownNameError.among("centre line", across, ACROSS)
    return _Mirrored(place, across)


@dataclass(frozen=True, slots=True)
class _Several:
    places: tuple[PlaceOrPoint, ...]

    def spots(self, frame: Frame) -> tuple[Motion, ...]:
        return tuple(spot for place in self.places for spot in spots_at(place, frame))


def places(*several: PlaceOrPoint) -> Place:
    """Return several places or points as one, numbered in the order given."""
    if not several:
        raise PartError("no places are given", remedy="name at least one")
    return _Several(several)
