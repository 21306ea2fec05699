"""Dimensions from end to end, after the habits of ISO 129-1 (from memory).

Extension lines begin a gap off the part and run a little beyond the dimension line; arrowheads are
narrow and filled; figures stand above the line, upright ones read from the right.
"""

from __future__ import annotations

from platekit.export.plans.printing.lettering import TEXT_MM, width_of
from platekit.export.plans.printing.pens import FINE
from platekit.export.plans.printing.press import Press

ARROW_MM, ARROW_HALF_MM = 3.0, 0.5  # about 20 degrees between its sides
GAP_MM, BEYOND_MM = 1.0, 2.0
# Between the part and its dimension line.
OFF_MM = 9.0
ABOVE_MM = 0.8
ORIGIN_MM = 1.2

Spot = tuple[float, float]


def level_dimension(
    press: Press,
    left: float,
    right: float,
    *,
    part_mm: float,
    line_mm: float,
    said: str,
    size_mm: float = TEXT_MM,
) -> None:
    """Draw a dimension along x.

    Args:
        press: What is drawn on.
        left: Where it begins.
        right: Where it ends.
        part_mm: Height of the part's edge, where the extension lines begin.
        line_mm: Height of the dimension line.
        said: Its figure.
        size_mm: Size of the figure's type.
    """
    for line in level_lines(left, right, part_mm=part_mm, line_mm=line_mm):
        press.line(*line, stroke=FINE)
    outside = _is_outside(left, right)
    for x, way in ((left, 1.0), (right, -1.0)):
        tail = x + (-way if outside else way) * ARROW_MM
        press.area((x, line_mm), (tail, line_mm + ARROW_HALF_MM), (tail, line_mm - ARROW_HALF_MM))
    start, _ = level_text(left, right, said=said, size_mm=size_mm)
    press.text(said, start, line_mm + ABOVE_MM, size_mm=size_mm)


def level_text(left: float, right: float, *, said: str, size_mm: float) -> tuple[float, float]:
    """Return where along a dimension its figure begins and ends: amidst it, or beyond its end."""
    wide = width_of(said, size_mm=size_mm)
    middle = (left + right - wide) / 2
    fits = wide <= right - left or not _is_outside(left, right)
    start = middle if fits else right + 2 * ARROW_MM
    return start, start + wide


def level_lines(
    left: float, right: float, *, part_mm: float, line_mm: float
) -> tuple[tuple[Spot, Spot], ...]:
    """Return the extension lines and the dimension line of a dimension along x."""
    down = 1.0 if line_mm > part_mm else -1.0
    out = 2 * ARROW_MM if _is_outside(left, right) else 0.0
    return (
        *(((x, part_mm + down * GAP_MM), (x, line_mm + down * BEYOND_MM)) for x in (left, right)),
        ((left - out, line_mm), (right + out, line_mm)),
    )


def _is_outside(left: float, right: float) -> bool:
    """Return whether the arrows stand outside: there is no room for both between the ends."""
    return right - left < 2.5 * ARROW_MM


def upright_dimension(
    press: Press,
    bottom: float,
    top: float,
    *,
    part_mm: float,
    line_mm: float,
    said: str,
    size_mm: float = TEXT_MM,
) -> None:
    """Draw a dimension along y; its figure reads from the right.

    Args:
        press: What is drawn on.
        bottom: Where it begins.
        top: Where it ends.
        part_mm: x of the part's edge, where the extension lines begin.
        line_mm: x of the dimension line, left of the part.
        said: Its figure.
        size_mm: Size of the figure's type.
    """
    with press.moved(line_mm, bottom, turn_deg=90.0):
        # Turned, the part lies below the line: to the right of it on the page.
        level_dimension(
            press,
            0.0,
            top - bottom,
            part_mm=line_mm - part_mm,
            line_mm=0.0,
            said=said,
            size_mm=size_mm,
        )


def origin_mark(press: Press, x_mm: float, y_mm: float) -> None:
    """Ring the corner from which ordinates count."""
    press.dot(x_mm, y_mm, radius_mm=ORIGIN_MM, stroke=FINE)
