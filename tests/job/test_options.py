"""Options: numbers out of range are stopped where they enter."""

import inspect
import math

import pytest

from platekit.errors import NestingError
from platekit.job.lists import NestOptions
from platekit.job.options import Spacing
from platekit.nesting import nest

BAD = [math.nan, math.inf, -math.inf, -1.0, 1e12]


@pytest.mark.parametrize("value", BAD)
@pytest.mark.parametrize(
    ("field", "said"),
    [("gap_mm", "gap is"), ("margin_mm", "margin is"), ("seconds", "search time is")],
)
def test_spacing_is_finite_and_not_negative(field, said, value):
    """Gap, margin and time are refused by name."""
    with pytest.raises(NestingError, match=said):
        Spacing(**{field: value})


def test_no_time_at_all_is_refused():
    """A budget of zero is a slip: the search needs some time, or none is named."""
    with pytest.raises(NestingError, match="search time is 0 s; give seconds above 0"):
        Spacing(seconds=0.0)
    assert Spacing(seconds=1e-9).seconds == 1e-9


def test_a_seed_is_a_small_whole_number():
    """A negative seed is refused."""
    with pytest.raises(NestingError, match="seed is -1"):
        Spacing(seed=-1)


def test_the_seed_is_nought_unless_said():
    """Recipes, parts lists and the search itself begin with the same seed."""
    searched = inspect.signature(nest).parameters["seed"].default
    assert Spacing().seed == NestOptions().seed == searched == 0
