"""Placing: saying where a panel goes the way one says it at the bench.

Axes: x to the right, y to the back, z up. A panel placed by its sides ("left at 0, back at 90,
bottom at 0") needs no sum with its thickness in it.
"""

from __future__ import annotations

import math
from typing import Literal, TypedDict, Unpack, get_args

from platekit.assembly.frames import NOWHERE, Frame, Vector, X, Y, Z
from platekit.assembly.laminate import Laminate
from platekit.assembly.panels import Panel
from platekit.errors import PartError
from platekit.geometry.points import cos_sin
from platekit.panel.plate import Plate

Stack = Plate | Laminate
Facing = Literal["front", "back", "left", "right"]
Face = Literal["outer", "inner"]


class Where(TypedDict, total=False):
    """Where the sides or the middle of the slab come to lie, mm; one for each axis.

    left, middle_x, right lie along x; front, middle_y, back along y; bottom, middle_z, top along
    z. An axis not spoken of puts the slab's least side at 0.
    """

    left_mm: float
    middle_x_mm: float
    right_mm: float
    front_mm: float
    middle_y_mm: float
    back_mm: float
    bottom_mm: float
    middle_z_mm: float
    top_mm: float


# For each axis: the word for its least side, its middle, its greatest side.
SIDES = (
    ("left_mm", "middle_x_mm", "right_mm"),
    ("front_mm", "middle_y_mm", "back_mm"),
    ("bottom_mm", "middle_z_mm", "top_mm"),
)
# The panel's x and y as one sees them standing before the face named.
SEEN: dict[str, tuple[Vector, Vector]] = {
    "front": (X, Z),
    "back": (X.scaled(-1.0), Z),
    "left": (Y.scaled(-1.0), Z),
    "right": (Y, Z),
    "up": (X, Y),
    "down": (X.scaled(-1.0), Y),
}


def placed(stack: Stack, frame: Frame) -> Panel:
    """Return a plate or laminate as a panel in `frame`: its own (0, 0) at the frame's origin."""
    return _panel(stack, frame)


def lying(
    stack: Stack,
    *,
    face: Literal["up", "down"] = "up",
    turn_deg: float = 0.0,
    **where: Unpack[Where],
) -> Panel:
    """Return the panel lying flat.

    Args:
        stack: Plate or laminate.
        face: Which way its drawn face looks. Up: drawn as seen from above. Down: as seen from
            below, x to the left.
        turn_deg: Turned in its plane first, counter-clockwise on its drawn face.
        **where: Where its sides come to lie, see `Where`: ``lying(lid, left_mm=0, top_mm=90)``.

    Raises:
        PartError: Two words for one axis, an unknown word, a place that is no number.
    """
    return _set_down(stack, face, turn_deg, where, kinds=("up", "down"))


def standing(
    stack: Stack, *, facing: Facing, turn_deg: float = 0.0, **where: Unpack[Where]
) -> Panel:
    """Return the panel standing upright, its drawn face looking out to one side.

    Args:
        stack: Plate or laminate. Its x and y are right and up as seen by someone who stands
            before that face.
        facing: The side it looks to.
        turn_deg: Turned in its plane first, counter-clockwise on its drawn face.
        **where: Where its sides come to lie, see `Where`:
            ``standing(wall, facing="back", left_mm=0, back_mm=90, bottom_mm=0)``.

    Raises:
        PartError: Two words for one axis, an unknown word, a place that is no number.
    """
    return _set_down(stack, facing, turn_deg, where, kinds=get_args(Facing))


