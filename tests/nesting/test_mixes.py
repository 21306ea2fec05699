"""Several stock sizes: the cheapest mix of sheets, held against counting by hand."""

from __future__ import annotations

import itertools
import math

import pytest

from platekit.nesting import NestPart, Roll, Stock, nest, nester
from platekit.nesting.cells import racks, search
from platekit.nesting.cells.mixes import cheaper_mixes, mix_cost, needed_mm2, room_mm2
from platekit.nesting.cells.poses import kinds_of
from platekit.nesting.cells.rooms import COARSE
from platekit.nesting.laying import Task
from tests.nesting.shapes import disc, faults, rectangle

SIDE = 60.0
# Each with the number of 60 mm squares it holds: rows times columns (arithmetic).
RACK = ((Stock(100, 100), 1), (Stock(200, 65), 3), (Stock(130, 130), 4), (Stock(190, 125), 6))


def least_area(count, rack):
    """Return the least area of sheets that hold `count` squares, by trying every mix."""
    best = math.inf
    for numbers in itertools.product(
        *(range(min(stock.count or count, count) + 1) for stock, _ in rack)
    ):
        held = sum(n * holds for n, (_, holds) in zip(numbers, rack, strict=True))
        if held >= count:
            area = sum(
                n * stock.width_mm * stock.height_mm
                for n, (stock, _) in zip(numbers, rack, strict=True)
            )
            best = min(best, area)
    return best


def bought(done):
    """Return the area of the sheets of a nesting."""
    return sum(sheet.width_mm * sheet.height_mm for sheet in done.sheets)


@pytest.mark.parametrize("count", range(1, 14))
def test_squares_come_on_the_cheapest_mix(count, monkeypatch):
    """From 1 to 13 squares the area bought is the least that any mix of sheets allows."""
    monkeypatch.setattr(search, "MOST_LAYOUTS", 60)
    part = NestPart("tile", rectangle(SIDE, SIDE).profile, count)
    done = nest([part], stock=[stock for stock, _ in RACK])
    assert bought(done) == least_area(count, RACK)
    assert faults(done, [(part, rectangle(SIDE, SIDE))], gap_mm=0, margin_mm=0) == []


def test_counts_bound_the_mix(monkeypatch):
    """Where the cheap sheets run out the next best mix is taken."""
    monkeypatch.setattr(search, "MOST_LAYOUTS", 60)
    rack = ((Stock(200, 65, 1), 3), (Stock(130, 130, 1), 4), (Stock(190, 125, 2), 6))
    part = NestPart("tile", rectangle(SIDE, SIDE).profile, 14)
    done = nest([part], stock=[stock for stock, _ in rack])
    assert bought(done) == least_area(14, rack)


def test_the_fullest_sheet_first_is_not_always_cheapest(monkeypatch):
    """Four plates: taking the fullest sheet first costs 26000 mm2, the least is 25600 (arithmetic).

    Three plates fill a 190 x 100 sheet to 95 %, two a 100 x 128 one to 94 %, one a 100 x 70 one
    to 86 %. 190 x 100 and 100 x 70 make 26000 mm2, twice 100 x 128 makes 25600.
    """
    monkeypatch.setattr(search, "MOST_LAYOUTS", 60)
    plate = NestPart("plate", rectangle(100, 60).profile, 4)
    done = nest([plate], stock=[Stock(190, 100), Stock(100, 70), Stock(100, 128)])
    assert bought(done) == 2 * 100 * 128


def rack_of(*stocks):
    """Return a rack with nothing special about it."""
    parts = [NestPart("tile", rectangle(SIDE, SIDE).profile)]
    rooms = tuple(nester._room(stock, gap_mm=1e-6, margin_mm=0) for stock in stocks)
    return racks.rack_of(Task(kinds_of(parts), stocks, rooms), fineness=COARSE)


def test_cheaper_mixes_are_cheaper_and_large_enough():
    """Every mix offered costs less, holds the area asked for, keeps the counts; none is missed."""
    rack = rack_of(Stock(100, 100), Stock(200, 65, 2), Stock(130, 130))
    mix = (2, 1, 0, 0)
    least = 30_000
    offered = cheaper_mixes(rack, mix, least)
    expected = {
        tuple(sorted(other))
        for size in range(1, 8)
        for other in itertools.combinations_with_replacement(range(3), size)
        if mix_cost(rack, other) < mix_cost(rack, mix)
        and sum(room_mm2(rack, index) for index in other) >= least
        and other.count(1) <= 2
    }
    assert {tuple(sorted(other)) for other in offered} == expected
    assert [mix_cost(rack, other) for other in offered] == sorted(
        mix_cost(rack, other) for other in offered
    )


def test_a_roll_has_no_cheaper_mix():
    """A roll is cut where its parts end: there is nothing to change."""
    assert cheaper_mixes(rack_of(Roll(100)), (0,), 0.0) == ()


def test_many_sizes_do_not_take_for_ever():
    """Forty sizes and thirty sheets still give an answer, and only cheaper mixes."""
    rack = rack_of(*(Stock(100 + k, 100) for k in range(40)))
    mix = tuple(range(30))
    offered = cheaper_mixes(rack, mix, 0.0)
    assert offered
    assert all(mix_cost(rack, other) < mix_cost(rack, mix) for other in offered)


def test_what_a_part_needs_is_never_too_much():
    """A disc grown by half the gap needs exactly its grown area, a square a little more.

    Closed forms: pi (d + g)^2 / 4, and Steiner's s^2 + 4 s g / 2 + pi g^2 / 4.
    """
    (round_kind,) = kinds_of([NestPart("disc", disc(40).profile)])
    (square_kind,) = kinds_of([NestPart("tile", rectangle(40, 40).profile)])
    gap = 6.0
    assert needed_mm2(round_kind, gap_mm=gap) == pytest.approx(math.pi * 46**2 / 4, rel=1e-12)
    assert needed_mm2(square_kind, gap_mm=gap) < 40**2 + 4 * 40 * gap / 2 + math.pi * gap**2 / 4
