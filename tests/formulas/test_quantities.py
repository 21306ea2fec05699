"""Impossible numbers are turned away at the door, with their name, their value and a remedy."""

import math

import pytest

from platekit.errors import PartError
from platekit.formulas.quantities import (
    require_between,
    require_finite,
    require_positive,
    require_whole,
    require_zero_up,
)


@pytest.mark.parametrize(
    "value", [math.nan, math.inf, -math.inf, "3", None, True, 10**400, -(10**400)]
)
def test_what_is_no_finite_number_is_refused(value):
    """Neither endless, nor unknown, nor text, nor a truth value."""
    with pytest.raises(PartError, match=r"wall is .*; give a .*number in mm"):
        require_finite(value, "wall", "mm")


def test_zero_is_a_number_but_not_a_positive_one():
    """A torque may be nothing; a wall may not."""
    assert require_zero_up(0, "torque", "N mm") == 0.0
    with pytest.raises(PartError, match=r"torque is 0 N mm; give a torque above 0"):
        require_positive(0, "torque", "N mm")
    with pytest.raises(PartError, match=r"torque is -1 N mm; give a torque of 0 or more"):
        require_zero_up(-1, "torque", "N mm")


def test_both_ends_of_a_range_belong_to_it():
    """A bound is the last value allowed."""
    assert require_between(0.0, "ratio", 0.0, 0.5) == 0.0
    assert require_between(0.5, "ratio", 0.0, 0.5) == 0.5
    with pytest.raises(PartError, match=r"ratio is 0.51; give a ratio from 0 to 0.5"):
        require_between(0.51, "ratio", 0.0, 0.5)


@pytest.mark.parametrize("value", [0, 2.0, True, "2"])
def test_a_count_is_whole(value):
    """Two bolts, not 2.0 of them, and never none."""
    with pytest.raises(PartError, match="bolts is"):
        require_whole(value, "bolts")
