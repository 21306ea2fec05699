"""Installing: everything a recipe asked for comes to stand in its place.

First every device finds its place, in the order asked. Then what passes through layers is cut, all
at once, so that the larger hole is cut where several go through one. Then screws find what they
grip in what is left, and their holes are cut.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from platekit.assembly.mounting.asked import Asked, Belted, Bolted, Mounted, Travel
from platekit.assembly.mounting.belting import run_belt
from platekit.assembly.mounting.bodies import Body, BodyKind, Fastening
from platekit.assembly.mounting.bolting import fix_bolts
from platekit.assembly.mounting.columns import heading_along, layers_along
from platekit.assembly.mounting.fixing import fix_device
from platekit.assembly.mounting.lines import Fixed, require_across
from platekit.assembly.mounting.piercing import Cut, moving, pierced
from platekit.assembly.mounting.seating import seat_findings
from platekit.assembly.mounting.seats import Standing, stood
from platekit.assembly.panels import Panel
from platekit.errors import PartError, concerning
from platekit.findings import Finding
from platekit.geometry.chains import Contour, circle
from platekit.geometry.offset import offset_rings
from platekit.geometry.profile import Profile
from platekit.hardware import Item, screw
from platekit.hardware.blocks import Block, cylinder
from platekit.hardware.hazards import Hazard
from platekit.hardware.play import BODY_CLEARANCE_MM


@dataclass(frozen=True)
class Installed:
    """Panels with all holes for bought parts, and these in space.

    Attributes:
        panels: The panels, pierced.
        standing: The devices in their places.
        bodies: Devices, pulleys, belts.
        fastenings: Every screw with what belongs to it.
        items: Lines of the bill.
        findings: What cannot be, or is in doubt.
        hazards: How the bought parts can hurt once switched on.
    """

    panels: tuple[Panel, ...]
    standing: tuple[Standing, ...] = ()
    bodies: tuple[Body, ...] = ()
    fastenings: tuple[Fastening, ...] = ()
    items: tuple[Item, ...] = ()
    findings: tuple[Finding, ...] = ()
    hazards: tuple[Hazard, ...] = ()


def install(panels: Sequence[Panel], asked: Sequence[Asked]) -> Installed:
    """Return the panels and bought parts with everything asked for in its place.

    Raises:
        PartError: Something cannot stand, pass or be held where it was asked to; the message
            names panel and device.
        UnknownNameError: A panel, device or feature named is not there.
    """
    if not asked:
        return Installed(tuple(panels))
    standing = _stood(asked, panels)
    cuts: list[Cut] = []
    for device in standing.values():
        with concerning(part=device.panel, feature=device.name):
            cuts += _passages(device, panels)
    opened = {panel.name: panel for panel in pierced(panels, cuts)}
    fixed = Fixed()
    for device in standing.values():
        with concerning(part=device.panel, feature=device.name):
            fixed.join(fix_device(device, tuple(opened.values())))
    moving = _moving(asked)
    bodies, items = _devices(standing), _items(standing)
    findings: list[Finding] = []
    for one in asked:
        if isinstance(one, Mounted):
            continue
        with concerning(part=one.on, feature=one.name):
            if isinstance(one, Bolted):
                fixed.join(fix_bolts(one, opened, standing))
            elif isinstance(one, Belted):
                running = run_belt(one, opened, standing, moving)
                bodies += running.bodies
                items += running.items
                findings += running.findings
    done = pierced(tuple(opened.values()), fixed.cuts)
    return Installed(
        panels=done,
        standing=tuple(standing.values()),
        bodies=tuple(bodies),
        fastenings=tuple(fixed.fastenings),
        items=(*items, *fixed.items),
        findings=(*findings, *seat_findings(standing.values(), done), *fixed.findings),
        hazards=_hazards(standing.values(), asked),
    )


def _hazards(standing: Iterable[Standing], asked: Iterable[Asked]) -> tuple[Hazard, ...]:
    found = {hazard for one in standing for hazard in one.device.hazards}
    if any(isinstance(one, Belted) for one in asked):
        found.add(Hazard.DRAW_IN)
    return tuple(hazard for hazard in Hazard if hazard in found)


def _stood(asked: Sequence[Asked], panels: Sequence[Panel]) -> dict[str, Standing]:
    """Return every device in its place, by name, in the order asked."""
    named = {panel.name: panel for panel in panels}
    standing: dict[str, Standing] = {}
    for one in asked:
        with concerning(part=one.on, feature=one.name):
            _require_unlike(one, panels)
            if isinstance(one, Mounted):
                standing |= {each.name: each for each in stood(one, named, standing)}
    return standing


def _moving(asked: Sequence[Asked]) -> dict[str, Travel]:
    """Return how far and which way panels can be moved on their bolts, by name."""
    moving: dict[str, Travel] = {}
    for one in asked:
        if isinstance(one, Bolted) and one.travel.length_mm:
            known = moving.get(one.on, Travel())
            moving[one.on] = max(known, one.travel, key=lambda travel: travel.length_mm)
    return moving


def _require_unlike(one: Asked, panels: Sequence[Panel]) -> None:
    """Raise where a bought part is called as a panel or a plate is.

    Raises:
        PartError: It is: messages and steps could not tell which is meant.
    """
    for panel in panels:
        for name in (panel.name, *(plate.name for plate in panel.layers)):
            if name.casefold() == one.name.casefold():
                raise PartError(
                    f"a panel is called {name!r} too", remedy="give it another name with name="
                )


def _passages(one: Standing, panels: Sequence[Panel]) -> Iterator[Cut]:
    """Yield the hole of every passage in every layer it reaches."""
    layers = layers_along(panels, one.frame)
    asked = one.asked
    travel = asked.travel if asked is not None else Travel()
    heading = heading_along(layers, one.panel, travel.along_deg)
    through = asked.through if asked is not None else ()
    require_across(through, panels, layers, what="through")
    for layer in layers:
        ways = [
            (passage.core, passage.hole)
            for passage in one.device.passages
            if layer.overlaps(passage.low_mm, passage.high_mm)
        ]
        if layer.panel in through:
            # A spigot has its own, closer hole.
            closer = {passage.name for passage in one.device.passages}
            ways += [
                (block.profile.outer, _around(block.profile.outer))
                for block in one.device.blocks
                if block.name not in closer and layer.overlaps(block.low_mm, block.high_mm)
            ]
        for core, hole in ways:
            # What moves with the device moves in every layer it passes.
            there = moving(core, travel_mm=travel.length_mm, along_deg=heading)
            wide = moving(hole, travel_mm=travel.length_mm, along_deg=heading)
            room = None
            if one.device.room_mm and layer.panel == one.panel:
                room = circle(layer.spot((0.0, 0.0)), diameter_mm=one.device.room_mm)
            yield Cut(
                layer.panel,
                layer.plate.name,
                one.name,
                one.device.designation,
                there.moved(layer.motion),
                wide.moved(layer.motion),
                room=room,
                most_panel_mm=one.device.most_panel_mm,
                of=one.name,
            )


def _around(outline: Contour) -> Contour:
    """Return the hole a body passes with play all round."""
    if outline.is_circle:
        box = outline.bounds
        return circle(box.centre, diameter_mm=box.width_mm + BODY_CLEARANCE_MM)
    grown = offset_rings(Profile(outline), growth_mm=BODY_CLEARANCE_MM / 2)
    return grown.profile.outer


def _devices(standing: dict[str, Standing]) -> list[Body]:
    return [
        Body(
            one.name,
            BodyKind.DEVICE,
            one.device.blocks,
            one.frame,
            _tapped(one),
            rides_on=one.panel if one.device.most_panel_mm is not None else "",
        )
        for one in standing.values()
    ]


def _tapped(one: Standing) -> tuple[Block, ...]:
    """Return the holes in a device that its screws stand in, as wide as their threads."""
    held = one.device.fixing
    if held is None:
        return ()
    deep = held.depth_mm if held.depth_mm is not None else held.flange_mm
    wide = screw(held.thread).nominal_mm
    return tuple(
        cylinder("tapped hole", wide, low_mm=-1.0, high_mm=deep or 0.0, at=at) for at in held.points
    )


def _items(standing: dict[str, Standing]) -> list[Item]:
    return [
        Item(item.designation, item.quantity, item.note or one.name)
        for one in standing.values()
        for item in one.device.items
    ]
