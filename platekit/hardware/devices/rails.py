"""Top-hat rails that controls snap onto."""

from __future__ import annotations

import math

from platekit.errors import PartError, concerning
from platekit.geometry.chains import circle
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import rectangle
from platekit.hardware.blocks import ORIGIN, Block
from platekit.hardware.devices.device import Device, Fixing, points_of
from platekit.hardware.fasteners.clearance import clearance_hole_mm
from platekit.hardware.items import Item
from platekit.hardware.lengths import require_part_mm

# EN 60715, rail TH 35-7.5: width, height, thickness; from memory.
RAIL_WIDTH_MM = 35.0
RAIL_HEIGHT_MM = 7.5
RAIL_THICKNESS_MM = 1.0
# Width of the rail's floor that lies on the plate, 27 less its two walls; from memory.
RAIL_FLOOR_MM = 27.0
# A rail is screwed down about every 200 mm and near its ends; common practice, no source.
LONGEST_SPAN_MM = 200.0
END_MM = 18.0
# Slots are usually 25 mm apart from middle to middle; common practice, no source.
SLOT_PITCH_MM = 25.0


def din_rail(length_mm: float, *, thread: str = "M5") -> Device:
    """Return a rail TH 35-7.5 lying along x, screwed down through slots of its floor.

    Args:
        length_mm: Length, from 61 mm, which leaves room for two screws.
        thread: Thread of its screws; the usual slots take M5 and M6.

    Raises:
        UnknownNameError: An unknown thread.
        PartError: A length that cannot be.

    Source:
        EN 60715 for the section, from memory; screws about every 200 mm on the rail's 25 mm pitch
        are common practice, no source.
    """
    with concerning(part="rail"):
        length = require_part_mm(length_mm, "length_mm")
        steps = math.floor((length - 2 * END_MM) / SLOT_PITCH_MM)
        if steps < 1:
            least = 2 * END_MM + SLOT_PITCH_MM
            raise PartError(
                f"length_mm is {length:g} mm", remedy=f"give {least:g} mm or more, for two screws"
            )
        spans = math.ceil(steps * SLOT_PITCH_MM / LONGEST_SPAN_MM)
        places = [round(k * steps / spans) - steps / 2 for k in range(spans + 1)]
        points = points_of((place * SLOT_PITCH_MM, 0.0) for place in places)
        hole_mm = clearance_hole_mm(thread)
        floor = Profile(
            rectangle(length, RAIL_FLOOR_MM, centre=ORIGIN),
            tuple(circle(point, diameter_mm=hole_mm) for point in points),
        )
        brim_mm = (RAIL_WIDTH_MM - RAIL_FLOOR_MM) / 2 + RAIL_THICKNESS_MM
        middle_mm = (RAIL_WIDTH_MM - brim_mm) / 2
        brims = tuple(
            Block(
                "brim",
                Profile(rectangle(length, brim_mm, centre=(0.0, side * middle_mm))),
                RAIL_HEIGHT_MM - RAIL_THICKNESS_MM,
                RAIL_HEIGHT_MM,
            )
            for side in (-1, 1)
        )
        words = f"rail EN 60715 TH 35-7.5, {length:g} mm long"
        return Device(
            designation=words,
            blocks=(Block("floor", floor, 0.0, RAIL_THICKNESS_MM), *brims),
            fixing=Fixing(thread=thread, points=points, flange_mm=RAIL_THICKNESS_MM),
            items=(Item(words, 1),),
            doubt="slots stand differently in every length: set its screws where slots are",
            source="EN 60715 (from memory)",
        )
