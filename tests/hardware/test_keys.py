"""Parallel keys against DIN 6885-1."""

import itertools
import math

import pytest

from platekit.errors import PartError
from platekit.hardware.keys import KEY_LENGTHS_MM, key_for, known_keys


# DIN 6885-1 / ISO 773: shaft -> b x h, t1, t2. From memory, typed apart from the table.
@pytest.mark.parametrize(
    ("shaft_mm", "b", "h", "t1", "t2"),
    [
        (8, 2, 2, 1.2, 1.0),
        (10, 3, 3, 1.8, 1.4),
        (12, 4, 4, 2.5, 1.8),
        (14, 5, 5, 3.0, 2.3),
        (16, 5, 5, 3.0, 2.3),
        (19, 6, 6, 3.5, 2.8),
        (24, 8, 7, 4.0, 3.3),
        (25, 8, 7, 4.0, 3.3),
        (38, 10, 8, 5.0, 3.3),
        (48, 14, 9, 5.5, 3.8),
    ],
)
def test_keys_are_those_of_din_6885(shaft_mm, b, h, t1, t2):
    """Motor shafts of IEC 60072-1 among them: 14 5x5, 19 6x6, 24 8x7."""
    key = key_for(shaft_mm)
    assert (key.width_mm, key.height_mm, key.shaft_depth_mm, key.hub_depth_mm) == (b, h, t1, t2)


@pytest.mark.parametrize("key", known_keys(), ids=lambda key: f"{key.shaft_to_mm:g}")
def test_a_key_fills_both_keyways_but_for_a_little_air(key):
    """DIN 6885-1: t1 + t2 is 0.2 to 0.4 mm more than h, so the key bears on its sides."""
    air_mm = key.shaft_depth_mm + key.hub_depth_mm - key.height_mm
    assert 0.15 < air_mm < 0.45
    assert key.shaft_depth_mm < key.shaft_over_mm / 2
    assert set(key.lengths_mm) <= set(KEY_LENGTHS_MM)
    assert key.lengths_mm[0] == key.shortest_mm
    assert key.lengths_mm[-1] == key.longest_mm


def test_ranges_join_without_gap():
    """Each begins where the one before ends, and the end belongs to the smaller."""
    keys = known_keys()
    for low, high in itertools.pairwise(keys):
        assert low.shaft_to_mm == high.shaft_over_mm
        assert key_for(low.shaft_to_mm) is low
        assert key_for(math.nextafter(low.shaft_to_mm, math.inf)) is high


@pytest.mark.parametrize("shaft_mm", [6.0, 0.0, -16.0, 58.1, math.nan, math.inf])
def test_a_shaft_outside_the_table_is_refused(shaft_mm):
    """Says how far the table runs."""
    with pytest.raises(PartError, match="over 6 mm, to 58 mm"):
        key_for(shaft_mm)


def test_a_key_puts_itself_on_the_bill_in_lengths_made():
    """5x5x25 is made, 5x5x26 is not."""
    assert key_for(16).item(length_mm=25).designation == "parallel key DIN 6885-1 A 5x5x25"
    with pytest.raises(PartError, match="not made 26 mm long"):
        key_for(16).item(length_mm=26)
