"""The bill of a run: what to cut, what to buy, and what it costs where that is known."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

from platekit.export.bill import BillKind, BillLine, merged_bill
from platekit.findings import Finding, Severity
from platekit.hardware import Item
from platekit.job.prices import PriceList
from platekit.job.stocking import StockedSheet
from platekit.nesting import Stock
from platekit.panel.part import Part


def bill_of(
    parts: Iterable[Part],
    sheets: Iterable[StockedSheet],
    items: Iterable[Item],
    *,
    prices: PriceList | None = None,
) -> tuple[BillLine, ...]:
    """Return what to cut and what to buy.

    A sheet whose stock states a price costs that; all else costs what the list of prices says.

    Args:
        parts: Every kind of part.
        sheets: The nested sheets.
        items: Bought things for the whole, those of every copy of every part included.
        prices: The user's list of prices, if there is one.
    """
    lines = [
        BillLine(
            kind=BillKind.PART,
            name=part.name,
            quantity=part.quantity,
            material=part.sheet.material.name,
            thickness_mm=part.sheet.thickness_mm,
            size_mm=(part.profile.bounds.width_mm, part.profile.bounds.height_mm),
        )
        for part in parts
    ]
    lines += [_of_sheet(one, prices) for one in sheets]
    lines += [
        _priced(
            BillLine(
                kind=BillKind.HARDWARE,
                name=item.designation,
                quantity=item.quantity,
                note=item.note,
            ),
            prices,
        )
        for item in items
    ]
    return merged_bill(lines)


def price_findings(bill: Iterable[BillLine], prices: PriceList) -> tuple[Finding, ...]:
    """Return a note if nothing on the bill stands in the list: most likely it is another one."""
    bought = {line.designation for line in bill if line.kind is not BillKind.PART}
    if not bought or any(prices.price_of(name) is not None for name in bought):
        return ()
    return (
        Finding(
            severity=Severity.NOTE,
            part="bill of materials",
            measure=f"designations found in {Path(prices.file).name}",
            value=0,
            limit=1,
            remedy=f"name things as the bill does: {min(bought)}",
        ),
    )


def stock_name(one: StockedSheet) -> str:
    """Return what the rack calls the stock of a sheet; empty where it has no name."""
    stock = one.nested.stock
    return stock.name if isinstance(stock, Stock) else ""


def _of_sheet(one: StockedSheet, prices: PriceList | None) -> BillLine:
    line = BillLine(
        kind=BillKind.SHEET,
        name=one.sheet.name,
        quantity=1,
        material=one.sheet.material.name,
        thickness_mm=one.sheet.thickness_mm,
        size_mm=(one.nested.width_mm, one.nested.height_mm),
        note=f"from stock: {name}" if (name := stock_name(one)) else "",
    )
    stock = one.nested.stock
    if not isinstance(stock, Stock):  # a piece off a roll is no sheet of a list
        return line
    if stock.price is not None:
        # The shortest figures that are this number: those that stand in the stock file.
        return replace(line, price_each=Fraction(Decimal(repr(float(stock.price)))))
    return line if stock.shape is not None else _priced(line, prices)


def _priced(line: BillLine, prices: PriceList | None) -> BillLine:
    return line if prices is None else replace(line, price_each=prices.price_of(line.designation))
