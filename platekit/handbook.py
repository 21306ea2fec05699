"""Handbook tables: CSV files inside the package, every row with its source and how it is known.

`materials` and `hardware` both read theirs here. A table is checked cell by cell as it is read, so
a value that exists is a value that was there, finite and of a size a workshop meets. A table of the
user's own, from the disk, is read the same way.

Every table has the columns ``known`` (one of `KNOWN`) and ``source``.
"""

from __future__ import annotations

import csv
import io
import math
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from importlib import resources
from pathlib import Path
from typing import Generic, TypeVar

from platekit.errors import PlatekitError, UnknownNameError

KNOWN = frozenset({"looked up", "from memory", "common practice", "derived", "measured"})

# Nothing a table holds is longer: a slip of the decimal point in a diameter shows up here.
LONGEST_MM = 2000.0
LARGEST_COUNT = 10_000
FULL_TURN_DEG = 360.0
# A table is a few hundred lines; a file beyond this was named by mistake and is not read.
LARGEST_FILE_BYTES = 4_000_000

Entry = TypeVar("Entry")


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
        """Return the length in a cell as `length_mm` does, None when the cell is empty."""
        return self.length_mm(column) if self.optional_text(column) else None

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


def read(package: str, file: str) -> tuple[Row, ...]:
    """Return the rows of the table `file` that ships inside `package`.

    Raises:
        TableError: The file is not there, holds no row, or a row has a cell too many or too few.
    """
    try:
        text = (resources.files(package) / file).read_text(encoding="utf-8")
    except OSError as err:
        raise TableError(f"table {file} cannot be read: {err}", remedy="install again") from err
    return parse(text, file=file)


def read_file(path: str | Path) -> tuple[Row, ...]:
    """Return the rows of a table on the user's disk: commas between cells, UTF-8, a header line.

    A byte order mark, as spreadsheets write it, is passed over.

    Raises:
        TableError: The file is not there, is a folder, cannot be read or is no such text, or its
            rows cannot be read; the message names it as it was given.
    """
    file = str(path)
    try:
        if Path(path).is_dir():
            raise TableError(f"table {file} is a folder", remedy="name the CSV file in it")
        if Path(path).exists() and not Path(path).is_file():
            # A pipe or a device may never end.
            raise TableError(f"table {file} is no plain file", remedy="save it as one")
        size = Path(path).stat().st_size
        if size > LARGEST_FILE_BYTES:
            raise TableError(
                f"table {file} has {size} bytes",
                remedy=f"give a CSV file of at most {LARGEST_FILE_BYTES} bytes",
            )
        text = Path(path).read_text(encoding="utf-8-sig")
    except FileNotFoundError as err:
        raise TableError(f"table {file} is not there", remedy="check name and folder") from err
    except UnicodeDecodeError as err:
        raise TableError(
            f"table {file} is no UTF-8 text", remedy='save it as "CSV, UTF-8", commas between cells'
        ) from err
    except (OSError, ValueError) as err:
        if isinstance(err, TableError):
            raise
        reason = getattr(err, "strerror", None) or err
        raise TableError(f"table {file} cannot be read: {reason}", remedy="check the file") from err
    return parse(text, file=file)


def parse(text: str, *, file: str) -> tuple[Row, ...]:
    """Return the rows of a table given as CSV text with a header line; blank lines are passed over.

    Raises:
        TableError: There is no row, one has a cell too many or too few or a quote that never
            closes, a column stands twice, or the cells are not separated by commas.
    """
    if not text.strip(" \t\r\n,"):
        raise TableError(f"table {file} is empty", remedy="give a header line and a row")
    # newline="": a line break inside a quoted cell belongs to the cell.
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    rows = []
    try:
        filled = (cells for cells in reader if any(cell.strip() for cell in cells))
        header = _header(next(filled), file)
        for cells in filled:
            row = Row(file, reader.line_num, dict(zip(header, cells, strict=False)))
            if len(cells) != len(header):
                raise row.fault("(all)", "has too many cells or too few", remedy="match the header")
            rows.append(row)
    except csv.Error as err:
        where = f"table {file}, line {reader.line_num}"
        raise TableError(f"{where} cannot be read: {err}", remedy="mend its quotes") from err
    if not rows:
        raise TableError(f"table {file} holds no row", remedy="give one below the header")
    return tuple(rows)


