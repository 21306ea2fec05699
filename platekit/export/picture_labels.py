"""Names on the pieces of a picture: where there is room, in letters as large as fit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from platekit.export.captions import CAPITAL_EM, LINE_EM, text_line, text_width_px
from platekit.export.label_room import LabelRoom
from platekit.export.picture import INK
from platekit.geometry.points import Point

NAME_SIZES_PX = (18.0, 15.0, 13.0)
NAME_MARGIN_PX = 5.0  # from a name to the nearest line


@dataclass(frozen=True, slots=True)
class Label:
    """Words on a piece: lines, the middle of them on the sheet (mm), and how they are set."""

    lines: tuple[str, ...]
    middle: Point
    size_px: float
    upward: bool = False


def named(name: str, room: LabelRoom) -> Label | None:
    """Return the name in the largest letters there is room for, or None."""
    for size in NAME_SIZES_PX:
        for lines, upward in (((name,), False), (_halved(name), False), ((name,), True)):
            spot = _spot(lines, room, size_px=size, upward=upward)
            if spot is not None:
                return Label(lines, spot, size, upward)
    return None


def numbered(number: int, room: LabelRoom) -> Label | None:
    """Return a number in the largest letters there is room for, or None."""
    for size in NAME_SIZES_PX[1:]:
        spot = _spot((str(number),), room, size_px=size, upward=False)
        if spot is not None:
            return Label((str(number),), spot, size)
    return None


def said(lines: Sequence[tuple[str, ...]], room: LabelRoom, *, size_px: float) -> Label | None:
    """Return the first wording there is room for, level or upward, or None."""
    for words in lines:
        for upward in (False, True):
            spot = _spot(words, room, size_px=size_px, upward=upward)
            if spot is not None:
                return Label(words, spot, size_px, upward)
    return None


def printed(
    label: Label, *, left_px: float, bottom_px: float, scale: float, colour: str = INK
) -> list[str]:
    """Return a label as elements.

    Args:
        label: What and where, on the sheet.
        left_px: Where the sheet's x is 0.
        bottom_px: Where its y is 0.
        scale: Pixels to the millimetre.
        colour: As ``#rrggbb``.
    """
    x = left_px + label.middle.x * scale
    y = bottom_px - label.middle.y * scale
    body = []
    for k, line in enumerate(label.lines):
        # From the middle of the lines to the base line of this one.
        down = (k - (len(label.lines) - 1) / 2) * LINE_EM * label.size_px
        down += CAPITAL_EM / 2 * label.size_px
        body.append(
            text_line(
                line,
                x_px=x + (down if label.upward else 0.0),
                y_px=y + (0.0 if label.upward else down),
                size_px=label.size_px,
                colour=colour,
                anchor="middle",
                upward=label.upward,
            )
        )
    return body


def _halved(name: str) -> tuple[str, ...]:
    """Return the name as two lines as even as its spaces allow, or as one."""
    words = name.split()
    splits = [(" ".join(words[:k]), " ".join(words[k:])) for k in range(1, len(words))]
    return min(splits, key=lambda lines: max(map(len, lines)), default=(name,))


def _spot(lines: Sequence[str], room: LabelRoom, *, size_px: float, upward: bool) -> Point | None:
    length = max(text_width_px(line, size_px=size_px) for line in lines)
    long = length + 2 * NAME_MARGIN_PX
    across = LINE_EM * size_px * len(lines) + NAME_MARGIN_PX
    if upward:
        return room.spot(width_px=across, height_px=long)
    return room.spot(width_px=long, height_px=across)
