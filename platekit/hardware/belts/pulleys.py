"""Pulleys for synchronous belts, as devices on a shaft."""

from __future__ import annotations

import math

from platekit.errors import PartError
from platekit.hardware.belts.profiles import BeltProfile, belt_profile
from platekit.hardware.belts.reach import require_mm
from platekit.hardware.blocks import Block, cylinder
from platekit.hardware.devices.device import Device
from platekit.hardware.hazards import Hazard
from platekit.hardware.items import Item

# Common practice, no source: what pulleys on the market keep between bore and tooth gap. A keyway
# or a grub screw wants more.
LEAST_WALL_MM = 1.2
# Common practice, no source: the teeth are this much wider than the belt, so that it never rubs on
# both flanges, and flanges are this thick, thicker on coarse pitches.
LEAST_PLAY_MM = 1.0
PLAY_SHARE = 0.1
FLANGE_MM = 1.0
COARSE_FLANGE_MM = 1.5
COARSE_PITCH_MM = 5.0
DOUBT = (
    "flanges, width of the teeth and hub differ by maker: measure the pulley in hand; "
    "that it holds on the shaft (grub screw, key, clamp) is not checked"
)


def pulley_face_mm(width_mm: float) -> float:
    """Return the width of a pulley's teeth, between its flanges, for a belt of `width_mm`."""
    return width_mm + max(LEAST_PLAY_MM, PLAY_SHARE * width_mm)


def pulley_flange_mm(profile: BeltProfile) -> float:
    """Return the thickness of a flange."""
    return FLANGE_MM if profile.pitch_mm <= COARSE_PITCH_MM else COARSE_FLANGE_MM


def belt_above_face_mm(profile: BeltProfile, *, width_mm: float, flanges: bool = True) -> float:
    """Return how far above the pulley's lower face a belt begins that runs midway on it."""
    below_mm = pulley_flange_mm(profile) if flanges else 0.0
    return below_mm + (pulley_face_mm(width_mm) - width_mm) / 2


def pulley(
    profile: str | BeltProfile,
    teeth: int,
    *,
    bore_mm: float,
    width_mm: float,
    flanges: bool = True,
    hub_diameter_mm: float | None = None,
    hub_length_mm: float = 0.0,
) -> Device:
    """Return a pulley; z = 0 is its lower face, its hub points up.

    The toothed ring is a plain cylinder of the outside diameter: what the belt's lands lie on.

    Args:
        profile: The belt's profile or its designation.
        teeth: How many teeth.
        bore_mm: Diameter of the bore.
        width_mm: Width of the belt that runs on it; the teeth are a little wider.
        flanges: Whether a flange stands at both sides.
        hub_diameter_mm: Diameter of the hub; None without one.
        hub_length_mm: How far the hub stands out above; 0 without one.

    Raises:
        PartError: Too few teeth; a bore that leaves too little wall, with the largest that does;
            half a hub; a size that cannot be.
        UnknownNameError: No such profile.
    """
    kind = belt_profile(profile) if isinstance(profile, str) else profile
    outside_mm = kind.outside_diameter_mm(teeth)
    said = f"pulley {kind.designation}, {teeth} teeth"
    require_mm(bore_mm, said, "bore")
    require_mm(width_mm, said, "belt width")
    wall_mm = max(LEAST_WALL_MM, kind.tooth_height_mm)
    _require_wall(
        bore_mm, outside_mm - 2 * kind.tooth_height_mm, wall_mm, part=said, feature="teeth"
    )
    flange_mm = pulley_flange_mm(kind) if flanges else 0.0
    top_mm = flange_mm + pulley_face_mm(width_mm)
    blocks = [cylinder("teeth", outside_mm, low_mm=flange_mm, high_mm=top_mm, bore_mm=bore_mm)]
    if flanges:
        across_mm = outside_mm + 2 * kind.flange_height_mm
        blocks += [
            cylinder(
                "flange", across_mm, low_mm=low_mm, high_mm=low_mm + flange_mm, bore_mm=bore_mm
            )
            for low_mm in (0.0, top_mm)
        ]
    blocks += _hub(said, bore_mm, hub_diameter_mm, hub_length_mm, low_mm=top_mm + flange_mm)
    bought = f"{said}, bore {bore_mm:.10g} mm, belt {width_mm:.10g} mm wide"
    return Device(
        designation=said,
        blocks=tuple(blocks),
        items=(Item(bought, 1),),
        hazards=(Hazard.DRAW_IN,),
        doubt="; ".join(filter(None, (kind.doubt, DOUBT))),
        source=kind.source,
    )


def _hub(
    said: str, bore_mm: float, diameter_mm: float | None, length_mm: float, *, low_mm: float
) -> list[Block]:
    if diameter_mm is None and length_mm == 0:
        return []
    if diameter_mm is None or length_mm == 0:
        raise PartError(
            f"hub has a diameter of {diameter_mm} and a length of {length_mm} mm",
            part=said,
            remedy="give hub_diameter_mm and hub_length_mm, or neither",
        )
    require_mm(diameter_mm, said, "hub diameter")
    require_mm(length_mm, said, "hub length")
    _require_wall(bore_mm, diameter_mm, LEAST_WALL_MM, part=said, feature="hub")
    high_mm = low_mm + length_mm
    return [cylinder("hub", diameter_mm, low_mm=low_mm, high_mm=high_mm, bore_mm=bore_mm)]


def _require_wall(
    bore_mm: float, around_mm: float, wall_mm: float, *, part: str, feature: str
) -> None:
    left_mm = (around_mm - bore_mm) / 2
    if left_mm < wall_mm:
        most_mm = math.floor((around_mm - 2 * wall_mm) * 10) / 10
        remedy = f"give a bore of at most {most_mm:g} mm" if most_mm > 0 else "give more around it"
        raise PartError(
            f"bore {bore_mm:g} mm leaves a wall of {left_mm:.2f} mm, less than {wall_mm:g} mm "
            "(common practice, no source)",
            part=part,
            feature=feature,
            remedy=f"{remedy}, or more teeth",
        )