def on_face(
    stack: Stack,
    *,
    of: Panel,
    at: tuple[float, float] = (0.0, 0.0),
    face: Face = "outer",
    distance_mm: float = 0.0,
    turn_deg: float = 0.0,
) -> Panel:
    """Return the panel lying on, or parallel at a distance from, a face of another.

    Args:
        stack: Plate or laminate.
        of: The panel it lies on.
        at: Where its own (0, 0) goes, in that panel's coordinates.
        face: The drawn face ("outer") or the one behind ("inner").
        distance_mm: Gap between the two faces.
        turn_deg: Turned in its plane, counter-clockwise on the drawn face.
    """
    layers = _layers(stack)
    thickness = sum(plate.sheet.thickness_mm for plate in layers)
    require_side(face, part=stack.name)
    height = of.thickness_mm + distance_mm if face == "outer" else -distance_mm - thickness
    seat = Frame(of.frame.point(at[0], at[1], height), of.frame.u, of.frame.v)
    return _panel(stack, seat.turned_in_plane(turn_deg))


def upright_on(
    stack: Stack,
    *,
    of: Panel,
    start: tuple[float, float],
    heading_deg: float = 0.0,
    face: Face = "outer",
    through: bool = True,
) -> Panel:
    """Return the panel standing square on a face of another, along a line drawn there.

    Args:
        stack: Plate or laminate. Its x runs along the line, its y away from the face; its
            thickness straddles the line.
        of: The panel it stands on.
        start: Where on that panel the plate's x = 0 comes to lie.
        heading_deg: Direction of the line there, counter-clockwise from that panel's x.
        face: The drawn face ("outer") or the one behind ("inner").
        through: Whether its foot reaches through to the far face, so that tabs can be cut; else
            it stands on the near face and is only glued.
    """
    layers = _layers(stack)
    thickness = sum(plate.sheet.thickness_mm for plate in layers)
    require_side(face, part=stack.name)
    c, s = cos_sin(heading_deg)
    along = of.frame.u.scaled(c).plus(of.frame.v, times=s)
    outer = face == "outer"
    away = of.frame.n if outer else of.frame.n.scaled(-1.0)
    height = of.thickness_mm if outer != through else 0.0
    frame = Frame(of.frame.point(start[0], start[1], height), along, away)
    return _panel(stack, frame.lifted(-thickness / 2))


def require_side(face: str, *, part: str) -> None:
    """Raise unless `face` is "outer" or "inner".

    Raises:
        PartError: It is not.
    """
    if face not in get_args(Face):
        raise PartError(f"face is {face!r}", part=part, remedy="give 'outer' or 'inner'")


def _panel(stack: Stack, frame: Frame) -> Panel:
    dowels = stack.dowels if isinstance(stack, Laminate) else None
    return Panel(stack.name, _layers(stack), frame, dowels)


def _layers(stack: Stack) -> tuple[Plate, ...]:
    return stack.layers if isinstance(stack, Laminate) else (stack,)


def _set_down(
    stack: Stack, facing: str, turn_deg: float, where: Where, *, kinds: tuple[str, ...]
) -> Panel:
    if facing not in kinds:
        raise PartError(
            f"it is to face {facing!r}", part=stack.name, remedy=f"give one of {', '.join(kinds)}"
        )
    u, v = SEEN[facing]
    panel = _panel(stack, Frame(NOWHERE, u, v).turned_in_plane(turn_deg))
    shift = [_shift(panel, dict(where), axis) for axis in range(3)]
    unknown = set(where) - {word for words in SIDES for word in words}
    if unknown:
        known = ", ".join(word for words in SIDES for word in words)
        raise PartError(
            f"no side is called {min(unknown)!r}", part=stack.name, remedy=f"known: {known}"
        )
    return panel.moved(x_mm=shift[0], y_mm=shift[1], z_mm=shift[2])


def _shift(panel: Panel, where: dict[str, object], axis: int) -> float:
    said = [word for word in SIDES[axis] if word in where]
    if len(said) > 1:
        raise PartError(
            f"both {said[0]} and {said[1]} are given",
            part=panel.name,
            remedy="one of them sets the panel down; leave the other out",
        )
    low, high = (end[axis] for end in panel.reach)
    if not said:
        return -low
    value = where[said[0]]
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not math.isfinite(value):
        raise PartError(f"{said[0]} is {value!r}", part=panel.name, remedy="give a number of mm")
    now = (low, (low + high) / 2, high)[SIDES[axis].index(said[0])]
    return float(value) - now
