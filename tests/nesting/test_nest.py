"""Layouts are sound, whatever the parts; flush fits fit; the search keeps its promises."""

from __future__ import annotations

import itertools
import math

import pytest
import shapely
from hypothesis import given, settings, strategies as st

from platekit.errors import NestingError
from platekit.nesting import NestPart, Roll, Stock, nest
from platekit.nesting.cells import search
from tests.amounts import examples
from tests.nesting.shapes import angle_piece, disc, faults, polygon, rectangle, ring

sizes = st.floats(4, 90, allow_nan=False).map(lambda x: round(x, 3))
turns = st.sampled_from([(0.0,), (0.0, 180.0), (0.0, 90.0, 180.0, 270.0), (30.0, 45.0), None])


@st.composite
def star_polygons(draw):
    """Draw a ragged star-shaped polygon, far from convex."""
    count = draw(st.integers(5, 14))
    radii = [draw(st.floats(3, 45)) for _ in range(count)]
    steps = [2 * math.pi * k / count for k in range(count)]
    return polygon([(r * math.cos(a), r * math.sin(a)) for r, a in zip(radii, steps, strict=True)])


shapes = st.one_of(
    st.builds(rectangle, sizes, sizes, at=st.tuples(sizes, sizes)),
    st.builds(disc, st.floats(4, 80)),
    st.builds(lambda d, web: ring(d, d - 2 * web), st.floats(30, 80), st.floats(2, 6)),
    st.builds(lambda w, h, t: angle_piece(w + t, h + t, t), sizes, sizes, st.floats(2, 20)),
    star_polygons(),
)


@st.composite
def part_lists(draw):
    """Draw up to six kinds of part, a few copies each."""
    drawn = draw(st.lists(st.tuples(shapes, st.integers(1, 4), turns), min_size=1, max_size=6))
    return [
        (NestPart(f"part {k}", shape.profile, quantity, allowed), shape)
        for k, (shape, quantity, allowed) in enumerate(drawn)
    ]


@settings(max_examples=examples(15, thorough=40), deadline=None, derandomize=True)
@given(
    wanted=part_lists(),
    gap=st.sampled_from([0.0, 0.2, 2.0, 5.0]),
    margin=st.sampled_from([0.0, 1.0, 7.5]),
    stock=st.sampled_from(
        [
            Stock(210, 160),
            (Stock(160, 120, 2), Stock(400, 300)),
            (Stock(110, 110, 1),),
            Roll(130),
        ]
    ),
)
def test_every_layout_is_sound(wanted, gap, margin, stock):
    """Nothing is lost, doubled, turned wrongly, off the sheet or closer than the gap."""
    try:
        done = nest([part for part, _ in wanted], stock=stock, gap_mm=gap, margin_mm=margin, seed=1)
    except NestingError as err:
        assert "the smallest part" in str(err)  # noqa: PT017 - small stock, nothing else, may raise
        return
    assert faults(done, wanted, gap_mm=gap, margin_mm=margin) == []


def test_wide_cells_do_not_hide_neighbours():
    """Small parts on a large sheet, whose cells are coarse, keep the gap after settling."""
    wanted = []
    for k, (w, h) in enumerate(itertools.product((11, 23.7, 64), (9, 37.3, 82))):
        for m, shape in enumerate((rectangle(w, h), disc(h), angle_piece(w + 6, h, 5))):
            wanted.append((NestPart(f"{k}-{m}", shape.profile, 3), shape))
    done = nest([part for part, _ in wanted], stock=Stock(2500, 1250), gap_mm=2, margin_mm=5)
    assert faults(done, wanted, gap_mm=2, margin_mm=5) == []
    assert len(done.sheets) == 1


@pytest.mark.parametrize(
    ("part_mm", "gap", "margin", "sheet"),
    [
        pytest.param(100, 0, 0, (600, 400), id="no gap, exactly full"),
        pytest.param(98, 2, 0, (598, 398), id="gaps of whole millimetres"),
        pytest.param(98, 2, 5, (608, 408), id="margin as well"),
        pytest.param(98.2, 1.8, 0, (598.2, 398.2), id="broken numbers that add up"),
    ],
)
def test_flush_parts_fill_a_sheet(part_mm, gap, margin, sheet):
    """Six times four squares that exactly fill a sheet need one sheet (arithmetic)."""
    shape = rectangle(part_mm, part_mm)
    part = NestPart("square", shape.profile, 24)
    done = nest([part], stock=Stock(*sheet), gap_mm=gap, margin_mm=margin)
    assert len(done.sheets) == 1
    assert not done.unplaced
    assert faults(done, [(part, shape)], gap_mm=gap, margin_mm=margin) == []


def test_a_part_as_large_as_the_sheet_fits():
    """A part of exactly the sheet's size inside its margin is placed."""
    done = nest([NestPart("lid", rectangle(590, 390).profile)], stock=Stock(600, 400), margin_mm=5)
    assert len(done.sheets[0].placements) == 1


