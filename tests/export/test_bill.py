"""The bill of materials."""

import csv
import io

import pytest

from platekit.export.bill import COLUMNS, BillKind, BillLine, bill_csv, merged_bill

PART = BillLine(
    kind=BillKind.PART,
    name="motor plate",
    quantity=1,
    material="birch plywood",
    thickness_mm=5.8,
    size_mm=(120.0, 80.0),
)
SHEET = BillLine(
    kind=BillKind.SHEET,
    name="birch plywood 600 x 400",
    quantity=2,
    material="birch plywood",
    thickness_mm=5.8,
    size_mm=(600.0, 400.0),
)


def hardware(name, quantity, note=""):
    """Return a line for something to buy."""
    return BillLine(kind=BillKind.HARDWARE, name=name, quantity=quantity, note=note)


def read(text):
    """Return the rows as another program would read them."""
    return list(csv.DictReader(io.StringIO(text)))


def test_every_line_says_what_how_many_and_how_large():
    """One header line, then a row a line; what is not known is empty."""
    rows = read(bill_csv([PART, SHEET, hardware("M5 x 16 ISO 4762", 4, "motor")]))
    assert tuple(rows[0]) == COLUMNS
    assert rows[0] == {
        "kind": "part",
        "name": "motor plate",
        "quantity": "1",
        "material": "birch plywood",
        "thickness_mm": "5.8",
        "width_mm": "120",
        "height_mm": "80",
        "note": "",
    }
    assert (rows[1]["kind"], rows[1]["quantity"], rows[1]["width_mm"]) == ("sheet", "2", "600")
    assert rows[2] == {
        "kind": "hardware",
        "name": "M5 x 16 ISO 4762",
        "quantity": "4",
        "material": "",
        "thickness_mm": "",
        "width_mm": "",
        "height_mm": "",
        "note": "motor",
    }


def test_equal_lines_add_up_in_reading_order():
    """Parts, sheets, hardware; M5 x 8 before M5 x 10; a different note stays apart."""
    merged = merged_bill(
        [
            hardware("M5 x 10", 2),
            SHEET,
            hardware("M5 x 8", 3),
            PART,
            hardware("M5 x 10", 4),
            hardware("M5 x 10", 1, "lid"),
        ]
    )
    assert [(line.kind.value, line.name, line.quantity, line.note) for line in merged] == [
        ("part", "motor plate", 1, ""),
        ("sheet", "birch plywood 600 x 400", 2, ""),
        ("hardware", "M5 x 8", 3, ""),
        ("hardware", "M5 x 10", 6, ""),
        ("hardware", "M5 x 10", 1, "lid"),
    ]


@pytest.mark.parametrize(
    "name", ["=1+1", "+cmd", "-2 mm shim", "@here", " =1+1", "\t=1+1", "\n=1+1"]
)
def test_no_cell_is_taken_for_a_formula(name):
    """OWASP, CSV Injection (from memory): cells beginning with = + - @, tab or line end."""
    (row,) = read(bill_csv([hardware(name, 1)]))
    assert row["name"].startswith("'")
    assert row["name"].endswith(name.strip())


def test_commas_quotes_and_line_ends_stay_in_their_cell():
    """Quoting is the csv standard's (RFC 4180); a line end inside a name becomes a space."""
    text = bill_csv([hardware('washer 5,3 "wide"\nthin', 1)])
    assert text.count("\n") == 2
    assert "\r" not in text
    (row,) = read(text)
    assert row["name"] == 'washer 5,3 "wide" thin'
