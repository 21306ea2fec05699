"""Where holes and screws lie in space, worked out from the parts' own outlines and frames."""

import math
from dataclasses import dataclass

from platekit.assembly.frames import Vector
from platekit.assembly.resolve import Resolved


@dataclass(frozen=True)
class Hole:
    """A round hole of one part: its middle on both faces, in space."""

    part: str
    diameter_mm: float
    near: Vector
    far: Vector


def holes(resolved: Resolved, diameter_mm: float | None = None) -> list[Hole]:
    """Return all round holes of an assembly, or those of one diameter."""
    found = []
    for part, frame in resolved.placed:
        for ring in part.profile.inners:
            if ring.is_circle:
                x, y = ring.bounds.centre
                thick = part.sheet.thickness_mm
                found.append(
                    Hole(
                        part.name,
                        ring.bounds.width_mm,
                        frame.point(x, y, 0.0),
                        frame.point(x, y, thick),
                    )
                )
    return [
        one
        for one in found
        if diameter_mm is None or math.isclose(one.diameter_mm, diameter_mm, abs_tol=1e-9)
    ]


def off_axis_mm(place: Vector, screw) -> float:
    """Return how far a place lies from the axis of a fastening's screw."""
    way = place.plus(screw.frame.origin, times=-1.0)
    along = way.dot(screw.frame.n)
    return way.plus(screw.frame.n, times=-along).length


def shank_mm(screw) -> tuple[float, float]:
    """Return where a screw's shank begins and ends along its frame's n."""
    (shank,) = [block for block in screw.blocks if block.name == "shank"]
    return shank.low_mm, shank.high_mm


def holes_on(resolved: Resolved, fastening) -> list[Hole]:
    """Return the holes whose middle line is the axis of a screw, within a micron, top first."""
    screw = fastening.bodies[0]
    found = [
        one
        for one in holes(resolved)
        if off_axis_mm(one.near, screw) < 1e-6 and off_axis_mm(one.far, screw) < 1e-6
    ]
    return sorted(found, key=lambda one: -screw.frame.coordinates(one.near)[2])


def in_the_way(resolved: Resolved, fastening) -> list[str]:
    """Return the parts that leave a screw's shank no room: there is none where all is right."""
    screw = fastening.bodies[0]
    low, high = shank_mm(screw)
    radius = max(block.profile.outer.bounds.width_mm for block in screw.blocks[-1:]) / 2
    found = []
    for part, frame in resolved.placed:
        x, y, z = frame.coordinates(screw.frame.origin)
        facing = screw.frame.n.dot(frame.n)
        if abs(facing) < 1 - 1e-9:
            continue
        ends = sorted((z + facing * low, z + facing * high))
        if ends[1] <= 1e-6 or ends[0] >= part.sheet.thickness_mm - 1e-6:
            continue
        rim = [
            (x + radius * math.cos(math.radians(a)), y + radius * math.sin(math.radians(a)))
            for a in range(0, 360, 15)
        ]
        if any(part.profile.contains(spot) for spot in [(x, y), *rim]):
            found.append(part.name)
    return found
