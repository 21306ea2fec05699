"""Seating: whether a bearing is as deep as its seat, and whether anything stops it along its axis.

A press fit in plywood creeps; what keeps a bearing in its place is a shoulder: a layer beside it
whose hole is smaller than its outer ring.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from platekit.assembly.mounting.columns import TOUCHING_MM, Layer, layers_along
from platekit.assembly.mounting.seats import Standing
from platekit.assembly.panels import Panel
from platekit.findings import Finding, Severity
from platekit.geometry.points import Point, polar
from platekit.hardware.devices.device import Passage

SEAT = "seat"
# A shoulder is felt for this far inside the outer ring's edge.
INSIDE_MM = 0.75
FEELERS = 8
# A bearing may stand out by as much as a washer or a glued ring takes up.
PROUD_MM = 0.5


def seat_findings(standing: Iterable[Standing], panels: Sequence[Panel]) -> tuple[Finding, ...]:
    """Return a warning for bearings that nothing stops, a note for those that stand out."""
    found: list[Finding] = []
    for one in standing:
        seat = next((p for p in one.device.passages if p.name == SEAT), None)
        if seat is not None:
            found += _of(one, seat, layers_along(panels, one.frame))
    return tuple(found)


def _of(one: Standing, seat: Passage, layers: Sequence[Layer]) -> list[Finding]:
    holding = [layer for layer in layers if layer.overlaps(seat.low_mm, seat.high_mm)]
    if not holding:
        return []
    top, bottom = max(one.high_mm for one in holding), min(one.low_mm for one in holding)
    radius = seat.core.bounds.width_mm / 2 - INSIDE_MM
    beside = [
        layer
        for layer in layers
        if abs(layer.low_mm - seat.high_mm) <= TOUCHING_MM
        or abs(layer.high_mm - seat.low_mm) <= TOUCHING_MM
    ]
    found = []
    if not any(_stops(layer, radius) for layer in beside):
        found.append(
            _finding(
                one,
                Severity.WARNING,
                "nothing stops it along its axis",
                "let it lie against a layer (lift_mm), or add a ring with a smaller hole beside it",
            )
        )
    proud = max(seat.high_mm - top, bottom - seat.low_mm)
    if proud > PROUD_MM:
        found.append(
            _finding(
                one,
                Severity.NOTE,
                "it stands out of its seat by",
                "seat it in one layer more, or let it in with lift_mm",
                value_mm=round(proud, 4),
            )
        )
    return found


def _stops(layer: Layer, radius_mm: float) -> bool:
    """Return whether a layer has wood behind the outer ring, all round but for a notch or two."""
    spots = [
        layer.spot(polar(Point(0.0, 0.0), radius_mm=radius_mm, angle_deg=k * 360.0 / FEELERS))
        for k in range(FEELERS)
    ]
    felt = sum(layer.plate.profile.contains(spot) for spot in spots)
    return felt >= math.ceil(FEELERS / 2)


def _finding(
    one: Standing, severity: Severity, measure: str, remedy: str, *, value_mm: float | None = None
) -> Finding:
    return Finding(
        severity=severity,
        part=one.panel,
        feature=one.name,
        measure=measure,
        value=value_mm,
        limit=None if value_mm is None else PROUD_MM,
        unit="" if value_mm is None else "mm",
        source="common practice, no source",
        remedy=remedy,
    )
