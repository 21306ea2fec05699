"""The shelf: what serves which sheet, what a job falls back on, what is left afterwards."""

from __future__ import annotations

from pathlib import Path

import pytest

from platekit.errors import NestingError
from platekit.findings import Severity
from platekit.job.shelf import (
    require_cuttable,
    serves,
    shelf_as_given,
    shelf_for,
    stock_words,
)
from platekit.materials import StockSize, birch_plywood, sheet
from platekit.nesting import NestedSheet, Placement, Roll, Stock
from platekit.nesting.stock_list import stock_text

THICK = birch_plywood(6.0, thickness_mm=5.8)
THIN = sheet("MDF", nominal_mm=3.0)


@pytest.fixture
def shelf_file(tmp_path):
    """A way to write a stock file."""

    def write(*stock: Stock, name: str = "shelf.json") -> Path:
        path = Path(tmp_path) / name
        path.write_text(stock_text(stock), encoding="utf-8")
        return path

    return write


def used(stock: Stock, *, times: int = 1) -> list[NestedSheet]:
    """Return sheets with something on them that were taken from `stock`."""
    lying = Placement(part="lid", copy=1, x_mm=0, y_mm=0, rotation_deg=0)
    return [
        NestedSheet(
            stock=stock,
            width_mm=stock.width_mm,
            height_mm=stock.height_mm,
            placements=(lying,),
            used_length_mm=10,
            utilisation=0.1,
        )
    ] * times


def test_plain_sizes_are_there_for_every_kind():
    """So many of each kind of sheet the job needs, in its material and as it measures."""
    shelf = shelf_for([THICK, THIN], [StockSize(600, 400, 2)])
    assert shelf.stock == [
        Stock(600, 400, 2, material="birch plywood", thickness_mm=5.8),
        Stock(600, 400, 2, material="MDF", thickness_mm=3.0),
    ]
    assert shelf.findings == ()


def test_nothing_given_is_the_usual_sizes():
    """Without a word about stock each kind is cut from what it is sold in; no finding."""
    shelf = shelf_for([THICK, THIN], [])
    sizes = {(one.material, one.width_mm, one.height_mm) for one in shelf.stock}
    assert sizes == {
        (kind.material.name, size.width_mm, size.height_mm)
        for kind in (THICK, THIN)
        for size in kind.stock
    }
    assert shelf.findings == ()


@pytest.mark.parametrize(
    ("entry", "served"),
    [
        ({"material": "birch plywood", "thickness_mm": 5.8}, [THICK]),  # as it measures
        ({"material": "Birch  Plywood", "thickness_mm": 6.0}, [THICK]),  # as it is sold
        ({"material": "birch ply", "thickness_mm": 6.0}, [THICK]),  # by another name
        ({"material": "birch plywood", "thickness_mm": 5.9}, []),
        ({"material": "mdf"}, [THIN]),
        ({"material": "mdf", "thickness_mm": 6.0}, []),
        ({"thickness_mm": 3.0}, [THIN]),
        ({}, [THICK, THIN]),
        ({"material": "moon cheese", "thickness_mm": 6.0}, []),
    ],
)
def test_an_entry_serves_the_sheets_it_names(shelf_file, entry, served):
    """By material, whatever its spelling, and thickness, measured or sold, where it says them.

    Sheets that nothing was meant for get their usual sizes and a note.
    """
    given = [shelf_file(Stock(300, 200, 1, "rest", **entry))]
    shelf = shelf_for([THICK, THIN], given)
    rest = [one for one in shelf.stock if one.name == "rest"]
    assert [kind for kind in (THICK, THIN) if any(serves(one, kind) for one in rest)] == served
    others = [kind for kind in (THICK, THIN) if kind not in served]
    assert [finding.part for finding in shelf.findings] == [kind.name for kind in others]
    assert {finding.severity for finding in shelf.findings} <= {Severity.NOTE}
    for kind in others:
        own = [one for one in shelf.stock if serves(one, kind) and one.name != "rest"]
        assert [(one.width_mm, one.height_mm) for one in own] == [
            (size.width_mm, size.height_mm) for size in kind.stock
        ]


