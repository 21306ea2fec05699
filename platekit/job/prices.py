"""A list of prices of the user's own: a CSV file of designations as the bill writes them.

Its columns are ``designation``, ``price`` and, if wanted, ``per``: how many pieces that price buys,
as of a box of screws. No currency is asked for; a list is general and may hold what no rig needs.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

from platekit.handbook import Row, TableError, read_file, require_columns

REQUIRED = ("designation", "price")
OPTIONAL = ("per",)

# A dearer piece or finer money is a slip of the keyboard.
LARGEST_PRICE = 1_000_000
LONGEST_SHOWN = 40
_FIGURES = re.compile(r"[0-9]{1,7}(\.[0-9]{1,6})?")


@dataclass(frozen=True, slots=True)
class PriceList:
    """Prices by designation, found whatever its case, spaces and dashes.

    Attributes:
        file: The file it was read from, as it was named.
        prices: What one piece costs, exactly, by `folded` designation.
    """

    file: str
    prices: Mapping[str, Fraction]

    def price_of(self, designation: str) -> Fraction | None:
        """Return what one piece costs; None where the list does not say."""
        return self.prices.get(folded(designation))


def read_prices(path: Path) -> PriceList:
    """Return the prices listed in a CSV file.

    Raises:
        TableError: The file cannot be read, a column is missing or unknown, a price is no number
            from 0 to `LARGEST_PRICE`, or one thing has two prices; the message names file, line
            and column.
    """
    rows = read_file(path)
    _require_known_columns(rows)
    found: dict[str, tuple[Fraction, Row]] = {}
    for row in rows:
        name = folded(row.text("designation"))
        if not name:
            raise row.fault(
                "designation",
                f"is {row.text('designation')!r}",
                remedy="write it as the bill of materials does",
            )
        price = _price(row) / _per(row)
        before, first = found.setdefault(name, (price, row))
        if before != price:
            raise row.fault(
                "designation",
                f"names {row.text('designation')!r} once more, at another price than line "
                f"{first.line}",
                remedy="keep one of the two",
            )
    return PriceList(str(path), {name: price for name, (price, _) in found.items()})


def folded(designation: str) -> str:
    """Return a designation as lists are compared: without case, spaces and dashes.

    Letters of every alphabet count, unlike in our own tables, whose names are all Latin; a decimal
    comma is a point, a multiplication sign an x, and an apostrophe in front, which the bill puts
    before what a spreadsheet would take for a formula, is none of the designation.

    Example:
        >>> folded("Dowel 4 x 24 mm") == folded("dowel 4x24-mm")
        True
    """
    text = unicodedata.normalize("NFKC", designation.strip().removeprefix("'")).casefold()
    text = text.replace(",", ".").replace("\N{MULTIPLICATION SIGN}", "x")
    return "".join(sign for sign in text if not (sign.isspace() or _is_dash(sign)))


def _is_dash(sign: str) -> bool:
    return unicodedata.category(sign) == "Pd" or sign == "\N{MINUS SIGN}"


def _require_known_columns(rows: Sequence[Row]) -> None:
    require_columns(rows, REQUIRED)
    known = (*REQUIRED, *OPTIONAL)
    unknown = [name for name in rows[0].cells if name not in known]
    if unknown:
        called = ", ".join(repr(name) for name in unknown)
        raise TableError(
            f"table {rows[0].file}, line 1: column {called} is not known",
            remedy=f"keep the columns {','.join(known)}",
        )


def _price(row: Row) -> Fraction:
    said = row.text("price")
    if not _FIGURES.fullmatch(said) or Decimal(said) > LARGEST_PRICE:
        remedy = f"give figures alone, from 0 to {LARGEST_PRICE}, at most 6 after the point"
        if "," in said:
            remedy += ", which is a point: 2.50 rather than 2,50"
        shown = said if len(said) <= LONGEST_SHOWN else f"{said[:LONGEST_SHOWN]}..."
        raise row.fault("price", f"is {shown!r}", remedy=remedy)
    return Fraction(Decimal(said))


def _per(row: Row) -> int:
    if "per" not in row.cells or not row.optional_text("per"):
        return 1
    return row.count("per")
