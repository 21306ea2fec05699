"""Yields against printed tables of the normal distribution, integrals, and exact sums."""

import math

import numpy as np
import pytest

from platekit.errors import PartError, UnknownNameError
from platekit.formulas.fit_yield import (
    Clearance,
    Scattered,
    clearance_of,
    drawn_clearances_mm,
    drawn_yield,
)

INFINITE = math.inf

JOINT = [
    Scattered(name="slot", mean_mm=6.45, half_mm=0.12),
    Scattered(name="sheet", mean_mm=6.30, half_mm=0.25, factor=-1),
    Scattered(name="kerf", mean_mm=0.0, half_mm=0.06, factor=2),
]


def alike(shape):
    """The joint with every size of one shape."""
    return [
        Scattered(name=s.name, mean_mm=s.mean_mm, half_mm=s.half_mm, shape=shape, factor=s.factor)
        for s in JOINT
    ]


@pytest.mark.parametrize(
    ("shape", "density"),
    [("uniform", lambda x: 0.5 + 0 * x), ("triangular", lambda x: 1 - np.abs(x))],
)
def test_standard_deviations_are_integrals(shape, density):
    """Root of the integral of x^2 times the density over the band, 100 000 strips."""
    x = (np.arange(100_000) + 0.5) / 50_000 - 1
    second = float(np.mean(x**2 * density(x))) * 2
    size = Scattered(name="slot", mean_mm=6, half_mm=0.3, shape=shape)
    assert size.sigma_mm == pytest.approx(0.3 * math.sqrt(second), rel=1e-6)


def test_a_normal_size_fills_its_band():
    """99.73 % lie within the half band, the table's share for three sigmas (from memory)."""
    size = [Scattered(name="slot", mean_mm=6, half_mm=0.3)]
    assert clearance_of(size).sigma_mm == pytest.approx(0.1)
    assert clearance_of(size).yield_between(5.7, 6.3) == pytest.approx(0.9973, abs=5e-5)
    drawn = drawn_clearances_mm(size, count=200_000, chance=np.random.default_rng(5))
    assert float(np.std(drawn)) == pytest.approx(0.1, rel=0.01)


def test_the_standard_error_is_how_much_shares_differ():
    """400 shares of 500 joints each, seeded: their own scatter is the error each one claims."""
    chance = np.random.default_rng(6)
    told = [
        drawn_yield(JOINT, low_mm=0.0, high_mm=0.3, count=500, chance=chance) for _ in range(400)
    ]
    shares, errors = np.array(told).T
    assert float(np.std(shares)) == pytest.approx(float(np.mean(errors)), rel=0.12)


def test_closed_form_is_exact_for_normal_sizes():
    """Half a million joints drawn with a seed; within four standard errors."""
    closed = clearance_of(JOINT).yield_between(0.0, 0.3)
    share, error = drawn_yield(
        JOINT, low_mm=0.0, high_mm=0.3, count=500_000, chance=np.random.default_rng(1)
    )
    assert 0.5 < closed < 0.999
    assert abs(share - closed) < 4 * error


@pytest.mark.parametrize("shape", ["normal", "uniform", "triangular"])
def test_drawn_joints_have_the_moments_of_the_sum(shape):
    """Means and variances add whatever the shape; hard limits hold where there are any."""
    sizes = alike(shape)
    closed = clearance_of(sizes)
    drawn = drawn_clearances_mm(sizes, count=400_000, chance=np.random.default_rng(2))
    assert float(np.mean(drawn)) == pytest.approx(closed.mean_mm, abs=0.002)
    assert float(np.std(drawn)) == pytest.approx(closed.sigma_mm, rel=0.01)
    if shape != "normal":
        assert closed.worst_mm[0] <= float(drawn.min())
        assert float(drawn.max()) <= closed.worst_mm[1]


def uniform_sum_share(count, below):
    """Share of sums of `count` numbers from 0 to 1 that lie below: Irwin and Hall, textbook."""
    return sum(
        (-1) ** k * math.comb(count, k) * (below - k) ** count for k in range(math.floor(below) + 1)
    ) / math.factorial(count)


@pytest.mark.parametrize("count", [1, 2, 3, 5])
def test_uniform_sizes_follow_the_exact_law_of_their_sum(count):
    """Irwin-Hall, exact, against the lots; the closed normal form is close from three on."""
    sizes = [Scattered(name="part", mean_mm=0.5, half_mm=0.5, shape="uniform")] * count
    high = 0.7 * count
    exact = uniform_sum_share(count, high)
    share, error = drawn_yield(
        sizes, low_mm=-INFINITE, high_mm=high, count=400_000, chance=np.random.default_rng(3)
    )
    assert abs(share - exact) < 4 * error
    if count >= 3:
        closed = clearance_of(sizes).yield_between(-INFINITE, high)
        assert closed == pytest.approx(exact, abs=0.01)


def test_two_triangles_are_four_halves():
    """A triangular size is the sum of two uniform ones of half its band: exact law of four."""
    sizes = [Scattered(name="part", mean_mm=1, half_mm=1, shape="triangular")] * 2
    share, error = drawn_yield(
        sizes, low_mm=-INFINITE, high_mm=2.9, count=400_000, chance=np.random.default_rng(4)
    )
    assert abs(share - uniform_sum_share(4, 2.9)) < 4 * error


def test_the_middle_of_the_limits_yields_most():
    """Moved to either side, fewer fit, and as many fewer on both."""

    def at(mean):
        return Clearance(mean_mm=mean, sigma_mm=0.1, worst_half_mm=0.3).yield_between(0.0, 0.3)

    assert at(0.15) > at(0.13) > at(0.05)
    assert at(0.13) == pytest.approx(at(0.17))


def test_worst_case_and_root_sum_square():
    """0.12 + 0.25 + 2 x 0.06 at worst; root of 0.12^2 + 0.25^2 + 0.12^2 as a rule, by hand."""
    clearance = clearance_of(JOINT)
    assert clearance.worst_mm == pytest.approx((0.15 - 0.49, 0.15 + 0.49))
    assert clearance.rss_mm == pytest.approx((0.15 - 0.30216, 0.15 + 0.30216), abs=1e-5)


def test_the_same_seed_draws_the_same_joints():
    """Chance comes in as an argument and nowhere else."""
    one = drawn_clearances_mm(JOINT, count=50, chance=np.random.default_rng(9))
    two = drawn_clearances_mm(JOINT, count=50, chance=np.random.default_rng(9))
    assert one.tolist() == two.tolist()
    assert one.shape == (50,)


def test_impossible_yields_are_refused():
    """No sizes, crossed limits, an unknown shape, a negative band."""
    with pytest.raises(PartError, match="has no sizes"):
        clearance_of([])
    with pytest.raises(PartError, match="limits of the clearance"):
        clearance_of(JOINT).yield_between(0.3, 0.1)
    with pytest.raises(UnknownNameError, match="unknown shape of scatter 'bell'"):
        Scattered(name="slot", mean_mm=6, half_mm=0.1, shape="bell")
    with pytest.raises(PartError, match="half band of slot"):
        Scattered(name="slot", mean_mm=6, half_mm=-0.1)