def test_a_note_says_where_it_looked(shelf_file):
    """File, sheet and sizes stand in it."""
    (note,) = shelf_for([THIN], [shelf_file(Stock(9, 9, material="oak"))]).findings
    assert str(note).startswith("MDF 3 mm: no entry of shelf.json is meant for it")
    assert str(THIN.stock[0]) in str(note)


def test_one_sold_thickness_is_one_sheet(shelf_file):
    """What a file calls 6 mm serves the sheet that measures 6.0 before one sold as 6 mm."""
    exact = birch_plywood(6.0)
    shelf = shelf_for(
        [THICK, exact], [shelf_file(Stock(9, 9, 1, material="birch plywood", thickness_mm=6.0))]
    )
    assert serves(shelf.stock[0], exact)
    assert not serves(shelf.stock[0], THICK)


def test_equal_entries_are_one():
    """Two and three of one size are five; any number of it is any number."""
    shelf = shelf_as_given([StockSize(9, 8, 2), StockSize(7, 6), StockSize(9, 8, 3)])
    assert shelf.stock == [Stock(9, 8, 5), Stock(7, 6)]
    shelf = shelf_as_given([StockSize(9, 8, 2), StockSize(9, 8)])
    assert shelf.stock == [Stock(9, 8)]


def test_what_is_left_of_counted_stock(shelf_file):
    """Counts go down by what was cut; what served no sheet stays; what has no count is no news."""
    entries = (
        Stock(600, 400, 3, "board", material="birch plywood", thickness_mm=6.0, price=9.0),
        Stock(300, 200, 1, "rest", material="birch plywood", thickness_mm=6.0),
        Stock(500, 500, 2, "oak", material="oak", thickness_mm=6.0),
        Stock(900, 600, None, "endless", material="birch plywood"),
    )
    shelf = shelf_for([THICK], [shelf_file(*entries)])
    board, rest, *_ = shelf.stock
    assert (board.thickness_mm, board.price) == (5.8, 9.0)
    left = shelf.left_after([*used(board, times=2), *used(rest)])
    assert [(one.name, one.count, one.thickness_mm) for one in left] == [
        ("board", 1, 6.0),
        ("oak", 2, 6.0),
    ]


def test_equal_entries_are_used_up_one_after_the_other():
    """Four of two and three leave one."""
    shelf = shelf_as_given([StockSize(9, 8, 2), StockSize(9, 8, 3)])
    assert shelf.left_after(used(shelf.stock[0], times=4)) == [Stock(9, 8, 1)]


def test_a_roll_is_instead_of_sheets():
    """For every kind; both at once are refused."""
    shelf = shelf_for([THICK, THIN], [], roll_height_mm=500.0)
    assert shelf.stock == Roll(500.0)
    assert serves(shelf.stock, THICK)
    with pytest.raises(NestingError, match="both --stock and --roll"):
        shelf_for([THICK], [StockSize(9, 8)], roll_height_mm=500.0)


def test_materials_no_laser_may_cut_are_refused():
    """PVC by any spelling; what our table does not know is the user's own."""
    for name in ("PVC", "soft p v c", "vinyl"):
        with pytest.raises(NestingError, match=r"lid: .*must not be cut by a laser"):
            require_cuttable(name, part="lid")
    for name in ("MDF", "moon cheese", ""):
        require_cuttable(name, part="lid")


def test_stock_is_told_in_one_line():
    """Name, size, count, and whether it is of odd shape."""
    assert stock_words(Stock(600.5, 400)) == "600.5x400"
    assert stock_words(Stock(600, 400, 2, "board")) == "board: 600x400x2"
    assert stock_words(Roll(500)) == "roll 500 mm high"
