"""Places in space: on the axis of a device mounted before, or as far from it as a belt says."""

from __future__ import annotations

import math
from dataclasses import dataclass

from platekit.assembly.frames import Frame, Vector
from platekit.assembly.panels import Panel
from platekit.errors import PartError, concerning
from platekit.geometry.motion import Motion
from platekit.geometry.points import cos_sin
from platekit.hardware import BeltDrive
from platekit.panel.measures import require_angle, require_shift

# Axes further from square to a panel than this were not meant to pierce it.
SQUARE_WITHIN = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class OnAxis:
    """A place on the axis of another device, or off it by a distance along the panel.

    Attributes:
        of: Name of that device.
        dx_mm: Off the axis along the panel's x.
        dy_mm: Off the axis along the panel's y.
    """

    of: str
    dx_mm: float = 0.0
    dy_mm: float = 0.0

    def spot(self, panel: Panel, axis: Frame) -> Motion:
        """Return where the place lies in the panel's coordinates, given the other's frame.

        Raises:
            PartError: The axis does not stand square on the panel.
        """
        if abs(abs(axis.n.dot(panel.frame.n)) - 1.0) > SQUARE_WITHIN:
            raise PartError(
                f"the axis of {self.of} is not square to it",
                part=panel.name,
                remedy="mount it on a panel that lies across that axis",
            )
        x, y, _ = panel.frame.coordinates(axis.origin)
        return Motion(dx_mm=x + self.dx_mm, dy_mm=y + self.dy_mm)


def on_axis(of: str, *, dx_mm: float = 0.0, dy_mm: float = 0.0) -> OnAxis:
    """Return the place on the axis of a device mounted before, moved by (dx_mm, dy_mm).

    Args:
        of: Name of that device.
        dx_mm: Off its axis along the panel's own x.
        dy_mm: Off its axis along the panel's own y.

    Raises:
        PartError: A shift is not a finite number, or the device is no name.
    """
    with concerning(feature="on_axis"):
        return OnAxis(
            of=_device(of), dx_mm=require_shift(dx_mm, "dx_mm"), dy_mm=require_shift(dy_mm, "dy_mm")
        )


def by_belt(drive: BeltDrive, *, of: str, heading_deg: float = 0.0) -> OnAxis:
    """Return the place as far from a device's axis as a belt asks.

    Args:
        drive: The belt drive that joins the two.
        of: Name of the device mounted before.
        heading_deg: Which way from it, counter-clockwise from the panel's own +x.

    Raises:
        PartError: The heading is not a finite number, the drive none, or the device no name.
    """
    with concerning(feature="by_belt"):
        given: object = drive
        if not isinstance(given, BeltDrive):
            raise PartError(f"drive is {drive!r}", remedy="give what belt_drive() returns")
        c, s = cos_sin(require_angle(heading_deg, "heading_deg"))
        return OnAxis(of=_device(of), dx_mm=c * drive.centres_mm, dy_mm=s * drive.centres_mm)


def _device(of: str) -> str:
    given: object = of
    if not isinstance(given, str) or not given.strip():
        raise PartError(f"of is {of!r}", remedy="name a device mounted before")
    return of


def motion_into(layer: Frame, device: Frame) -> Motion:
    """Return how a device's own x and y lie in a layer's, both square to one axis."""
    x, y, _ = layer.coordinates(device.origin)
    mirrored = device.n.dot(layer.n) < 0
    along = device.u.scaled(-1.0) if mirrored else device.u
    return Motion(dx_mm=x, dy_mm=y, turn_deg=_angle_deg(along, layer), mirrored=mirrored)


def _angle_deg(along: Vector, layer: Frame) -> float:
    turn = math.degrees(math.atan2(along.dot(layer.v), along.dot(layer.u)))
    whole = round(turn)
    # Quarter turns in space come back as quarter turns, so that straight stays straight.
    return float(whole) if abs(turn - whole) < 1e-9 else turn
