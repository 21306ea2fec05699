"""One line of a table, read cell by cell."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from platekit.errors import PlatekitError

KNOWN = frozenset({"looked up", "from memory", "common practice", "derived", "measured"})

# Nothing a table holds is longer: a slip of the decimal point in a diameter shows up here.
LONGEST_MM = 2000.0
LARGEST_COUNT = 10_000
FULL_TURN_DEG = 360.0


class TableError(PlatekitError, ValueError):
    """A table with a cell that is missing or cannot be. Names file, row and column."""


@dataclass(frozen=True)
class Row:
    """One line of a table, read cell by cell.

    Attributes:
        file: Name of the file, for messages.
        line: Line of the file, the header being line 1.
        cells: Text by column.
    """

    file: str
    line: int
    cells: Mapping[str, str]

    def text(self, column: str) -> str:
        """Return the text of a cell that must hold some.

        Raises:
            TableError: The column does not exist or the cell is empty.
        """
        said = self.optional_text(column)
        if not said:
            raise self.fault(column, "is empty", remedy="give its value, or drop the row")
        return said

    def optional_text(self, column: str) -> str:
        """Return the text of a cell, "" when empty.

        Raises:
            TableError: The column does not exist.
        """
        if column not in self.cells:
            raise self.fault(column, "is missing", remedy=f"has: {', '.join(self.cells)}")
        return (self.cells[column] or "").strip()

    def number(self, column: str) -> float:
        """Return the finite number in a cell.

        Raises:
            TableError: There is none.
        """
        said = self.text(column)
        try:
            value = float(said)
        except ValueError:
            value = math.nan
        if not math.isfinite(value):
            remedy = "give a finite number"
            if "," in said:
                remedy += " with a decimal point, 2.5 rather than 2,5"
            raise self.fault(column, f"is {said!r}", remedy=remedy)
        return value

    def length_mm(self, column: str) -> float:
        """Return the length in a cell, mm, above 0 and at most `LONGEST_MM`.

        Raises:
            TableError: There is none, or it is out of range.
        """
        value = self.number(column)
        if not 0 < value <= LONGEST_MM:
            raise self.fault(
                column, f"is {value:g} mm", remedy=f"give a length above 0, up to {LONGEST_MM:g} mm"
            )
        return value

    def optional_mm(self, column: str) -> float | None:
        """Return the length in a cell as `length_mm` does, None when the cell is empty.

        Raises:
            TableError: It is no length, or out of range; 0 is one too many, the cell stays empty.
        """
        if not self.optional_text(column):
            return None
        if self.number(column) == 0:
            raise self.fault(
                column, "is 0 mm", remedy="leave the cell empty for none, or give a length above 0"
            )
        return self.length_mm(column)

    def positive(self, column: str) -> float:
        """Return the finite number above 0 in a cell.

        Raises:
            TableError: There is none.
        """
        value = self.number(column)
        if value <= 0:
            raise self.fault(column, f"is {value:g}", remedy="give a number above 0")
        return value

    def count(self, column: str) -> int:
        """Return the whole number above 0 in a cell, at most `LARGEST_COUNT`.

        Raises:
            TableError: There is none, or it is out of range.
        """
        value = self.number(column)
        if not 1 <= value <= LARGEST_COUNT or value != int(value):
            raise self.fault(
                column, f"is {value:g}", remedy=f"give a whole number, 1 to {LARGEST_COUNT}"
            )
        return int(value)

    def angle_deg(self, column: str) -> float:
        """Return the angle in a cell, degrees, within one turn either way.

        Raises:
            TableError: There is none, or it is out of range.
        """
        value = self.number(column)
        if abs(value) > FULL_TURN_DEG:
            raise self.fault(
                column, f"is {value:g}", remedy=f"give an angle within {FULL_TURN_DEG:g} degrees"
            )
        return value

    def flag(self, column: str) -> bool:
        """Return whether a cell says yes.

        Raises:
            TableError: It says neither yes nor no.
        """
        said = self.text(column)
        if said not in {"yes", "no"}:
            raise self.fault(column, f"is {said!r}", remedy="give yes or no")
        return said == "yes"

    def words(self, column: str) -> tuple[str, ...]:
        """Return the parts of a cell separated by semicolons; none when it is empty."""
        return tuple(w.strip() for w in self.optional_text(column).split(";") if w.strip())

    def lengths_mm(self, column: str) -> tuple[float, ...]:
        """Return the lengths of a cell separated by semicolons, mm, rising.

        Raises:
            TableError: One is no length above 0, or they do not rise.
        """
        self.text(column)
        values = tuple(
            Row(self.file, self.line, {column: word}).length_mm(column)
            for word in self.words(column)
        )
        if list(values) != sorted(set(values)):
            raise self.fault(column, f"is {values}", remedy="list each length once, rising")
        return values

    def points_mm(self, column: str) -> tuple[tuple[float, float], ...]:
        """Return the points of a cell, "x y; x y" in mm; none when it is empty.

        Raises:
            TableError: One is no pair of finite numbers within `LONGEST_MM`.
        """
        points = []
        for pair in self.words(column):
            try:
                x, y = (float(word) for word in pair.split())
            except ValueError:
                x = y = math.nan
            if not (abs(x) <= LONGEST_MM and abs(y) <= LONGEST_MM):
                raise self.fault(
                    column, f"has {pair!r}", remedy="give points in mm as x y; x y: -10 0; 10 0"
                )
            points.append((x, y))
        return tuple(points)

    @property
    def source(self) -> str:
        """Where the row comes from and how it is known: ``"ISO 273:1979 (looked up)"``.

        Raises:
            TableError: Either is missing, or `known` is none of `KNOWN`.
        """
        known = self.text("known")
        if known not in KNOWN:
            raise self.fault("known", f"is {known!r}", remedy=f"give one of {sorted(KNOWN)}")
        return f"{self.text('source')} ({known})"

    def fault(self, column: str, problem: str, *, remedy: str) -> TableError:
        """Return the error for one cell of this row."""
        where = f"table {self.file}, line {self.line}, column {column}"
        return TableError(f"{where} {problem}", remedy=remedy)
