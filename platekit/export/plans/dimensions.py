"""Dimensions on a drawing: lines, arrows and figures, after the habits of ISO 129-1 (from memory).

Extension lines begin a gap off the part and run a little beyond the dimension line; arrowheads are
narrow and filled; figures stand above the line, upright ones read from the right.
"""

from __future__ import annotations

from platekit.export.plans.lettering import SMALL_MM, TEXT_MM, width_of
from platekit.export.plans.press import FINE, Press

ARROW_MM, ARROW_HALF_MM = 3.0, 0.5  # about 20 degrees between its sides
GAP_MM, BEYOND_MM = 1.0, 2.0
# Between the part and its dimension line.
OFF_MM = 9.0
ABOVE_MM = 0.8


def level_dimension(
    press: Press, left: float, right: float, *, part_mm: float, line_mm: float, said: str
) -> None:
    """Draw a dimension along x.

    Args:
        press: What is drawn on.
        left: Where it begins.
        right: Where it ends.
        part_mm: Height of the part's edge, where the extension lines begin.
        line_mm: Height of the dimension line.
        said: Its figure.
    """
    down = 1.0 if line_mm > part_mm else -1.0
    for x in (left, right):
        press.line((x, part_mm + down * GAP_MM), (x, line_mm + down * BEYOND_MM), stroke=FINE)
    outside = right - left < 2.5 * ARROW_MM
    _level_arrows(press, left, right, line_mm, outside=outside)
    wide = width_of(said, size_mm=TEXT_MM)
    if wide <= right - left or outside is False:
        press.text(said, (left + right) / 2, line_mm + ABOVE_MM, anchor="middle")
    else:
        press.text(said, right + 2 * ARROW_MM, line_mm + ABOVE_MM)


def _level_arrows(press: Press, left: float, right: float, y: float, *, outside: bool) -> None:
    out = 2 * ARROW_MM if outside else 0.0
    press.line((left - out, y), (right + out, y), stroke=FINE)
    for x, way in ((left, 1.0), (right, -1.0)):
        tail = x + (-way if outside else way) * ARROW_MM
        press.area((x, y), (tail, y + ARROW_HALF_MM), (tail, y - ARROW_HALF_MM))


def upright_dimension(
    press: Press, bottom: float, top: float, *, part_mm: float, line_mm: float, said: str
) -> None:
    """Draw a dimension along y; its figure reads from the right.

    Args:
        press: What is drawn on.
        bottom: Where it begins.
        top: Where it ends.
        part_mm: x of the part's edge, where the extension lines begin.
        line_mm: x of the dimension line, left of the part.
        said: Its figure.
    """
    with press.moved(line_mm, bottom, turn_deg=90.0):
        # Turned, the part lies below the line: to the right of it on the page.
        level_dimension(press, 0.0, top - bottom, part_mm=line_mm - part_mm, line_mm=0.0, said=said)


def origin_mark(press: Press, x_mm: float, y_mm: float) -> None:
    """Mark the corner from which ordinates count: a small circle and a nought."""
    press.dot(x_mm, y_mm, radius_mm=1.2, stroke=FINE)
    press.text("0", x_mm - 2.0, y_mm - 3.2, size_mm=SMALL_MM, anchor="end")
