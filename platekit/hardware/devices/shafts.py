"""Plain shafts and the bushes that make them fit a wider bore."""

from __future__ import annotations

from platekit.errors import PartError, concerning
from platekit.geometry.chains import Contour, circle
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import d_shape
from platekit.hardware.blocks import ORIGIN, Block, cylinder
from platekit.hardware.devices.device import Device, ShaftEnd, round_passage
from platekit.hardware.devices.gripping import Hold, grip_of
from platekit.hardware.devices.ratings import Grip
from platekit.hardware.items import Item
from platekit.hardware.keys import key_for
from platekit.hardware.lengths import require_part_mm
from platekit.hardware.play import SHAFT_CLEARANCE_MM
from platekit.hardware.solids import solid

# A bush with a thinner wall tears when it is drilled or pressed; common practice, no source.
THINNEST_WALL_MM = 0.5
# A clamping screw and its thread stand in the wall; common practice, no source.
THINNEST_CLAMP_MM = 4.0

_COUPLED: dict[Hold, str] = {
    "clamp": "clamp coupling",
    "set screws": "coupling with set screws,",
    "key": "coupling with keyways,",
}


def shaft(
    diameter_mm: float,
    length_mm: float,
    *,
    below_mm: float = 0.0,
    across_flat_mm: float | None = None,
    key_length_mm: float | None = None,
    socket_mm: float = 0.0,
    socket_depth_mm: float = 0.0,
    socket_key_mm: float | None = None,
    made_of: str = "steel C45",
    tolerance: str = "h6",
    clearance_mm: float = SHAFT_CLEARANCE_MM,
) -> Device:
    """Return a shaft that stands up from the face, `below_mm` of it in the plate and beyond.

    Args:
        diameter_mm: Diameter.
        length_mm: How far it stands above the face.
        below_mm: How far it reaches below the face; what is bought is both together.
        across_flat_mm: From a flat to the far side; left out, the shaft is round. The flat is
            drawn along the whole shaft.
        key_length_mm: Length of the standard parallel key in it; left out, it has none.
        socket_mm: Bore in its lower end, for the shaft of a gearbox; its keyway, the standard's,
            is asked for on the bill. 0 for none.
        socket_depth_mm: Depth of that bore.
        socket_key_mm: Length of the key in it; left out, what bore and shaft allow.
        made_of: What it is made of: "steel C45", "stainless steel 1.4301".
        tolerance: Tolerance class for the bill, ISO 286.
        clearance_mm: How much wider its hole is in plates that are no bearing, on diameter.

    Raises:
        UnknownNameError: There is no such material.
        PartError: A size that cannot be, a key that is not made, or a bore that leaves no wall.
        GeometryError: A flat that does not cut the shaft.
    """
    with concerning(part="shaft"):
        diameter = require_part_mm(diameter_mm, "diameter_mm")
        above = require_part_mm(length_mm, "length_mm")
        below = require_part_mm(below_mm, "below_mm", zero=True)
        play = require_part_mm(clearance_mm, "clearance_mm", zero=True)
        words = f"shaft {diameter:g} mm {tolerance}, {above + below:g} mm long"
        outline: Contour = circle(ORIGIN, diameter_mm=diameter)
        keys: tuple[Item, ...] = ()
        if across_flat_mm is not None:
            outline = d_shape(diameter, across_flat_mm)
            words += f", with a flat, {across_flat_mm:g} mm across it"
        if key_length_mm is not None:
            key = key_for(diameter)
            keys = (key.item(length_mm=key_length_mm),)
            words += f", keyway {key.width_mm:g} mm wide, {key.shaft_depth_mm:g} mm deep"
        whole = Block("shaft", Profile(outline), -below, above)
        blocks: tuple[Block, ...] = (whole,)
        grips: tuple[Grip, ...] = ()
        if socket_mm:
            blocks = _with_socket(whole, diameter, socket_mm, socket_depth_mm)
            key = key_for(socket_mm)
            words += (
                f", lower end bored {socket_mm:g} mm, {socket_depth_mm:g} mm deep, with a keyway "
                f"for a {key.width_mm:g}x{key.height_mm:g} key"
            )
            grips = (
                grip_of(
                    bore_mm=socket_mm,
                    low_mm=-below,
                    high_mm=socket_depth_mm - below,
                    outer_mm=diameter,
                    hold="key",
                    key_mm=socket_key_mm,
                ),
            )
        return Device(
            designation=words,
            blocks=blocks,
            passages=(
                round_passage("shaft", diameter, low_mm=-below, high_mm=above, play_mm=play),
            ),
            shaft=ShaftEnd(diameter_mm=diameter, low_mm=-below, high_mm=above),
            items=(Item(words, 1), *keys),
            made_of=solid(made_of).name,
            grips=grips,
            source="as the recipe says",
        )


