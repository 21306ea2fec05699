"""Portions: plain sheets improved by themselves, whatever lies on the others."""

from __future__ import annotations

import time
from collections import Counter
from dataclasses import replace

import pytest

from platekit.nesting import NestPart, Roll, Stock, nest
from platekit.nesting.cells.poses import kinds_of
from platekit.nesting.cells.rooms import Room
from platekit.nesting.laying import Lying, SheetLaying, Task, left_over, score
from platekit.nesting.outlines import search
from platekit.nesting.outlines.portions import is_whole, may_have_portion, portion_of
from tests.nesting.shapes import angle_piece, faults, offcut, polygon, rectangle

CORNER, CORNER_SHAPE = offcut(angle_piece(300, 300, 100), "corner")
PLAIN = Stock(100, 100, 4, "plain")
LARGE = Stock(200, 100, 2, "large")


def tile(name, quantity, **said):
    """Return tiles of 40."""
    return NestPart(name, rectangle(40, 40).profile, quantity, **said)


def task_of(parts, *stocks):
    """Return the task; what lies where is none of its business, so that rooms have no ground."""
    rooms = [
        Room(
            width_mm=None if isinstance(one, Roll) else one.width_mm,
            height_mm=one.height_mm,
            margin_mm=0.0,
            gap_mm=1.0,
        )
        for one in stocks
    ]
    return Task(kinds_of(parts), tuple(stocks), tuple(rooms))


def sheet(stock, *kinds):
    """Return a sheet with tiles in a row."""
    return SheetLaying(
        stock, tuple(Lying(kind, 41.0 * k, 0.0, 0.0) for k, kind in enumerate(kinds))
    )


def copies(laying):
    """Return how many copies of each kind lie there."""
    return Counter(one.kind for one_sheet in laying for one in one_sheet.lying)


# Kinds: 0 free, 1 and 2 together, 3 on the large one, 4 free. Three copies of 0 and one of 4 lie on
# odd or bound sheets, one of 4 nowhere.
TASK = task_of(
    [
        tile("free", 7),
        tile("one", 1, together="pair"),
        tile("two", 1, together="pair"),
        tile("bound", 1, on="large"),
        tile("also", 4),
    ],
    CORNER,
    PLAIN,
    LARGE,
)
LAYING = (
    sheet(0, 0, 4),  # of odd shape
    sheet(1, 1, 2),  # a company
    sheet(1, 0, 0),
    sheet(2, 3, 0, 0),  # bound to its stock
    sheet(1, 4, 4),
    sheet(2, 0, 0),
)


def test_the_portion_is_the_plain_sheets_without_wishes():
    """Two kinds on three sheets, four and two copies and one left over; stock less what others use.

    Counted by hand: of 4 plain sheets the company has one, of 2 large ones the bound part has one.
    """
    portion = portion_of(TASK, LAYING)
    assert portion.others == (LAYING[0], LAYING[1], LAYING[3])
    assert [kind.part.name for kind in portion.task.kinds] == ["free", "also"]
    assert [kind.part.quantity for kind in portion.task.kinds] == [4, 3]
    assert [(one.name, one.count) for one in portion.task.stocks] == [("plain", 3), ("large", 1)]
    assert portion.laying == (sheet(0, 0, 0), sheet(0, 1, 1), sheet(1, 0, 0))
    assert left_over(portion.task, portion.laying) == {1: 1}


def test_joined_again_every_copy_lies_where_it_lay():
    """The sheets are the same, in an order with the emptiest plain one at the end."""
    portion = portion_of(TASK, LAYING)
    joined = portion.joined(portion.laying)
    assert sorted(map(repr, joined)) == sorted(map(repr, LAYING))
    assert copies(joined) == copies(LAYING)
    assert joined[-1] == LAYING[-1]
    shorter = (sheet(0, 0, 0), sheet(1, 1, 1, 0), sheet(0, 0))
    joined = portion.joined(shorter)
    assert joined[-1] == sheet(1, 0)
    assert joined[:3] == portion.others
    assert copies(joined) == copies(LAYING)


def test_an_odd_sheet_that_was_last_stays_the_last():
    """It was the emptiest; the others come before it."""
    laying = (*LAYING[1:], LAYING[0])
    portion = portion_of(TASK, laying)
    assert portion.joined(portion.laying)[-1] == LAYING[0]
    assert copies(portion.joined(portion.laying)) == copies(laying)


