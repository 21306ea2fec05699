"""Prices: with a price on all stock the cheapest is bought, not the smallest."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import pytest
from hypothesis import given, settings, strategies as st

from platekit.nesting import NestPart, Roll, Stock, nest
from platekit.nesting.cells import search
from platekit.nesting.cells.poses import kinds_of
from platekit.nesting.laying import Lying, SheetLaying, Task, score
from platekit.nesting.nester import _room
from tests.amounts import examples
from tests.nesting.shapes import faults, rectangle

SIDE = 60.0
TILE = rectangle(SIDE, SIDE)


def tiles(count, stock):
    """Return the sheets that so many tiles were laid on, soundly."""
    part = NestPart("tile", TILE.profile, count)
    done = nest([part], stock=stock)
    assert faults(done, [(part, TILE)], gap_mm=0, margin_mm=0) == []
    assert nest([part], stock=stock) == done
    return [sheet.stock for sheet in done.sheets]


def test_price_beats_area():
    """The larger sheet is on offer: four tiles go on it, though two smaller ones have less area."""
    small, large = Stock(130, 70, price=5.0), Stock(300, 200, price=8.0)
    assert tiles(4, [small, large]) == [large]
    assert tiles(2, [small, large]) == [small]
    unpriced = [replace(one, price=None) for one in (small, large)]
    assert tiles(4, unpriced) == [unpriced[0]] * 2


def test_one_price_missing_and_area_decides():
    """Prices that cannot all be compared are not compared."""
    small, large = Stock(130, 70), Stock(300, 200, price=8.0)
    assert tiles(4, [small, large]) == [small, small]


def test_a_stock_that_can_serve_nobody_needs_no_price():
    """A strip too narrow for a tile does not spoil the comparison."""
    small, large = Stock(130, 70, price=5.0), Stock(300, 200, price=8.0)
    assert tiles(4, [small, large, Stock(500, 50)]) == [large]


def test_equal_prices_and_the_smaller_area_is_taken():
    """Two sheets for the same money: the one that leaves less lying about."""
    assert [s.width_mm for s in tiles(2, [Stock(300, 200, price=5), Stock(130, 70, price=5)])] == [
        130
    ]


def test_what_is_paid_for_comes_first():
    """Offcuts for nothing are used before a sheet is bought; of those the smaller one."""
    stock = [Stock(300, 200, price=8.0), Stock(70, 70, 1, price=0), Stock(65, 65, 1, price=0)]
    assert [one.width_mm for one in tiles(1, stock)] == [65]
    assert sorted(one.width_mm for one in tiles(2, stock)) == [65, 70]


RACK = ((100, 100, 1), (200, 65, 3), (130, 130, 4), (190, 125, 6))  # with the tiles each holds


@settings(max_examples=examples(8, thorough=20), deadline=None, derandomize=True)
@given(count=st.integers(1, 9), prices=st.lists(st.integers(1, 20), min_size=4, max_size=4))
def test_the_cheapest_mix_is_bought(count, prices):
    """Whatever the prices, no mix of sheets that holds the tiles costs less (by trying all)."""
    stock = [Stock(w, h, price=price) for (w, h, _), price in zip(RACK, prices, strict=True)]
    least = math.inf
    for numbers in itertools.product(range(count + 1), repeat=4):
        if sum(n * holds for n, (_, _, holds) in zip(numbers, RACK, strict=True)) >= count:
            least = min(least, sum(n * price for n, price in zip(numbers, prices, strict=True)))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(search, "MOST_LAYOUTS", 60)
        assert sum(one.price for one in tiles(count, stock)) == least


def test_the_score_counts_money_only_where_all_have_a_price():
    """Left over, then cost, area, sheets and length: by hand for one tile on each stock."""
    part = NestPart("tile", TILE.profile, 2)

    def scored(*stocks):
        rooms = tuple(_room(one, gap_mm=1e-6, margin_mm=0) for one in stocks)
        task = Task(kinds_of([part]), stocks, rooms)
        return [score(task, (SheetLaying(k, (Lying(0, 0, 0, 0),)),)) for k in range(len(stocks))]

    assert scored(Stock(100, 80, price=3), Stock(70, 70, price=9)) == [
        (3600, 3, 8000, 1, 60),
        (3600, 9, 4900, 1, 60),
    ]
    assert scored(Stock(100, 80, price=3), Roll(70)) == [
        (3600, 8000, 8000, 1, 60),
        (3600, 4200, 4200, 1, 60),
    ]
