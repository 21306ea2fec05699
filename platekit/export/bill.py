"""The bill of materials: what to cut, what to buy."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import Enum
from fractions import Fraction

from platekit.export.cells import figure_cell, text_cell
from platekit.export.figures import format_mm
from platekit.export.money import EACH_DECIMALS, TOTAL_DECIMALS, price_text, rounded_price

COLUMNS = (
    "kind",
    "name",
    "quantity",
    "material",
    "thickness_mm",
    "width_mm",
    "height_mm",
    "note",
)

# They follow the others, and only where a price is known.
PRICE_COLUMNS = ("price_each", "price_total")


class BillKind(Enum):
    """What a line of the bill is about; lines are sorted in this order."""

    PART = "part"  # to cut
    SHEET = "sheet"  # to buy, and to cut from
    HARDWARE = "hardware"  # to buy


# What the sums are called: of what is bought, parts are none.
SUM_NAMES = {BillKind.SHEET: "sheets", BillKind.HARDWARE: "hardware"}


@dataclass(frozen=True, slots=True, kw_only=True)
class BillLine:
    """One line of the bill.

    Attributes:
        kind: Part, sheet or hardware.
        name: Name of the part or sheet; designation of the hardware item.
        quantity: How many.
        material: What it is made of; empty for hardware.
        thickness_mm: Measured thickness of the sheet, mm; None for hardware.
        size_mm: Width and height, mm; None for hardware.
        note: Anything else worth knowing.
        price_each: What one costs, exactly, 0 or more, in any money; None where nobody says.
    """

    kind: BillKind
    name: str
    quantity: int
    material: str = ""
    thickness_mm: float | None = None
    size_mm: tuple[float, float] | None = None
    note: str = ""
    price_each: Fraction | None = None

    @property
    def designation(self) -> str:
        """What a list of prices calls it: of a sheet its name and size, else its name."""
        # Width first, as the grain runs: the same sheet the other way round is another one.
        if self.kind is not BillKind.SHEET or self.size_mm is None:
            return self.name
        width, height = (format_mm(one, decimals=3) for one in self.size_mm)
        return f"{self.name} {width} x {height}"

    @property
    def price_total(self) -> Decimal | None:
        """What all of them cost, rounded as it is written; None where nobody says."""
        if self.price_each is None:
            return None
        return rounded_price(self.price_each * self.quantity, decimals=TOTAL_DECIMALS)


@dataclass(frozen=True, slots=True, kw_only=True)
class BillPrices:
    """What a bill comes to: sums of its lines as they are written, so that they add up.

    Attributes:
        of_kind: Sum by kind, for kinds of which a price is known.
        unpriced: Designations of what is to be bought and has no price, each once.
    """

    of_kind: Mapping[BillKind, Decimal]
    unpriced: tuple[str, ...]

    @property
    def rig(self) -> Decimal:
        """The sum of all that has a price."""
        return sum(self.of_kind.values(), Decimal(0))


def bill_prices(lines: Iterable[BillLine]) -> BillPrices | None:
    """Return what the bill comes to; None where no price is known at all."""
    of_kind: dict[BillKind, Decimal] = {}
    unpriced: list[str] = []
    for line in lines:
        if line.kind is BillKind.PART:  # cut from the sheets, which are paid
            continue
        total = line.price_total
        if total is None:
            unpriced.append(line.designation)
        else:
            of_kind[line.kind] = of_kind.get(line.kind, Decimal(0)) + total
    if not of_kind:
        return None
    return BillPrices(of_kind=of_kind, unpriced=tuple(dict.fromkeys(unpriced)))


def merged_bill(lines: Iterable[BillLine]) -> tuple[BillLine, ...]:
    """Return the bill with equal lines added up: parts, then sheets, then hardware, by name."""
    order = {kind: position for position, kind in enumerate(BillKind)}
    totals: dict[BillLine, list[BillLine]] = {}
    for line in lines:
        totals.setdefault(replace(line, quantity=1), []).append(line)
    merged = [
        replace(alike, quantity=sum(line.quantity for line in same))
        for alike, same in totals.items()
    ]
    return tuple(sorted(merged, key=lambda line: (order[line.kind], _as_read(line.name))))


def bill_csv(lines: Iterable[BillLine]) -> str:
    r"""Return the bill as comma-separated text with one header line, in the order given.

    Lines end in ``\n``, figures have a decimal point, what is not known is an empty cell. Text
    that begins with ``= + - @`` gets an apostrophe in front, lest a spreadsheet run it as a
    formula; numbers never need one here. Where a price is known, two columns more hold prices, and
    the last lines, of kind "total", their sums: for sheets, for hardware, for the rig.
    """
    listed = list(lines)
    prices = bill_prices(listed)
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(COLUMNS if prices is None else COLUMNS + PRICE_COLUMNS)
    for line in listed:
        width, height = line.size_mm or (None, None)
        row = [
            line.kind.value,
            text_cell(line.name),
            line.quantity,
            text_cell(line.material),
            figure_cell(line.thickness_mm),
            figure_cell(width),
            figure_cell(height),
            text_cell(line.note),
        ]
        writer.writerow(row if prices is None else [*row, *_price_cells(line)])
    if prices is not None:
        writer.writerows(_total_rows(prices))
    return stream.getvalue()


def _price_cells(line: BillLine) -> tuple[str, str]:
    if line.price_each is None or line.price_total is None:
        return "", ""
    each = rounded_price(line.price_each, decimals=EACH_DECIMALS)
    return price_text(each), price_text(line.price_total)


def _total_rows(prices: BillPrices) -> Iterable[list[str]]:
    sums = [(SUM_NAMES[kind], total) for kind, total in prices.of_kind.items()]
    lacking = f"{len(prices.unpriced)} without a price left out" if prices.unpriced else ""
    for name, total in [*sums, ("rig", prices.rig)]:
        row = dict.fromkeys(COLUMNS + PRICE_COLUMNS, "")
        row |= {"kind": "total", "name": name, "price_total": price_text(total)}
        if name == "rig":
            row["note"] = lacking
        yield list(row.values())


def _as_read(name: str) -> list[tuple[int, int, str]]:
    """Return a sort key by which M5 x 8 comes before M5 x 10."""
    words = re.split(r"(\d+)", name)
    return [(0, int(word), "") if word.isdecimal() else (1, 0, word) for word in words]
