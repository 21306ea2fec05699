"""What is left once the sheets are cut: stock for next time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from platekit.export.figures import format_mm
from platekit.export.sheet_table import sheets_csv
from platekit.geometry.profile import Profile
from platekit.job.laid import LaidSheet, sheet_lines
from platekit.job.shelf import Shelf
from platekit.nesting import NestedSheet, Stock
from platekit.nesting.stock_list import stock_text

TABLE = "sheets.csv"
OFFCUTS = "offcuts.json"


def sheet_lists(sheets: Sequence[LaidSheet], shelf: Shelf) -> dict[str, str]:
    """Return the table of the sheets, and what is left as a stock file if anything is, by path."""
    left = left_over(sheets, shelf)
    files = {TABLE: sheets_csv(sheet_lines(sheets))}
    return files | ({OFFCUTS: stock_text(left)} if left else {})


def left_over(sheets: Sequence[LaidSheet], shelf: Shelf) -> list[Stock]:
    """Return the offcuts of the sheets, and what is left of the counted stock.

    An offcut costs the share of its sheet's price that it is of the sheet, so that it is taken
    first where that saves money, and not for nothing.
    """
    counts: dict[Stock, int] = {}
    for sheet in sheets:
        for shape in sheet.nested.offcuts:
            one = _offcut(shape, sheet)
            counts[one] = counts.get(one, 0) + 1
    offcuts = [replace(one, count=count) for one, count in counts.items()]
    return [*offcuts, *shelf.left_after(sheet.nested for sheet in sheets)]


def _offcut(shape: Profile, sheet: LaidSheet) -> Stock:
    box = shape.bounds
    sizes = (format_mm(side, decimals=1) for side in (box.width_mm, box.height_mm))
    one = Stock.of_shape(
        shape,
        name=f"offcut {' x '.join(sizes)}",
        price=_price(shape, sheet.nested),
        material=sheet.material,
        thickness_mm=sheet.thickness_mm,
    )
    whole = not shape.inners and abs(shape.area_mm2 - one.width_mm * one.height_mm) < 1e-6
    return replace(one, shape=None) if whole else one


def _price(shape: Profile, nested: NestedSheet) -> float | None:
    stock = nested.stock
    if not isinstance(stock, Stock) or stock.price is None:
        return None
    return round(stock.price * shape.area_mm2 / stock.area_mm2, 2)
