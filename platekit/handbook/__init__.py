"""Handbook tables: CSV files inside the package, every row with its source and how it is known.

`materials` and `hardware` both read theirs here. A table is checked cell by cell as it is read, so
a value that exists is a value that was there, finite and of a size a workshop meets. A table of the
user's own, from the disk, is read the same way.

Every table has the columns ``known`` (one of `KNOWN`) and ``source``.
"""

from platekit.handbook.catalogue import Catalogue, plain
from platekit.handbook.files import LARGEST_FILE_BYTES, parse, read, read_file, require_columns
from platekit.handbook.rows import KNOWN, LONGEST_MM, Row, TableError

__all__ = [
    "KNOWN",
    "LARGEST_FILE_BYTES",
    "LONGEST_MM",
    "Catalogue",
    "Row",
    "TableError",
    "parse",
    "plain",
    "read",
    "read_file",
    "require_columns",
]
