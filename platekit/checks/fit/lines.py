"""Lines: bearings and motors that stand on one axis."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from platekit.assembly.frames import Vector
from platekit.assembly.mounting import Standing
from platekit.hardware.devices.ratings import BearingRating
from platekit.hardware.hazards import Hazard

# Axes nearer than this are one line; common practice, no source.
SAME_LINE_MM = 0.05
SAME_WAY = 1e-6


@dataclass(frozen=True, kw_only=True)
class Support:
    """Where a shaft is held on its line.

    Attributes:
        standing: The device that holds it.
        at_mm: Its middle along the line.
        motor: Whether it is a motor, whose shaft comes with it; else a bearing.
        float_mm: How far it can be moved off the line before its screws are drawn: half of the
            play of its spigot.
    """

    standing: Standing
    at_mm: float
    motor: bool
    float_mm: float = 0.0

    @property
    def panel(self) -> str:
        """The panel it stands on."""
        return self.standing.panel


def lines(standing: Sequence[Standing]) -> tuple[tuple[Support, ...], ...]:
    """Return the supports that stand on one line, in order along it; two panels at least."""
    left = [one for one in standing if _bears(one) or _drives(one)]
    found = []
    while left:
        first = left[0]
        line = [one for one in left if _on_one_line(first, one)]
        left = [one for one in left if one not in line]
        supports = sorted((_support(first, one) for one in line), key=lambda one: one.at_mm)
        if len({one.panel for one in supports}) > 1:
            found.append(tuple(supports))
    return tuple(found)


def bearer(one: Standing, standing: Sequence[Standing], *, beside: Vector) -> Standing:
    """Return what holds a device's shaft nearest to a place along it; the device where none does.

    Args:
        one: The device that has the shaft.
        standing: Every device.
        beside: The place.
    """
    axis = one.frame.n
    held = [
        _support(one, other)
        for other in standing
        if (_bears(other) or _drives(other)) and _on_one_line(one, other)
    ]
    at = beside.plus(one.frame.origin, times=-1.0).dot(axis)
    return min(held, key=lambda each: abs(each.at_mm - at)).standing if held else one


def _bears(one: Standing) -> bool:
    device = one.device
    return isinstance(device.rating, BearingRating) or any(
        item.designation.startswith("deep-groove ball bearing") for item in device.items
    )


def _drives(one: Standing) -> bool:
    device = one.device
    return (
        device.fixing is not None and device.shaft is not None and Hazard.MOTION in device.hazards
    )


def _on_one_line(one: Standing, other: Standing) -> bool:
    axis = one.frame.n
    if abs(abs(axis.dot(other.frame.n)) - 1.0) > SAME_WAY:
        return False
    way = other.frame.origin.plus(one.frame.origin, times=-1.0)
    return way.plus(axis, times=-way.dot(axis)).length <= SAME_LINE_MM


def _support(first: Standing, one: Standing) -> Support:
    axis = first.frame.n
    way = one.frame.origin.plus(first.frame.origin, times=-1.0)
    # A motor's shaft is where its seat is; a bearing lies inside its blocks.
    motor = _drives(one)
    heights = [z for block in one.device.blocks for z in (block.low_mm, block.high_mm)]
    middle = 0.0 if motor or not heights else (min(heights) + max(heights)) / 2
    return Support(
        standing=one,
        at_mm=way.dot(axis) + middle * one.frame.n.dot(axis),
        motor=motor,
        float_mm=_float(one) if motor else 0.0,
    )


def _float(one: Standing) -> float:
    plays = [
        (passage.hole.bounds.width_mm - passage.core.bounds.width_mm) / 2
        for passage in one.device.passages
        if passage.name == "spigot" and passage.hole.is_circle and passage.core.is_circle
    ]
    return min(plays, default=0.0)


def names_of(supports: Iterable[Support]) -> str:
    """Return the supports' names joined as findings join them."""
    return " + ".join(one.standing.name for one in supports)
