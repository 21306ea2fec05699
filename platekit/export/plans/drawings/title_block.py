"""Title block of a drawing: what it shows, for which rig, how large, of what, how often.

The fields are those that ISO 7200 asks for and a workshop needs (habit of the standard, from
memory); a date is left out, so that the same rig makes the same file.
"""

from __future__ import annotations

from collections.abc import Sequence

from platekit.export.plans.printing.furniture import shortened
from platekit.export.plans.printing.lettering import (
    CAPITAL,
    HEAD_MM,
    LEADING,
    SMALL_MM,
    TEXT_MM,
    broken,
    width_of,
)
from platekit.export.plans.printing.pens import QUIET, THIN, WIDE
from platekit.export.plans.printing.press import Press

ROW_MM = 8.0
TITLE_ROW_MM = 10.0
WIDTH_MM = 120.0
# Sizes of the type that a title is set in, and on how many lines at most.
TITLES_MM = ((HEAD_MM, 1), (TEXT_MM, 1), (TEXT_MM, 2), (SMALL_MM, 3))
TIGHT = 1.15
FIELD_MM = 2.0  # size of the type that says what a field is


def block_height_mm(rows: Sequence[Sequence[tuple[str, str]]]) -> float:
    """Return how high a block with these rows stands."""
    return TITLE_ROW_MM + ROW_MM * len(rows)


def title_block(
    press: Press,
    *,
    right: float,
    bottom: float,
    width_mm: float,
    title: str,
    rig: str,
    rows: Sequence[Sequence[tuple[str, str]]],
) -> None:
    """Draw a title block, its right lower corner at a place.

    Args:
        press: What is drawn on.
        right: Its right side.
        bottom: Its lower side.
        width_mm: Its width.
        title: What the drawing shows.
        rig: What it belongs to, beside the title; empty where a field says it.
        rows: Fields of each row, from above: what it is and what it says.
    """
    left = right - width_mm
    height = block_height_mm(rows)
    top = bottom + height
    press.box(left, bottom, width_mm, height, stroke=WIDE, fill="#ffffff")
    room = width_mm - 3.0
    of = shortened(rig, width_mm=0.36 * room)
    beside = room - (width_of(of, size_mm=TEXT_MM) + 3.0 if of else 0.0)
    size, lines = _title(title, width_mm=beside)
    base = top - TITLE_ROW_MM / 2 - HEAD_MM * CAPITAL / 2
    press.text(of, right - 1.5, base, anchor="end", colour=QUIET)
    # Three lines stand closer.
    leading = LEADING if len(lines) < 3 else TIGHT
    base = top - TITLE_ROW_MM / 2 - size * CAPITAL / 2 + (len(lines) - 1) * size * leading / 2
    for k, line in enumerate(lines):
        press.text(line, left + 1.5, base - k * size * leading, size_mm=size, bold=True)
    for k, row in enumerate(rows):
        y = top - TITLE_ROW_MM - (k + 1) * ROW_MM
        press.line((left, y + ROW_MM), (right, y + ROW_MM), stroke=THIN)
        cell = width_mm / len(row)
        for n, (what, said) in enumerate(row):
            x = left + n * cell
            if n:
                press.line((x, y), (x, y + ROW_MM), stroke=THIN)
            press.text(what, x + 1.0, y + ROW_MM - 2.6, size_mm=FIELD_MM, colour=QUIET)
            size = TEXT_MM if len(said) < 40 else SMALL_MM
            press.text(
                shortened(said, width_mm=cell - 2.0, size_mm=size), x + 1.0, y + 1.5, size_mm=size
            )


def _title(title: str, *, width_mm: float) -> tuple[float, tuple[str, ...]]:
    """Return the size and the lines of a title: smaller, then on more lines, before it is cut."""
    size, most = TITLES_MM[-1]
    for size, most in TITLES_MM:
        lines = broken(title, width_mm=width_mm, size_mm=size, bold=True)
        if len(lines) <= most:
            return size, lines
    rest = " ".join(lines[most - 1 :])
    last = shortened(rest, width_mm=width_mm, size_mm=size, bold=True)
    return size, (*lines[: most - 1], last)


def called(names: Sequence[str]) -> str:
    """Return the names of parts that share a drawing: "lower ring 1, 2, 3; upper ring 1, 2"."""
    stems: dict[str, list[str]] = {}
    for name in names:
        words = name.rsplit(" ", maxsplit=1)
        stem, number = words if len(words) == 2 and words[1].isdigit() else (name, "")
        stems.setdefault(stem, []).append(number)
    return "; ".join(f"{stem} {', '.join(numbers)}".strip() for stem, numbers in stems.items())


def runs(numbers: Sequence[int]) -> str:
    """Return rising numbers with their runs drawn together: "8 to 10, 12"."""
    found: list[list[int]] = []
    for number in numbers:
        if found and number == found[-1][1] + 1:
            found[-1][1] = number
        else:
            found.append([number, number])
    return ", ".join(
        f"{a}" if a == b else f"{a}, {b}" if b == a + 1 else f"{a} to {b}" for a, b in found
    )
