"""Scales of drawings: the recommended ones, and those between them.

Source:
    ISO 5455: recommended scales are 1, 2 and 5 times a power of ten, enlarged or reduced; where
    these cannot be applied, intermediate ones may be chosen (from memory). 2.5 is the one between
    2 and 5 that workshops know (common practice, no source).
"""

from __future__ import annotations

from fractions import Fraction

SCALES = tuple(
    Fraction(n, d)
    for n, d in (
        (50, 1),
        (20, 1),
        (10, 1),
        (5, 1),
        (2, 1),
        (1, 1),
        (1, 2),
        (1, 5),
        (1, 10),
        (1, 20),
        (1, 50),
        (1, 100),
        (1, 200),
        (1, 500),
        (1, 1000),
    )
)
BETWEEN = tuple(Fraction(2, 5 * 10**k) for k in range(3))
ALL = tuple(sorted((*SCALES, *BETWEEN), reverse=True))
# Beyond this a part the size of a coin looks like a wheel.
LARGEST = Fraction(5)


def scale_text(scale: Fraction) -> str:
    """Return a scale as a title block has it: "1:5", "1:2.5" or "2:1"."""
    if scale >= 1:
        return f"{float(scale):g}:1"
    return f"1:{float(1 / scale):g}"
