"""Flanged shaft hubs as they are screwed to plates."""

from __future__ import annotations

from platekit.errors import PartError, concerning
from platekit.geometry.chains import circle
from platekit.geometry.profile import Profile
from platekit.hardware.blocks import ORIGIN, Block, cylinder
from platekit.hardware.devices.device import Device, Fixing, Passage, round_passage
from platekit.hardware.devices.gripping import Hold, grip_of, made_of_metal, metal_of
from platekit.hardware.faces.hubs import HubPattern, hub_pattern
from platekit.hardware.fasteners.screws import screw
from platekit.hardware.items import Item
from platekit.hardware.keys import key_for
from platekit.hardware.lengths import require_part_mm
from platekit.hardware.metals import Metal
from platekit.hardware.play import PILOT_CLEARANCE_MM

# Metal left beyond the washers of a hub's flange where no table says; common practice, no source.
HUB_RIM_MM = 1.0

_HELD = {
    "set screws": "with set screws",
    "clamp": "clamping",
    "key": "with a keyway",
    "flat": "with a flat in the bore",
    "press": "pressed on",
}


def hub(
    pattern: str | HubPattern,
    *,
    bore_mm: float,
    thickness_mm: float,
    outer_mm: float | None = None,
    collar_mm: float | None = None,
    length_mm: float | None = None,
    tapped: bool = True,
    depth_mm: float | None = None,
    pilot_height_mm: float | None = None,
    hold: Hold = "set screws",
    hold_thread: str = "",
    hold_screws: int = 0,
    key_length_mm: float | None = None,
    across_flat_mm: float | None = None,
    interference_mm: float | None = None,
    metal: Metal | None = None,
    made_of: str | None = None,
    start_deg: float = 0.0,
    pilot_clearance_mm: float = PILOT_CLEARANCE_MM,
) -> Device:
    """Return a flanged shaft hub as it is screwed to a plate.

    Args:
        pattern: ``"six-bolt 70 mm M5"``, ``"ISO 9409-1-50-4-M6"``, or a pattern of your own.
        bore_mm: Bore for the shaft.
        thickness_mm: Thickness of its flange.
        outer_mm: Diameter of its flange; left out, the pattern's, else what leaves 1 mm beyond
            the washers (common practice, no source).
        collar_mm: Diameter of the collar that grips the shaft; left out, it is a plain disc.
        length_mm: From the face to the far end of the collar.
        tapped: Whether the flange's holes are threaded; else screws pass through it.
        depth_mm: Usable depth of the threads; left out, the flange's thickness.
        pilot_height_mm: How far its centring spigot stands out; left out, the pattern's.
        hold: How it grips the shaft: "set screws", "clamp", "key", "flat" or "press".
        hold_thread: Thread of the screws that clamp, or of the set screws: "M5".
        hold_screws: How many of them.
        key_length_mm: Length of its key; left out, what hub and shaft allow.
        across_flat_mm: From the flat of its bore to the far side, for "flat".
        interference_mm: How much wider the shaft is at the least, on diameter, for "press".
        metal: What the threads are cut in, where it has inserts; left out, what it is made of.
        made_of: What it is made of: "aluminium 6082-T6", "steel C45", "PLA printed"; left out, by
            `metal`, else aluminium.
        start_deg: Angle of the first hole, counter-clockwise from +x.
        pilot_clearance_mm: How much wider than the spigot its hole is, on diameter.

    Raises:
        UnknownNameError: An unknown pattern, thread or material.
        PartError: A size that cannot be, a way to hold that is none, a pilot of unknown height.
    """
    given = hub_pattern(pattern) if isinstance(pattern, str) else pattern
    with concerning(part=f"hub {given.designation}"):
        if hold not in _HELD:
            raise PartError(f"hold is {hold!r}", remedy=f"give {', '.join(_HELD)}")
        bore = require_part_mm(bore_mm, "bore_mm")
        thick = require_part_mm(thickness_mm, "thickness_mm")
        cut_in = metal_of(made_of, metal)
        points = given.hole_points(start_deg=start_deg)
        outer = _hub_outer_mm(given, outer_mm)
        hole_mm = 0.0 if tapped else screw(given.screw).clearance_mm()
        flange = Profile(
            circle(ORIGIN, diameter_mm=outer),
            (
                circle(ORIGIN, diameter_mm=bore),
                *(() if tapped else (circle(point, diameter_mm=hole_mm) for point in points)),
            ),
        )
        pilot, passages = _hub_pilot(given, bore, pilot_height_mm, pilot_clearance_mm)
        deep = thick if depth_mm is None else require_part_mm(depth_mm, "depth_mm")
        fixing = Fixing(
            thread=given.screw,
            points=points,
            depth_mm=deep if tapped else None,
            flange_mm=None if tapped else thick,
            metal=cut_in,
        )
        words = f"hub {given.designation}, bore {bore:g} mm, {_HELD[hold]}"
        collar = _collar(collar_mm, length_mm, bore_mm=bore, from_mm=thick, within_mm=outer)
        grip = grip_of(
            bore_mm=bore,
            low_mm=min((block.low_mm for block in pilot), default=0.0),
            high_mm=max((block.high_mm for block in collar), default=thick),
            outer_mm=outer if collar_mm is None else collar_mm,
            hold=hold,
            thread=hold_thread,
            screws=hold_screws,
            key_mm=key_length_mm,
            across_flat_mm=across_flat_mm,
            interference_mm=interference_mm,
        )
        return Device(
            designation=words,
            blocks=(
                Block("flange", flange, 0.0, thick),
                *collar,
                *pilot,
            ),
            passages=passages,
            fixing=fixing,
            items=(Item(words, 1), *_hub_key(hold, bore, key_length_mm)),
            made_of=made_of_metal(made_of, cut_in),
            grips=(grip,),
            doubt=given.doubt,
            source=given.source,
        )


