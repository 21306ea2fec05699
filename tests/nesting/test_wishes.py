"""Wishes: parts that must lie on one stock, and parts that must lie together."""

from __future__ import annotations

import pytest
from hypothesis import given, settings, strategies as st

from platekit.errors import NestingError
from platekit.nesting import NestPart, Roll, Stock, nest
from platekit.nesting.cells.filling import Ask, Lean
from platekit.nesting.cells.orders import gathered
from tests.amounts import examples
from tests.nesting.shapes import angle_piece, disc, laid, rectangle


def tile(name, width=50, height=50, quantity=1, **said) -> tuple:
    """Return a rectangle as a part, and as the judge knows it."""
    shape = rectangle(width, height)
    return NestPart(name, shape.profile, quantity, **said), shape


def where(done):
    """Return the names of the parts on each sheet, sorted."""
    return [sorted(place.part for place in sheet.placements) for sheet in done.sheets]


def test_a_part_lies_on_the_stock_it_names():
    """Though a smaller sheet would do, and though the others leave it to them."""
    good, cheap = Stock(200, 200, 1, "good"), Stock(60, 60, name="cheap")
    wanted = [tile("lid", on="good"), tile("back")]
    assert [(str(s.stock), len(s.placements)) for s in laid(wanted, [cheap, good]).sheets] == [
        ("good", 2)
    ]
    wanted = [tile("lid", on="cheap"), tile("back", 70, 70)]
    assert {str(s.stock): len(s.placements) for s in laid(wanted, [good, cheap]).sheets} == {
        "good": 1,
        "cheap": 1,
    }


def test_others_make_room_on_the_named_stock():
    """The only good sheet holds one tile: the larger part, free to lie elsewhere, does so."""
    good, cheap = Stock(60, 60, 1, "good"), Stock(61, 61, name="cheap")
    done = laid([tile("free", 55, 55, 2), tile("bound", on="good")], [good, cheap])
    assert not done.unplaced
    assert len(done.sheets) == 3


def test_what_the_named_stock_cannot_take_is_left_over():
    """No other stock is taken for it; the reason says why."""
    stock = [Stock(60, 60, 1, "good"), Stock(500, 500, name="rest")]
    done = laid([tile("lid", quantity=2, on="good"), tile("wide", 80, on="good")], stock)
    assert [str(entry) for entry in done.unplaced] == [
        "lid (copy 2): no sheet is left that has room for it",
        "wide (copy 1): at 80 x 50 mm it fits no sheet: good leaves 60 x 60 mm inside the margin",
    ]
    oak = Stock(60, 60, 1, "oak", material="oak")
    done = laid([tile("lid", on="oak"), tile("back")], [oak, stock[1]])
    assert [str(entry) for entry in done.unplaced] == [
        "lid (copy 1): no stock 'oak' of unstated material is given"
    ]


def test_an_unknown_stock_is_an_error():
    """It names the part, what it asked for, and what there is."""
    part, _ = tile("lid", on="good")
    with pytest.raises(NestingError, match=r"lid: on is 'good', .*; there is 'a', 'b'"):
        nest([part], stock=[Stock(60, 60, name="a"), Stock(70, 70, name="b")])
    with pytest.raises(NestingError, match="there is no stock with a name"):
        nest([part], stock=Roll(60))


def test_a_company_forces_another_sheet():
    """Two wide tiles and two narrow ones fill two sheets, a wide and a narrow one on each.

    With the narrow ones together there is no room for a wide one beside both: 40 + 40 + 60 > 101.
    """

    def sheets(word):
        wide = [tile("a", 60, 70), tile("c", 60, 70)]
        narrow = [tile("b", 40, 70, together=word), tile("d", 40, 70, together=word)]
        return where(laid([*wide, *narrow], Stock(101, 71)))

    assert len(sheets("")) == 2
    assert sorted(sheets("set")) == [["a"], ["b", "d"], ["c"]]


