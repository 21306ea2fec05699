"""Ball bearings as they are let into plates."""

from __future__ import annotations

from platekit.errors import concerning
from platekit.geometry.chains import circle
from platekit.hardware.blocks import ORIGIN, cylinder
from platekit.hardware.devices.device import Device, Passage, round_passage
from platekit.hardware.faces.bearings import Bearing, bearing

# The inner ring turns, so a plate beside the bearing keeps off it; common practice, no source.
RING_CLEARANCE_MM = 0.5


def ball_bearing(designation: str | Bearing, *, fit: str = "H7") -> Device:
    """Return a ball bearing let into a plate, flush with the face it is pushed in from.

    Its seat is cut to the middle of the fit's limits, as `bearing_seat` does. Plates beside it
    are opened half-way between bore and outer diameter, so that the turning ring stays free.

    Args:
        designation: ``"6006"``; seals and shields as in "6006-2RS" change nothing.
        fit: Tolerance class of the seat, ISO 286: "H7", "N7"...

    Raises:
        UnknownNameError: An unknown bearing or fit.
        PartError: The fit is not tabulated at that diameter.

    Source:
        ISO 15 for the bearing, ISO 286-1 for the limits; the shoulder between the rings is common
        practice, no source: the maker's abutment diameter lies near it.
    """
    ball = bearing(designation) if isinstance(designation, str) else designation
    with concerning(part=f"bearing {ball.designation}"):
        return Device(
            designation=f"ball bearing {ball.designation}",
            blocks=(
                cylinder(
                    "ring", ball.outer_mm, low_mm=-ball.width_mm, high_mm=0.0, bore_mm=ball.bore_mm
                ),
            ),
            passages=(
                Passage(
                    "seat",
                    circle(ORIGIN, diameter_mm=ball.outer_mm),
                    circle(ORIGIN, diameter_mm=ball.seat_mm(fit)),
                    -ball.width_mm,
                    0.0,
                ),
                round_passage(
                    "shoulder",
                    (ball.bore_mm + ball.outer_mm) / 2,
                    low_mm=-ball.width_mm - RING_CLEARANCE_MM,
                    high_mm=RING_CLEARANCE_MM,
                    play_mm=0.0,
                ),
            ),
            items=(ball.item(),),
            rating=ball.rating,
            source=ball.source,
        )
