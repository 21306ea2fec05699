"""Groups: parts of one material and thickness lie together, on stock of the same."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given, settings, strategies as st

from platekit.errors import NestingError
from platekit.nesting import NestPart, Roll, Stock, nest
from tests.amounts import examples
from tests.nesting.shapes import faults, rectangle

MATERIALS = ("", "birch plywood", "Birch  Plywood", "acrylic")


def tile(name, *, width=50, height=50, quantity=1, **said) -> tuple:
    """Return a rectangle as a part, and as the judge knows it."""
    shape = rectangle(width, height)
    return NestPart(name, shape.profile, quantity, **said), shape


def laid(wanted, stock, **asked):
    """Return the nesting, judged to be sound."""
    done = nest([part for part, _ in wanted], stock=stock, **asked)
    gap, margin = asked.get("gap_mm", 0.0), asked.get("margin_mm", 0.0)
    assert faults(done, wanted, gap_mm=gap, margin_mm=margin) == []
    return done


def test_each_material_has_its_own_sheets():
    """Two tiles that would share a sheet do not when they are cut from different things."""
    wanted = [
        tile("a", material="Birch plywood", thickness_mm=6),
        tile("b", material="acrylic", thickness_mm=6),
        tile("c", material="birchplywood", thickness_mm=6.0000001),
        tile("d", material="birch plywood", thickness_mm=4),
    ]
    done = laid(wanted, Stock(200, 200))
    assert [
        (sheet.material, sheet.thickness_mm, [place.part for place in sheet.placements])
        for sheet in done.sheets
    ] == [
        ("Birch plywood", 6, ["a", "c"]),
        ("acrylic", 6, ["b"]),
        ("birch plywood", 4, ["d"]),
    ]


def test_stock_serves_what_it_states():
    """Stated material and thickness must match; stock that states nothing serves everybody."""
    birch = Stock(100, 60, 1, "birch", material="Birch Plywood")
    thin = Stock(100, 60, 1, "thin", thickness_mm=3)
    plain = Stock(100, 100, 1, "plain")
    wanted = [
        tile("b", material="birch plywood", thickness_mm=6),
        tile("t", material="acrylic", thickness_mm=3),
        tile("p"),
    ]
    done = laid(wanted, [birch, thin, plain])
    assert [str(sheet.stock) for sheet in done.sheets] == ["birch", "thin", "plain"]


def test_counted_stock_is_shared_in_turn():
    """Of two sheets of anything the first group takes one, the second one, the third none."""
    wanted = [tile(name, material=name) for name in ("oak", "ash", "elm")]
    stock = Stock(60, 60, 2)
    done = laid(wanted, stock)
    assert [sheet.stock for sheet in done.sheets] == [stock, stock]
    assert [str(entry) for entry in done.unplaced] == [
        "elm (copy 1): no sheet is left that has room for it"
    ]


def test_whoever_has_least_to_choose_from_is_served_first():
    """The only plain sheet would be cheaper for the oak too, but the ash has no other."""
    stock = [Stock(60, 60, 1, "plain"), Stock(90, 90, name="oak", material="oak")]
    done = laid([tile("oak", material="oak"), tile("ash", material="ash")], stock)
    assert [(sheet.material, str(sheet.stock)) for sheet in done.sheets] == [
        ("oak", "oak"),
        ("ash", "plain"),
    ]


def test_a_roll_serves_each_group_anew():
    """One length of roll for each material."""
    wanted = [tile(name, material=name, quantity=2) for name in ("oak", "ash")]
    done = laid(wanted, Roll(60))
    assert [round(sheet.width_mm, 3) for sheet in done.sheets] == [100, 100]


def test_a_group_without_stock_is_said_to_be():
    """Its copies are left over, and the reason names the material."""
    wanted = [
        tile("b", material="birch plywood", thickness_mm=6, quantity=2),
        tile("a", material="acrylic", thickness_mm=3),
        tile("n"),
    ]
    done = laid(wanted, Stock(60, 60, material="acrylic"))
    assert [str(entry) for entry in done.unplaced] == [
        "b (copy 1): no stock of birch plywood, 6 mm is given",
        "b (copy 2): no stock of birch plywood, 6 mm is given",
        "n (copy 1): all stock states a material or thickness, but the part states none",
    ]


def test_no_stock_for_anybody_is_an_error():
    """With nothing to lay on anything there is no nesting."""
    with pytest.raises(NestingError, match="no stock of oak is given"):
        nest([tile("o", material="oak")[0]], stock=Stock(60, 60, material="ash"))
    with pytest.raises(NestingError, match=r"o: .* but the part states none; state material"):
        nest([tile("o")[0]], stock=Stock(60, 60, material="ash"))
    both = [Stock(60, 60, name="a", material="ash"), Stock(60, 60, material="oak")]
    with pytest.raises(NestingError, match="o: no stock 'a' of oak is given"):
        nest([tile("o", material="oak", on="a")[0]], stock=both)
    with pytest.raises(NestingError, match="50 x 50 mm in its allowed turns, fits no sheet"):
        nest(
            [tile("o", material="oak")[0], tile("a", material="ash")[0]],
            stock=Stock(40, 40, material="ash"),
        )


def test_a_group_too_large_for_its_stock_is_left_over():
    """Another group fits: no error, and the reason gives the sizes."""
    wanted = [tile("oak", material="oak", width=80), tile("ash", material="ash")]
    done = laid(wanted, Stock(60, 60))
    assert [(entry.part, entry.reason.split(":")[0]) for entry in done.unplaced] == [
        ("oak", "at 80 x 50 mm it fits no sheet")
    ]


def test_progress_goes_from_group_to_group():
    """The share done never falls, and each line names the group."""
    heard = []
    wanted = [tile(name, material=name, quantity=5, width=31) for name in ("oak", "ash")]
    laid(wanted, Stock(120, 60), progress=lambda share, said: heard.append((share, said)))
    shares = [share for share, _ in heard]
    assert shares == sorted(shares)
    assert 0 <= shares[0] <= shares[-1] <= 1
    assert {said.split(":")[0] for _, said in heard} == {"oak", "ash"}


sides = st.integers(5, 60)


@settings(max_examples=examples(8, thorough=25), deadline=None, derandomize=True)
@given(
    drawn=st.lists(
        st.tuples(
            sides,
            sides,
            st.integers(1, 3),
            st.sampled_from(MATERIALS),
            st.sampled_from([None, 3, 6]),
        ),
        min_size=1,
        max_size=7,
    ),
    gap=st.sampled_from([0.0, 1.5]),
    stock=st.sampled_from(
        [
            (Stock(90, 70),),
            (Stock(90, 70, 2), Stock(80, 80, 3, material="birch plywood")),
            (Stock(90, 70, material="acrylic", thickness_mm=3), Stock(70, 70, 3, thickness_mm=6)),
            Roll(70),
        ]
    ),
)
def test_groups_are_kept_whatever_the_parts(drawn, gap, stock):
    """Nothing lost or doubled, no sheet of two materials, no stock used more than there is."""
    wanted = [
        tile(f"{k}", width=w, height=h, quantity=n, material=material, thickness_mm=thick)
        for k, (w, h, n, material, thick) in enumerate(drawn)
    ]
    try:
        done = laid(wanted, stock, gap_mm=gap)
    except NestingError as err:
        assert "fits no sheet" in str(err) or "no stock of" in str(err)  # noqa: PT017
        return
    again = laid(wanted, stock, gap_mm=gap)
    assert again == done
    counts = Counter(sheet.stock for sheet in done.sheets)
    assert all(isinstance(s, Roll) or s.count is None or n <= s.count for s, n in counts.items())