def test_small_parts_go_into_holes():
    """A disc that only fits inside a ring's hole goes there rather than onto a second sheet."""
    wanted = [
        (NestPart("ring", ring(100, 80).profile), ring(100, 80)),
        (NestPart("disc", disc(70).profile), disc(70)),
    ]
    done = nest([part for part, _ in wanted], stock=Stock(100, 100), gap_mm=2)
    assert len(done.sheets) == 1
    assert faults(done, wanted, gap_mm=2, margin_mm=0) == []


def test_grain_is_kept():
    """A plank that may only be turned by 180 degrees keeps its length along x."""
    plank = rectangle(200, 40)
    done = nest([NestPart("plank", plank.profile, 3, (0.0, 180.0))], stock=Stock(210, 130))
    assert {p.rotation_deg for p in done.sheets[0].placements} <= {0.0, 180.0}
    with pytest.raises(NestingError, match=r"plank.*200 x 40 mm.*130 x 210 mm"):
        nest([NestPart("plank", plank.profile, 3, (0.0, 180.0))], stock=Stock(130, 210))
    assert nest([NestPart("plank", plank.profile, 3)], stock=Stock(130, 210)).unplaced == ()


def test_free_rotation_lays_a_tilted_part_flat():
    """A 100 x 10 bar drawn at 30 degrees fits a 102 x 12 sheet when any turn is allowed."""
    c, s = math.cos(math.radians(30)), math.sin(math.radians(30))
    corners = [(0, 0), (100, 0), (100, 10), (0, 10)]
    bar = polygon([(c * x - s * y, s * x + c * y) for x, y in corners])
    part = NestPart("bar", bar.profile, 1, None)
    done = nest([part], stock=Stock(102, 12))
    assert faults(done, [(part, bar)], gap_mm=0, margin_mm=0) == []
    assert not done.unplaced


def test_parts_too_large_are_named():
    """What fits no sheet is named with its size and the stock's, the rest is placed."""
    parts = [
        NestPart("beam", rectangle(900, 30).profile, 2),
        NestPart("foot", rectangle(50, 30).profile, 2),
    ]
    done = nest(parts, stock=Stock(600, 400, name="birch"), margin_mm=10)
    assert [(u.part, u.copy) for u in done.unplaced] == [("beam", 1), ("beam", 2)]
    assert "900 x 30 mm" in done.unplaced[0].reason
    assert "birch leaves 580 x 380 mm" in done.unplaced[0].reason
    assert sum(len(sheet.placements) for sheet in done.sheets) == 2


def test_counts_are_kept():
    """With two sheets on the rack the third sheet's part is left over, and says so."""
    done = nest([NestPart("lid", rectangle(90, 90).profile, 3)], stock=Stock(100, 100, 2))
    assert len(done.sheets) == 2
    assert [str(u) for u in done.unplaced] == [
        "lid (copy 3): no sheet is left that has room for it"
    ]


def test_the_smaller_stock_is_taken_when_it_does():
    """Parts that fit the small sheet are not cut from the large one, in either order."""
    part = NestPart("foot", rectangle(50, 30).profile, 4)
    for stock in itertools.permutations([Stock(600, 400), Stock(120, 80)]):
        done = nest([part], stock=stock, gap_mm=2)
        assert [sheet.width_mm for sheet in done.sheets] == [120]


def test_mixed_stock_wastes_least():
    """One large and one small sheet beat two large ones: least area wins (arithmetic)."""
    parts = [NestPart("large", rectangle(95, 95).profile), NestPart("s", rectangle(40, 40).profile)]
    done = nest(parts, stock=[Stock(100, 100), Stock(50, 50)])
    assert sorted(sheet.width_mm for sheet in done.sheets) == [50, 100]


def test_a_roll_is_cut_short():
    """Four squares on a roll twice as high use twice their side: the optimum (arithmetic)."""
    done = nest([NestPart("tile", rectangle(50, 50).profile, 4)], stock=Roll(100))
    (sheet,) = done.sheets
    assert sheet.used_length_mm == pytest.approx(100, abs=1e-5)
    assert (sheet.width_mm, sheet.height_mm) == (sheet.used_length_mm, 100)
    assert sheet.utilisation == pytest.approx(1.0, abs=1e-6)


def test_same_seed_same_layout():
    """The same input gives the same layout to the last bit; the seed is used."""
    parts = [
        NestPart(f"p{k}", shape.profile, 2)
        for k, shape in enumerate(
            [rectangle(60, 35), disc(44), angle_piece(70, 50, 15), ring(66, 48), rectangle(20, 90)]
        )
    ]
    stock = Stock(210, 160)
    assert nest(parts, stock=stock, gap_mm=1, seed=4) == nest(parts, stock=stock, gap_mm=1, seed=4)


