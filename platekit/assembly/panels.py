"""Panels: plates, or layers of them, in their place in space."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal

from platekit.assembly.frames import NOWHERE, Frame, Vector, X, Y, Z
from platekit.errors import PartError
from platekit.geometry.chains import Bounds
from platekit.geometry.motion import Motion
from platekit.panel.plate import Plate

Axis = Literal["x", "y", "z"]
AXES: dict[str, Vector] = {"x": X, "y": Y, "z": Z}


@dataclass(frozen=True, slots=True)
class Dowels:
    """Dowels a laminate asks for without saying where: how many, and their diameter in mm."""

    count: int
    diameter_mm: float


@dataclass(frozen=True)
class Panel:
    """A full slab in space: what it claims before any joint is dealt.

    Attributes:
        name: What joints and messages call it.
        layers: The plates it is glued from, the first lying on the frame's plane. One for a
            plain panel. All share the panel's x and y.
        frame: Where its coordinates lie in space; the slab rises along the frame's n.
        dowels: Dowels of a laminate still to find their places; None for none.

    Raises:
        PartError: There is no layer, or a layer is asked for more than once.
    """

    name: str
    layers: tuple[Plate, ...]
    frame: Frame
    dowels: Dowels | None = None

    def __post_init__(self) -> None:
        if not self.layers:
            raise PartError("there is no layer", part=self.name, remedy="give at least one plate")
        for plate in self.layers:
            if plate.quantity != 1:
                raise PartError(
                    f"quantity is {plate.quantity}, but the panel stands in one place",
                    part=plate.name,
                    remedy="place each copy as a panel of its own name; equal parts are "
                    "counted together afterwards",
                )

    @cached_property
    def thickness_mm(self) -> float:
        """Thickness of all layers together, mm, as measured."""
        return sum(plate.sheet.thickness_mm for plate in self.layers)

    @property
    def plate(self) -> Plate:
        """The plate of a plain panel; the first layer of a laminate."""
        return self.layers[0]

    @cached_property
    def bounds(self) -> Bounds:
        """Bounds of all layers' outlines in the panel's own plane."""
        box = self.layers[0].bounds
        for plate in self.layers[1:]:
            box = box.joined(plate.bounds)
        return box

    @cached_property
    def reach(self) -> tuple[Vector, Vector]:
        """Least and greatest coordinates in space of the box around the slab."""
        spans = [self._span(axis) for axis in (X, Y, Z)]
        return Vector(*(low for low, _ in spans)), Vector(*(high for _, high in spans))

    def _span(self, axis: Vector) -> tuple[float, float]:
        across = self.frame.n.dot(axis) * self.thickness_mm
        low, high = _in_plane(self, self.frame.u.dot(axis), self.frame.v.dot(axis))
        foot = self.frame.origin.dot(axis)
        return foot + low + min(across, 0.0), foot + high + max(across, 0.0)

    @property
    def heights(self) -> tuple[float, float]:
        """Where the slab lies along its own n, measured from the origin of space, mm."""
        low = self.frame.origin.dot(self.frame.n)
        return low, low + self.thickness_mm

    def layer_frames(self) -> tuple[Frame, ...]:
        """Return the frame of every layer, in order."""
        frames, height = [], 0.0
        for plate in self.layers:
            frames.append(self.frame.lifted(height))
            height += plate.sheet.thickness_mm
        return tuple(frames)

    def moved(self, *, x_mm: float = 0.0, y_mm: float = 0.0, z_mm: float = 0.0) -> Panel:
        """Return the panel moved in space."""
        return replace(self, frame=self.frame.moved(Vector(x_mm, y_mm, z_mm)))

    def turned(
        self,
        *,
        about: Axis,
        angle_deg: float,
        through: tuple[float, float, float] = NOWHERE,
    ) -> Panel:
        """Return the panel turned about an axis parallel to x, y or z.

        Args:
            about: The axis.
            angle_deg: How far, counter-clockwise seen with the axis pointing at the eye; exact
                at quarter turns.
            through: A place the axis runs through.

        Raises:
            PartError: `about` is no axis.
        """
        if about not in AXES:
            raise PartError(
                f"axis is {about!r}", part=self.name, remedy="give one of 'x', 'y', 'z'"
            )
        frame = self.frame.turned(about=AXES[about], angle_deg=angle_deg, through=Vector(*through))
        return replace(self, frame=frame)


def _in_plane(panel: Panel, x_share: float, y_share: float) -> tuple[float, float]:
    """Return the range of ``x_share * x + y_share * y`` over the outlines, exact."""
    if x_share and y_share:
        turn = Motion(turn_deg=-math.degrees(math.atan2(y_share, x_share)))
        boxes = [plate.outline.outer.moved(turn).bounds for plate in panel.layers]
        scale = math.hypot(x_share, y_share)
        return scale * min(box.left for box in boxes), scale * max(box.right for box in boxes)
    box = panel.bounds
    if y_share:
        ends = (y_share * box.bottom, y_share * box.top)
    else:
        ends = (x_share * box.left, x_share * box.right)
    return min(ends), max(ends)
