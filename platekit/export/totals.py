"""What a run comes to in all: pieces, sheets, metres of cut, and money where prices are known."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Protocol

from platekit.export.bill import BillKind, BillLine, BillPrices, bill_prices
from platekit.export.figures import rounded


class Cut(Protocol):
    """Copies of one part, with the area (mm2) and the length of cut (mm) of one copy."""

    @property
    def quantity(self) -> int: ...  # noqa: D102
    @property
    def area_mm2(self) -> float: ...  # noqa: D102
    @property
    def cut_length_mm(self) -> float: ...  # noqa: D102


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetTotal:
    """All sheets of one kind and size.

    Attributes:
        name: What they are.
        size_mm: Width and height of one, mm.
        count: How many.
    """

    name: str
    size_mm: tuple[float, float]
    count: int

    @property
    def area_mm2(self) -> float:
        """Area of all, mm2: width times height, of an odd offcut too."""
        width, height = self.size_mm
        return self.count * width * height


@dataclass(frozen=True, slots=True, kw_only=True)
class Totals:
    """The sums of a run.

    Attributes:
        kinds: How many kinds of part.
        pieces: How many pieces are cut.
        area_mm2: Their area, mm2.
        cut_length_mm: Length of all cuts through sheets, mm.
        sheets: Sheets by kind and size.
        bought: How many things are bought besides sheets.
        fasteners: How many screws hold it together; None where nobody counted: a single plate.
        prices: What the bill comes to; None where no price is known.
    """

    kinds: int
    pieces: int
    area_mm2: float
    cut_length_mm: float
    sheets: tuple[SheetTotal, ...]
    bought: int
    fasteners: int | None
    prices: BillPrices | None

    @property
    def sheet_count(self) -> int:
        """How many sheets are cut from."""
        return sum(one.count for one in self.sheets)

    @property
    def sheet_area_mm2(self) -> float:
        """Area of all sheets, mm2."""
        return sum(one.area_mm2 for one in self.sheets)


def totals_of(parts: Iterable[Cut], bill: Iterable[BillLine], *, fasteners: int | None) -> Totals:
    """Return what parts and bill come to: sums of figures as they are written, so they add up.

    Args:
        parts: Every kind of part.
        bill: The bill of the same run.
        fasteners: How many screws hold it together; None where nobody counted.
    """
    cut, lines = list(parts), list(bill)
    return Totals(
        kinds=len(cut),
        pieces=sum(one.quantity for one in cut),
        area_mm2=sum(one.quantity * rounded(one.area_mm2) for one in cut),
        cut_length_mm=sum(one.quantity * rounded(one.cut_length_mm) for one in cut),
        sheets=_sheets(lines),
        bought=sum(line.quantity for line in lines if line.kind is BillKind.HARDWARE),
        fasteners=fasteners,
        prices=bill_prices(lines),
    )


def totals_json(totals: Totals) -> dict[str, object]:
    """Return totals in the words of ``build.json``; prices only where one is known."""
    sheets: dict[str, object] = {
        "count": totals.sheet_count,
        "area_mm2": totals.sheet_area_mm2,
        "of_each": [
            {
                "name": one.name,
                "size_mm": one.size_mm,
                "count": one.count,
                "area_mm2": one.area_mm2,
            }
            for one in totals.sheets
        ],
    }
    hardware: dict[str, object] = {"count": totals.bought}
    if totals.fasteners is not None:
        hardware["fasteners"] = totals.fasteners
    rig: dict[str, object] = {
        "kinds": totals.kinds,
        "pieces": totals.pieces,
        "area_mm2": totals.area_mm2,
        "cut_length_mm": totals.cut_length_mm,
    }
    said: dict[str, object] = {"sheets": sheets, "hardware": hardware, "rig": rig}
    prices = totals.prices
    if prices is not None:
        for kind, entry in ((BillKind.SHEET, sheets), (BillKind.HARDWARE, hardware)):
            if kind in prices.of_kind:
                entry["price"] = float(prices.of_kind[kind])
        rig["price"] = float(prices.rig)
        said["unpriced"] = prices.unpriced
    return said


def _sheets(lines: Iterable[BillLine]) -> tuple[SheetTotal, ...]:
    counts: dict[tuple[str, tuple[float, float]], int] = {}
    for line in lines:
        if line.kind is BillKind.SHEET and line.size_mm is not None:
            width, height = map(rounded, line.size_mm)
            key = (line.name, (width, height))
            counts[key] = counts.get(key, 0) + line.quantity
    return tuple(
        SheetTotal(name=name, size_mm=size, count=count) for (name, size), count in counts.items()
    )
