"""The one rounding."""

import math
import re

import pytest
from hypothesis import given, strategies as st

from platekit.export.figures import format_mm, rounded


@pytest.mark.parametrize(
    ("value", "text"),
    [
        pytest.param(0.1 + 0.2, "0.3", id="binary noise goes"),
        pytest.param(-0.0, "0", id="no negative zero"),
        pytest.param(-4e-7, "0", id="nor one made by rounding"),
        pytest.param(1e-5, "0.00001", id="no exponent below"),
        pytest.param(1e6, "1000000", id="nor above; zeros before the point stay"),
        pytest.param(3, "3", id="whole numbers"),
        pytest.param(-12.3456789, "-12.345679", id="six decimals"),
    ],
)
def test_figures_are_plain_decimals(value, text):
    """Each value is written the way a person would."""
    assert format_mm(value) == text


@given(st.floats(-1e6, 1e6), st.integers(0, 9))
def test_a_figure_is_the_nearest_of_its_decimals(value, decimals):
    """Read back, a figure is within half a unit of its last place and has no odd form."""
    text = format_mm(value, decimals=decimals)
    assert re.fullmatch(r"-?\d+(\.\d*[1-9])?", text)
    assert text != "-0"
    assert abs(float(text) - value) <= 0.5 * 10**-decimals + 1e-9
    assert rounded(value, decimals=decimals) == float(text)


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_not_finite_is_not_written(value):
    """No file may carry it."""
    with pytest.raises(ValueError, match="cannot be written"):
        format_mm(value)
