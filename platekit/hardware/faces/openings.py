"""Outlines of the openings that control devices, sockets and inlets need."""

from __future__ import annotations

from platekit.errors import PartError
from platekit.geometry.chains import Contour, circle
from platekit.geometry.shapes import keyed_circle, rectangle
from platekit.hardware.blocks import ORIGIN
from platekit.hardware.faces.cutouts import PanelCutout


def opening_of(cut: PanelCutout) -> Contour:
    """Return the outline of an opening about its centre; a key notch lies at the top.

    Raises:
        PartError: It has no size, or its notch lies inside its circle.
    """
    if cut.width_mm is not None and cut.height_mm is not None:
        return rectangle(cut.width_mm, cut.height_mm, fillet_mm=cut.corner_mm or 0.0, centre=ORIGIN)
    if cut.diameter_mm is None:
        raise PartError(f"the opening of {cut.designation} has no size", remedy="mend its row")
    if cut.notch_width_mm is None or cut.notch_height_mm is None:
        return circle(ORIGIN, diameter_mm=cut.diameter_mm)
    depth = cut.notch_height_mm - cut.diameter_mm
    if not depth > 0:
        raise PartError(f"the notch of {cut.designation} is hidden", remedy="mend its row")
    return keyed_circle(cut.diameter_mm, key_width_mm=cut.notch_width_mm, key_depth_mm=depth)
