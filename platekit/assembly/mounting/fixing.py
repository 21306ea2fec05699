"""Fixing: the screws of mounted devices and the holes for them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from platekit.assembly.frames import Frame
from platekit.assembly.mounting.asked import Mounted
from platekit.assembly.mounting.columns import Layer, gripped, heading_along, layers_along
from platekit.assembly.mounting.lines import Fixed, Line, bearing_radius, require_held
from platekit.assembly.mounting.seats import Standing
from platekit.assembly.mounting.stacks import Chosen, Grip, nutted, tapped
from platekit.assembly.panels import Panel
from platekit.geometry.points import Point
from platekit.hardware import Nut, ScrewKind, nut, screw_by
from platekit.hardware.devices.device import Fixing

USUAL_NUT = "ISO 4032"


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
    # Let in, it lies on the layer its seat has come down to; those above are open for it.
    off = max(asked.lift_mm, 0.0)
    for number, at in enumerate(held.points, start=1):
        line = _line(standing, asked, kind, at, number=number, layers=layers)
        deeper = line.beyond()
        if held.tapped:
            done.take(_into_device(standing, held, line, lift_mm=off))
            done.cuts += [line.head_room(layer) for layer in deeper]
        else:
            closing = nut(USUAL_NUT, kind.thread)
            done.take(_through_flange(standing, held, line, closing, lift_mm=off))
            done.cuts += [line.nut_room(layer, closing) for layer in deeper]
        done.cuts += line.clearances(line.run)
        done.cuts += line.access(asked.access, panels)
    return done


def _line(
    standing: Standing,
    asked: Mounted,
    kind: ScrewKind,
    at: Point,
    *,
    number: int,
    layers: tuple[Layer, ...],
) -> Line:
    name = f"{standing.name} screw {number}"
    top = -max(asked.lift_mm, 0.0)
    run = gripped(layers, at, top_mm=top, radius_mm=bearing_radius(kind))
    heading = heading_along(layers, asked.on, asked.travel.along_deg)
    line = Line(
        owner=f"{standing.name} screws",
        of=standing.name,
        kind=f"{kind.thread} hole",
        name=name,
        at=at,
        layers=layers,
        run=run[: asked.grip_layers],
        screw=kind,
        fit=asked.fit,
        travel=replace(asked.travel, along_deg=heading),
        panel=asked.on,
        # The screws move with the device, in whatever they pass.
        moves_in=frozenset(layer.panel for layer in layers),
    )
    require_held(line)
    return line


def _into_device(standing: Standing, held: Fixing, line: Line, *, lift_mm: float) -> Chosen:
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


def _through_flange(
    standing: Standing, held: Fixing, line: Line, closing: Nut, *, lift_mm: float
) -> Chosen:
    flange = held.flange_mm or 0.0
    grip = sum(layer.thickness_mm for layer in line.run) + lift_mm + flange
    frame = standing.frame
    over = Frame(frame.point(line.at.x, line.at.y, flange), frame.u, frame.v)
    return nutted(
        _grip(standing, line, over, grip, lift_mm), line.screw, closing, head_washer=False
    )


def _grip(standing: Standing, line: Line, frame: Frame, grip_mm: float, lift_mm: float) -> Grip:
    return Grip(
        name=line.name,
        part=line.run[0].panel,
        note=standing.name,
        frame=frame,
        grip_mm=grip_mm,
        holds=(standing.name, *(layer.plate.name for layer in line.run)),
        spacer_mm=lift_mm,
    )
