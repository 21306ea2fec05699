"""The table of the sheets: the same figures for a spreadsheet and for a terminal."""

import csv

from platekit.export.sheet_table import COLUMNS, SheetLine, sheets_csv, sheets_table
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import rectangle
from platekit.nesting import NestedSheet, Placement, Roll, Stock


def line(number, stock, *, pieces=2, used=400.0, offcuts=(), **known):
    """Return a line for a sheet of 600 x 400 mm, or of a roll."""
    nested = NestedSheet(
        stock=stock,
        width_mm=600.0,
        height_mm=400.0,
        placements=tuple(
            Placement(part="lid", copy=copy, x_mm=0, y_mm=0, rotation_deg=0)
            for copy in range(1, pieces + 1)
        ),
        used_length_mm=used,
        utilisation=2 / 3,
        offcuts=offcuts,
    )
    return SheetLine(number=number, nested=nested, **known)


STRIP = Profile(rectangle(199.5, 400))
FULL = line(
    1,
    Stock(600, 400, 3, "=board", price=12.5),
    offcuts=(STRIP,),
    material="birch plywood",
    thickness_mm=5.8,
)
BARE = line(12, Stock(600, 400), pieces=1, used=599.98765)


def test_a_spreadsheet_gets_every_column():
    """Figures with a point, empty cells for what nobody knows; no cell is a formula."""
    rows = list(csv.DictReader(sheets_csv([FULL, BARE]).splitlines()))
    assert list(rows[0]) == list(COLUMNS)
    assert rows[0] == {
        "sheet": "1",
        "stock": "'=board",
        "material": "birch plywood",
        "thickness_mm": "5.8",
        "width_mm": "600",
        "height_mm": "400",
        "pieces": "2",
        "fill_percent": "66.67",
        "used_length_mm": "400",
        "offcut_mm": "199.5 x 400",
        "price": "12.5",
    }
    assert rows[1]["used_length_mm"] == "599.988"
    assert not rows[1]["stock"] + rows[1]["material"] + rows[1]["offcut_mm"] + rows[1]["price"]


def test_a_terminal_gets_aligned_columns():
    """Every column begins or ends in one place; what no sheet has an entry for is left out."""
    head, first, second = sheets_table([FULL, BARE])
    for word, entry in (("size mm", "600 x 400"), ("pieces", "2"), ("price", "12.50")):
        assert head.index(word) + len(word) == first.index(entry) + len(entry) or (
            first.rindex(entry) + len(entry) == head.index(word) + len(word)
        )
    assert head.index("material") == first.index("birch plywood")
    assert "12" in second[: head.index("stock")]
    assert sheets_table([BARE])[0].split() == [
        "sheet", "size", "mm", "pieces", "%", "filled", "mm", "used",
    ]  # fmt: skip
    assert sheets_table([]) == []


def test_a_roll_is_called_one():
    """It has no name and no price."""
    (row,) = csv.DictReader(sheets_csv([line(1, Roll(400))]).splitlines())
    assert (row["stock"], row["price"]) == ("roll", "")
