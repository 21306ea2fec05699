"""What recipes may name: every table that ships, as kinds of things with the calls that take them.

Rows are read as they stand in the tables, without the modules that make values of them: a list is
printed at once. Whoever reads a recipe checks the same rows anew.
"""

from __future__ import annotations

import difflib
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

from platekit.errors import UnknownNameError
from platekit.export.figures import format_mm
from platekit.handbook import Row, plain, read

# Finer figures than these are of no use on a bench; --json gives every one.
DECIMALS = 3

Value: TypeAlias = "str | int | float | list[Value] | None"

# Columns whose figures are names: "04" is a class of nuts, not four.
_NAMES = frozenset(
    {"designation", "doubt", "known", "name", "property_class", "series", "source", "standard"}
)
# Columns that hold several values, or points, one after the other.
_LISTS = frozenset(
    {"hazards", "holes", "nominals_mm", "other_names", "stock", "teeth", "widths_mm"}
)


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a printed table.

    Attributes:
        heading: What it is called, a second line after a bar: ``"shaft|mm"``.
        filling: What stands in it, columns of the table in braces: ``"{hole_count} x {screw}"``.
        otherwise: What stands in it where one of them is empty.
        missing: What stands there where one of those is empty too.
        words: What to say for a cell's yes or no.
    """

    heading: str
    filling: str
    otherwise: str = ""
    missing: str = "-"
    words: tuple[str, str] = ("yes", "no")

    def cell(self, row: Row) -> str:
        """Return what stands in this column for `row`.

        Raises:
            TableError: The table has no such column.
        """
        for filling in filter(None, (self.filling, self.otherwise)):
            names = [piece.partition("}")[0] for piece in filling.split("{")[1:]]
            values = {name: value_of(row, name) for name in names}
            if not any(value in (None, []) for value in values.values()):
                said = {name: self._said(value) for name, value in values.items()}
                return filling.format_map(said)
        return self.missing

    def _said(self, value: Value) -> str:
        if isinstance(value, bool):
            return self.words[0 if value else 1]
        if isinstance(value, int | float):
            return format_mm(value, decimals=DECIMALS)
        if isinstance(value, list):
            return ", ".join(map(self._said, value))
        return str(value)


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """Rows of one file as they are shown.

    Attributes:
        title: What they are; empty where the kind says it.
        file: Where they stand, below the package: ``"hardware/tables/nuts.csv"``.
        columns: What is printed of them; the first names the row.
        by: Column whose values part the rows into lists of their own; empty for none.
        aside: Whether they only help to use the others, and do not count as entries.
        listed: Whether their names say all, so that they are told in one run.
    """

    title: str = ""
    file: str
    columns: tuple[Column, ...]
    by: str = ""
    aside: bool = False
    listed: bool = False

    def rows(self) -> tuple[Row, ...]:
        """Return the rows in the order of the file.

        Raises:
            TableError: The file cannot be read.
        """
        return read("platekit", self.file)

    def parted(self) -> dict[str, list[Row]]:
        """Return the rows under their titles.

        Raises:
            TableError: The file cannot be read.
        """
        parts: dict[str, list[Row]] = {}
        for row in self.rows():
            title = " ".join(filter(None, (self.title, row.text(self.by) if self.by else "")))
            parts.setdefault(title, []).append(row)
        return parts


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """Things of one kind.

    Attributes:
        name: What it is asked for by: "motors".
        about: What it holds, in a line.
        calls: How a recipe uses one, as it could be written; empty where it never names one.
        own: The function that reads a table of the user's own; empty where there is none.
        other_names: What it may be asked for by as well.
        tables: Its rows.
    """

    name: str
    about: str
    calls: tuple[str, ...] = ()
    own: str = ""
    other_names: tuple[str, ...] = ()
    tables: tuple[Table, ...]

    def count(self) -> int:
        """Return how many entries there are.

        Raises:
            TableError: A file cannot be read.
        """
        return sum(len(table.rows()) for table in self.tables if not table.aside)


def value_of(row: Row, column: str) -> Value:
    """Return a cell as what it is: a number, yes or no, text, a list of these; None when empty.

    Raises:
        TableError: The table has no such column.
    """
    said = row.optional_text(column)
    if column in _LISTS:
        return [_value(word) for word in row.words(column)]
    if not said:
        return None
    return said if column in _NAMES else _value(said)


def _value(said: str) -> Value:
    if said in {"yes", "no"}:
        return said == "yes"
    try:
        numbers: list[Value] = [_number(word) for word in said.split()]
    except ValueError:
        return said
    return numbers[0] if len(numbers) == 1 else numbers  # more than one: a point


def _number(word: str) -> int | float:
    try:
        return int(word)
    except ValueError:
        return float(word)


def find_kind(name: str, kinds: Sequence[Kind]) -> Kind:
    """Return the kind called `name`, in the singular or plural, whatever its case and spaces.

    Raises:
        UnknownNameError: There is none; the message offers the nearest and lists all.
    """
    called = {_stem(other): kind for kind in kinds for other in (kind.name, *kind.other_names)}
    found = called.get(_stem(name))
    if found is not None:
        return found
    holding = [kind.name for kind in kinds if _holds(kind, name)]
    near = difflib.get_close_matches(_stem(name), called, n=3, cutoff=0.6)
    offered = list(dict.fromkeys(called[stem].name for stem in near))
    offer = f"did you mean {' or '.join(offered)}? " if offered else ""
    if holding:
        offer = f"it stands among {' and '.join(holding)}; "
    listed = ", ".join(kind.name for kind in kinds)
    raise UnknownNameError(
        f"unknown kind {name!r} in the catalogue", remedy=f"{offer}kinds: {listed}"
    )


def _stem(name: str) -> str:
    return plain(name).removesuffix("s")


def _holds(kind: Kind, name: str) -> bool:
    sought = plain(name)
    return bool(sought) and any(
        plain(table.columns[0].cell(row)) == sought for table in kind.tables for row in table.rows()
    )


def everything(kinds: Sequence[Kind]) -> dict[str, object]:
    """Return the kinds with every field of every row, as JSON can hold them.

    Raises:
        TableError: A file cannot be read.
    """
    return {"kinds": [_whole(kind) for kind in kinds]}


def _whole(kind: Kind) -> dict[str, object]:
    return {
        "kind": kind.name,
        "about": kind.about,
        "calls": list(kind.calls),
        "own": kind.own or None,
        "entries": kind.count(),
        "tables": [
            {
                "title": table.title or kind.about,
                "file": table.file.rpartition("/")[2],
                "rows": [{name: value_of(row, name) for name in row.cells} for row in table.rows()],
            }
            for table in kind.tables
        ],
    }
