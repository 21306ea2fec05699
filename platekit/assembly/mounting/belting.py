"""Belting: a belt and two pulleys on the shafts of devices, all in one plane.

The plane follows the panel the pulleys turn in front of: change the sheet and it moves, or a
finding says which shaft no longer reaches it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from platekit.assembly.frames import Frame
from platekit.assembly.mounting.asked import Belted
from platekit.assembly.mounting.axes import SQUARE_WITHIN
from platekit.assembly.mounting.bodies import Body, BodyKind
from platekit.assembly.mounting.seats import Standing, face, require_panel
from platekit.assembly.panels import Panel
from platekit.errors import PartError, UnknownNameError
from platekit.findings import Finding, Severity
from platekit.geometry.points import Point
from platekit.hardware import BeltDrive, Item, belt_above_face_mm, pulley
from platekit.hardware.device import ShaftEnd

# A pulley may stand this far off its shaft's end before its hub holds less than it should
# (common practice, no source).
SHORT_MM = 0.5
# A centre distance this close is met; belts are made to about a tenth of a millimetre.
MET_MM = 0.05


@dataclass(frozen=True)
class Running:
    """A belt drive in space.

    Attributes:
        bodies: Pulleys and belt.
        items: Lines of the bill.
        findings: What cannot be.
    """

    bodies: tuple[Body, ...]
    items: tuple[Item, ...]
    findings: tuple[Finding, ...]


def run_belt(
    asked: Belted,
    panels: Mapping[str, Panel],
    standing: Mapping[str, Standing],
    moving: Mapping[str, float],
) -> Running:
    """Return the pulleys and the belt of one asking.

    Args:
        asked: What was asked for.
        panels: The panels by name.
        standing: The devices by name.
        moving: How far panels can be moved on their bolts, mm, by name.

    Raises:
        PartError: A device offers no shaft, or their shafts are not square to the panel.
        UnknownNameError: No such panel or device.
    """
    panel = require_panel(panels, asked.on)
    seat = face(panel, asked.side).lifted(asked.gap_mm)
    ends = [_shaft(name, standing, seat, panel.name) for name in asked.between]
    drive = asked.drive
    bodies, items = [], []
    findings = [*drive.findings(part=" + ".join(asked.between))]
    spots = []
    for end, teeth in zip(ends, drive.teeth, strict=True):
        wheel = pulley(
            drive.profile,
            teeth,
            bore_mm=end.shaft.diameter_mm,
            width_mm=drive.width_mm,
        )
        frame = Frame(seat.point(end.spot.x, end.spot.y), seat.u, seat.v)
        bodies.append(Body(f"pulley on {end.name}", BodyKind.PULLEY, wheel.blocks, frame))
        items += [Item(one.designation, one.quantity, end.name) for one in wheel.items]
        high = max(block.high_mm for block in wheel.blocks)
        findings += _reach(asked, end, high)
        spots.append(end.spot)
    findings += _distance(asked, standing, spots, moving)
    low = belt_above_face_mm(drive.profile, width_mm=drive.width_mm)
    belt = drive.block(spots[0], spots[1], low_mm=low)
    bodies.append(Body(asked.name, BodyKind.BELT, (belt,), seat))
    items.append(drive.item(note=" to ".join(asked.between)))
    return Running(tuple(bodies), tuple(items), tuple(findings))


@dataclass(frozen=True)
class _End:
    """A shaft as the pulley's face sees it: z from that face outwards."""

    name: str
    shaft: ShaftEnd
    spot: Point
    low_mm: float
    high_mm: float


def _shaft(name: str, standing: Mapping[str, Standing], seat: Frame, panel: str) -> _End:
    if name not in standing:
        raise UnknownNameError.among("mounted device", name, standing)
    one = standing[name]
    if one.device.shaft is None:
        raise PartError(
            "it offers no shaft for a pulley",
            part=panel,
            feature=name,
            remedy="name the device whose shaft the pulley sits on",
        )
    facing = one.frame.n.dot(seat.n)
    if abs(abs(facing) - 1.0) > SQUARE_WITHIN:
        raise PartError(
            f"its shaft is not square to {panel}",
            part=panel,
            feature=name,
            remedy="name the panel whose face the pulleys turn in front of",
        )
    x, y, foot = seat.coordinates(one.frame.origin)
    shaft = one.device.shaft
    ends = sorted((foot + facing * shaft.low_mm, foot + facing * shaft.high_mm))
    return _End(name, shaft, Point(x, y), ends[0], ends[1])


def _reach(asked: Belted, end: _End, high_mm: float) -> list[Finding]:
    short = max(end.low_mm, 0.0) + max(high_mm - end.high_mm, 0.0)
    if short <= SHORT_MM:
        return []
    held = max(min(end.high_mm, high_mm) - max(end.low_mm, 0.0), 0.0)
    return [
        Finding(
            severity=Severity.STOP,
            part=asked.on,
            feature=f"{asked.name} on {end.name}",
            measure="length of shaft in the pulley",
            value=round(held, 4),
            limit=round(high_mm - SHORT_MM, 4),
            unit="mm",
            source="a pulley sits on its shaft over its whole width; common practice, no source",
            remedy=f"move {end.name} or the belt's plane by {short:.4g} mm, or use a longer shaft",
        )
    ]


def _distance(
    asked: Belted,
    standing: Mapping[str, Standing],
    spots: list[Point],
    moving: Mapping[str, float],
) -> list[Finding]:
    drive: BeltDrive = asked.drive
    apart = math.dist(spots[0], spots[1])
    found = []
    travel = max(_travel(standing[name], moving) for name in asked.between)
    off = abs(apart - drive.centres_mm)
    part, feature = " + ".join(asked.between), asked.name
    if off > max(travel / 2, MET_MM):
        found.append(
            Finding(
                severity=Severity.STOP,
                part=part,
                feature=feature,
                measure="distance of the shafts",
                value=round(apart, 4),
                limit=round(drive.centres_mm, 4),
                unit="mm",
                source=f"exact length of an open belt of {drive.belt_teeth} teeth",
                remedy="place one with by_belt(), take another belt, or give more travel_mm",
            )
        )
    if travel < drive.travel_mm:
        found.append(
            Finding(
                severity=Severity.WARNING,
                part=part,
                feature=feature,
                measure="travel to fit and tension the belt",
                value=travel,
                limit=round(drive.travel_mm, 4),
                unit="mm",
                source="common practice, no source",
                remedy="give one of the two devices, or the bolts of its panel, more travel_mm",
            )
        )
    return found


def _travel(one: Standing, moving: Mapping[str, float]) -> float:
    """Return how far a device can be moved: in its own slots, or with its panel."""
    own = one.asked.travel.length_mm if one.asked is not None else 0.0
    return max(own, moving.get(one.panel, 0.0))