def test_there_is_no_portion_without_plain_sheets():
    """Odd ones, companies and bound parts have none."""
    assert portion_of(TASK, (LAYING[0], LAYING[1], LAYING[3])) is None
    assert portion_of(TASK, ()) is None
    assert not may_have_portion(task_of([tile("free", 1)], CORNER))
    assert not may_have_portion(task_of([tile("one", 1, together="all")], CORNER, PLAIN))
    assert may_have_portion(TASK)
    assert not is_whole(TASK)


def test_stock_that_the_others_have_used_up_is_not_there():
    """Of one large sheet the bound part has the only one."""
    task = replace(TASK, stocks=(CORNER, PLAIN, replace(LARGE, count=1)))
    portion = portion_of(task, LAYING[:5])
    assert [one.name for one in portion.task.stocks] == ["plain"]
    assert portion.stocks == (1,)


def test_prices_count_only_where_they_do_in_the_whole():
    """The offcut has no price: areas decide, though both plain stocks have one."""
    priced = [replace(one, price=5.0) for one in TASK.stocks]
    assert portion_of(replace(TASK, stocks=tuple(priced)), LAYING).task.priced
    without = (CORNER, *priced[1:])
    assert not portion_of(replace(TASK, stocks=without), LAYING).task.priced


def test_a_plain_task_is_its_own_portion():
    """Nothing is left out, and nothing is reordered that was in order."""
    task = task_of([tile("free", 4), tile("lost", 1)], PLAIN, LARGE)
    laying = (sheet(1, 0, 0, 0), sheet(0, 0))
    portion = portion_of(task, laying)
    assert is_whole(task)
    assert portion.task == task
    assert portion.laying == portion.joined(laying) == laying


def test_on_a_roll_all_lie_together_anyway():
    """Those who wish for company are improved too."""
    task = task_of([tile("one", 2, together="pair"), tile("two", 1, together="pair")], Roll(90))
    portion = portion_of(task, (sheet(0, 0, 0, 1),))
    assert portion.others == ()
    assert [kind.part.quantity for kind in portion.task.kinds] == [2, 1]


@pytest.mark.parametrize("sound", [True, False])
def test_what_an_improver_finds_is_joined_and_proven(monkeypatch, sound):
    """A fake one empties a sheet: the whole is better by that sheet, if it stands the proof."""

    class Improver:
        def __init__(self, task, laying, *, keep, **_):
            assert copies(laying) == {0: 4, 1: 2}
            self.task, self.keep = task, keep

        def run(self):
            self.keep((sheet(1, 0, 0, 0, 0), sheet(0, 1, 1)))

    monkeypatch.setattr(search, "SheetSearch", Improver)
    monkeypatch.setattr(search, "is_sound", lambda *_: sound)
    ends = time.monotonic() + 60.0
    found, interrupted = search.improved(TASK, LAYING, ends=ends, seed=0, progress=None)
    assert not interrupted
    assert copies(found) == copies(LAYING)
    if sound:
        assert found == (*(LAYING[k] for k in (0, 1, 3)), sheet(2, 0, 0, 0, 0), sheet(1, 4, 4))
        assert score(TASK, found) < score(TASK, LAYING)
    else:
        assert found == LAYING


def test_a_mixed_rack_is_laid_soundly_in_a_time(monkeypatch):
    """Plain sheets go to the solver beside an offcut, a company and a bound part (shapely)."""
    asked = []

    class Watched(search.SheetSearch):
        def __init__(self, task, laying, **said):
            asked.append((task, laying))
            super().__init__(task, laying, **said)

    monkeypatch.setattr(search, "SheetSearch", Watched)
    triangle = polygon([(0, 0), (70, 0), (0, 50)])
    small, bar = rectangle(40, 40), rectangle(90, 30)
    wanted = [
        (NestPart("triangle", triangle.profile, 60), triangle),
        (NestPart("one", small.profile, 2, together="pair"), small),
        (NestPart("two", bar.profile, 1, together="pair"), bar),
        (NestPart("bound", bar.profile, 1, on="corner"), bar),
    ]
    done = nest(
        [part for part, _ in wanted],
        stock=[CORNER, Stock(200, 150, name="plain")],
        gap_mm=1.0,
        margin_mm=2.0,
        seconds=6.0,
    )
    assert not done.unplaced
    judged = faults(done, wanted, gap_mm=1.0, margin_mm=2.0, offcuts=[(CORNER, CORNER_SHAPE)])
    assert judged == []
    assert [left_over(task, laying) for task, laying in asked] == [{}]
