"""Running dimensions along one side of a part, after the habits of ISO 129-1 (from memory).

All count from one origin, marked by a small circle, along one dimension line; each arrow points
away from it, and each figure stands at the end of its extension line. Where figures would touch,
their lines are cranked apart.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from platekit.export.plans.drawings.outline_steps import Step
from platekit.export.plans.printing.lettering import CAPITAL, Anchor, width_of
from platekit.export.plans.printing.pens import FINE, INK
from platekit.export.plans.printing.press import Press

Side = Literal["bottom", "top", "left", "right"]
Spot = tuple[float, float]

# From the part to the dimension line, from there to where a figure's line is cranked, and on.
OFF_MM, BEYOND_MM, CRANK_MM, TAIL_MM = 6.0, 1.2, 2.5, 0.8
GAP_MM, FIGURE_GAP_MM = 0.8, 0.7
ARROW_MM, ARROW_HALF_MM = 2.4, 0.4
DOT_MM, ORIGIN_MM = 0.4, 0.9
# Figures may stand so far beyond the ends of the part.
OVERHANG_MM = 5.0
# Air between figures side by side, as a share of their height.
AIR_SHARE = 0.42


def pitch_mm(size_mm: float) -> float:
    """Return how far apart figures of a size stand at least."""
    return size_mm * CAPITAL * (1.0 + AIR_SHARE)


def reach_mm(steps: Sequence[Step], *, size_mm: float) -> float:
    """Return how far running dimensions reach out from a part."""
    if not steps:
        return 0.0
    longest = max(width_of(one.said, size_mm=size_mm) for one in steps)
    return OFF_MM + BEYOND_MM + CRANK_MM + TAIL_MM + FIGURE_GAP_MM + longest


def has_room(steps: Sequence[Step], *, long_mm: float, size_mm: float) -> bool:
    """Return whether the figures of a side fit along it, `long_mm` being its length on paper."""
    return (len(steps) - 1) * pitch_mm(size_mm) <= long_mm + 2 * OVERHANG_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A figure in its place: its words, where its base line begins or ends, how it is turned."""

    said: str
    x_mm: float
    y_mm: float
    anchor: Anchor
    upward: bool
    size_mm: float

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top of its letters."""
        wide, high = width_of(self.said, size_mm=self.size_mm), self.size_mm * CAPITAL
        back = wide * {"start": 0.0, "middle": 0.5, "end": 1.0}[self.anchor]
        if self.upward:
            return self.x_mm - high, self.y_mm - back, self.x_mm, self.y_mm - back + wide
        return self.x_mm - back, self.y_mm, self.x_mm - back + wide, self.y_mm + high

    def draw(self, press: Press) -> None:
        """Draw it."""
        press.text(
            self.said,
            self.x_mm,
            self.y_mm,
            size_mm=self.size_mm,
            anchor=self.anchor,
            upward=self.upward,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Running:
    """The running dimensions of one side, in place on the page.

    Attributes:
        lines: Extension lines, cranks included, and the dimension line.
        arrows: Tip and tail of each arrow.
        dots: Where steps are too near for an arrow.
        origin: Where the circle stands.
        figures: The figures.
    """

    lines: tuple[tuple[Spot, ...], ...]
    arrows: tuple[tuple[Spot, Spot], ...]
    dots: tuple[Spot, ...]
    origin: Spot
    figures: tuple[Figure, ...]

    def draw(self, press: Press) -> None:
        """Draw them."""
        press.polylines(self.lines, stroke=FINE)
        for tip, tail in self.arrows:
            dx, dy = tail[0] - tip[0], tail[1] - tip[1]
            wide = ARROW_HALF_MM / ARROW_MM
            across = -dy * wide, dx * wide
            press.area(
                tip,
                (tail[0] + across[0], tail[1] + across[1]),
                (tail[0] - across[0], tail[1] - across[1]),
            )
        for x, y in self.dots:
            press.disc(x, y, radius_mm=DOT_MM, fill=INK)
        press.dot(*self.origin, radius_mm=ORIGIN_MM, stroke=FINE)
        for figure in self.figures:
            figure.draw(press)


def running(
    side: Side,
    steps: Sequence[Step],
    *,
    corner: Spot,
    size_mm: tuple[float, float],
    scale: float,
    text_mm: float,
) -> Running:
    """Return the running dimensions of a side.

    Args:
        side: Which.
        steps: Its steps, in rising order; at least one.
        corner: Where the left lower corner of the part's bounds lies on the page.
        size_mm: Width and height of the part on the page.
        scale: Of the drawing.
        text_mm: Size of the figures.
    """
    width, height = size_mm
    left, bottom = corner
    # A place along the side and out from it, on the page.
    where: Callable[[float, float], Spot] = {
        "bottom": lambda a, out: (left + a, bottom - out),
        "top": lambda a, out: (left + a, bottom + height + out),
        "left": lambda a, out: (left - out, bottom + a),
        "right": lambda a, out: (left + width + out, bottom + a),
    }[side]
    long, deep = (width, height) if side in {"bottom", "top"} else (height, width)
    at = [one.at_mm * scale for one in steps]
    begins = [
        -one.from_mm * scale if side in {"bottom", "left"} else one.from_mm * scale - deep
        for one in steps
    ]
    placed = spread(
        at, pitch=pitch_mm(text_mm), low=min(at[0], 0.0) - OVERHANG_MM, high=long + OVERHANG_MM
    )
    beyond = OFF_MM + BEYOND_MM
    cranked = beyond + CRANK_MM
    lines = [
        tuple(
            where(a, out)
            for a, out in (
                (one, begin + GAP_MM),
                (one, beyond),
                (moved, cranked),
                (moved, cranked + TAIL_MM),
            )
        )
        for one, begin, moved in zip(at, begins, placed, strict=True)
    ]
    lines.append((where(min(0.0, at[0]), OFF_MM), where(at[-1], OFF_MM)))
    arrows, dots, last = [], [], 0.0
    for one in at:
        if one <= ORIGIN_MM:
            continue
        if one - last >= ARROW_MM + DOT_MM:
            arrows.append((where(one, OFF_MM), where(one - ARROW_MM, OFF_MM)))
        else:
            dots.append(where(one, OFF_MM))
        last = one
    return Running(
        lines=tuple(lines),
        arrows=tuple(arrows),
        dots=tuple(dots),
        origin=where(0.0, OFF_MM),
        figures=tuple(
            _figure(side, one.said, where(moved, cranked + TAIL_MM + FIGURE_GAP_MM), text_mm)
            for one, moved in zip(steps, placed, strict=True)
        ),
    )


def _figure(side: Side, said: str, spot: Spot, text_mm: float) -> Figure:
    half = text_mm * CAPITAL / 2
    upward = side in {"bottom", "top"}
    return Figure(
        said=said,
        x_mm=spot[0] + half if upward else spot[0],
        y_mm=spot[1] if upward else spot[1] - half,
        anchor="end" if side in {"bottom", "left"} else "start",
        upward=upward,
        size_mm=text_mm,
    )


def spread(places: Sequence[float], *, pitch: float, low: float, high: float) -> tuple[float, ...]:
    """Return places at least a pitch apart, in their order, moved as little as that takes.

    Args:
        places: In rising order.
        pitch: Least distance from one to the next.
        low: None lies below it, and
        high: none above it, as long as there is room for all of them between.
    """
    # Blocks of neighbours that touch, each about the mean of where its members wish to be.
    blocks: list[tuple[float, int]] = []
    for place in places:
        mean, count = place, 1
        while blocks and _end(blocks[-1], pitch) + pitch > mean - (count - 1) * pitch / 2:
            other, more = blocks.pop()
            mean = (other * more + mean * count) / (more + count)
            count += more
        half = (count - 1) * pitch / 2
        blocks.append((min(max(mean, low + half), max(low + half, high - half)), count))
    laid = [mean + (k - (count - 1) / 2) * pitch for mean, count in blocks for k in range(count)]
    # What the ends pushed inward pushes its neighbours.
    for k, (one, other) in enumerate(pairwise(laid)):
        laid[k + 1] = max(other, one + pitch)
    over = max(0.0, laid[-1] - high) if laid else 0.0
    if over:
        laid[-1] -= over
        for k in range(len(laid) - 2, -1, -1):
            laid[k] = min(laid[k], laid[k + 1] - pitch)
    return tuple(laid)


def _end(block: tuple[float, int], pitch: float) -> float:
    mean, count = block
    return mean + (count - 1) * pitch / 2
