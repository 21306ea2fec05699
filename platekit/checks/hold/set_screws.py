"""What set screws hold on a shaft: a handbook's table, as nothing better is known."""

from __future__ import annotations

from itertools import pairwise

from platekit.formulas.quantities import require_positive, require_whole

MM_PER_INCH = 25.4
N_PER_LBF = 4.4482216152605
# Shigley, Mechanical Engineering Design, typical holding power of socket set screws with cup
# points, tightened as far as they bear (from memory): diameter in inches, force in pounds, along
# the shaft or round its skin.
HELD_LBF = (
    (0.112, 160.0),
    (0.125, 200.0),
    (0.138, 250.0),
    (0.164, 385.0),
    (0.190, 540.0),
    (0.250, 1000.0),
    (0.3125, 1500.0),
    (0.375, 2000.0),
    (0.4375, 2500.0),
    (0.5, 3000.0),
)
# The same book: 1.5 to 2 where the load stands still (from memory).
SAFETY = 1.5
# A further screw holds as much again only where it stands opposite, and there it pushes the shaft
# aside: half is counted. Common practice, no source.
FURTHER = 0.5


def set_screw_n(diameter_mm: float) -> float:
    """Return the force round the skin of a steel shaft that one set screw holds, N.

    Straight lines between the rows of the table; below its first row in proportion to the area,
    above its last as that.

    Raises:
        PartError: The diameter is not above 0.

    Source:
        Shigley, Mechanical Engineering Design, table of holding power (from memory).
    """
    inches = require_positive(diameter_mm, "set screw", "mm") / MM_PER_INCH
    first, first_lbf = HELD_LBF[0]
    if inches <= first:
        return first_lbf * (inches / first) ** 2 * N_PER_LBF
    for (low, low_lbf), (high, high_lbf) in pairwise(HELD_LBF):
        if inches <= high:
            share = (inches - low) / (high - low)
            return (low_lbf + share * (high_lbf - low_lbf)) * N_PER_LBF
    return HELD_LBF[-1][1] * N_PER_LBF


def set_screws_torque_nmm(*, screws: int, diameter_mm: float, shaft_mm: float) -> float:
    """Return the torque that set screws in one hub hold, N mm, without a factor.

    F D / 2 of the first, half as much of each further one.

    Raises:
        PartError: A number cannot be.

    Source:
        `set_screw_n`; the share of further screws by common practice, no source.
    """
    count = 1 + FURTHER * (require_whole(screws, "number of set screws") - 1)
    return count * set_screw_n(diameter_mm) * require_positive(shaft_mm, "shaft", "mm") / 2
