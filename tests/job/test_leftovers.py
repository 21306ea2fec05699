"""What is left: offcuts with what is known of them, and the stock that was not used."""

from __future__ import annotations

import json

from platekit.geometry.chains import closed_polyline
from platekit.geometry.motion import Motion
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import rectangle
from platekit.job.laid import LaidSheet
from platekit.job.leftovers import left_over, sheet_lists
from platekit.job.shelf import Shelf, Shelved
from platekit.nesting import NestedSheet, Placement, Roll, Stock
from platekit.nesting.stock_list import parse_stock_list

BOARD = Stock(600, 400, 5, "board", price=12.0)
STRIP = Profile(rectangle(200, 400)).moved(Motion(dx_mm=500, dy_mm=200))
CORNER = Profile(closed_polyline([(500, 0), (600, 0), (600, 200)]))


def laid(*offcuts: Profile, stock: Stock | Roll = BOARD) -> LaidSheet:
    """Return a sheet of 5.8 mm birch with these offcuts."""
    nested = NestedSheet(
        stock=stock,
        width_mm=600,
        height_mm=400,
        placements=(Placement(part="lid", copy=1, x_mm=0, y_mm=0, rotation_deg=0),),
        used_length_mm=400,
        utilisation=0.5,
        offcuts=offcuts,
    )
    return LaidSheet(nested=nested, material="birch plywood", thickness_mm=5.8)


def shelf(stock: Stock = BOARD) -> Shelf:
    """Return a shelf of one entry."""
    return Shelf(entries=(Shelved(stock, stock),))


def test_an_offcut_is_stock_again():
    """Size, material, measure, and its share of the price: a third of 12 for 200 of 600 mm."""
    offcut, board = left_over([laid(STRIP)], shelf())
    assert offcut == Stock(
        200, 400, 1, "offcut 200 x 400", price=4.0, material="birch plywood", thickness_mm=5.8
    )
    assert board == Stock(600, 400, 4, "board", price=12.0)


def test_equal_offcuts_are_counted():
    """Two sheets with one strip each leave two strips and three boards."""
    offcut, board = left_over([laid(STRIP), laid(STRIP)], shelf())
    assert (offcut.count, board.count) == (2, 3)


def test_an_offcut_of_odd_shape_keeps_it():
    """A triangle of 100 x 200 mm, moved to the origin; area by the closed form."""
    offcut, _ = left_over([laid(CORNER)], shelf())
    assert (offcut.width_mm, offcut.height_mm) == (100, 200)
    assert offcut.shape is not None
    assert offcut.shape.area_mm2 == 100 * 200 / 2
    assert offcut.price == round(12.0 * 10_000 / (600 * 400), 2)


def test_the_file_reads_back_as_that_stock():
    """What is written is what may be given next time; nothing left, no file."""
    files = sheet_lists([laid(STRIP), laid(CORNER)], shelf())
    assert set(files) == {"sheets.csv", "offcuts.json"}
    read = parse_stock_list(files["offcuts.json"], source="offcuts.json")
    assert list(read) == left_over([laid(STRIP), laid(CORNER)], shelf())
    assert [entry["count"] for entry in json.loads(files["offcuts.json"])["stock"]] == [1, 1, 3]
    assert set(sheet_lists([laid()], Shelf(roll=Roll(400)))) == {"sheets.csv"}


def test_a_roll_leaves_nothing():
    """It is cut to length."""
    assert left_over([laid(stock=Roll(400))], Shelf(roll=Roll(400))) == []
