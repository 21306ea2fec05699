"""Tables that flow: rows that fill column after column, and go on where there is room again."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from platekit.export.plans.printing.press import Press
from platekit.export.plans.printing.tables import ROW_MM, Column, Line, in_lines, table

# Between one table and the next in the same column, rows.
APART = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A table: its columns, and its rows, each of one or more lines."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[Line, ...], ...]

    @classmethod
    def of(cls, columns: Sequence[Column], rows: Iterable[Sequence[str]]) -> Section:
        """Return a table of cells, each broken to its column."""
        return cls(columns=tuple(columns), rows=tuple(in_lines(columns, [row]) for row in rows))

    @property
    def heads(self) -> tuple[str, ...]:
        """What stands above its columns."""
        return tuple(one.head for one in self.columns)

    def last(self, count: int) -> Section:
        """Return the table with its last rows alone."""
        return replace(self, rows=self.rows[len(self.rows) - count :])


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """Where a column stands: its left upper corner, and how many lines it has room for."""

    left: float
    top: float
    lines: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A part of a table in its place."""

    section: Section
    left: float
    top: float

    def draw(self, press: Press) -> None:
        """Draw it."""
        lines = [line for row in self.section.rows for line in row]
        table(press, self.section.columns, lines, left=self.left, top=self.top)


def flowed(
    sections: Sequence[Section], spots: Sequence[Spot], *, most_rows: int | None = None
) -> tuple[tuple[Piece, ...], tuple[Section, ...]]:
    """Return tables laid into columns, and what found no room.

    Args:
        sections: The tables, one after the other.
        spots: The columns.
        most_rows: Lay no more rows than these.
    """
    pieces: list[Piece] = []
    waiting = [one for one in sections if one.rows]
    left = sum(len(one.rows) for one in waiting) if most_rows is None else most_rows
    for spot in spots:
        used = 0
        while waiting and left:
            section, gap = waiting[0], APART if used else 0
            fits, lines = 0, 1 + gap
            for row in section.rows[:left]:
                if used + lines + len(row) > spot.lines:
                    break
                fits, lines = fits + 1, lines + len(row)
            if not fits:
                break
            shown = replace(section, rows=section.rows[:fits])
            top = spot.top - (used + gap) * ROW_MM
            pieces.append(Piece(section=shown, left=spot.left, top=top))
            used, left = used + lines, left - fits
            waiting[0] = replace(section, rows=section.rows[fits:])
            if waiting[0].rows:
                break
            waiting.pop(0)
    return tuple(pieces), tuple(waiting)


def least_lines(sections: Sequence[Section], columns: int) -> int:
    """Return how many lines columns side by side must have to hold all tables."""
    total = sum(len(row) for one in sections for row in one.rows)
    lines = max(1, total // columns)
    while True:
        spots = [Spot(left=0.0, top=0.0, lines=lines)] * columns
        if not flowed(sections, spots)[1]:
            return lines
        lines += 1


def rows_of(sections: Iterable[Section]) -> int:
    """Return how many rows tables have together."""
    return sum(len(one.rows) for one in sections)
