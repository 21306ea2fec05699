"""Bodies: bought parts and fasteners in their place in space."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from platekit.assembly.frames import Frame, Vector
from platekit.hardware import ScrewKind, tool_for
from platekit.hardware.blocks import Block


class BodyKind(Enum):
    """What a body is."""

    DEVICE = "device"
    SCREW = "screw"
    WASHER = "washer"
    NUT = "nut"
    SPACER = "spacer"
    PULLEY = "pulley"
    BELT = "belt"


@dataclass(frozen=True)
class Body:
    """A bought part in space: prisms along its own axis, less what is tapped or bored in it.

    Attributes:
        name: What messages call it: "motor", "motor screw 2".
        kind: What it is.
        blocks: What it fills, along the frame's n.
        frame: Where it lies.
        voids: What is taken away again: tapped holes.
        rides_on: Name of the panel it is clamped into for good, from both sides: a button, a
            gland. Empty for what comes and goes by itself.
    """

    name: str
    kind: BodyKind
    blocks: tuple[Block, ...]
    frame: Frame
    voids: tuple[Block, ...] = ()
    rides_on: str = ""


@dataclass(frozen=True)
class Tool:
    """The room a tool needs to turn a screw.

    Attributes:
        name: What it is: "hex key 4 mm".
        ways: Rooms of which one must be open, along the frame's n: upright first, then bent.
        frame: Where it is; n points away from the head.
    """

    name: str
    ways: tuple[tuple[Block, ...], ...]
    frame: Frame


@dataclass(frozen=True)
class Fastening:
    """One screw with what belongs to it.

    Attributes:
        name: What messages call it: "motor screw 2".
        designation: What it is: "ISO 4762 M5x20 8.8".
        bodies: Screw, washers, nut; the screw first.
        holds: Names of the plates and devices it holds together.
        threaded_in: Name of the device that has its thread; empty where a nut has.
        way: Unit vector in which the screw is drawn out.
        tool: The room its tool needs; None where the tool is unknown.
    """

    name: str
    designation: str
    bodies: tuple[Body, ...]
    holds: tuple[str, ...]
    threaded_in: str
    way: Vector
    tool: Tool | None


def tool_room(kind: ScrewKind, head: Frame) -> Tool:
    """Return the room the tool of a screw needs above its head.

    Args:
        kind: The screw.
        head: Frame of the screw: its head lies on the frame's plane, n points out of it.
    """
    tool = tool_for(kind)
    above = 0.0 if kind.flush else kind.head_height_mm
    return Tool(tool.name, tool.ways(low_mm=above), head)


def flipped(frame: Frame) -> Frame:
    """Return the frame seen from behind: n the other way, v kept."""
    return Frame(frame.origin, frame.u.scaled(-1.0), frame.v)