def test_more_search_is_never_worse(monkeypatch):
    """The best layout is kept: used length never grows with the number of layouts tried."""
    parts = [
        NestPart(f"p{k}", angle_piece(30 + 7 * k, 50 - 3 * k, 11).profile, 2) for k in range(6)
    ]
    lengths = []
    for count in (1, 4, 24):
        monkeypatch.setattr(search, "MOST_LAYOUTS", count)
        lengths.append(nest(parts, stock=Roll(120)).sheets[0].used_length_mm)
    assert lengths == sorted(lengths, reverse=True)


def test_time_bounds_the_search(monkeypatch):
    """With hardly any time the first layout still comes, whole."""
    monkeypatch.setattr(search, "MOST_LAYOUTS", 10**6)
    monkeypatch.setattr(search, "MOST_WORK", 10**15)
    shape = angle_piece(40, 30, 10)
    part = NestPart("l", shape.profile, 12)
    other = NestPart("m", rectangle(33, 21).profile, 7)
    done = nest([part, other], stock=Stock(200, 150), gap_mm=1, seconds=0.2)
    wanted = [(part, shape), (other, rectangle(33, 21))]
    assert faults(done, wanted, gap_mm=1, margin_mm=0) == []


def test_progress_is_told():
    """Progress rises to 1 or ends early, and says how good the best is."""
    told = []
    nest(
        [NestPart("l", angle_piece(40, 30, 10).profile, 5), NestPart("d", disc(20).profile, 5)],
        stock=Stock(100, 100),
        progress=lambda share, line: told.append((share, line)),
    )
    assert told
    assert [share for share, _ in told] == sorted(share for share, _ in told)
    assert all("sheet" in line for _, line in told)


SQUARE = NestPart("tile", rectangle(50, 50).profile)


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        pytest.param({"stock": []}, "no stock", id="no stock"),
        pytest.param({"stock": Stock(100, 100, 0)}, "no stock", id="none left"),
        pytest.param({"gap_mm": -1}, "gap is -1 mm", id="negative gap"),
        pytest.param({"gap_mm": math.nan}, "gap is nan", id="gap not a number"),
        pytest.param({"margin_mm": math.inf}, "margin is inf", id="endless margin"),
        pytest.param({"margin_mm": 50}, "margin of 50 mm leaves nothing", id="swallowed"),
        pytest.param({"stock": Roll(90), "margin_mm": 45}, "leaves nothing", id="roll swallowed"),
        pytest.param({"seconds": 0}, "seconds is 0", id="no time"),
        pytest.param({"seconds": math.nan}, "seconds is nan", id="time not a number"),
        pytest.param({"stock": Stock(40, 200)}, r"tile.*50 x 50 mm.*40 x 200", id="too small"),
    ],
)
def test_bad_requests_are_refused(asked, says):
    """Every wrong input is told by name and value."""
    with pytest.raises(NestingError, match=says):
        nest([SQUARE], **({"stock": Stock(100, 100)} | asked))


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: NestPart("x", SQUARE.profile, 0), "x: quantity is 0"),
        (lambda: NestPart("x", SQUARE.profile, -2), "x: quantity is -2"),
        (lambda: NestPart("x", SQUARE.profile, 1.5), "x: quantity is 1.5"),
        (lambda: NestPart("x", SQUARE.profile, rotations_deg=()), "x: no rotation"),
        (lambda: NestPart("x", SQUARE.profile, rotations_deg=(math.nan,)), "x: rotation is nan"),
        (lambda: Stock(0, 10), "width is 0 mm"),
        (lambda: Stock(10, math.inf), "height is inf mm"),
        (lambda: Stock(10, 10, -1), "count is -1"),
        (lambda: Roll(-5), "height is -5 mm"),
        (lambda: nest([], stock=Stock(10, 10)), "no parts"),
        (lambda: nest([SQUARE, SQUARE], stock=Stock(99, 99)), "tile: the name is used 2 times"),
    ],
)
def test_bad_values_cannot_be_made(make, says):
    """A value that exists is valid."""
    with pytest.raises(NestingError, match=says):
        make()


def test_the_judge_sees_overlap():
    """The independent judge of these tests is not blind: it finds a shifted part."""
    assert shapely.box(0, 0, 2, 2).distance(shapely.box(1, 1, 3, 3)) == 0
    wanted = [(NestPart("tile", rectangle(50, 50).profile, 2), rectangle(50, 50))]
    done = nest([wanted[0][0]], stock=Stock(120, 60), gap_mm=2)
    assert faults(done, wanted, gap_mm=2, margin_mm=0) == []
    assert faults(done, wanted, gap_mm=3, margin_mm=0)
    assert faults(done, wanted, gap_mm=2, margin_mm=1)
