"""The report holds the contract's fields and survives JSON."""

from __future__ import annotations

import json

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