def _with_socket(
    whole: Block, diameter_mm: float, socket_mm: float, depth_mm: float
) -> tuple[Block, ...]:
    """Return a shaft with a bore in its lower end."""
    bore = require_part_mm(socket_mm, "socket_mm")
    deep = require_part_mm(depth_mm, "socket_depth_mm")
    wall = (diameter_mm - bore) / 2 - key_for(bore).hub_depth_mm
    if wall < THINNEST_WALL_MM:
        raise PartError(
            f"its bore of {bore:g} mm leaves a wall of {wall:.3g} mm beside the keyway",
            remedy="use a thicker shaft or a coupling",
        )
    if deep >= whole.height_mm:
        raise PartError(
            f"its bore is {deep:g} mm deep in {whole.height_mm:g} mm", remedy="bore it less deep"
        )
    hollow = Profile(whole.profile.outer, (circle(ORIGIN, diameter_mm=bore),))
    edge = whole.low_mm + deep
    return (
        Block("bored end", hollow, whole.low_mm, edge),
        Block("shaft", whole.profile, edge, whole.high_mm),
    )


def coupling(
    lower_mm: float,
    upper_mm: float,
    *,
    outer_mm: float,
    length_mm: float,
    hold: Hold = "clamp",
    hold_thread: str = "",
    hold_screws: int = 0,
    made_of: str = "aluminium 6082-T6",
) -> Device:
    """Return a rigid coupling that joins two shafts end to end, each in one half of it.

    It stands with its lower end on the face, or off it with ``lift_mm``.

    Args:
        lower_mm: Diameter of the shaft in its lower half.
        upper_mm: Diameter of the shaft in its upper half.
        outer_mm: Its own diameter.
        length_mm: Its length; each shaft reaches to the middle.
        hold: How each half grips: "clamp", "set screws" or "key".
        hold_thread: Thread of the screws that clamp, or of the set screws.
        hold_screws: How many of them in each half.
        made_of: What it is made of: "aluminium 6082-T6", "steel C45".

    Raises:
        UnknownNameError: There is no such thread or material.
        PartError: A size that cannot be, or a wall too thin to clamp.
    """
    with concerning(part="coupling"):
        bores = [require_part_mm(lower_mm, "lower_mm"), require_part_mm(upper_mm, "upper_mm")]
        outer, length = require_part_mm(outer_mm, "outer_mm"), require_part_mm(length_mm, "length")
        wall = (outer - max(bores)) / 2
        if wall < THINNEST_CLAMP_MM:
            raise PartError(
                f"its wall is {wall:g} mm at the bore of {max(bores):g} mm",
                remedy=f"keep {THINNEST_CLAMP_MM:g} mm or more for the clamping screws",
            )
        if hold not in _COUPLED:
            raise PartError(f"hold is {hold!r}", remedy=f"give {', '.join(_COUPLED)}")
        words = f"{_COUPLED[hold]} {bores[0]:g} to {bores[1]:g} mm, {outer:g} x {length:g} mm"
        middle = length / 2
        return Device(
            designation=words,
            blocks=(
                cylinder("lower half", outer, low_mm=0.0, high_mm=middle, bore_mm=bores[0]),
                cylinder("upper half", outer, low_mm=middle, high_mm=length, bore_mm=bores[1]),
            ),
            items=(Item(words, 1),),
            made_of=solid(made_of).name,
            grips=tuple(
                grip_of(
                    bore_mm=bore,
                    low_mm=low,
                    high_mm=low + middle,
                    outer_mm=outer,
                    hold=hold,
                    thread=hold_thread,
                    screws=hold_screws,
                )
                for bore, low in zip(bores, (0.0, middle), strict=True)
            ),
            source="as the recipe says",
        )


def reducing_bush(
    outer_mm: float,
    inner_mm: float,
    *,
    length_mm: float,
    hold: Hold = "slip",
    made_of: str = "steel S235",
) -> Device:
    """Return a bush that makes a bore of `outer_mm` fit a shaft of `inner_mm`.

    Args:
        outer_mm: Its outer diameter: the bore it goes into.
        inner_mm: Its bore: the shaft it goes onto.
        length_mm: Its length.
        hold: "clamp" for one slit along its length, pressed onto the shaft by the clamp around
            it; "slip" for a plain one, which passes on no torque by itself.
        made_of: What it is made of: "steel S235", "brass CW614N".

    Raises:
        UnknownNameError: There is no such material.
        PartError: A size that cannot be, or a wall under 0.5 mm (common practice, no source).
    """
    with concerning(part="reducing bush"):
        outer = require_part_mm(outer_mm, "outer_mm")
        inner = require_part_mm(inner_mm, "inner_mm")
        length = require_part_mm(length_mm, "length_mm")
        wall = (outer - inner) / 2
        if wall < THINNEST_WALL_MM:
            raise PartError(
                f"from {outer:g} to {inner:g} mm its wall is {wall:g} mm",
                remedy=f"keep {THINNEST_WALL_MM:g} mm or more: bore the hub out instead",
            )
        if hold not in {"slip", "clamp"}:
            raise PartError(f"hold is {hold!r}", remedy="give slip or clamp")
        slit = ", slit along its length" if hold == "clamp" else ""
        words = f"reducing bush {outer:g} to {inner:g} mm, {length:g} mm long{slit}"
        return Device(
            designation=words,
            blocks=(cylinder("bush", outer, low_mm=0.0, high_mm=length, bore_mm=inner),),
            shaft=ShaftEnd(diameter_mm=outer, low_mm=0.0, high_mm=length),
            items=(Item(words, 1, f"wall {wall:g} mm"),),
            made_of=solid(made_of).name,
            grips=(grip_of(bore_mm=inner, low_mm=0.0, high_mm=length, outer_mm=outer, hold=hold),),
            source="as the recipe says",
        )
