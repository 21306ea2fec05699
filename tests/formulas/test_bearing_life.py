"""Life of ball bearings against printed examples (from memory) and sums done by hand."""

import math

import pytest

from platekit.errors import PartError
from platekit.formulas.bearing_life import (
    AXIAL_FACTORS,
    BallBearing,
    axial_factors,
    equivalent_load_n,
    life_hours,
    life_turns,
    mean_load_n,
    rating_needed_n,
    static_load_n,
    static_safety,
)

LBF_N = 4.4482216

# The book tabulates Fa/C0 alone: 0.014 where the standard has 0.172, so its f0 is 12.3.
BOOK = BallBearing(dynamic_rating_n=7900 * LBF_N, static_rating_n=4450 * LBF_N, f0=12.3)


def test_rating_needed_as_printed():
    """Shigley, Example 11-1 (from memory): 400 lbf, 5000 h, 1725 rpm -> 3211 lbf."""
    rating = rating_needed_n(load_n=400 * LBF_N, hours=5000, speed_rpm=1725)
    assert rating / LBF_N == pytest.approx(3211, rel=5e-4)


def test_life_under_two_loads_as_printed():
    """Shigley, Example 11-4 (from memory): 500 and 400 lbf -> 891 lbf, 16 150 h at 720 rpm."""
    load = equivalent_load_n(BOOK, radial_n=500 * LBF_N, axial_n=400 * LBF_N)
    assert load / LBF_N == pytest.approx(891, rel=0.001)
    assert life_hours(BOOK, load_n=load, speed_rpm=720) == pytest.approx(16150, rel=0.005)


@pytest.mark.parametrize(
    ("relative", "e", "y"),
    [
        pytest.param(0.056, 0.26, 1.71, id="0.056"),
        pytest.param(0.11, 0.30, 1.45, id="0.110"),
        pytest.param(0.17, 0.34, 1.31, id="0.17"),
        pytest.param(0.28, 0.38, 1.15, id="0.28"),
        pytest.param(0.42, 0.42, 1.04, id="0.42"),
        pytest.param(0.56, 0.44, 1.00, id="0.56"),
    ],
)
def test_axial_factors_by_the_older_table(relative, e, y):
    """The older table by Fa/C0 alone (Shigley, table 11-1, from memory), f0 12.3 put in."""
    found = axial_factors(min(12.3 * relative, 6.89))
    assert found == pytest.approx((e, y), abs=0.01)


def test_axial_factors_where_both_rules_meet():
    """At Fa/Fr = e both of the standard's lines give nearly Fr: 0.56 + Y e is 1 within 3 %."""
    for _, e, y in AXIAL_FACTORS:
        assert 0.56 + y * e == pytest.approx(1, abs=0.03)


def test_a_light_push_along_the_axis_costs_nothing():
    """Up to e the radial load alone counts."""
    assert equivalent_load_n(BOOK, radial_n=1000, axial_n=150) == 1000
    assert equivalent_load_n(BOOK, radial_n=1000, axial_n=0) == 1000
    assert equivalent_load_n(BOOK, radial_n=0, axial_n=100) == pytest.approx(230)


def test_more_push_never_means_less_load():
    """The equivalent load climbs with the axial one, over the seam at e as well."""
    loads = [equivalent_load_n(BOOK, radial_n=800, axial_n=axial) for axial in range(0, 4000, 5)]
    assert loads == sorted(loads)


def test_half_the_load_lasts_eight_times():
    """The cube of C/P; at P = C a million turns."""
    bearing = BallBearing(dynamic_rating_n=4000, static_rating_n=2000, f0=13)
    assert life_turns(bearing, load_n=4000) == 1e6
    assert life_turns(bearing, load_n=2000) == 8e6


def test_fewer_failures_mean_a_shorter_life():
    """ISO 281:1990's factors (0.62, 0.53, 0.44, 0.33, 0.21; a Weibull line) lie just below 2007's.

    The line's slope of 1.5 and both sets from memory: the newer ones grant a few per cent more.
    """
    bearing = BallBearing(dynamic_rating_n=1000, static_rating_n=500, f0=13)
    for percent in (95, 96, 97, 98, 99):
        factor = life_turns(bearing, load_n=1000, survive_percent=percent) / 1e6
        line = (math.log(100 / percent) / math.log(100 / 90)) ** (1 / 1.5)
        assert line < factor < line + 0.045
    with pytest.raises(PartError, match="survive_percent is 80; give one of 90, 95"):
        life_turns(bearing, load_n=1000, survive_percent=80)


def test_loads_in_turn_use_up_one_life():
    """A third of the time at each of three loads: the shares of life used add up to the mean's."""
    bearing = BallBearing(dynamic_rating_n=5000, static_rating_n=2500, f0=13)
    loads = ((500.0, 1.0), (900.0, 1.0), (1400.0, 1.0))
    used = sum(time / 3 / life_turns(bearing, load_n=load) for load, time in loads)
    assert 1 / life_turns(bearing, load_n=mean_load_n(loads)) == pytest.approx(used)


def test_standing_still():
    """ISO 76 (from memory): 0.6 Fr + 0.5 Fa, no less than Fr."""
    assert static_load_n(radial_n=1000, axial_n=200) == 1000
    assert static_load_n(radial_n=1000, axial_n=2000) == 1600
    assert static_safety(BOOK, radial_n=0, axial_n=0) == math.inf
    assert static_safety(BOOK, radial_n=4450 * LBF_N / 2, axial_n=0) == pytest.approx(2)


def test_beyond_the_table_is_refused():
    """A push the standard does not cover is no number at all."""
    with pytest.raises(PartError, match=r"relative axial load f0 Fa / C0 is 7; stay at 6\.89"):
        axial_factors(7)
    with pytest.raises(PartError, match="the loads act for no time"):
        mean_load_n(((100.0, 0.0),))
