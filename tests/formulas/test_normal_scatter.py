"""Normal scatter against printed tables and the area under the bell."""

import math

import pytest

from platekit.errors import PartError
from platekit.formulas.normal_scatter import (
    clearance_for_yield_mm,
    normal_share,
    sigma_for_yield_mm,
)

INFINITE = math.inf


@pytest.mark.parametrize(
    ("sigmas", "share"), [(1, 0.6827), (1.96, 0.9500), (2, 0.9545), (2.576, 0.9900), (3, 0.9973)]
)
def test_shares_of_the_normal_distribution(sigmas, share):
    """Printed in every table of the normal distribution, from memory."""
    inside = normal_share(5 - sigmas * 0.2, 5 + sigmas * 0.2, mean_mm=5, sigma_mm=0.2)
    assert inside == pytest.approx(share, abs=5e-5)


@pytest.mark.parametrize(("low", "high"), [(-0.1, 0.3), (0.2, 0.25), (-2, -0.4), (0.9, 1.4)])
def test_share_is_the_area_under_the_bell(low, high):
    """Midpoint sums of the density, 20 000 strips; far tails to their own digits."""
    mean, sigma, strips = 0.15, 0.12, 20_000
    width = (high - low) / strips
    area = width * math.fsum(
        math.exp(-(((low + (k + 0.5) * width - mean) / sigma) ** 2) / 2) for k in range(strips)
    )
    area /= sigma * math.sqrt(2 * math.pi)
    assert normal_share(low, high, mean_mm=mean, sigma_mm=sigma) == pytest.approx(area, rel=1e-4)


def test_share_of_everything_and_of_halves():
    """All of it, and the half on either side of the mean."""
    assert normal_share(-INFINITE, INFINITE, mean_mm=0.1, sigma_mm=0.2) == 1
    assert normal_share(0.1, INFINITE, mean_mm=0.1, sigma_mm=0.2) == pytest.approx(0.5)
    assert normal_share(-INFINITE, 0.1, mean_mm=0.1, sigma_mm=0.2) == pytest.approx(0.5)
    assert normal_share(0, 1, mean_mm=0.5, sigma_mm=0) == 1
    assert normal_share(0, 1, mean_mm=1.5, sigma_mm=0) == 0


@pytest.mark.parametrize(
    ("wanted", "z"), [(0.90, 1.2816), (0.95, 1.6449), (0.99, 2.3263), (0.999, 3.0902), (0.5, 0.0)]
)
def test_clearance_for_a_yield(wanted, z):
    """One-sided quantiles of every table of the normal distribution, from memory; and back."""
    mean = clearance_for_yield_mm(sigma_mm=0.08, wanted=wanted, least_mm=0.05)
    assert mean == pytest.approx(0.05 + z * 0.08, abs=1e-5)
    back = normal_share(0.05, INFINITE, mean_mm=mean, sigma_mm=0.08)
    assert back == pytest.approx(wanted, rel=1e-9)


def test_scatter_for_a_yield():
    """Between -0.1 and +0.1 mm 95 % stay with sigma 0.1 / 1.96 = 0.0510, table value."""
    sigma = sigma_for_yield_mm(low_mm=-0.1, high_mm=0.1, wanted=0.95)
    assert sigma == pytest.approx(0.1 / 1.96, rel=1e-4)
    assert normal_share(-0.1, 0.1, mean_mm=0, sigma_mm=sigma) == pytest.approx(0.95)


def test_impossible_shares_are_refused():
    """A certainty, less than nothing, no width."""
    with pytest.raises(PartError, match="wanted share is 1;"):
        clearance_for_yield_mm(sigma_mm=0.1, wanted=1)
    with pytest.raises(PartError, match="wanted share is 0;"):
        clearance_for_yield_mm(sigma_mm=0.1, wanted=0)
    with pytest.raises(PartError, match=r"wanted share is -0\.5"):
        sigma_for_yield_mm(low_mm=0, high_mm=1, wanted=-0.5)
    with pytest.raises(PartError, match="width of the limits is 0 mm"):
        sigma_for_yield_mm(low_mm=1, high_mm=1, wanted=0.5)
