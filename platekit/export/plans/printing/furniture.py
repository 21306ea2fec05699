"""What stands on every page besides its own: head, page number, check square."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from platekit.export.plans.printing.lettering import SMALL_MM, TEXT_MM, Anchor, width_of
from platekit.export.plans.printing.paper import HEAD_MM, MARGIN_MM
from platekit.export.plans.printing.pens import CHECK, FINE, INK, QUIET, Stroke
from platekit.export.plans.printing.press import Press

CHECK_MM, TICK_MM = 100.0, 10.0
# Arms of the square's corners and of the ticks up its left side.
ARM_MM, TICK_ARM_MM = 4.0, 0.8
ARMS_MM = (ARM_MM, 2.0, 0.8)
WORDS_OFF_MM = 4.0
SQUARE_WORDS = "check square: {side:g} mm each way"
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


def check_square(press: Press, leaf: Leaf) -> None:
    """Draw the square that a print is measured by, the same at the same place of every page.

    Its lower side is a bar with a figure each 50 mm, its left side a tick each 10 mm, its four
    corners are right angles. Nothing runs round it: it stands over outlines, and nobody is to take
    it for one of them. Where type stands, arms are short and ticks are left out.
    """
    side = check_side_mm(leaf.width_mm, leaf.height_mm)
    left, base = MARGIN_MM, MARGIN_MM + FINE.width_mm / 2
    _bar(press, left, base, length_mm=side)
    right, top = left + side, base + side
    arms = [
        _arm(press, (x, y), way)
        for x, across in ((left, 1.0), (right, -1.0))
        for y, up in ((base, 1.0), (top, -1.0))
        for way in ((across, 0.0), (0.0, up))
    ]
    for k in range(1, round(side / TICK_MM)):
        y = base + k * TICK_MM
        tick = (left, y), (left + (2.0 if k % 5 == 0 else 1.0) * TICK_ARM_MM, y)
        if not press.meets_type(*tick):
            arms.append(tick)
    press.lines(arms, stroke=CHECK_STROKE)
    if square_words_mm(side) <= leaf.width_mm - MARGIN_MM - right:
        said = SQUARE_WORDS.format(side=side)
        press.text(said, right + WORDS_OFF_MM, base, size_mm=SMALL_MM, colour=CHECK)


def _arm(
    press: Press, corner: tuple[float, float], way: tuple[float, float]
) -> tuple[tuple[float, float], tuple[float, float]]:
    """Return an arm of a corner, as long as it lies over no type, or the shortest."""
    ends = [(corner[0] + long * way[0], corner[1] + long * way[1]) for long in ARMS_MM]
    free = (end for end in ends if not press.meets_type(corner, end))
    return corner, next(free, ends[-1])


def square_words_mm(side_mm: float) -> float:
    """Return what the words beside the square's lower side take, air included."""
    return WORDS_OFF_MM + width_of(SQUARE_WORDS.format(side=side_mm), size_mm=SMALL_MM)


def _bar(press: Press, left: float, base: float, *, length_mm: float) -> None:
    count = round(length_mm / TICK_MM)
    for k in range(count):
        x = left + k * TICK_MM
        press.box(x, base, TICK_MM, 1.6, stroke=FINE, fill=INK if k % 2 == 0 else "#ffffff")
    for k in {0, count // 2, count}:
        at: Anchor = "start" if k == 0 else "end" if k == count else "middle"
        said = f"{k * TICK_MM:g}" if k < count else f"{k * TICK_MM:g} mm"
        # Beside the arms of the corners.
        off = 1.0 if k == 0 else -1.0 if k == count else 0.0
        press.text(said, left + k * TICK_MM + off, base + 2.5, size_mm=SMALL_MM, anchor=at)


def check_side_mm(width_mm: float, height_mm: float) -> float:
    """Return the side of the square that a page has room for: 100 mm, or whole tens below it."""
    room = min(width_mm - 2 * MARGIN_MM, height_mm - 2 * MARGIN_MM - HEAD_MM) - FINE.width_mm
    return CHECK_MM if room >= CHECK_MM else TICK_MM * (room // TICK_MM)
