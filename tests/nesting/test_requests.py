"""Requests: every bad value is refused with the part, the field, the value and a remedy."""

from __future__ import annotations

import math

import numpy as np
import pytest

from platekit.errors import NestingError
from platekit.nesting import NestPart, Roll, Stock, nest
from tests.nesting.shapes import rectangle

TILE = rectangle(50, 50).profile


def part(**said) -> NestPart:
    """Return a tile that says so."""
    return NestPart("tile", TILE, **said)


@pytest.mark.parametrize(
    ("said", "problem"),
    [
        ({"quantity": True}, "quantity is True"),
        ({"quantity": "2"}, "quantity is '2'"),
        ({"quantity": 0}, "quantity is 0"),
        ({"mirror": 1}, "mirror is 1"),
        ({"mirror": "yes"}, "mirror is 'yes'"),
        ({"together": None}, "together is None"),
        ({"on": 3}, "on is 3"),
        ({"material": 6.0}, "material is 6.0"),
        ({"thickness_mm": 0}, "thickness is 0 mm"),
        ({"thickness_mm": -3.5}, "thickness is -3.5 mm"),
        ({"thickness_mm": math.nan}, "thickness is nan mm"),
        ({"thickness_mm": "6"}, "thickness is '6'"),
        ({"rotations_deg": (0, "90")}, "rotation is '90'"),
        ({"rotations_deg": (math.inf,)}, "rotation is inf"),
    ],
)
def test_a_part_says_nothing_wrong(said, problem):
    """The message has the part's name, the field and the value, and a remedy follows."""
    with pytest.raises(NestingError) as told:
        part(**said)
    assert (told.value.part, told.value.problem) == ("tile", problem)
    assert told.value.remedy


@pytest.mark.parametrize(
    ("make", "problem"),
    [
        (lambda: Stock(math.nan, 10), "stock nan x 10 mm: width is nan mm"),
        (lambda: Stock("600", 10), "stock 600 x 10 mm: width is '600'"),
        (lambda: Stock(10, 0), "stock 10 x 0 mm: height is 0 mm"),
        (lambda: Stock(10, 10, -1), "stock 10 x 10 mm: count is -1"),
        (lambda: Stock(10, 10, 1.5), "stock 10 x 10 mm: count is 1.5"),
        (lambda: Stock(10, 10, name=7), "stock: name is 7"),
        (lambda: Stock(10, 10, name="rack", price=-2), "stock rack: price is -2"),
        (lambda: Stock(10, 10, name="rack", price=math.nan), "stock rack: price is nan"),
        (lambda: Stock(10, 10, name="rack", price="cheap"), "stock rack: price is 'cheap'"),
        (lambda: Stock(10, 10, name="rack", material=None), "stock rack: material is None"),
        (lambda: Stock(10, 10, name="rack", thickness_mm=0.0), "stock rack: thickness is 0 mm"),
        (lambda: Roll(math.inf), "roll: height is inf mm"),
        (lambda: Roll("500"), "roll: height is '500'"),
        (lambda: Roll(height_mm=True), "roll: height is True"),
    ],
)
def test_stock_says_nothing_wrong(make, problem):
    """The message has the stock, the field and the value, and a remedy follows."""
    with pytest.raises(NestingError) as told:
        make()
    assert told.value.problem == problem
    assert told.value.remedy


@pytest.mark.parametrize(
    ("asked", "problem"),
    [
        ({"gap_mm": -0.1}, "gap is -0.1 mm"),
        ({"gap_mm": math.nan}, "gap is nan mm"),
        ({"gap_mm": "2"}, "gap is '2'"),
        ({"gap_mm": 142}, "gap is 142 mm, more than any sheet from corner to corner"),
        ({"margin_mm": -1}, "margin is -1 mm"),
        ({"margin_mm": math.nan}, "margin is nan mm"),
        ({"margin_mm": None}, "margin is None"),
        ({"margin_mm": 50}, "a margin of 50 mm leaves nothing of stock 100 x 100 mm"),
        ({"seconds": 0}, "seconds is 0"),
        ({"seconds": -3}, "seconds is -3"),
        ({"seconds": math.nan}, "seconds is nan"),
        ({"seconds": math.inf}, "seconds is inf"),
        ({"seconds": "10"}, "seconds is '10'"),
        ({"seed": -1}, "seed is -1"),
        ({"seed": 0.5}, "seed is 0.5"),
    ],
)
def test_a_request_says_nothing_wrong(asked, problem):
    """The message has the field and the value, and a remedy follows."""
    with pytest.raises(NestingError) as told:
        nest([part()], stock=Stock(100, 100), **asked)
    assert told.value.problem == problem
    assert told.value.remedy


def test_numbers_may_come_from_arrays():
    """A float of numpy is a number like any other, a whole one may be a float's size."""
    assert part(thickness_mm=np.float64(6)).thickness_mm == 6
    assert Stock(np.float64(100), 100).area_mm2 == 10_000


def test_a_wide_gap_is_no_fault_where_some_stock_is_wider():
    """On a roll, or with one large sheet, two parts can still be so far apart."""
    tile = part(quantity=2)
    done = nest([tile], stock=Roll(60), gap_mm=142)
    assert done.sheets[0].width_mm == pytest.approx(50 + 142 + 50)
    assert not nest([tile], stock=[Stock(60, 60), Stock(300, 60, 1)], gap_mm=142).unplaced


def test_the_same_stock_given_twice_is_counted_together():
    """One sheet and one more of the same are two sheets."""
    done = nest([part(quantity=3)], stock=[Stock(60, 60, 1), Stock(60, 60, 1)])
    assert len(done.sheets) == 2
    assert len(done.unplaced) == 1
