"""How often a joint fits: its clearance as a sum of sizes that scatter independently.

Clearance of a slot and a tab is slot minus tab after the cut; below 0 it is a press. The closed
form is exact for normal scatter and good for a sum of several of any shape; drawing lots takes any.
Sizes of one sheet or one cut do not scatter independently of each other: count them once.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, get_args

import numpy as np
from numpy.typing import NDArray

from platekit.errors import PartError, UnknownNameError
from platekit.formulas.normal_scatter import normal_share
from platekit.formulas.quantities import require_finite, require_whole, require_zero_up

Shape = Literal["normal", "uniform", "triangular"]
"""How a size scatters: bell, anything between two limits alike, or peaked between two limits."""

# Half of a tolerance band over the standard deviation of a normal size made to fill it: three,
# so that 99.73 % lie within. Common practice, no source.
SIGMAS_IN_HALF_BAND = 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Scattered:
    """A size that differs from part to part, even to both sides.

    Attributes:
        name: What it is: "slot", "sheet thickness", "kerf".
        mean_mm: Its mean.
        half_mm: Half of the band it lies in: hard limits where uniform or triangular, three
            standard deviations where normal.
        shape: How it scatters.
        factor: How much the clearance grows when it grows by one.

    Raises:
        PartError: A negative half band, a figure that is no number.
        UnknownNameError: No such shape.
    """

    name: str
    mean_mm: float
    half_mm: float
    shape: Shape = "normal"
    factor: float = 1.0

    def __post_init__(self) -> None:
        require_finite(self.mean_mm, f"mean of {self.name}", "mm")
        require_zero_up(self.half_mm, f"half band of {self.name}", "mm")
        require_finite(self.factor, f"factor of {self.name}")
        if self.shape not in get_args(Shape):
            raise UnknownNameError.among("shape of scatter", self.shape, get_args(Shape))

    @property
    def sigma_mm(self) -> float:
        """Standard deviation of the size itself.

        Source:
            Half over root 3 (uniform), over root 6 (triangular): textbook moments.
        """
        divisors = {
            "normal": SIGMAS_IN_HALF_BAND,
            "uniform": math.sqrt(3),
            "triangular": math.sqrt(6),
        }
        return self.half_mm / divisors[self.shape]


@dataclass(frozen=True, slots=True, kw_only=True)
class Clearance:
    """What a joint's clearance comes to.

    Attributes:
        mean_mm: Its mean.
        sigma_mm: Its standard deviation.
        worst_half_mm: Plus and minus about the mean with every size at the end of its band. For a
            normal size that is three standard deviations, which a few parts exceed.
    """

    mean_mm: float
    sigma_mm: float
    worst_half_mm: float

    @property
    def worst_mm(self) -> tuple[float, float]:
        """Least and most with every size at the end of its band."""
        return self.mean_mm - self.worst_half_mm, self.mean_mm + self.worst_half_mm

    @property
    def rss_mm(self) -> tuple[float, float]:
        """Least and most by root sum square: three standard deviations about the mean."""
        half_mm = SIGMAS_IN_HALF_BAND * self.sigma_mm
        return self.mean_mm - half_mm, self.mean_mm + half_mm

    def yield_between(self, low_mm: float, high_mm: float) -> float:
        """Return the share of joints whose clearance lies between two limits, normal scatter.

        Args:
            low_mm: Tightest that can still be put together; minus infinity for no limit.
            high_mm: Loosest that still holds; infinity for no limit.

        Raises:
            PartError: A number cannot be.

        Source:
            Normal distribution by the error function.
        """
        if not low_mm <= high_mm:
            raise PartError(
                f"limits of the clearance are {low_mm:g} and {high_mm:g} mm",
                remedy="give the tighter one as low_mm",
            )
        return normal_share(low_mm, high_mm, mean_mm=self.mean_mm, sigma_mm=self.sigma_mm)


def clearance_of(sizes: Sequence[Scattered]) -> Clearance:
    """Return what sizes that scatter independently add up to, each by its factor.

    Raises:
        PartError: No sizes.

    Source:
        Means add, variances add: textbook.
    """
    _require_some(sizes)
    return Clearance(
        mean_mm=math.fsum(size.factor * size.mean_mm for size in sizes),
        sigma_mm=math.sqrt(math.fsum((size.factor * size.sigma_mm) ** 2 for size in sizes)),
        worst_half_mm=math.fsum(abs(size.factor) * size.half_mm for size in sizes),
    )


def drawn_clearances_mm(
    sizes: Sequence[Scattered], *, count: int, chance: np.random.Generator
) -> NDArray[np.float64]:
    """Return the clearances of `count` joints made of sizes drawn by lot.

    Args:
        sizes: What adds up.
        count: How many joints.
        chance: Where the lots come from; the same seed gives the same joints.

    Raises:
        PartError: A number cannot be.

    Source:
        Sum of numbers drawn by lot.
    """
    _require_some(sizes)
    require_whole(count, "number of joints")
    drawn = np.zeros(count)
    for size in sizes:
        drawn += size.factor * (size.mean_mm + size.half_mm * _lots(size.shape, count, chance))
    return drawn


def drawn_yield(
    sizes: Sequence[Scattered],
    *,
    low_mm: float,
    high_mm: float,
    count: int,
    chance: np.random.Generator,
) -> tuple[float, float]:
    """Return the share of drawn joints between two limits, and that share's standard error.

    Raises:
        PartError: A number cannot be.

    Source:
        The error of a counted share p is the root of p (1 - p) / count: textbook.
    """
    drawn = drawn_clearances_mm(sizes, count=count, chance=chance)
    share = float(np.mean((drawn >= low_mm) & (drawn <= high_mm)))
    return share, math.sqrt(share * (1 - share) / count)


def _lots(shape: Shape, count: int, chance: np.random.Generator) -> NDArray[np.float64]:
    """Draw deviations about 0 in half bands."""
    if shape == "normal":
        return chance.normal(0.0, 1 / SIGMAS_IN_HALF_BAND, count)
    if shape == "uniform":
        return chance.uniform(-1.0, 1.0, count)
    return chance.triangular(-1.0, 0.0, 1.0, count)


def _require_some(sizes: Sequence[Scattered]) -> None:
    if not sizes:
        raise PartError("a clearance has no sizes", remedy="give at least one")
