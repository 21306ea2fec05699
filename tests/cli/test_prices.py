"""``make --prices``: the user's own list on the bill, in the record and on the terminal."""

import csv
import json
from decimal import Decimal
from pathlib import Path

import pytest

from platekit.nesting import Stock
from platekit.nesting.stock_list import stock_text

PLATE = """
from platekit.hardware import Item
from platekit.panel.feature import Feature
from platekit.panel.holes import bearing_seat

def base(sheet: Sheet) -> Plate:
    plate = Plate("base", sheet, rectangle(100.0, 80.0), quantity=3)
    return plate.with_features(bearing_seat("6004", name="bearing"))
"""


def prices(text: str) -> str:
    """Write a list of prices here and return its name."""
    Path("prices.csv").write_text("designation,price,per\n" + text, encoding="utf-8")
    return "prices.csv"


def bill(bench) -> list[dict[str, str]]:
    """Return the bill as the csv module reads it."""
    text = (bench.out / "base" / "bill_of_materials.csv").read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


def test_sheets_and_hardware_cost_what_the_list_says(bench):
    """Three bearings at 31 the ten, a sheet at 12.5: 9.30 and 12.50, 21.80 in all, by hand."""
    given = prices(
        "Deep Groove Ball-Bearing 6004,31,10\nbirch plywood 6 mm 300x200,12.5,\nnut,1,\n"
    )
    status, out, err = bench.make(PLATE, "--stock", "300x200", "--prices", given)
    assert (status, err) == (0, "")
    costs = {row["name"]: row["price_total"] for row in bill(bench)}
    assert costs == {
        "base": "",
        "birch plywood 6 mm": "12.50",
        "deep-groove ball bearing 6004": "9.30",
        "sheets": "12.50",
        "hardware": "9.30",
        "rig": "21.80",
    }
    record = bench.record()
    assert record["totals"]["rig"]["price"] == 21.8
    assert record["totals"]["unpriced"] == []
    by_kind = {line["kind"]: line for line in record["bill_of_materials"]}
    assert (by_kind["hardware"]["price_each"], by_kind["hardware"]["price_total"]) == (3.1, 9.3)
    assert "price_each" not in by_kind["part"]
    assert "prices: sheets 12.50, hardware 9.30, rig 21.80\n" in out


def test_without_a_list_no_price_is_written(bench):
    """Totals are there, counted; nothing about money anywhere."""
    _, out, _ = bench.make(PLATE, "--stock", "300x200")
    assert "price_each" not in bill(bench)[0]
    said = json.dumps({**bench.record(), "inputs": None})
    assert "price" not in said
    assert "prices:" not in out
    assert "1 sheet, 0.06 m2" in out  # 0.3 m x 0.2 m


def test_totals_are_those_of_parts_and_sheets(bench):
    """Summed up from the record's own lines."""
    bench.make(PLATE, "--stock", "300x200")
    record = bench.record()
    (part,) = record["parts"]
    totals = record["totals"]
    assert totals["rig"]["pieces"] == part["quantity"] == 3
    assert totals["rig"]["cut_length_mm"] == pytest.approx(3 * part["cut_length_mm"], abs=1e-6)
    assert totals["rig"]["area_mm2"] == pytest.approx(3 * part["area_mm2"], abs=1e-6)
    assert totals["sheets"]["count"] == len(record["sheets"])
    assert totals["sheets"]["area_mm2"] == 300 * 200
    assert totals["hardware"] == {"count": 3}


def test_the_price_of_the_rack_comes_before_the_list(bench):
    """A sheet from a stock file costs what that says, to the figure; with no list at all too."""
    stock = Stock(300, 200, 1, "rest", price=7.1, material="birch plywood", thickness_mm=6.0)
    Path("rack.json").write_text(stock_text([stock]), encoding="utf-8")
    bench.make(PLATE, "--stock", "rack.json")
    (sheet,) = [row for row in bill(bench) if row["kind"] == "sheet"]
    assert (sheet["price_each"], sheet["price_total"]) == ("7.10", "7.10")
    assert bench.record()["totals"]["unpriced"] == ["deep-groove ball bearing 6004"]
    given = prices("birch plywood 6 mm 300 x 200,99,\ndeep-groove ball bearing 6004,0.1,\n")
    _, out, _ = bench.make(PLATE, "--stock", "rack.json", "--prices", given)
    totals = {
        row["name"]: Decimal(row["price_total"]) for row in bill(bench) if row["kind"] == "total"
    }
    assert totals == {
        "sheets": Decimal("7.1"),
        "hardware": Decimal("0.3"),
        "rig": Decimal("7.4"),
    }
    assert "without a price" not in out


def test_what_has_no_price_is_named(bench):
    """A sum that leaves something out says so, in the bill, in the record, on the terminal."""
    given = prices("deep-groove ball bearing 6004,3,\n")
    _, out, _ = bench.make(PLATE, "--stock", "300x200", "--prices", given)
    assert bench.record()["totals"]["unpriced"] == ["birch plywood 6 mm 300 x 200"]
    assert "prices: hardware 9.00, rig 9.00; 1 of the bill without a price" in out
    assert bill(bench)[-1]["note"] == "1 without a price left out"


def test_what_is_named_can_be_priced(bench):
    """The record's own list of what has no price, priced, leaves nothing without one."""
    bench.make(PLATE, "--prices", prices("deep-groove ball bearing 6004,3,\n"))
    names = bench.record()["totals"]["unpriced"]
    assert names
    rest = "".join(f'"{name}",1,\n' for name in names)
    bench.make(PLATE, "--prices", prices("deep-groove ball bearing 6004,3,\n" + rest))
    assert bench.record()["totals"]["unpriced"] == []


def test_a_list_of_other_things_is_noticed(bench):
    """Nothing on the bill is in the list: a note says so, and the bill has no prices."""
    status, out, _ = bench.make(PLATE, "--prices", prices("teapot,3,\n"))
    assert status == 0
    assert "designations found in prices.csv" in out
    assert "price_each" not in bill(bench)[0]


def test_a_piece_off_a_roll_is_no_sheet_of_the_list(bench):
    """A roll is sold by length, which no list of pieces says."""
    given = prices("deep-groove ball bearing 6004,3,\n")
    bench.make(PLATE, "--roll", "120", "--prices", given)
    (sheet,) = [row for row in bill(bench) if row["kind"] == "sheet"]
    assert sheet["price_total"] == ""


def test_a_bad_list_stops_before_anything_is_written(bench):
    """Exit 2, one message with file, line, column, value and remedy; no file."""
    given = prices("nut,1,\nbolt,-2,\n")
    status, _, err = bench.make(PLATE, "--prices", given)
    assert status == 2
    assert "table prices.csv, line 3, column price is '-2'; give figures alone" in err
    assert bench.files == []
