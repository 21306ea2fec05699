"""Devices: bought parts as they are mounted on a plate.

A device is drawn as it stands on the face it is fixed to, see `platekit.hardware.blocks`: z = 0 is
that face, z points away from the plate. It says what it fills, what of it passes through plates,
how it is held, and which shaft it offers; the assembly room turns that into holes, screws, bodies
and lines on the bill.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from platekit.errors import PartError
from platekit.geometry.chains import Contour, circle
from platekit.geometry.points import Pair, Point
from platekit.hardware.blocks import ORIGIN, Block
from platekit.hardware.devices.ratings import Grip, Rating
from platekit.hardware.hazards import Hazard
from platekit.hardware.items import Item
from platekit.hardware.metals import Metal


@dataclass(frozen=True, slots=True)
class Passage:
    """What of a device goes through plates, and the hole it needs there.

    Attributes:
        name: What passes: "spigot", "shaft", "seat".
        core: Outline of what passes. A plate that is open there already is not cut again.
        hole: The hole to cut, play included.
        low_mm: Where it begins along z.
        high_mm: Where it ends.
    """

    name: str
    core: Contour
    hole: Contour
    low_mm: float
    high_mm: float


def round_passage(
    name: str,
    diameter_mm: float,
    *,
    low_mm: float,
    high_mm: float,
    play_mm: float,
    at: Pair = ORIGIN,
) -> Passage:
    """Return the passage of something round; its hole is `play_mm` wider on diameter."""
    core = circle(at, diameter_mm=diameter_mm)
    hole = circle(at, diameter_mm=diameter_mm + play_mm)
    return Passage(name, core, hole, low_mm, high_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fixing:
    """How a device is held: screws at these points.

    Attributes:
        thread: Thread of the screws.
        points: Where they stand.
        depth_mm: Usable depth of the device's own tapped holes; None where screws pass through
            the device's flange and take nuts.
        flange_mm: Thickness of the flange that they pass through; None where the device is tapped.
        metal: What the tapped holes are cut in: the softer, the more thread must engage.
    """

    thread: str
    points: tuple[Point, ...]
    depth_mm: float | None = None
    flange_mm: float | None = None
    metal: Metal = "steel"

    def __post_init__(self) -> None:
        if (self.depth_mm is None) == (self.flange_mm is None):
            raise PartError(
                f"a fixing with {self.thread} screws is both tapped and not, or neither",
                remedy="give depth_mm of its tapped holes, or flange_mm that screws pass through",
            )

    @property
    def tapped(self) -> bool:
        """Whether the device's own holes are threaded."""
        return self.depth_mm is not None


@dataclass(frozen=True, slots=True, kw_only=True)
class ShaftEnd:
    """The shaft a device offers, along its own axis.

    Attributes:
        diameter_mm: Diameter.
        low_mm: Where it begins along z.
        high_mm: Where it ends.
    """

    diameter_mm: float
    low_mm: float
    high_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Device:
    """A bought part as it is mounted.

    Attributes:
        designation: What it is: "motor, face NEMA 34".
        blocks: What it fills.
        passages: What of it goes through plates.
        fixing: How it is held; None where it needs no screws of its own.
        shaft: The shaft it offers; None without one.
        items: Lines of the bill for one of it; its screws come from the assembly.
        room_mm: Diameter about its axis, on the face it stands on, to keep clear of other holes;
            0 for none.
        most_panel_mm: Thickest plate it can clamp; None where none is known.
        hazards: How it can hurt someone once the rig is switched on.
        made_of: What it is made of, a name of `platekit.hardware.solids`; empty where unknown.
        grips: How it takes hold of shafts.
        rating: What it bears or gives; None where it is not said.
        doubt: What to check on the part in hand; empty when nothing.
        source: Where the figures come from.
    """

    designation: str
    blocks: tuple[Block, ...] = ()
    passages: tuple[Passage, ...] = ()
    fixing: Fixing | None = None
    shaft: ShaftEnd | None = None
    items: tuple[Item, ...] = ()
    room_mm: float = 0.0
    most_panel_mm: float | None = None
    hazards: tuple[Hazard, ...] = ()
    made_of: str = ""
    grips: tuple[Grip, ...] = ()
    rating: Rating | None = None
    doubt: str = ""
    source: str = ""

    def __post_init__(self) -> None:
        if not self.designation.strip():
            raise PartError("a device has no designation", remedy="say what it is")

    def with_blocks(self, *blocks: Block) -> Device:
        """Return the device with further blocks: a connector, a cable's first bend."""
        return replace(self, blocks=(*self.blocks, *blocks))


def points_of(pairs: Iterable[Pair]) -> tuple[Point, ...]:
    """Return plain pairs as points."""
    return tuple(Point(float(x), float(y)) for x, y in pairs)