def _header(cells: list[str], file: str) -> list[str]:
    """Return the names of the columns, or say plainly what a spreadsheet did to them."""
    names = [cell.strip() for cell in cells]
    if len(names) == 1:
        for mark, called in ((";", "semicolons"), ("\t", "tabs")):
            if mark in cells[0]:
                raise TableError(
                    f"table {file} has {called} between its cells",
                    remedy="save it with commas between cells and decimal points in numbers",
                )
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        called = ", ".join(repr(name) for name in twice)
        raise TableError(
            f"table {file}, line 1: column {called} stands twice", remedy="keep one of each"
        )
    return names


def require_columns(rows: Iterable[Row], columns: Iterable[str]) -> None:
    """Check that a table has these columns before a cell is read.

    Raises:
        TableError: One is missing; the message lists what is needed.
    """
    needed = tuple(columns)
    for row in rows:
        lacking = [name for name in needed if name not in row.cells]
        if lacking:
            raise TableError(
                f"table {row.file} has no column {', '.join(lacking)}",
                remedy=f"give the columns {','.join(needed)}; a cell may stay empty",
            )


def plain(name: str) -> str:
    """Return `name` as lookups compare it: small letters and digits, no spaces, no dashes.

    A decimal comma counts as a point, so "m 2,5" finds "M2.5".
    """
    return re.sub(r"[^a-z0-9.+]", "", name.casefold().replace(",", "."))


@dataclass(frozen=True)
class Catalogue(Generic[Entry]):
    """Entries of one kind, found by designation whatever its case, spaces and dashes.

    Attributes:
        kind: What the entries are, for messages: "screw".
        entries: Entry by designation, in the order of the table.
        aliases: Other names, each with the designation it stands for.
    """

    kind: str
    entries: Mapping[str, Entry]
    aliases: Mapping[str, str]

    @classmethod
    def of(
        cls,
        kind: str,
        entries: Iterable[Entry],
        *,
        name: Callable[[Entry], str],
        aliases: Mapping[str, str] | None = None,
    ) -> Catalogue[Entry]:
        """Return the catalogue of `entries`, each under the name `name` reads from it.

        Raises:
            TableError: Two entries or aliases would be found under one name.
        """
        listed = list(entries)
        found = cls(kind, {name(entry): entry for entry in listed}, aliases or {})
        names = [plain(text) for text in (*map(name, listed), *found.aliases)]
        twice = sorted({text for text in names if names.count(text) > 1})
        if twice:
            raise TableError(f"{kind} {', '.join(twice)} stands twice", remedy="keep one row each")
        return found

    @cached_property
    def _index(self) -> dict[str, Entry]:
        index = {plain(name): entry for name, entry in self.entries.items()}
        index.update({plain(name): self.entries[whole] for name, whole in self.aliases.items()})
        return index

    def __getitem__(self, name: str) -> Entry:
        """Return the entry called `name`.

        Raises:
            UnknownNameError: None is; the message offers the nearest and lists all.
        """
        entry = self._index.get(plain(str(name)))
        if entry is None:
            raise UnknownNameError.among(self.kind, name, self.entries)
        return entry

    @property
    def names(self) -> frozenset[str]:
        """Every designation and alias, as written in the table."""
        return frozenset(self.entries) | frozenset(self.aliases)

    def __iter__(self) -> Iterator[str]:
        """Yield the designations in the order of the table."""
        return iter(self.entries)

    def __len__(self) -> int:
        """Return how many entries there are."""
        return len(self.entries)
