"""Sums of a bill and of a run: they add up, to the last figure, by the decimal module."""

import csv
import io
import json
from decimal import Decimal
from fractions import Fraction
from types import SimpleNamespace

import pytest

from platekit.export.bill import (
    COLUMNS,
    PRICE_COLUMNS,
    BillKind,
    BillLine,
    bill_csv,
    bill_prices,
    merged_bill,
)
from platekit.export.money import price_text, rounded_price
from platekit.export.plain_json import json_text
from platekit.export.totals import totals_json, totals_of


def price(text, per=1):
    """Return what a piece costs of which `per` cost this."""
    return Fraction(text) / per


def bought(name, quantity, each=None, note=""):
    """Return a line of hardware."""
    return BillLine(
        kind=BillKind.HARDWARE, name=name, quantity=quantity, price_each=each, note=note
    )


def sheet(quantity, each=None, *, size_mm=(900.0, 600.0), note=""):
    """Return a line of sheets."""
    return BillLine(
        kind=BillKind.SHEET,
        name="birch plywood 6 mm",
        quantity=quantity,
        material="birch plywood",
        thickness_mm=6.0,
        size_mm=size_mm,
        price_each=each,
        note=note,
    )


PART = BillLine(kind=BillKind.PART, name="base", quantity=3, size_mm=(100.0, 80.0))
# 3 x 0.10 is the classic of binary noise: 0.30000000000000004 as floats.
BILL = (
    PART,
    sheet(2, price("12.50")),
    bought("bearing", 3, price("0.10")),
    bought("nut", 1, price("10", 3)),
    bought("screw", 7, price("4.50", 100)),
    bought("knob", 1),
    bought("knob", 2, note="spare"),
)


def rows_of(text):
    """Return the rows as the csv module reads them."""
    return list(csv.DictReader(io.StringIO(text)))


def test_a_bill_without_prices_has_no_columns_of_prices():
    """What was written before prices were known is written still."""
    text = bill_csv([PART, sheet(1), bought("knob", 1)])
    assert text.splitlines()[0] == ",".join(COLUMNS)
    assert "total" not in text
    assert bill_prices([PART, sheet(1), bought("knob", 1)]) is None


def test_lines_and_sums_add_up():
    """Read back by csv and summed by decimal: total = quantity x each, sums = their lines."""
    rows = rows_of(bill_csv(BILL))
    assert tuple(rows[0]) == COLUMNS + PRICE_COLUMNS
    lines = [row for row in rows if row["kind"] != "total"]
    assert [(row["price_each"], row["price_total"]) for row in lines] == [
        ("", ""),
        ("12.50", "25.00"),
        ("0.10", "0.30"),
        ("3.333333", "3.3333"),  # a third of ten, by hand
        ("0.045", "0.315"),  # 4.50 / 100 and 7 of them, by hand
        ("", ""),
        ("", ""),
    ]
    sums = {row["name"]: Decimal(row["price_total"]) for row in rows if row["kind"] == "total"}
    by_kind = {
        kind: sum(Decimal(row["price_total"] or 0) for row in lines if row["kind"] == kind)
        for kind in ("sheet", "hardware")
    }
    assert sums == {
        "sheets": by_kind["sheet"],
        "hardware": by_kind["hardware"],
        "rig": by_kind["sheet"] + by_kind["hardware"],
    }
    assert sums["rig"] == Decimal("28.9483")  # 25 + 0.30 + 3.3333 + 0.315, by hand


def test_the_sums_are_the_last_lines_and_say_what_they_leave_out():
    """A spreadsheet finds them by kind; what has no price is counted once, whatever its note."""
    *_, hardware, rig = rows_of(bill_csv(BILL))
    assert (hardware["kind"], hardware["name"], hardware["note"]) == ("total", "hardware", "")
    assert (rig["kind"], rig["name"], rig["quantity"]) == ("total", "rig", "")
    assert rig["note"] == "1 without a price left out"
    assert rows_of(bill_csv(BILL[:3]))[-1]["note"] == ""


