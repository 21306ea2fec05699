"""Columns: which layers a line square to them passes, and where along it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from platekit.assembly.frames import Frame
from platekit.assembly.mounting.axes import SQUARE_WITHIN, motion_into
from platekit.assembly.panels import Panel
from platekit.geometry.distance import point_distances
from platekit.geometry.motion import Motion
from platekit.geometry.points import Pair, Point
from platekit.panel.plate import Plate

# Faces this close lie against each other; sheets are measured to a tenth of a millimetre.
TOUCHING_MM = 0.01


@dataclass(frozen=True)
class Layer:
    """One layer of a panel as an axis square to it sees it.

    Attributes:
        panel: Name of the panel.
        plate: The layer.
        motion: How the axis's own x and y lie in the plate's.
        low_mm: Where the layer begins along the axis.
        high_mm: Where it ends.
    """

    panel: str
    plate: Plate
    motion: Motion
    low_mm: float
    high_mm: float

    @property
    def thickness_mm(self) -> float:
        """Thickness of the layer."""
        return self.high_mm - self.low_mm

    def overlaps(self, low_mm: float, high_mm: float) -> bool:
        """Return whether something from `low_mm` to `high_mm` reaches into the layer."""
        return min(self.high_mm, high_mm) - max(self.low_mm, low_mm) > TOUCHING_MM

    def spot(self, at: Pair) -> Point:
        """Return a point beside the axis in the plate's coordinates."""
        return self.motion.apply(at)

    def reach_to_edge_mm(self, at: Pair) -> float:
        """Return the distance of a point from the plate's outline as drawn, below 0 outside it."""
        spot = self.spot(at)
        apart = _nearest(self.plate.outline.table, spot)
        return apart if self.plate.outline.contains(spot) else -apart

    def bears(self, at: Pair, *, radius_mm: float) -> bool:
        """Return whether a washer of that radius finds material under it.

        It does where the point lies in the material, or in a hole too narrow to let it through.
        """
        spot = self.spot(at)
        profile = self.plate.profile
        if profile.contains(spot):
            return True
        return profile.outer.encloses(spot) and _nearest(profile.table, spot) < radius_mm


def _nearest(table: np.ndarray, spot: Point) -> float:
    return float(point_distances(table, np.tile(spot, (len(table), 1))).min())


def layers_along(panels: Iterable[Panel], axis: Frame) -> tuple[Layer, ...]:
    """Return every layer square to an axis, the furthest along it first."""
    found = []
    for panel in panels:
        if abs(abs(panel.frame.n.dot(axis.n)) - 1.0) > SQUARE_WITHIN:
            continue
        for plate, frame in zip(panel.layers, panel.layer_frames(), strict=True):
            foot = axis.coordinates(frame.origin)[2]
            top = foot + plate.sheet.thickness_mm * panel.frame.n.dot(axis.n)
            low, high = min(foot, top), max(foot, top)
            found.append(Layer(panel.name, plate, motion_into(frame, axis), low, high))
    return tuple(sorted(found, key=lambda layer: -layer.high_mm))


def gripped(
    layers: Sequence[Layer], at: Pair, *, top_mm: float, radius_mm: float
) -> tuple[Layer, ...]:
    """Return the layers that lie against each other below `top_mm` at a point, from there down.

    Args:
        layers: All layers along the axis.
        at: The point beside the axis.
        top_mm: Where the stack begins along the axis.
        radius_mm: Radius of the washer that must find material on each.
    """
    run: list[Layer] = []
    level = top_mm
    for layer in layers:
        if abs(layer.high_mm - level) <= TOUCHING_MM and layer.bears(at, radius_mm=radius_mm):
            run.append(layer)
            level = layer.low_mm
    return tuple(run)


def heading_along(layers: Iterable[Layer], panel: str, along_deg: float) -> float:
    """Return a direction drawn on a panel as the axis's own x and y see it, degrees.

    Args:
        layers: All layers along the axis.
        panel: The panel it is drawn on.
        along_deg: Counter-clockwise from that panel's +x.
    """
    for layer in layers:
        if layer.panel == panel:
            turned = along_deg - layer.motion.turn_deg
            return 180.0 - turned if layer.motion.mirrored else turned
    return along_deg
