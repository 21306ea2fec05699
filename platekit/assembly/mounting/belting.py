"""Belting: a belt and two pulleys on the shafts of devices, all in one plane.

The plane follows the panel the pulleys turn in front of: change the sheet and it moves, or a
finding says which shaft no longer reaches it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from platekit.assembly.frames import Frame
from platekit.assembly.mounting.asked import Belted, Travel
from platekit.assembly.mounting.axes import SQUARE_WITHIN
from platekit.assembly.mounting.bodies import Body, BodyKind
from platekit.assembly.mounting.seats import Standing, face, require_panel
from platekit.assembly.panels import Panel
from platekit.errors import PartError, UnknownNameError
from platekit.findings import Finding, Severity
from platekit.geometry.points import Point
from platekit.hardware import BeltDrive, Item, belt_above_face_mm, pulley
from platekit.hardware.devices.device import ShaftEnd

# A pulley may stand this far off its shaft's end before its hub holds less than it should
# (common practice, no source).
SHORT_MM = 0.5
# A centre distance this close is met; belts are made to about a tenth of a millimetre.
MET_MM = 0.05
# Travel short by less than this is rounding.
ROUNDING_MM = 1e-6


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
    moving: Mapping[str, Travel],
) -> Running:
    """Return the pulleys and the belt of one asking.

    Args:
        asked: What was asked for.
        panels: The panels by name.
        standing: The devices by name.
        moving: How far and which way panels can be moved on their bolts, by name.

    Raises:
        PartError: A device offers no shaft, their shafts are not square to the panel, or the belt
            does not reach from one to the other.
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
        bodies.append(
            Body(f"{asked.name} pulley on {end.name}", BodyKind.PULLEY, wheel.blocks, frame)
        )
        items += [Item(one.designation, one.quantity, end.name) for one in wheel.items]
        high = max(block.high_mm for block in wheel.blocks)
        findings += _reach(asked, end, high)
        spots.append(end.spot)
    findings += _distance(asked, spots, _travel_mm(asked, panels, standing, moving))
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


def _distance(asked: Belted, spots: list[Point], travel_mm: float) -> list[Finding]:
    """Return what is wrong with how far the shafts stand apart, and can be moved.

    A slot reaches half its travel to either side of the place asked for: towards the other shaft
    to lift the belt on, and away from it to draw it tight.

    Raises:
        PartError: The belt does not reach, whatever the slots allow.
    """
    drive: BeltDrive = asked.drive
    apart = math.dist(spots[0], spots[1])
    beyond = apart - drive.centres_mm
    part, feature = " + ".join(asked.between), asked.name
    if abs(beyond) > max(travel_mm / 2, MET_MM):
        raise PartError(
            f"it does not reach: the shafts of {part} stand {apart:.4g} mm apart, and a belt of "
            f"{drive.belt_teeth} teeth asks for {drive.centres_mm:.4g} mm",
            part=asked.on,
            feature=feature,
            remedy="place one with by_belt(), take another belt, or give more travel_mm",
        )
    needed = 2 * max(beyond + drive.fitting_mm, drive.tension_mm - beyond)
    if travel_mm >= needed - ROUNDING_MM:
        return []
    return [
        Finding(
            severity=Severity.WARNING,
            part=part,
            feature=feature,
            measure="travel along the belt, to fit and tension it",
            value=round(travel_mm, 4),
            limit=round(needed, 4),
            unit="mm",
            source="twice the greater way from its place; common practice and ISO 155, from memory",
            remedy="give one of the two devices, or the bolts of its panel, more travel_mm, its "
            "travel_deg along the belt",
        )
    ]


def _travel_mm(
    asked: Belted,
    panels: Mapping[str, Panel],
    standing: Mapping[str, Standing],
    moving: Mapping[str, Travel],
) -> float:
    """Return how far one of the two shafts can be moved towards the other and away, in all.

    In its own slots, or with its panel where the other stands on another.
    """
    one, other = (standing[name] for name in asked.between)
    line = other.frame.origin.plus(one.frame.origin, times=-1.0)
    ways = [(each.panel, each.asked.travel) for each in (one, other) if each.asked is not None]
    if one.panel != other.panel:
        ways += [(each.panel, moving[each.panel]) for each in (one, other) if each.panel in moving]
    most = 0.0
    for name, travel in ways:
        frame = panels[name].frame.turned_in_plane(travel.along_deg)
        # The shafts' distance as seen along them: what lies along the shafts does not count.
        across = line.plus(one.frame.n, times=-line.dot(one.frame.n))
        share = abs(frame.u.dot(across)) / across.length if across.length else 0.0
        most = max(most, share * travel.length_mm)
    return most
