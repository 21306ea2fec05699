"""Counts of an encoder, by walking round a turn and by hand."""

import itertools
import math

import pytest

from platekit.errors import PartError
from platekit.formulas.encoder_counts import (
    count_rate_hz,
    counts_of_bits,
    counts_per_turn,
    lines_for_resolution,
    resolution_deg,
    resolution_mm,
)


def edges_of_a_turn(lines):
    """Changes of two square waves a quarter of a period apart, seen at fine steps of one turn."""
    steps = lines * 64
    seen = []
    for k in range(steps + 1):
        phase = (k + 0.5) / 64 % 1
        seen.append((phase < 0.5, (phase + 0.25) % 1 < 0.5))
    return sum(a != b for a, b in itertools.pairwise(seen))


@pytest.mark.parametrize("lines", [1, 24, 100])
def test_two_channels_change_four_times_a_line(lines):
    """Quadrature: the changes of both channels counted over a turn."""
    assert counts_per_turn(lines) == edges_of_a_turn(lines)


def test_through_a_gearbox_by_hand():
    """600 lines, four edges, 10:1: 24 000 counts, 0.015 degrees, 0.0262 mm at 100 mm."""
    counts = counts_per_turn(600, ratio=10)
    assert counts == 24_000
    assert resolution_deg(counts) == pytest.approx(0.015)
    assert resolution_mm(counts, radius_mm=100) == pytest.approx(0.02618, abs=5e-6)


def test_all_counts_make_a_turn():
    """Counts times one count's way is the circumference."""
    counts = counts_per_turn(1000, edges=2, ratio=3.7)
    assert counts * resolution_mm(counts, radius_mm=45) == pytest.approx(2 * math.pi * 45)


def test_an_absolute_encoder_by_its_bits():
    """12 bits are 4096 positions, 0.0879 degrees: textbook."""
    assert counts_of_bits(12) == 4096
    assert resolution_deg(counts_of_bits(12)) == pytest.approx(0.0879, abs=5e-5)
    assert counts_of_bits(12, ratio=3) == 3 * 4096


def test_rate_of_counts():
    """3000 rpm are 50 turns in a second, either way round."""
    assert count_rate_hz(4096, speed_rpm=3000) == 50 * 4096
    assert count_rate_hz(4096, speed_rpm=-3000) == 50 * 4096


@pytest.mark.parametrize("wanted_deg", [0.09, 0.1, 0.017, 1, 50, 400])
@pytest.mark.parametrize("ratio", [1, 2.5, 10])
def test_fewest_lines_are_fewest(wanted_deg, ratio):
    """So many lines are fine enough, one less is not."""
    lines = lines_for_resolution(wanted_deg=wanted_deg, ratio=ratio)
    assert resolution_deg(counts_per_turn(lines, ratio=ratio)) <= wanted_deg * (1 + 1e-9)
    if lines > 1:
        assert resolution_deg(counts_per_turn(lines - 1, ratio=ratio)) > wanted_deg


def test_impossible_encoders_are_refused():
    """The message names quantity and value."""
    with pytest.raises(PartError, match="number of lines is 0"):
        counts_per_turn(0)
    with pytest.raises(PartError, match="gear ratio is -2"):
        counts_per_turn(100, ratio=-2)
    with pytest.raises(PartError, match="number of bits is 0"):
        counts_of_bits(0)
    with pytest.raises(PartError, match="counts per turn is 0"):
        resolution_deg(0)
