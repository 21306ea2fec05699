"""Stock sizes as written on the command line."""

import math

import pytest
from hypothesis import given, settings, strategies as st

from platekit.errors import PartError
from platekit.materials.stock import StockSize


@pytest.mark.parametrize(
    ("text", "size"),
    [
        ("600x400", StockSize(600, 400)),
        ("600x400x3", StockSize(600, 400, 3)),
        (" 600 X 400 x 3 ", StockSize(600, 400, 3)),
        ("600.5x400", StockSize(600.5, 400)),
        ("1525\u00d71525", StockSize(1525, 1525)),
    ],
)
def test_a_size_is_width_by_height_and_perhaps_a_count(text, size):
    """The contract's ``WxH[xN]``."""
    assert StockSize.parse(text) == size


@settings(derandomize=True, max_examples=80)
@given(
    st.integers(1, 100_000).map(lambda n: n / 10),
    st.integers(1, 100_000).map(lambda n: n / 10),
    st.none() | st.integers(1, 999),
)
def test_a_size_reads_back_as_it_is_written(width, height, count):
    """`str` and `parse` are each other's inverse."""
    size = StockSize(width, height, count)
    assert StockSize.parse(str(size)) == size


@pytest.mark.parametrize(
    "text",
    ["", "600", "600x", "x400", "600x400x", "600x400x3x1", "axb", "600x400x2.5", "600*400",
     "600 400", "600x400xlots"],
)  # fmt: skip
def test_what_cannot_be_read_is_quoted_with_the_way_to_write_it(text):
    """Names the text and shows one that works."""
    with pytest.raises(PartError, match="cannot be read; write it as WIDTHxHEIGHT") as caught:
        StockSize.parse(text)
    assert repr(text) in str(caught.value)


@pytest.mark.parametrize(
    "text", ["0x400", "600x-1", "nanx400", "600xinf", "600x400x0", "600x400x-2", "1e9x400"]
)
def test_an_absurd_size_is_refused_and_quoted(text):
    """Zero, negative, NaN, infinite, kilometres; a count below one."""
    with pytest.raises(PartError, match=r"stock size .*of the stock is"):
        StockSize.parse(text)


def test_a_count_is_a_whole_number():
    """Half a sheet is an offcut with a size of its own."""
    for count in (0, 1.5, True, "3"):
        with pytest.raises(PartError, match="count of the stock"):
            StockSize(600, 400, count)
    with pytest.raises(PartError, match="width of the stock"):
        StockSize(math.nan, 400)
