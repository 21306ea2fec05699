"""Encoders: how finely a shaft's angle is told, through gears and out at a radius."""

from __future__ import annotations

import math

from platekit.formulas.quantities import (
    require_finite,
    require_positive,
    require_whole,
    require_zero_up,
)

# Rising and falling edges of two channels a quarter of a line apart: quadrature.
EDGES_PER_LINE = 4


def counts_per_turn(lines: int, *, edges: int = EDGES_PER_LINE, ratio: float = 1.0) -> float:
    """Return the counts of an incremental encoder for one turn of the output shaft.

    Args:
        lines: Lines, or pulses of one channel, for each turn of the encoder's shaft.
        edges: Counted for each line: 4 in quadrature, 2 or 1 for a counter that takes fewer.
        ratio: Turns of the encoder's shaft for one of the output; below 1 if it turns slower.

    Raises:
        PartError: A number cannot be.

    Source:
        The product of the three.
    """
    require_whole(lines, "number of lines")
    require_whole(edges, "edges per line")
    require_positive(ratio, "gear ratio")
    return lines * edges * ratio


def counts_of_bits(bits: int, *, ratio: float = 1.0) -> float:
    """Return the positions of an absolute encoder for one turn of the output shaft: 2^bits.

    Through a ratio above 1 it repeats itself, as often for each turn as the ratio says.

    Raises:
        PartError: A number cannot be.

    Source:
        Binary code: two positions for each bit.
    """
    require_whole(bits, "number of bits")
    require_positive(ratio, "gear ratio")
    return float(2**bits) * ratio


def resolution_deg(counts: float) -> float:
    """Return the angle of one count, from the counts of a turn: 360 over them.

    Play and bending of what lies between are not in it.

    Raises:
        PartError: A number cannot be.

    Source:
        Definition.
    """
    require_positive(counts, "counts per turn")
    return 360 / counts


def resolution_mm(counts: float, *, radius_mm: float) -> float:
    """Return the way of one count along the arc at a radius about the output shaft.

    Raises:
        PartError: A number cannot be.

    Source:
        Arc: radius times angle.
    """
    require_zero_up(radius_mm, "radius", "mm")
    return math.radians(resolution_deg(counts)) * radius_mm


def count_rate_hz(counts: float, *, speed_rpm: float) -> float:
    """Return the counts in a second at a speed: what the counter must keep up with.

    Args:
        counts: For one turn of a shaft.
        speed_rpm: Of the same shaft.

    Raises:
        PartError: A number cannot be.

    Source:
        Counts times turns in a second.
    """
    require_positive(counts, "counts per turn")
    return counts * abs(require_finite(speed_rpm, "speed", "rpm")) / 60


def lines_for_resolution(
    *, wanted_deg: float, edges: int = EDGES_PER_LINE, ratio: float = 1.0
) -> int:
    """Return the fewest lines whose count is no coarser than an angle at the output.

    Raises:
        PartError: A number cannot be.

    Source:
        `resolution_deg` solved for the lines, rounded up.
    """
    require_positive(wanted_deg, "resolution", "degrees")
    require_whole(edges, "edges per line")
    require_positive(ratio, "gear ratio")
    # A hair off, so that 0.09 degrees asks for 1000 lines and not, by rounding, for 1001.
    return max(math.ceil(360 / (wanted_deg * edges * ratio) * (1 - 1e-12)), 1)
