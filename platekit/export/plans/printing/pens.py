"""Inks and pens of the plans: colours, and how wide lines are."""

from __future__ import annotations

from dataclasses import dataclass

from platekit.export.palette import OKABE_ITO
from platekit.export.picture import tinted

INK = tinted(OKABE_ITO["black"], share=1.0)
QUIET = tinted(OKABE_ITO["black"], share=0.6)
FAINT = tinted(OKABE_ITO["black"], share=0.35)
MATERIAL = tinted(OKABE_ITO["sky blue"], share=0.14)
SCORED = OKABE_ITO["bluish green"]
CHECK = OKABE_ITO["blue"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """How a line is drawn: its width, mm, its colour, its dashes and gaps, mm."""

    width_mm: float
    colour: str = INK
    dash_mm: tuple[float, ...] = ()


# Two widths, one twice the other (ISO 128-2, from memory: 0.5 and 0.25), finer at full size, where
# a saw follows the middle of the line.
WIDE = Stroke(width_mm=0.5)
THIN = Stroke(width_mm=0.25)
FINE = Stroke(width_mm=0.18)
# Long dash, gap, short dash, gap: the centre line of ISO 128-2, from memory.
CENTRE = Stroke(width_mm=0.18, dash_mm=(4.0, 0.8, 0.8, 0.8))
