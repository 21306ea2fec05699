"""What stands on every page besides its own: head, page number, scale bar, check square."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from platekit.export.plans.lettering import CAPITAL, SMALL_MM, TEXT_MM, Anchor, width_of
from platekit.export.plans.paper import FOOT_MM, HEAD_MM, MARGIN_MM
from platekit.export.plans.press import CHECK, FINE, INK, QUIET, Press, Stroke

CHECK_MM = 100.0
# Smaller than this a square tells nothing: half a percent is then a quarter of a millimetre.
LEAST_CHECK_MM = 50.0
BAR_MM, TICK_MM = 100.0, 10.0
CHECK_STROKE = Stroke(width_mm=0.15, colour=CHECK)


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """One page of the plans.

    Attributes:
        width_mm: Its width.
        height_mm: Its height.
        called: What it shows, for its head and the reader's table of contents.
        draw: Draws what stands on it, told its number as "3 / 12".
    """

    width_mm: float
    height_mm: float
    called: str
    draw: Callable[[Press, str], None]

    @property
    def inner(self) -> tuple[float, float, float, float]:
        """Left, bottom, width and height inside the margins, head and foot."""
        return (
            MARGIN_MM,
            MARGIN_MM + FOOT_MM,
            self.width_mm - 2 * MARGIN_MM,
            self.height_mm - 2 * MARGIN_MM - HEAD_MM - FOOT_MM,
        )


def head(press: Press, leaf: Leaf, *, title: str, says: str, number: str) -> None:
    """Draw the line above a page: whose plans, what it shows, which page."""
    y = leaf.height_mm - MARGIN_MM - TEXT_MM
    right = leaf.width_mm - MARGIN_MM
    press.text(number, right, y, anchor="end", colour=QUIET)
    room = right - MARGIN_MM - width_of(number, size_mm=TEXT_MM) - 4.0
    name = shortened(title, width_mm=0.45 * room, bold=True)
    press.text(name, MARGIN_MM, y, bold=True)
    used = width_of(name, size_mm=TEXT_MM, bold=True) + 3.0
    press.text(shortened(says, width_mm=room - used), MARGIN_MM + used, y, colour=QUIET)
    line = leaf.height_mm - MARGIN_MM - HEAD_MM + 2.0
    press.line((MARGIN_MM, line), (right, line), stroke=FINE)


def shortened(text: str, *, width_mm: float, size_mm: float = TEXT_MM, bold: bool = False) -> str:
    """Return `text`, its end left out where it is wider than a width."""
    if width_of(text, size_mm=size_mm, bold=bold) <= width_mm:
        return text
    for end in range(len(text) - 1, 0, -1):
        said = f"{text[:end].rstrip()}..."
        if width_of(said, size_mm=size_mm, bold=bold) <= width_mm:
            return said
    return ""


def scale_bar(press: Press, left: float, bottom: float, *, room_mm: float) -> float:
    """Draw a bar with a tick each 10 mm, as long as there is room; return its length."""
    length = min(BAR_MM, TICK_MM * (room_mm // TICK_MM))
    count = round(length / TICK_MM)
    base = bottom + 1.0
    for k in range(count):
        x = left + k * TICK_MM
        press.box(x, base, TICK_MM, 1.6, stroke=FINE, fill=INK if k % 2 == 0 else "#ffffff")
    for k in {0, count // 2, count}:
        at: Anchor = "start" if k == 0 else "end" if k == count else "middle"
        said = f"{k * TICK_MM:g}" if k < count else f"{k * TICK_MM:g} mm"
        press.text(said, left + k * TICK_MM, base + 2.6, size_mm=SMALL_MM, anchor=at)
    return length


def check_side_mm(width_mm: float, height_mm: float) -> float:
    """Return the side of the check square a window has room for: 100 mm, or whole tens below it."""
    room = min(width_mm, height_mm) - 2.0
    return CHECK_MM if room >= CHECK_MM else TICK_MM * (room // TICK_MM)


def check_square(press: Press, left: float, bottom: float, *, side_mm: float) -> None:
    """Draw the square to measure a print by, its side written along two of its sides."""
    press.box(left, bottom, side_mm, side_mm, stroke=CHECK_STROKE)
    said = f"check square {side_mm:g} mm"
    up = SMALL_MM * CAPITAL
    middle = side_mm / 2
    press.text(said, left + middle, bottom + 1.0, size_mm=SMALL_MM, anchor="middle", colour=CHECK)
    press.text(
        f"{side_mm:g} mm",
        left + 1.0 + up,
        bottom + middle,
        size_mm=SMALL_MM,
        anchor="middle",
        colour=CHECK,
        upward=True,
    )
