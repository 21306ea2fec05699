"""Bolting: bolts through panels that lie against each other, and the holes and nuts they need."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from platekit.assembly.frames import Frame
from platekit.assembly.mounting.asked import Bolted
from platekit.assembly.mounting.columns import (
    TOUCHING_MM,
    Layer,
    gripped,
    heading_along,
    layers_along,
)
from platekit.assembly.mounting.lines import Fixed, Line, bearing_radius, require_held
from platekit.assembly.mounting.seats import Standing, frames_at, require_panel, spots
from platekit.assembly.mounting.stacks import Chosen, Grip, nutted
from platekit.assembly.panels import Panel
from platekit.errors import PartError
from platekit.geometry.points import Point
from platekit.geometry.shapes import regular_polygon
from platekit.hardware import Nut, nut, screw_by
from platekit.hardware.play import NUT_PLAY_MM

ORIGIN = Point(0.0, 0.0)


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
    closing = nut(asked.nut, asked.thread)
    for number, frame in enumerate(frames, start=1):
        name = asked.name if len(frames) == 1 else f"{asked.name} {number}"
        sunk = _sunk(asked, name, layers_along(panels.values(), frame))
        level = sunk[-1].low_mm if sunk else 0.0
        line = _line(asked, name, frame, tuple(panels.values()), level)
        require_held(line)
        done.cuts += map(line.head_room, sunk)
        held = _pocketed(line, closing, done) if asked.nut_pocket else line.run
        done.cuts += line.clearances(held)
        done.cuts += line.access(asked.access, tuple(panels.values()))
        grip = Grip(
            name=name,
            part=asked.on,
            note=asked.name,
            frame=frame.lifted(level),
            grip_mm=sum(layer.thickness_mm for layer in held),
            holds=tuple(layer.plate.name for layer in line.run),
        )
        chosen = nutted(grip, line.screw, closing, washer_on_nut=not asked.nut_pocket)
        done.take(chosen)
        deeper = line.beyond()
        if asked.nut_pocket:
            end = _end_mm(chosen, frame)
            done.cuts += line.clearances([one for one in deeper if one.overlaps(end, one.high_mm)])
        else:
            done.cuts += [line.nut_room(layer, closing) for layer in deeper]
    return done


def _sunk(asked: Bolted, name: str, layers: Sequence[Layer]) -> tuple[Layer, ...]:
    """Return the layers that the head is sunk into, the outermost first.

    Raises:
        PartError: The panel has no more layers than that.
    """
    own = [one for one in layers if one.panel == asked.on and one.high_mm <= TOUCHING_MM]
    if asked.sunk_layers and asked.sunk_layers >= len(own):
        raise PartError(
            f"its head is to be sunk into {asked.sunk_layers} of {len(own)} layers",
            part=asked.on,
            feature=name,
            remedy="leave it a layer to lie on: sink it less deep, or laminate one more",
        )
    return tuple(own[: asked.sunk_layers])


def _line(
    asked: Bolted, name: str, frame: Frame, panels: tuple[Panel, ...], level_mm: float
) -> Line:
    kind = screw_by(asked.screw, asked.thread)
    layers = layers_along(panels, frame)
    run = gripped(layers, ORIGIN, top_mm=level_mm, radius_mm=bearing_radius(kind))
    heading = heading_along(layers, asked.on, asked.travel.along_deg)
    return Line(
        owner=name,
        kind=f"{asked.thread} bolt",
        name=name,
        at=ORIGIN,
        layers=layers,
        run=run[: asked.grip_layers],
        screw=kind,
        fit=asked.fit,
        travel=replace(asked.travel, along_deg=heading),
        panel=asked.on,
        moves_in=frozenset({asked.on}),
    )


def _pocketed(line: Line, closing: Nut, done: Fixed) -> tuple[Layer, ...]:
    """Cut the nut's pocket in the last layer; return those between it and the head.

    Raises:
        PartError: There is only one layer.
    """
    if len(line.run) < 2:
        raise PartError(
            "its nut's pocket takes a layer, and it passes only one",
            part=line.panel,
            feature=line.name,
            remedy="let it pass two layers, or leave nut_pocket out",
        )
    flats = closing.across_flats_mm
    done.cuts.append(
        line.shaped(
            line.run[-1],
            regular_polygon(6, across_flats_mm=flats),
            regular_polygon(6, across_flats_mm=flats + NUT_PLAY_MM),
        )
    )
    return line.run[:-1]


def _end_mm(chosen: Chosen, frame: Frame) -> float:
    """Return where the bolt ends along the frame's n; 0, its face, where there is none."""
    if chosen.fastening is None:
        return 0.0
    bolt = chosen.fastening.bodies[0]
    head = frame.coordinates(bolt.frame.origin)[2]
    return head + min(block.low_mm for block in bolt.blocks)
