"""Stock files are read as written, written as read, and every slip in one is told by its field."""

from __future__ import annotations

import json
import math

import pytest
import shapely
from hypothesis import given, settings, strategies as st

from platekit.errors import NestingError
from platekit.geometry.chains import circle, closed_polyline
from platekit.geometry.chords import to_polygon
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import rectangle
from platekit.nesting import Stock
from platekit.nesting.stock_list import (
    parse_stock_list,
    read_stock_list,
    stock_text,
)

LSHAPE = [[100, 50], [400, 50], [400, 150], [200, 150], [200, 350], [100, 350]]
HOLE = [[120, 80], [160, 80], [160, 120], [120, 120]]


def listed(**changes) -> str:
    """Return a stock file of one entry with some fields changed; None takes a field away."""
    entry = {"name": "board", "width": 600, "height": 400} | changes
    return json.dumps({"stock": [{k: v for k, v in entry.items() if v is not None}]})


def read(text: str) -> tuple[Stock, ...]:
    """Return what a text says."""
    return parse_stock_list(text, source="shelf.json")


def test_a_sheet_is_read():
    """All fields arrive."""
    text = listed(count=3, price=12.5, material="birch plywood", thickness=5.8)
    assert read(text) == (
        Stock(600, 400, 3, "board", price=12.5, material="birch plywood", thickness_mm=5.8),
    )


def test_what_may_be_left_out():
    """Without name, count, price, material and thickness it is as many as needed of anything."""
    assert read('{"stock": [{"width": 600, "height": 400, "count": null}]}') == (Stock(600, 400),)


def test_an_offcut_comes_to_the_origin():
    """Its outline may lie anywhere: extents 300 x 300, area 300 x 100 + 100 x 200 - 40 x 40."""
    text = listed(width=None, height=None, outline=LSHAPE, holes=[HOLE], count=1)
    (one,) = read(text)
    assert (one.width_mm, one.height_mm, one.count) == (300.0, 300.0, 1)
    assert one.shape is not None
    box = one.shape.bounds
    assert (box.left, box.bottom, box.right, box.top) == (0.0, 0.0, 300.0, 300.0)
    assert one.shape.area_mm2 == pytest.approx(50_000 - 1600)


def test_what_is_written_reads_back_the_same():
    """Whole sheets and offcuts of straight edges come back equal; twice written is once."""
    stock = (
        Stock(1525.0, 1525.0),
        Stock(600.5, 400.123456, 2, "board", price=9.99, material="MDF", thickness_mm=3.05),
        Stock.of_shape(
            Profile(
                closed_polyline([(x, y) for x, y in LSHAPE]),
                (closed_polyline([(x, y) for x, y in HOLE]),),
            ),
            name="corner \N{LATIN SMALL LETTER E WITH ACUTE}",
        ),
    )
    text = stock_text(stock)
    assert read(text) == stock
    assert stock_text(read(text)) == text


def test_points_stand_one_to_a_line():
    """A person can read the file: a point is ``[x, y]``."""
    text = stock_text([Stock.of_shape(Profile(rectangle(100, 80)))])
    assert "[100.0, 80.0]" in text


@settings(max_examples=25, derandomize=True, deadline=None)
@given(
    radius=st.floats(5.0, 300.0),
    share=st.floats(0.05, 0.9),
    across=st.floats(0.0, 1.0),
)
def test_arcs_are_written_inside_the_true_offcut(radius, share, across):
    """A ring, its hole anywhere: by shapely, what is written lies within, 0.01 mm at most short."""
    inner = radius * share
    middle = ((radius - inner) * 0.98 * across, 0.0)
    ring = Profile(circle((0, 0), diameter_mm=2 * radius), (circle(middle, diameter_mm=2 * inner),))
    stock = Stock.of_shape(ring)
    (entry,) = json.loads(stock_text([stock]))["stock"]
    written = shapely.Polygon(entry["outline"], entry["holes"])
    true = to_polygon(stock.shape, tolerance_mm=1e-5)
    assert written.is_valid
    # A nanometre of rounding and 1e-5 mm of the judge's own chords, along the edge.
    assert written.difference(true).area <= 2e-5 * true.length
    assert true.difference(written).area <= 0.0101 * true.length
    assert written.area < math.pi * (radius**2 - inner**2)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        pytest.param("{'stock'", "is no JSON at line 1", id="no JSON"),
        pytest.param("[]", "is a list; write an object", id="a list"),
        pytest.param("{}", "'stock' is missing", id="no stock field"),
        pytest.param('{"stock": {}}', "'stock' is an object", id="stock no list"),
        pytest.param('{"stock": []}', "'stock' is empty", id="no stock"),
        pytest.param('{"stock": [3]}', "stock 1: .*is a number", id="entry no object"),
        pytest.param(listed(width=None), "stock 1, board: .*'width' is missing", id="no width"),
        pytest.param(listed(height=None), "'height' is missing", id="no height"),
        pytest.param(listed(width=0), "'width' holds 0", id="width 0"),
        pytest.param(listed(width=-5), "'width' holds -5", id="negative"),
        pytest.param(listed(height=1e300), "'height' holds 1e", id="huge"),
        pytest.param(listed(height=20_000), "'height' is 20000", id="larger than any board"),
        pytest.param(listed(height="400"), "'height' holds a text", id="text"),
        pytest.param(listed(height=True), "'height' holds true or false", id="true"),
        pytest.param('{"stock": [{"width": NaN, "height": 4}]}', "NaN", id="NaN"),
        pytest.param(listed(count=-1), "'count' is -1; give 0", id="negative count"),
        pytest.param(listed(count=1.5), "'count' is 1.5", id="half a sheet"),
        pytest.param(listed(count="2"), "'count' is \"2\"", id="count as text"),
        pytest.param(listed(price=-1), "'price' holds -1", id="negative price"),
        pytest.param(listed(price="9"), "'price' holds a text", id="price as text"),
        pytest.param(listed(material=6), "'material' is a number", id="material"),
        pytest.param(listed(thickness=0), "'thickness' holds 0", id="no thickness"),
        pytest.param(listed(name=7), "stock 1: .*'name' is a number", id="name"),
        pytest.param(listed(outline=LSHAPE), "'width' stands beside an outline", id="both"),
        pytest.param(listed(holes=[HOLE]), "'holes' stands without", id="holes alone"),
        pytest.param(
            listed(width=None, height=None, outline=LSHAPE[:2]), "2 different points", id="open"
        ),
        pytest.param(
            listed(width=None, height=None, outline=[[0, 0], [9, 9], [9, 0], [0, 9]]),
            "'outline' crosses",
            id="crossing",
        ),
        pytest.param(
            listed(width=None, height=None, outline=LSHAPE, holes=[[[0, 0], [9, 0], [9, 9]]]),
            r"'holes\[0\]' lies outside",
            id="hole outside",
        ),
        pytest.param(
            listed(width=None, height=None, outline=[[0, 0], [20_000, 0], [0, 50]]),
            "'outline' is 20000 x 50 mm",
            id="huge offcut",
        ),
    ],
)
def test_every_slip_is_told(text, says):
    """The message names the file, the entry where there is one, and the field."""
    with pytest.raises(NestingError, match=says) as err:
        read(text)
    assert "shelf.json" in str(err.value)
    assert err.value.remedy


def test_files_that_cannot_be_read(tmp_path):
    """A missing file is told by name."""
    with pytest.raises(NestingError, match=r"none\.json: cannot be read"):
        read_stock_list(tmp_path / "none.json")
