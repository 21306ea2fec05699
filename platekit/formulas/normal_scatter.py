"""Normal scatter: the share between two limits, and what gives a wanted share. Sizes in mm."""

from __future__ import annotations

import math
from statistics import NormalDist

from platekit.errors import PartError
from platekit.formulas.quantities import require_finite, require_positive, require_zero_up


def normal_share(low_mm: float, high_mm: float, *, mean_mm: float, sigma_mm: float) -> float:
    """Return the share of a normal distribution between two limits; 0 or 1 without scatter.

    Raises:
        PartError: A number cannot be.

    Source:
        (erfc(a) - erfc(b)) / 2 with a, b the limits in root-2 standard deviations, mirrored to the
        tail where it loses no digits.
    """
    require_zero_up(sigma_mm, "standard deviation", "mm")
    if sigma_mm == 0:
        return 1.0 if low_mm <= mean_mm <= high_mm else 0.0
    a = (low_mm - mean_mm) / (sigma_mm * math.sqrt(2))
    b = (high_mm - mean_mm) / (sigma_mm * math.sqrt(2))
    if a + b < 0:
        a, b = -b, -a
    return (math.erfc(a) - math.erfc(b)) / 2


def clearance_for_yield_mm(*, sigma_mm: float, wanted: float, least_mm: float = 0.0) -> float:
    """Return the mean clearance with which a wanted share of joints has at least `least_mm`.

    Args:
        sigma_mm: Standard deviation of the clearance, see `clearance_of`.
        wanted: Share that must go together, above 0 and below 1.
        least_mm: Clearance below which a joint does not go together; negative for a press.

    Raises:
        PartError: A number cannot be.

    Source:
        Least plus the wanted share's quantile of the normal distribution times sigma.
    """
    require_zero_up(sigma_mm, "standard deviation", "mm")
    require_finite(least_mm, "least clearance", "mm")
    return least_mm + _quantile(wanted) * sigma_mm


def sigma_for_yield_mm(*, low_mm: float, high_mm: float, wanted: float) -> float:
    """Return the most scatter with which a wanted share lies between two limits.

    The mean is set half way between, where the share is greatest.

    Raises:
        PartError: A number cannot be.

    Source:
        Half of the width over the quantile of (1 + wanted) / 2, normal distribution.
    """
    width_mm = require_finite(high_mm - low_mm, "width of the limits", "mm")
    require_positive(width_mm, "width of the limits", "mm")
    _quantile(wanted)
    return width_mm / 2 / _quantile((1 + wanted) / 2)


def _quantile(share: float) -> float:
    if not 0 < share < 1:
        raise PartError(f"wanted share is {share:g}", remedy="give one above 0 and below 1")
    return NormalDist().inv_cdf(share)
