"""Deep-groove ball bearings, boundary dimensions of ISO 15."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from platekit.handbook import Catalogue, Row, read, read_file, require_columns
from platekit.hardware.devices.ratings import BearingRating
from platekit.hardware.fits import middle_mm
from platekit.hardware.items import Item

# Shields, seals and clearance change nothing of the outside: 6004-2RS sits where a 6004 does.
_SUFFIX = re.compile(r"(?:[\s\-/]*(?:2?RS(?:1|H1?)?|ZZ|2?Z|DDU?|LLU|VV|C[2-5]))*\s*", re.IGNORECASE)

# What a table of bearings has; a cell of other_names may stay empty.
BEARING_COLUMNS = (
    "designation",
    "series",
    "other_names",
    "bore_mm",
    "outer_mm",
    "width_mm",
    "chamfer_mm",
    "known",
    "source",
)
# What it may have besides: ratings by the maker's list, all four or none.
RATING_COLUMNS = ("dynamic_n", "static_n", "f0", "ratings")


@dataclass(frozen=True, slots=True, kw_only=True)
class Bearing:
    """A deep-groove ball bearing. All lengths in mm.

    Attributes:
        designation: "6004".
        series: Dimension series of ISO 15: "10", "02", "18", "19".
        bore_mm: Diameter of the shaft it sits on.
        outer_mm: Diameter of its seat.
        width_mm: Width.
        chamfer_mm: Least chamfer; no fillet in the seat may be larger.
        rating: What it bears; None where the table does not say. Makers differ by some per cent,
            and by more where rings and balls are of another steel.
        source: Where the figures come from.
    """

    designation: str
    series: str
    bore_mm: float
    outer_mm: float
    width_mm: float
    chamfer_mm: float
    rating: BearingRating | None = None
    source: str

    def seat_mm(self, fit: str = "H7") -> float:
        """Return the diameter of its seat: the middle of what the fit allows.

        Raises:
            UnknownNameError: An unknown fit.
            PartError: The fit is not tabulated at that diameter.
        """
        return middle_mm(fit, self.outer_mm)

    def item(self, *, quantity: int = 1, note: str = "") -> Item:
        """Return the bill's line for the bearing."""
        return Item(f"deep-groove ball bearing {self.designation}", quantity, note)


def _bearing(row: Row) -> Bearing:
    if row.length_mm("bore_mm") >= row.length_mm("outer_mm"):
        raise row.fault(
            "bore_mm",
            f"is {row.number('bore_mm'):g} mm",
            remedy=f"give less than outer_mm, {row.number('outer_mm'):g} mm",
        )
    return Bearing(
        designation=row.text("designation"),
        series=row.text("series"),
        bore_mm=row.length_mm("bore_mm"),
        outer_mm=row.length_mm("outer_mm"),
        width_mm=row.length_mm("width_mm"),
        chamfer_mm=row.length_mm("chamfer_mm"),
        rating=_rating(row),
        source=row.source,
    )


def _rating(row: Row) -> BearingRating | None:
    """Return what a row says it bears; None where it has no such columns, or they are empty.

    Raises:
        TableError: A rating stands alone, or is no number above 0.
    """
    if not any(row.cells.get(column, "").strip() for column in RATING_COLUMNS):
        return None
    return BearingRating(
        dynamic_n=row.positive("dynamic_n"),
        static_n=row.positive("static_n"),
        f0=row.positive("f0"),
        source=row.text("ratings"),
    )


def _catalogue(rows: tuple[Row, ...]) -> Catalogue[Bearing]:
    require_columns(rows, BEARING_COLUMNS)
    aliases = {other: row.text("designation") for row in rows for other in row.words("other_names")}
    return Catalogue.of(
        "bearing", map(_bearing, rows), name=lambda entry: entry.designation, aliases=aliases
    )


@cache
def _bearings() -> Catalogue[Bearing]:
    return _catalogue(read("platekit.hardware", "tables/bearings.csv"))


def bearing(designation: str) -> Bearing:
    """Return a bearing: ``bearing("6004")``; a seal's suffix, as in "6004-2RS", is passed over.

    Raises:
        UnknownNameError: The table has no such bearing; the message lists those it has.
    """
    said = str(designation).strip()
    # Longest number first: "6002RS" is a 6002 with a seal, not a 600 with two.
    for end in range(len(said), 0, -1):
        if said[:end] in _bearings().names and _SUFFIX.fullmatch(said[end:]):
            return _bearings()[said[:end]]
    return _bearings()[said]


def known_bearings() -> tuple[str, ...]:
    """Return the designations of the table."""
    return tuple(_bearings())


def own_bearings(path: str | Path) -> Catalogue[Bearing]:
    """Return the bearings of a CSV file of your own, its columns `BEARING_COLUMNS`.

    Where it has `RATING_COLUMNS` too, their life can be worked out.

    Raises:
        TableError: The file cannot be read, or a value is missing or absurd: the message names
            file, line, column, value and what to give.
    """
    return _catalogue(read_file(path))
