"""The few lines about laser work that every job ends with, and those about a motorised rig."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator

from platekit.hardware.hazards import Hazard

# What each line rests on: IEC 60825-1 (class 4 source inside an enclosed cutter), the harm done
# by hydrogen chloride from PVC, and common practice on attendance, extraction and fire; all of it
# is general knowledge of the trade, told here as a reminder and not as instruction.
CAUTIONS = (
    "Before the laser runs:",
    "  - stay with it until it stops, with something to put a fire out at arm's length;",
    "  - run extraction and air first; let the smoke clear before the lid opens;",
    "  - never cut PVC, vinyl, PTFE or a board you cannot name: the fumes harm lungs and machine;",
    "  - leave covers and interlocks alone: the beam inside blinds and burns, and is not seen.",
    "Cut one small part first and measure it. The rules of your workshop and country come first.",
)

# What each rests on: ISO 12100 (guards before warnings), ISO 13850 (emergency stop), ISO 14118
# (unexpected start), ISO 14120 (guards), IEC 60364 and IEC 62368-1 (mains, ready-made supplies);
# numbers from memory, the sentences our own.
_ONCE_SWITCHED_ON = {
    Hazard.MOTION: "a geared motor does not stall on a hand: limit its current, fit an emergency "
    "stop, make sure that power coming back starts nothing (ISO 13850, ISO 14118);",
    Hazard.DRAW_IN: "cover what draws in, belts, pulleys and fans, with guards that need a tool to "
    "come off (ISO 14120);",
    Hazard.MAINS: "mains: a ready-made supply, earthed metal, a fuse that suits the wire, and a "
    "licensed electrician (IEC 60364);",
}


def switched_on(hazards: Iterable[Hazard]) -> Iterator[str]:
    """Yield what to mind before a rig with these hazards is switched on; nothing without any."""
    found = list(hazards)
    if not found:
        return
    yield "Before it is switched on:"
    for hazard in found:
        yield from _wrapped(_ONCE_SWITCHED_ON[hazard])
    yield "Local codes and licensed practice come first; nothing here is a certificate."


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, width=98, initial_indent="  - ", subsequent_indent="    ")
