"""The report holds the contract's fields and survives JSON."""

from __future__ import annotations

import json
from dataclasses import replace

from platekit.nesting import NestPart, Stock, nest, report
from tests.nesting.shapes import rectangle


def test_the_report_has_the_fields_of_the_contract():
    """Sheets with size, used length, utilisation and placements; unplaced; seconds."""
    parts = [
        NestPart("tile", rectangle(50, 50).profile, 2),
        NestPart("beam", rectangle(500, 10).profile),
    ]
    said = report(nest(parts, stock=Stock(120, 60), gap_mm=2, margin_mm=3), seconds=0.5)
    assert json.loads(json.dumps(said)) == said
    assert set(said) == {"sheets", "unplaced", "seconds"}
    (sheet,) = said["sheets"]
    assert sheet["size_mm"] == [120, 60]
    assert abs(sheet["used_length_mm"] - 108) < 1e-5  # 3 + 50 + 2 + 50 + 3
    assert abs(sheet["utilisation"] - 5000 / 7200) < 1e-12
    assert [set(place) for place in sheet["placements"]] == [
        {"part", "copy", "x_mm", "y_mm", "rotation_deg"}
    ] * 2
    assert [(u["part"], u["copy"]) for u in said["unplaced"]] == [("beam", 1)]


def test_a_sheet_says_what_is_stated():
    """Name of the stock, material and thickness where stated; the largest offcut's extents."""
    tile = NestPart("tile", rectangle(50, 50).profile, material="Oak", thickness_mm=6)
    stock = Stock(200, 60, name="rack 3", thickness_mm=6)
    done = nest([tile], stock=stock)
    sheet = replace(done.sheets[0], offcuts=())
    small, large = rectangle(40, 60, at=(60, 0)).profile, rectangle(90, 60, at=(110, 0)).profile
    done = replace(done, sheets=(sheet, replace(sheet, offcuts=(small, large))))
    bare, full = report(done, seconds=0)["sheets"]
    assert (full["stock"], full["material"], full["thickness_mm"]) == ("rack 3", "Oak", 6)
    assert full["offcut_mm"] == [90, 60]
    assert "offcut_mm" not in bare