def test_only_kinds_with_a_price_have_a_sum():
    """Screws without a price are no screws for nothing."""
    rows = rows_of(bill_csv([sheet(1, price("3")), bought("screw", 4)]))
    assert [row["name"] for row in rows if row["kind"] == "total"] == ["sheets", "rig"]


def test_sheets_of_two_prices_stay_apart():
    """An offcut that cost less is a line of its own; equal ones add up."""
    lines = [sheet(1, price("9")), sheet(1, price("4")), sheet(1, price("9"))]
    merged = merged_bill(lines)
    assert sorted((line.quantity, line.price_each) for line in merged) == [(1, 4), (2, 9)]


def test_nothing_given_away_is_a_price():
    """What costs nothing is not what has no price."""
    found = bill_prices([bought("washer", 4, price("0"))])
    assert found is not None
    assert (found.rig, found.unpriced) == (Decimal(0), ())
    assert rows_of(bill_csv([bought("washer", 4, price("0"))]))[0]["price_total"] == "0.00"


@pytest.mark.parametrize(
    ("value", "decimals", "said"),
    [
        # By hand, a half upward as in commerce (DIN 1333, from memory).
        (Fraction(1, 3), 4, "0.3333"),
        (Fraction(2, 3), 4, "0.6667"),
        (Fraction("0.00005"), 4, "0.0001"),
        (Fraction("0.00004999"), 4, "0.00"),
        (Fraction("2.675"), 2, "2.68"),  # as a float it would be 2.67
        (Fraction(10**12), 4, "1000000000000.00"),
        (Fraction(0), 4, "0.00"),
    ],
)
def test_rounding(value, decimals, said):
    """Once, where it is written; never an exponent, never fewer than two figures."""
    assert price_text(rounded_price(value, decimals=decimals)) == said


def a_cut(quantity, area_mm2, cut_length_mm):
    """Return what totals ask of a part."""
    return SimpleNamespace(quantity=quantity, area_mm2=area_mm2, cut_length_mm=cut_length_mm)


def test_totals_count_sheets_pieces_and_cuts():
    """By hand: two plates of 100 x 80 and one of 50 x 50, on three sheets of two sizes."""
    totals = totals_of(
        [a_cut(2, 8000.0, 360.0), a_cut(1, 2500.0, 200.0)],
        [
            sheet(1),
            sheet(1, note="from stock: rack"),
            sheet(1, size_mm=(300.0, 200.0)),
            bought("screw", 6),
            bought("nut", 5),
        ],
        fasteners=6,
    )
    said = json.loads(json_text(totals_json(totals)))
    assert said["rig"] == {"kinds": 2, "pieces": 3, "area_mm2": 18500.0, "cut_length_mm": 920.0}
    assert said["hardware"] == {"count": 11, "fasteners": 6}
    assert (said["sheets"]["count"], said["sheets"]["area_mm2"]) == (3, 1_140_000.0)
    assert [(one["size_mm"], one["count"]) for one in said["sheets"]["of_each"]] == [
        ([900.0, 600.0], 2),
        ([300.0, 200.0], 1),
    ]
    assert "unpriced" not in said


def test_totals_name_what_has_no_price():
    """As a list of prices would call it: a sheet by name and size; money without noise."""
    lines = [*BILL, sheet(1, size_mm=(300.0, 200.5))]
    text = json_text(totals_json(totals_of([], lines, fasteners=None)))
    said = json.loads(text, parse_float=Decimal)
    assert said["unpriced"] == ["knob", "birch plywood 6 mm 300 x 200.5"]
    assert said["sheets"]["price"] == Decimal("25.0")
    assert said["hardware"]["price"] == Decimal("3.9483")
    assert said["rig"]["price"] == Decimal("28.9483")
    assert "fasteners" not in said["hardware"]
