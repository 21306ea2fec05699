"""Tables from the package and from the user's disk, read strictly."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable
from importlib import resources
from pathlib import Path

from platekit.handbook.rows import Row, TableError

# A table is a few hundred lines; a file beyond this was named by mistake and is not read.
LARGEST_FILE_BYTES = 4_000_000


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