def test_a_company_waits_for_a_sheet_that_holds_it_all():
    """The first sheet has room for one of the two: neither is laid there."""
    stock = [Stock(71, 71, 1), Stock(111, 71, 1)]
    wanted = [tile("p", 70, 70), tile("q", 50, 70, 2, together="pair")]
    done = laid(wanted, stock)
    assert where(done) == [["p"], ["q", "q"]] or where(done) == [["q", "q"], ["p"]]


def test_what_cannot_be_kept_together_is_left_over():
    """All of it, with the word in the reason; others are laid."""
    wanted = [tile("q", 50, 50, 3, together="trio"), tile("p", 40, 40)]
    done = laid(wanted, Stock(101, 51, 4))
    assert where(done) == [["p"]]
    assert [(entry.part, entry.copy) for entry in done.unplaced] == [("q", 1), ("q", 2), ("q", 3)]
    assert {entry.reason for entry in done.unplaced} == {
        "no sheet has room for all that belongs together as 'trio'"
    }


def test_nobody_lies_when_the_only_company_does_not_fit():
    """Each would fit alone, so it is no error; and no sheet is cut."""
    done = laid([tile("q", 50, 50, 3, together="trio")], Stock(101, 51))
    assert done.sheets == ()
    assert len(done.unplaced) == 3


def test_a_company_with_one_too_large_is_left_over():
    """The one that fits no sheet says its size, the others that they cannot be together."""
    wanted = [tile("q", together="two"), tile("r", 200, together="two"), tile("p")]
    done = laid(wanted, Stock(101, 51))
    assert [entry.reason.split(":")[0] for entry in done.unplaced] == [
        "no sheet has room for all that belongs together as 'two'",
        "at 200 x 50 mm it fits no sheet",
    ]


def test_wishes_that_contradict_each_other_are_errors():
    """Together, but from other material or on other stock: no sheet can be both."""
    oak, ash = (
        tile("o", material="oak", together="x")[0],
        tile("a", material="ash", together="x")[0],
    )
    with pytest.raises(NestingError, match=r"a: must lie together with 'o' as 'x', but is cut"):
        nest([oak, ash], stock=Stock(200, 200))
    one, two = tile("m", on="s", together="x")[0], tile("n", on="t", together="x")[0]
    with pytest.raises(NestingError, match=r"n: must lie together with 'm' as 'x', but on 't'"):
        nest([one, two], stock=[Stock(90, 90, name="s"), Stock(80, 80, name="t")])


def test_an_order_is_gathered_where_the_first_of_a_company_was():
    """By hand: kinds 1 and 3 belong together."""
    order = tuple(Ask(kind, Lean.LYING) for kind in (0, 3, 2, 1, 0, 3))
    found = gathered(order, ["", "w", "", "w"])
    assert [ask.kind for ask in found] == [0, 3, 1, 3, 2, 0]
    assert gathered(order, ["", "", "", ""]) is order


sides = st.integers(5, 55)
shapes = st.one_of(
    st.builds(rectangle, sides, sides),
    st.builds(disc, sides),
    st.builds(lambda w, h: angle_piece(w + 6, h + 6, 6), sides, sides),
)


@settings(max_examples=examples(8, thorough=30), deadline=None, derandomize=True)
@given(
    drawn=st.lists(
        st.tuples(
            shapes,
            st.integers(1, 3),
            st.sampled_from(["", "", "x", "y"]),
            st.sampled_from(["", "", "good"]),
            st.booleans(),
        ),
        min_size=1,
        max_size=7,
    ),
    gap=st.sampled_from([0.0, 1.5]),
    count=st.sampled_from([1, 2, None]),
)
def test_wishes_are_kept_whatever_the_parts(drawn, gap, count):
    """Nothing lost or doubled, the gap kept, every wish kept or its parts left over."""
    wanted = [
        (NestPart(f"{k}", shape.profile, n, together=word, on=on, mirror=mirror), shape)
        for k, (shape, n, word, on, mirror) in enumerate(drawn)
    ]
    laid(wanted, [Stock(90, 70, count, "good"), Stock(75, 75, 3)], gap_mm=gap, margin_mm=1)
