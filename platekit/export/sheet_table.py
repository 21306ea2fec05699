"""How full each sheet is: one table, for a spreadsheet and for a terminal."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from platekit.export.cells import figure_cell, text_cell
from platekit.export.figures import format_mm
from platekit.nesting import NestedSheet, Stock

COLUMNS = (
    "sheet",
    "stock",
    "material",
    "thickness_mm",
    "width_mm",
    "height_mm",
    "pieces",
    "fill_percent",
    "used_length_mm",
    "offcut_mm",
    "price",
)

_HEADS = (
    "sheet",
    "stock",
    "material",
    "mm thick",
    "size mm",
    "pieces",
    "% filled",
    "mm used",
    "offcut mm",
    "price",
)
_TO_THE_LEFT = frozenset({"stock", "material", "offcut mm"})


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetLine:
    """One sheet in the table.

    Attributes:
        number: Its number.
        nested: What lies on it.
        material: What it is, where that is known.
        thickness_mm: How thick it is, where that is known.
    """

    number: int
    nested: NestedSheet
    material: str = ""
    thickness_mm: float | None = None

    @property
    def stock(self) -> str:
        """Name of the stock it was taken from; empty where it has none."""
        stock = self.nested.stock
        return stock.name if isinstance(stock, Stock) else "roll"

    @property
    def price(self) -> float | None:
        """What it costs, where that is known."""
        stock = self.nested.stock
        return stock.price if isinstance(stock, Stock) else None


def sheets_csv(lines: Iterable[SheetLine]) -> str:
    r"""Return the table as comma-separated text with one header line, in the order given.

    Lines end in ``\n``, figures have a decimal point, what is not known is an empty cell.
    """
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(COLUMNS)
    for line in lines:
        nested = line.nested
        writer.writerow(
            [
                line.number,
                text_cell(line.stock),
                text_cell(line.material),
                figure_cell(line.thickness_mm),
                figure_cell(nested.width_mm),
                figure_cell(nested.height_mm),
                len(nested.placements),
                figure_cell(100 * nested.utilisation, decimals=2),
                figure_cell(nested.used_length_mm),
                _offcuts(nested, decimals=3),
                figure_cell(line.price, decimals=2),
            ]
        )
    return stream.getvalue()


def sheets_table(lines: Iterable[SheetLine]) -> list[str]:
    """Return the table as aligned lines, a header first; columns without an entry are left out."""
    rows = [_row(line) for line in lines]
    if not rows:
        return []
    shown = [k for k in range(len(_HEADS)) if any(row[k] for row in rows)]
    widths = {k: max(len(row[k]) for row in [_HEADS, *rows]) for k in shown}

    def aligned(row: Sequence[str]) -> str:
        cells = (
            row[k].ljust(widths[k]) if _HEADS[k] in _TO_THE_LEFT else row[k].rjust(widths[k])
            for k in shown
        )
        return "  ".join(cells).rstrip()

    return [aligned(row) for row in [_HEADS, *rows]]


def _row(line: SheetLine) -> tuple[str, ...]:
    nested = line.nested
    return (
        str(line.number),
        line.stock,
        line.material,
        figure_cell(line.thickness_mm, decimals=2),
        _size(nested.width_mm, nested.height_mm, decimals=1),
        str(len(nested.placements)),
        f"{100 * nested.utilisation:.1f}",
        f"{nested.used_length_mm:.1f}",
        _offcuts(nested, decimals=1),
        "" if line.price is None else f"{line.price:.2f}",
    )


def _offcuts(nested: NestedSheet, *, decimals: int) -> str:
    boxes = [offcut.bounds for offcut in nested.offcuts]
    return " + ".join(_size(box.width_mm, box.height_mm, decimals=decimals) for box in boxes)


def _size(width_mm: float, height_mm: float, *, decimals: int) -> str:
    return f"{format_mm(width_mm, decimals=decimals)} x {format_mm(height_mm, decimals=decimals)}"