def _hub_key(hold: Hold, bore_mm: float, length_mm: float | None) -> tuple[Item, ...]:
    """Return the key's line, its length left to the shaft in hand where none is given."""
    if hold != "key":
        return ()
    key = key_for(bore_mm)
    if length_mm is not None:
        return (key.item(length_mm=length_mm),)
    size = f"{key.width_mm:g}x{key.height_mm:g}"
    return (Item(f"parallel key DIN 6885-1 A {size}", 1, "length as hub and shaft allow"),)


def _hub_outer_mm(given: HubPattern, asked_mm: float | None) -> float:
    washer_mm = screw(given.screw).washer_outer_mm
    needed = given.pcd_mm + screw(given.screw).nominal_mm
    usual = given.outer_diameter_mm or given.pcd_mm + washer_mm + 2 * HUB_RIM_MM
    outer = usual if asked_mm is None else require_part_mm(asked_mm, "outer_mm")
    if not outer > needed:
        raise PartError(
            f"its flange of {outer:g} mm ends inside its screws, {needed:g} mm over all",
            remedy=f"give outer_mm above {needed:g}",
        )
    return outer


def _hub_pilot(
    given: HubPattern, bore_mm: float, asked_mm: float | None, play_mm: float
) -> tuple[tuple[Block, ...], tuple[Passage, ...]]:
    """Return the hub's spigot and its passage; neither where the pattern has none."""
    pilot = given.pilot_diameter_mm
    inside = given.pcd_mm - screw(given.screw).nominal_mm if pilot is None else pilot
    if bore_mm >= inside:
        what = "screws" if pilot is None else "spigot"
        raise PartError(
            f"its bore of {bore_mm:g} mm leaves nothing inside its {what}",
            remedy=f"give bore_mm below {inside:g}",
        )
    if pilot is None:
        return (), ()
    height = given.pilot_depth_mm if asked_mm is None else asked_mm
    if height is None:
        raise PartError("the height of its spigot is not known", remedy="give pilot_height_mm")
    high = require_part_mm(height, "pilot_height_mm")
    play = require_part_mm(play_mm, "pilot_clearance_mm", zero=True)
    return (
        (cylinder("spigot", pilot, low_mm=-high, high_mm=0.0, bore_mm=bore_mm),),
        (round_passage("spigot", pilot, low_mm=-high, high_mm=0.0, play_mm=play),),
    )


def _collar(
    collar_mm: float | None,
    length_mm: float | None,
    *,
    bore_mm: float,
    from_mm: float,
    within_mm: float,
) -> tuple[Block, ...]:
    if collar_mm is None and length_mm is None:
        return ()
    if collar_mm is None or length_mm is None:
        raise PartError("its collar is half said", remedy="give both collar_mm and length_mm")
    collar = require_part_mm(collar_mm, "collar_mm")
    end = require_part_mm(length_mm, "length_mm")
    if not bore_mm < collar <= within_mm:
        raise PartError(
            f"collar_mm is {collar:g} mm",
            remedy=f"give more than the bore, {bore_mm:g}, and at most the flange, {within_mm:g}",
        )
    if end <= from_mm:
        raise PartError(
            f"length_mm is {end:g} mm and its flange {from_mm:g} mm thick",
            remedy="measure length_mm from the face to the far end of the collar",
        )
    return (cylinder("collar", collar, low_mm=from_mm, high_mm=end, bore_mm=bore_mm),)
