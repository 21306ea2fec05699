"""Tolerance chains: what sizes laid end to end add up to, at worst and as a rule.

Each link has a direction: what widens the gap counts up, what narrows it counts down. Sizes in mm.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from platekit.errors import PartError
from platekit.formulas.quantities import require_finite


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """One size in a chain.

    Attributes:
        name: What it is: "slot", "sheet thickness".
        nominal_mm: Its nominal size.
        upper_mm: Upper limit deviation, signed: 0.1 for "+0.1".
        lower_mm: Lower limit deviation, signed: -0.1 for "-0.1"; at most `upper_mm`.
        factor: How much the gap grows when it grows by one: 1, -1, or what an angle makes of it.

    Raises:
        PartError: A lower deviation above the upper one, a factor of 0.
    """

    name: str
    nominal_mm: float
    upper_mm: float
    lower_mm: float
    factor: float = 1.0

    def __post_init__(self) -> None:
        require_finite(self.nominal_mm, f"nominal size of {self.name}", "mm")
        require_finite(self.upper_mm, f"upper deviation of {self.name}", "mm")
        require_finite(self.lower_mm, f"lower deviation of {self.name}", "mm")
        if require_finite(self.factor, f"factor of {self.name}") == 0:
            raise PartError(f"factor of {self.name} is 0", remedy="leave it out of the chain")
        if self.lower_mm > self.upper_mm:
            raise PartError(
                f"{self.name} lies from {self.lower_mm:+g} to {self.upper_mm:+g} mm",
                remedy="give the larger deviation as upper_mm",
            )

    @property
    def middle_mm(self) -> float:
        """Size in the middle of its limits."""
        return self.nominal_mm + (self.upper_mm + self.lower_mm) / 2

    @property
    def half_mm(self) -> float:
        """Half of the width of its limits, as the gap feels it."""
        return abs(self.factor) * (self.upper_mm - self.lower_mm) / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """What a chain adds up to.

    Attributes:
        nominal_mm: From the nominal sizes.
        middle_mm: From the middles of the limits.
        worst_half_mm: Plus and minus about the middle when every size lies at its worst.
        rss_half_mm: The same by root sum square.
        shares: Of each link, in order: its name and its share of the root sum square's variance,
            1 together; all 0 where nothing varies.
    """

    nominal_mm: float
    middle_mm: float
    worst_half_mm: float
    rss_half_mm: float
    shares: tuple[tuple[str, float], ...]

    @property
    def worst_mm(self) -> tuple[float, float]:
        """Least and most, whatever the parts: no chain within its limits lies outside."""
        return self.middle_mm - self.worst_half_mm, self.middle_mm + self.worst_half_mm

    @property
    def rss_mm(self) -> tuple[float, float]:
        """Least and most as a rule: of chains as rare as a single size beyond its limits."""
        return self.middle_mm - self.rss_half_mm, self.middle_mm + self.rss_half_mm


def stack_up(links: Sequence[Link]) -> Stack:
    """Return what a chain of links adds up to.

    Worst case adds half widths. Root sum square adds their squares: right where the sizes scatter
    independently, normally and about the middle of their limits, each as far from them in its own
    scatter as the others. Tabs of one sheet share its thickness: that is one link, not many.

    Raises:
        PartError: A chain without links.

    Source:
        Sums of independent variances; handbooks of tolerancing, from memory.
    """
    if not links:
        raise PartError("a tolerance chain has no links", remedy="give at least one")
    variance_mm2 = math.fsum(link.half_mm**2 for link in links)
    return Stack(
        nominal_mm=math.fsum(link.factor * link.nominal_mm for link in links),
        middle_mm=math.fsum(link.factor * link.middle_mm for link in links),
        worst_half_mm=math.fsum(link.half_mm for link in links),
        rss_half_mm=math.sqrt(variance_mm2),
        shares=tuple(
            (link.name, link.half_mm**2 / variance_mm2 if variance_mm2 else 0.0) for link in links
        ),
    )
