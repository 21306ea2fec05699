"""What can hurt whoever cuts, builds or switches on: a few lines, the same wherever it is told.

What the lines on the laser rest on: IEC 60825-1 (class 4 source inside an enclosed cutter), the
harm done by hydrogen chloride from PVC, IARC's listing of wood dust, EN 149 for masks, and common
practice on attendance, extraction and fire. Those on a rig that moves: ISO 12100 (guards before
warnings), ISO 13850 (emergency stop), ISO 14118 (unexpected start), ISO 14120 (guards), IEC 60364
and IEC 62368-1 (mains, ready-made supplies). Numbers from memory, the sentences our own: a reminder
and no instruction.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from platekit.hardware.hazards import Hazard


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """What to mind at one time: when, what, and what stands above all of it."""

    title: str
    lines: tuple[str, ...]
    foot: str = ""


LASER = Caution(
    title="Before the laser runs",
    lines=(
        "fire: stay with it until it stops, with something to put it out at arm's length;",
        "fumes: run extraction and air first; let the smoke clear before the lid opens;",
        "never cut PVC, vinyl, PTFE or a board you cannot name: the fumes harm lungs and machine;",
        (
            "leave covers and interlocks alone: the beam inside blinds, burns and is not seen "
            "(IEC 60825-1, class 4);"
        ),
        "dust: sanding cut edges asks for extraction and a mask, FFP2 or better (EN 149).",
    ),
    foot="Cut one small part first and measure it. The rules of your workshop and country come "
    "first.",
)

# Said wherever strength, fit or drive was weighed.
ESTIMATES = (
    "Margins are estimates by the formulas named with them, never a certificate: try a first rig "
    "at low torque, with nobody in the plane it turns in. platekit explain says how each is made."
)

_ONCE_SWITCHED_ON = {
    Hazard.MOTION: "high torque: a geared motor does not stall on a hand: limit its current, fit "
    "an emergency stop, make sure that power coming back starts nothing (ISO 13850, ISO 14118);",
    Hazard.DRAW_IN: "cover what draws in, belts, pulleys and fans, with guards that need a tool to "
    "come off (ISO 14120);",
    Hazard.MAINS: "mains: a ready-made supply, earthed metal, a fuse that suits the wire, and a "
    "licensed electrician (IEC 60364);",
}


def once_switched_on(hazards: Iterable[Hazard]) -> Caution | None:
    """Return what to mind before a rig with these hazards is switched on; None without any."""
    lines = tuple(_ONCE_SWITCHED_ON[hazard] for hazard in hazards)
    if not lines:
        return None
    return Caution(
        title="Before it is switched on",
        lines=lines,
        foot="Local codes and licensed practice come first; nothing here is a certificate.",
    )
