"""Tables on paper: columns of fixed widths, rows of one line, a rule below the head."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from platekit.export.plans.printing.furniture import shortened
from platekit.export.plans.printing.lettering import SMALL_MM, Anchor, broken
from platekit.export.plans.printing.pens import FAINT, FINE, Stroke
from platekit.export.plans.printing.press import Press

ROW_MM = 4.1
HAIR = Stroke(width_mm=0.1, colour=FAINT)
AIR_MM = 1.2


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column: what stands above it, how wide it is, mm, and to which side its text keeps."""

    head: str
    width_mm: float
    anchor: Anchor = "start"


@dataclass(frozen=True, slots=True)
class Line:
    """A line of a table: its cells, and whether a row ends with it."""

    cells: tuple[str, ...]
    ends: bool = True


def table(
    press: Press,
    columns: Sequence[Column],
    lines: Sequence[Line],
    *,
    left: float,
    top: float,
) -> float:
    """Draw a table, its left upper corner at a place; return how far down it reaches.

    What is too wide for its cell has its end left out: use `in_lines` where all must be read.
    """
    width = sum(one.width_mm for one in columns)
    y = top - ROW_MM
    _row(press, columns, [one.head for one in columns], left=left, y=y, bold=True)
    press.line((left, y), (left + width, y), stroke=FINE)
    for line in lines:
        y -= ROW_MM
        _row(press, columns, line.cells, left=left, y=y, bold=False)
        if line.ends:
            press.line((left, y), (left + width, y), stroke=HAIR)
    return y


def _row(
    press: Press,
    columns: Sequence[Column],
    cells: Sequence[str],
    *,
    left: float,
    y: float,
    bold: bool,
) -> None:
    x = left
    for column, said in zip(columns, cells, strict=True):
        room = column.width_mm - 2 * AIR_MM
        text = shortened(said, width_mm=room, size_mm=SMALL_MM, bold=bold)
        at = {
            "start": x + AIR_MM,
            "middle": x + column.width_mm / 2,
            "end": x + column.width_mm - AIR_MM,
        }[column.anchor]
        press.text(text, at, y + 1.2, size_mm=SMALL_MM, anchor=column.anchor, bold=bold)
        x += column.width_mm


def in_lines(columns: Sequence[Column], rows: Sequence[Sequence[str]]) -> tuple[Line, ...]:
    """Return rows with every cell broken to its column: what is left of one goes on below it."""
    told: list[Line] = []
    for row in rows:
        cells = [
            broken(said, width_mm=column.width_mm - 2 * AIR_MM, size_mm=SMALL_MM) or ("",)
            for column, said in zip(columns, row, strict=True)
        ]
        high = max(map(len, cells))
        told += [
            Line(tuple(cell[k] if k < len(cell) else "" for cell in cells), ends=k == high - 1)
            for k in range(high)
        ]
    return tuple(told)


def rows_within(height_mm: float) -> int:
    """Return how many rows a height has room for, the head not counted."""
    return max(0, int((height_mm + 1e-6) / ROW_MM) - 1)
