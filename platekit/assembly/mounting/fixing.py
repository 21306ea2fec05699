"""Fixing: the screws of mounted devices and the bolts through panels, and the holes for them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from platekit.assembly.frames import Frame
from platekit.assembly.mounting.asked import Bolted, Mounted, Travel
from platekit.assembly.mounting.bodies import Fastening
from platekit.assembly.mounting.columns import Layer, gripped, layers_along
from platekit.assembly.mounting.piercing import Cut, moving
from platekit.assembly.mounting.seats import Standing, frames_at, require_panel, spots
from platekit.assembly.mounting.stacks import (
    Chosen,
    Grip,
    nutted,
    tapped,
    washer_for,
)
from platekit.assembly.panels import Panel
from platekit.errors import PartError, UnknownNameError
from platekit.findings import Finding
from platekit.geometry.chains import Contour, circle
from platekit.geometry.points import Point
from platekit.geometry.shapes import regular_polygon
from platekit.hardware import Item, ScrewKind, clearance_hole_mm, nut, screw_by, tool_for
from platekit.hardware.device import Fixing
from platekit.hardware.play import ACCESS_CLEARANCE_MM, NUT_PLAY_MM

ORIGIN = Point(0.0, 0.0)


@dataclass
class Fixed:
    """What screws ask for: holes, bodies, lines of the bill, findings."""

    cuts: list[Cut] = field(default_factory=list)
    fastenings: list[Fastening] = field(default_factory=list)
    items: list[Item] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)

    def take(self, chosen: Chosen) -> None:
        """Add what came of one grip."""
        if chosen.fastening is not None:
            self.fastenings.append(chosen.fastening)
        self.items += chosen.items
        self.findings += [one for one in chosen.findings if one not in self.findings]


@dataclass(frozen=True, kw_only=True)
class _Line:
    """One screw's line through the layers, in the coordinates of what it fixes.

    Attributes:
        owner: Names the feature its holes belong to.
        kind: What the feature is.
        name: What messages call the screw.
        at: Where it stands.
        layers: All layers along the axis, the nearest first.
        run: The layers it grips.
        screw: The screw.
        fit: Of its holes.
        travel: How far it can be moved in its own panel.
        panel: That panel.
    """

    owner: str
    kind: str
    name: str
    at: Point
    layers: tuple[Layer, ...]
    run: tuple[Layer, ...]
    screw: ScrewKind
    fit: str
    travel: Travel
    panel: str

    @property
    def bottom_mm(self) -> float:
        """Where the gripped layers end."""
        return self.run[-1].low_mm

    @property
    def hole_mm(self) -> float:
        """Diameter of the clearance hole."""
        return clearance_hole_mm(self.screw.thread, fit=self.fit)

    def cut(self, layer: Layer, core_mm: float, hole_mm: float) -> Cut:
        """Return a round hole in one layer."""
        core = circle(self.at, diameter_mm=core_mm)
        hole = circle(self.at, diameter_mm=hole_mm)
        return self.shaped(layer, core, hole)

    def shaped(self, layer: Layer, core: Contour, hole: Contour) -> Cut:
        """Return a hole in one layer, drawn out where the screw can be moved in it."""
        core, hole = core.moved(layer.motion), hole.moved(layer.motion)
        if layer.panel == self.panel and hole.is_circle:
            length, along = self.travel.length_mm, self.travel.along_deg
            core = moving(core, travel_mm=length, along_deg=along)
            hole = moving(hole, travel_mm=length, along_deg=along)
        return Cut(layer.panel, layer.plate.name, self.owner, self.kind, core, hole)


def fix_device(standing: Standing, panels: Sequence[Panel]) -> Fixed:
    """Return the screws of one mounted device.

    Raises:
        PartError: There is no panel under a screw, or a hole lies too close to an edge.
        UnknownNameError: No such screw, or no panel of a name given for access.
    """
    done = Fixed()
    asked, held = standing.asked, standing.device.fixing
    if asked is None or held is None:
        return done
    layers = layers_along(panels, standing.frame)
    kind = screw_by(asked.screw, held.thread)
    for number, at in enumerate(held.points, start=1):
        line = _line(standing, asked, kind, at, number=number, layers=layers)
        chosen = (
            _into_device(standing, held, line, lift_mm=asked.lift_mm)
            if held.tapped
            else _through_flange(standing, held, line, lift_mm=asked.lift_mm)
        )
        done.take(chosen)
        done.cuts += [line.cut(layer, kind.nominal_mm, line.hole_mm) for layer in line.run]
        if held.tapped:
            done.cuts += _beyond(line)
        done.cuts += _access(line, asked.access, panels)
    return done


def _line(
    standing: Standing,
    asked: Mounted,
    kind: ScrewKind,
    at: Point,
    *,
    number: int,
    layers: tuple[Layer, ...],
) -> _Line:
    name = f"{standing.name} screw {number}"
    run = gripped(layers, at, top_mm=-asked.lift_mm, radius_mm=_bearing_radius(kind))
    line = _Line(
        owner=f"{standing.name} screws",
        kind=f"{kind.thread} hole",
        name=name,
        at=at,
        layers=layers,
        run=run[: asked.grip_layers],
        screw=kind,
        fit=asked.fit,
        travel=asked.travel,
        panel=asked.on,
    )
    _require_held(line)
    return line


def _bearing_radius(kind: ScrewKind) -> float:
    under = washer_for(kind)
    widest = kind.head_diameter_mm if under is None else under.outer_mm
    return widest / 2


def _require_held(line: _Line) -> None:
    """Raise unless a screw grips a layer, and its holes keep off every edge.

    Raises:
        PartError: There is none, or a hole is nearer an edge than the sheet is thick.
    """
    if not line.run:
        own = next((layer for layer in line.layers if layer.panel == line.panel), None)
        spot = own.spot(line.at) if own is not None else line.at
        raise PartError(
            f"there is no panel under it, at ({spot.x:.6g}, {spot.y:.6g})",
            part=line.panel,
            feature=line.name,
            remedy="move it onto the material, or close the opening there",
        )
    for layer in line.run:
        web = layer.reach_to_edge_mm(line.at) - line.hole_mm / 2
        if web < layer.thickness_mm:
            raise PartError(
                f"its hole is {web:.4g} mm from the edge of {layer.plate.name}, and a screw's "
                f"hole keeps the sheet's thickness away, {layer.thickness_mm:.4g} mm "
                "(common practice, no source)",
                part=layer.panel,
                feature=line.name,
                remedy="move it inwards or make the panel larger",
            )


def _into_device(standing: Standing, held: Fixing, line: _Line, *, lift_mm: float) -> Chosen:
    grip = sum(layer.thickness_mm for layer in line.run) + lift_mm
    frame = standing.frame
    under = Frame(frame.point(line.at.x, line.at.y, line.bottom_mm), frame.u.scaled(-1.0), frame.v)
    return tapped(
        _grip(standing, line, under, grip, lift_mm),
        line.screw,
        into=standing.name,
        depth_mm=held.depth_mm or 0.0,
        metal=held.metal,
    )


def _through_flange(standing: Standing, held: Fixing, line: _Line, *, lift_mm: float) -> Chosen:
    flange = held.flange_mm or 0.0
    grip = sum(layer.thickness_mm for layer in line.run) + lift_mm + flange
    frame = standing.frame
    over = Frame(frame.point(line.at.x, line.at.y, flange), frame.u, frame.v)
    closing = nut("ISO 4032", line.screw.thread)
    return nutted(
        _grip(standing, line, over, grip, lift_mm), line.screw, closing, head_washer=False
    )


def _grip(standing: Standing, line: _Line, frame: Frame, grip_mm: float, lift_mm: float) -> Grip:
    return Grip(
        name=line.name,
        part=line.run[0].panel,
        note=standing.name,
        frame=frame,
        grip_mm=grip_mm,
        holds=(standing.name, *(layer.plate.name for layer in line.run)),
        spacer_mm=max(lift_mm, 0.0),
    )


def _beyond(line: _Line) -> list[Cut]:
    """Return the holes for head and washer in layers that lie against the last one gripped."""
    radius = _bearing_radius(line.screw)
    against = gripped(line.layers, line.at, top_mm=line.bottom_mm, radius_mm=radius)
    return [_room(line, layer) for layer in against]


def _room(line: _Line, layer: Layer) -> Cut:
    wide = max(2 * _bearing_radius(line.screw), tool_for(line.screw).diameter_mm)
    return line.cut(layer, wide, wide + ACCESS_CLEARANCE_MM)


def _access(line: _Line, names: Sequence[str], panels: Sequence[Panel]) -> list[Cut]:
    known = {panel.name: panel for panel in panels}
    for name in names:
        if name not in known:
            raise UnknownNameError.among("panel", name, known)
    return [_room(line, layer) for layer in line.layers if layer.panel in names]


def fix_bolts(
    asked: Bolted, panels: Mapping[str, Panel], standing: Mapping[str, Standing]
) -> Fixed:
    """Return the bolts of one asking.

    Raises:
        PartError: There is no panel where one goes, a hole lies too close to an edge, or the
            nut's pocket has no layer of its own.
        UnknownNameError: No such panel, or a place names what is not there.
    """
    done = Fixed()
    panel = require_panel(panels, asked.on)
    found = spots(panel, asked.at, standing)
    frames = frames_at(panel, asked.side, found, turn_deg=0.0, lift_mm=0.0)
    kind = screw_by(asked.screw, asked.thread)
    closing = nut(asked.nut, asked.thread)
    every = tuple(panels.values())
    for number, frame in enumerate(frames, start=1):
        name = asked.name if len(frames) == 1 else f"{asked.name} {number}"
        layers = layers_along(every, frame)
        run = gripped(layers, ORIGIN, top_mm=0.0, radius_mm=_bearing_radius(kind))
        run = run[: asked.grip_layers]
        line = _Line(
            owner=name,
            kind=f"{asked.thread} bolt",
            name=name,
            at=ORIGIN,
            layers=layers,
            run=run,
            screw=kind,
            fit=asked.fit,
            travel=asked.travel,
            panel=asked.on,
        )
        _require_held(line)
        held = line.run
        if asked.nut_pocket:
            if len(held) < 2:
                raise PartError(
                    "its nut's pocket takes a layer, and it passes only one",
                    part=asked.on,
                    feature=name,
                    remedy="let it pass two layers, or leave nut_pocket out",
                )
            pocket, held = held[-1], held[:-1]
            flats = closing.across_flats_mm
            done.cuts.append(
                line.shaped(
                    pocket,
                    regular_polygon(6, across_flats_mm=flats),
                    regular_polygon(6, across_flats_mm=flats + NUT_PLAY_MM),
                )
            )
        done.cuts += [line.cut(layer, kind.nominal_mm, line.hole_mm) for layer in held]
        done.cuts += _access(line, asked.access, every)
        grip = Grip(
            name=name,
            part=asked.on,
            note=asked.name,
            frame=frame,
            grip_mm=sum(layer.thickness_mm for layer in held),
            holds=tuple(layer.plate.name for layer in line.run),
        )
        done.take(nutted(grip, kind, closing, washer_on_nut=not asked.nut_pocket))
    return done
