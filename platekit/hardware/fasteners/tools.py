"""Tools that turn fasteners, and the room they need above a head or a nut."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from platekit.geometry.chains import closed_polyline
from platekit.geometry.points import Point, polar
from platekit.geometry.profile import Profile
from platekit.handbook import Catalogue, Row, read
from platekit.hardware.blocks import Block, cylinder
from platekit.hardware.fasteners.nuts import Nut
from platekit.hardware.fasteners.screw_kinds import CORNERS, ScrewKind

# Around a tool, on diameter, so that it is found by hand and turns: common practice, no source.
TOOL_PLAY_MM = 1.0
# A key goes from one pair of flats to the next in a sixth of a turn.
TURN_DEG = 60.0
SECTORS_EVERY_DEG = 30


@dataclass(frozen=True, slots=True, kw_only=True)
class HexKey:
    """A bent key for hexagon sockets, ISO 2936. All lengths in mm.

    Attributes:
        size_mm: Width across flats.
        long_mm: Length of the long arm.
        short_mm: Length of the short arm.
        source: Where the figures come from.
    """

    size_mm: float
    long_mm: float
    short_mm: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SocketWrench:
    """A wrench that closes around a hexagon. All lengths in mm.

    Attributes:
        across_flats_mm: Width of the hexagon it fits.
        outer_mm: Its outer diameter.
        free_mm: Height above what it turns that socket and ratchet head take up.
        source: Where the figures come from.
    """

    across_flats_mm: float
    outer_mm: float
    free_mm: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Tool:
    """The room that must be open above a head or a nut.

    Held straight, a cylinder about its axis. A bent key may stand in the head with its short arm
    as well, and then needs a sector for the long one, wide enough to go from one pair of flats to
    the next. The hand that turns it needs more, which is not counted.

    Attributes:
        name: What the tool is: "hex key 4 mm".
        diameter_mm: Diameter of the cylinder, `TOOL_PLAY_MM` included.
        length_mm: Its length, from the top of the head.
        short_mm: Length of a bent key's short arm; 0 for a tool that is not bent.
    """

    name: str
    diameter_mm: float
    length_mm: float
    short_mm: float = 0.0

    def ways(self, *, low_mm: float = 0.0) -> tuple[tuple[Block, ...], ...]:
        """Return the rooms of which one must be open: upright, then bent each way round."""
        return _ways(self, low_mm)

    def blocks(self, *, low_mm: float = 0.0) -> tuple[Block, ...]:
        """Return the room as a block that begins at `low_mm`, the top of the head."""
        high_mm = low_mm + self.length_mm
        return (cylinder(self.name, self.diameter_mm, low_mm=low_mm, high_mm=high_mm),)


@cache
def _ways(tool: Tool, low_mm: float) -> tuple[tuple[Block, ...], ...]:
    """Return the rooms of a tool: a rig has many screws of one kind."""
    upright = tool.blocks(low_mm=low_mm)
    if not tool.short_mm:
        return (upright,)
    top_mm = low_mm + tool.short_mm
    stem = cylinder(tool.name, tool.diameter_mm, low_mm=low_mm, high_mm=top_mm)
    thick_mm = min(tool.diameter_mm, tool.short_mm / 2)
    return (
        upright,
        *(
            (stem, Block(tool.name, _sector(tool, start), top_mm - thick_mm, top_mm))
            for start in range(0, 360, SECTORS_EVERY_DEG)
        ),
    )


def _sector(tool: Tool, start_deg: float) -> Profile:
    """Return what the long arm passes over while it turns from flats to flats."""
    arc = [
        polar(Point(0.0, 0.0), radius_mm=tool.length_mm, angle_deg=start_deg + k * TURN_DEG / 6)
        for k in range(7)
    ]
    return Profile(closed_polyline([Point(0.0, 0.0), *arc]))


def _key(row: Row) -> HexKey:
    return HexKey(
        size_mm=row.length_mm("size_mm"),
        long_mm=row.length_mm("long_mm"),
        short_mm=row.length_mm("short_mm"),
        source=row.source,
    )


def _wrench(row: Row) -> SocketWrench:
    return SocketWrench(
        across_flats_mm=row.length_mm("across_flats_mm"),
        outer_mm=row.length_mm("outer_mm"),
        free_mm=row.length_mm("free_mm"),
        source=row.source,
    )


@cache
def _keys() -> Catalogue[HexKey]:
    rows = read("platekit.hardware", "tables/hex_keys.csv")
    return Catalogue.of("hex key", map(_key, rows), name=lambda key: f"{key.size_mm:g} mm")


@cache
def _wrenches() -> Catalogue[SocketWrench]:
    rows = read("platekit.hardware", "tables/socket_wrenches.csv")
    return Catalogue.of(
        "socket wrench", map(_wrench, rows), name=lambda one: f"{one.across_flats_mm:g} mm"
    )


def hex_key(size_mm: float) -> HexKey:
    """Return the key of a width across flats: ``hex_key(4)``.

    Raises:
        UnknownNameError: The table has no such size; offers the nearest.

    Source:
        ISO 2936:2001, largest lengths, from memory.
    """
    return _keys()[f"{size_mm:g} mm"]


def socket_wrench(across_flats_mm: float) -> SocketWrench:
    """Return the socket wrench for a hexagon: ``socket_wrench(8)``.

    Raises:
        UnknownNameError: The table has no such size; offers the nearest.

    Source:
        ISO 2725-1 from memory up to 13 mm, common practice above; heights are common practice.
    """
    return _wrenches()[f"{across_flats_mm:g} mm"]


def tool_for(kind: ScrewKind | Nut) -> Tool:
    """Return the room that the tool for a screw's head or a nut must find above it.

    A socket takes its hex key, upright or bent; a hexagon takes a socket wrench from above, whose
    ratchet is turned beyond the cylinder. A nut reached from its side with an
    open wrench needs none of it.

    Raises:
        UnknownNameError: No tool of that size is known.
    """
    if isinstance(kind, ScrewKind) and kind.drive == "hex socket":
        key = hex_key(kind.drive_mm)
        return Tool(
            name=f"hex key {key.size_mm:g} mm",
            diameter_mm=key.size_mm * CORNERS + TOOL_PLAY_MM,
            length_mm=key.long_mm,
            short_mm=key.short_mm,
        )
    across_mm = kind.across_flats_mm if isinstance(kind, Nut) else kind.drive_mm
    wrench = socket_wrench(across_mm)
    return Tool(
        name=f"socket wrench {wrench.across_flats_mm:g} mm",
        diameter_mm=wrench.outer_mm + TOOL_PLAY_MM,
        length_mm=wrench.free_mm,
    )
