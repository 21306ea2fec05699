"""Signs of severity: a shape each beside the word, so that nobody needs colours."""

from __future__ import annotations

import math
from types import MappingProxyType

from platekit.export.palette import OKABE_ITO
from platekit.export.plans.printing.pens import FINE, INK, Stroke
from platekit.export.plans.printing.press import Press
from platekit.findings import Severity

RADIUS_MM = 1.25
# Corners of each shape: eight, three and none, as on the signs of roads and of ISO 7010 (from
# memory): stop, warning, and a disc for what is to be known.
CORNERS = MappingProxyType({Severity.STOP: 8, Severity.WARNING: 3})
COLOURS = MappingProxyType(
    {
        Severity.STOP: OKABE_ITO["vermillion"],
        Severity.WARNING: OKABE_ITO["orange"],
        Severity.NOTE: "#ffffff",
        Severity.PASSED: "#ffffff",
    }
)
WORDS = MappingProxyType(
    {
        Severity.STOP: "STOP",
        Severity.WARNING: "warning",
        Severity.NOTE: "note",
        Severity.PASSED: "passed",
    }
)


def sign(press: Press, severity: Severity, x_mm: float, y_mm: float) -> None:
    """Draw the sign of a severity about a place."""
    corners = CORNERS.get(severity)
    if corners is None:
        press.disc(x_mm, y_mm, radius_mm=0.85 * RADIUS_MM, fill=COLOURS[severity])
        press.dot(x_mm, y_mm, radius_mm=0.85 * RADIUS_MM, stroke=FINE)
        return
    # A triangle stands on its side, an octagon on one of its own.
    first = math.pi / 2 if corners == 3 else math.pi / corners
    turns = [first + 2 * math.pi * k / corners for k in range(corners)]
    low = -0.3 * RADIUS_MM if corners == 3 else 0.0
    points = [
        (x_mm + RADIUS_MM * math.cos(turn), y_mm + low + RADIUS_MM * math.sin(turn))
        for turn in turns
    ]
    press.area(*points, fill=COLOURS[severity])
    press.line(*points, stroke=Stroke(width_mm=0.18, colour=INK), closed=True)
