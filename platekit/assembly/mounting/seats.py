"""Seats: the face of a panel something stands on, and the frames it comes to stand in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from platekit.assembly.frames import Frame, Vector, X, Y, Z
from platekit.assembly.mounting.asked import Mounted, Side, Where
from platekit.assembly.mounting.axes import OnAxis
from platekit.assembly.mounting.bodies import flipped
from platekit.assembly.panels import Panel
from platekit.errors import PartError, UnknownNameError
from platekit.geometry.motion import Motion
from platekit.geometry.points import Point
from platekit.hardware.devices.device import Device
from platekit.panel import places

LOOKS: dict[Side, Vector] = {
    "up": Z,
    "down": Z.scaled(-1.0),
    "left": X.scaled(-1.0),
    "right": X,
    "front": Y.scaled(-1.0),
    "back": Y,
}
# A face looks somewhere if it does so within 60 degrees: so every face looks somewhere, and one at
# 45 degrees looks both ways.
LEAST_COSINE = 0.5
# More spots than this in one place are a slip of a nought.
MOST_SPOTS = 1000


@dataclass(frozen=True)
class Standing:
    """A device in its place in space.

    Attributes:
        name: Name unlike any other.
        device: The bought part.
        frame: Its own frame: z = 0 is its seat, n points away from the panel.
        asked: What was asked for; None for what an asked thing brought along.
        panel: The panel it stands on.
    """

    name: str
    device: Device
    frame: Frame
    asked: Mounted | None
    panel: str


def require_panel(panels: Mapping[str, Panel], name: str) -> Panel:
    """Return the panel called `name`.

    Raises:
        UnknownNameError: There is none; the message lists those there are.
    """
    if name not in panels:
        raise UnknownNameError.among("panel", name, panels)
    return panels[name]


def face(panel: Panel, side: Side) -> Frame:
    """Return the frame of the panel's face that looks to `side`, n pointing out of it.

    Its x and y are right and up as seen by someone who looks at a standing panel's face.

    Raises:
        PartError: No face of the panel looks there.
    """
    looks = LOOKS[side].dot(panel.frame.n)
    if looks >= LEAST_COSINE:
        return panel.frame.lifted(panel.thickness_mm)
    if looks <= -LEAST_COSINE:
        return flipped(panel.frame)
    sides = [name for name, way in LOOKS.items() if abs(way.dot(panel.frame.n)) >= LEAST_COSINE]
    raise PartError(
        f"no face looks {side!r}", part=panel.name, remedy=f"its faces look {' and '.join(sides)}"
    )


def spots(panel: Panel, at: Where, standing: Mapping[str, Standing]) -> tuple[Motion, ...]:
    """Return the spots of a place in the panel's coordinates.

    Raises:
        UnknownNameError: A place names a feature or a device that is not there.
        PartError: The axis named is not square to the panel, or there are too many spots.
    """
    if isinstance(at, OnAxis):
        if at.of not in standing:
            if not standing:
                raise UnknownNameError(
                    f"unknown device mounted before it {at.of!r}",
                    remedy="nothing is; mount that one first: they find their places in order",
                )
            raise UnknownNameError.among("device mounted before it", at.of, standing)
        return (at.spot(panel, standing[at.of].frame),)
    known = {one.name: one.motion for plate in panel.layers for one in plate.features}
    found = places.spots_at(at, places.Frame(panel.bounds, known))
    if len(found) > MOST_SPOTS:
        raise PartError(
            f"it goes to {len(found)} places",
            remedy=f"give at most {MOST_SPOTS}, or ask several times",
        )
    return found


def frames_at(
    panel: Panel, side: Side, found: tuple[Motion, ...], *, turn_deg: float, lift_mm: float
) -> tuple[Frame, ...]:
    """Return the frames of things that stand on a panel's face at spots of the panel.

    What is bought cannot be mirrored: in a mirrored spot it is turned so that its own y lies
    mirrored, and its holes are those of the part as it is sold.
    """
    seat = face(panel, side)
    behind = seat.n.dot(panel.frame.n) < 0
    frames = []
    for spot in found:
        height = _surface(panel, Point(spot.dx_mm, spot.dy_mm), behind=behind)
        at = panel.frame.point(spot.dx_mm, spot.dy_mm, height)
        own = -turn_deg if spot.mirrored else turn_deg
        turn = own - spot.turn_deg if behind else own + spot.turn_deg
        frames.append(Frame(at, seat.u, seat.v).turned_in_plane(turn).lifted(lift_mm))
    return tuple(frames)


def _surface(panel: Panel, spot: Point, *, behind: bool) -> float:
    """Return how high along the panel's n its surface lies at a spot.

    Where layers of a laminate reach differently, it is the face of the outermost one there.
    """
    heights, level = [], 0.0
    for plate in panel.layers:
        top = level + plate.sheet.thickness_mm
        if len(panel.layers) == 1 or plate.outline.outer.encloses(spot):
            heights.append(level if behind else top)
        level = top
    if not heights:
        return 0.0 if behind else level
    return min(heights) if behind else max(heights)


def stood(
    asked: Mounted, panels: Mapping[str, Panel], standing: Mapping[str, Standing]
) -> tuple[Standing, ...]:
    """Return the devices of one mounting in their places.

    Raises:
        UnknownNameError: The panel, or something a place names, is not there.
        PartError: No face looks where it is to stand, there is no panel under its axis, or a
            name is taken.
    """
    panel = require_panel(panels, asked.on)
    found = spots(panel, asked.at, standing)
    frames = frames_at(panel, asked.side, found, turn_deg=asked.turn_deg, lift_mm=asked.lift_mm)
    names = (
        [asked.name] if len(found) == 1 else [f"{asked.name} {k + 1}" for k in range(len(found))]
    )
    taken = set(names) & set(standing)
    if taken:
        raise PartError(
            f"two devices are called {min(taken)!r}", remedy="give each a name of its own"
        )
    for spot in found:
        _require_over(panel, spot)
    return tuple(
        Standing(name, asked.device, frame, asked, panel.name)
        for name, frame in zip(names, frames, strict=True)
    )


def _require_over(panel: Panel, spot: Motion) -> None:
    box = panel.bounds
    inside = box.left <= spot.dx_mm <= box.right and box.bottom <= spot.dy_mm <= box.top
    if not inside:
        raise PartError(
            f"there is no panel at ({spot.dx_mm:.6g}, {spot.dy_mm:.6g}): it spans "
            f"{box.left:.6g}..{box.right:.6g} by {box.bottom:.6g}..{box.top:.6g} mm",
            remedy="move it onto the panel",
        )
