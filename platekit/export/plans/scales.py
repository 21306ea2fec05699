"""Scales of drawings: the recommended ones, and the largest with which a part fits its room.

Source:
    ISO 5455, recommended scales: 1, 2 and 5 times a power of ten, enlarged or reduced (from
    memory).
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
# Beyond this a part the size of a coin looks like a wheel.
LARGEST = Fraction(5)


def scale_for(size_mm: tuple[float, float], *, room_mm: tuple[float, float]) -> Fraction:
    """Return the largest recommended scale at which a size fits a room; the least if none does."""
    for scale in SCALES:
        if scale <= LARGEST and all(
            one * float(scale) <= room for one, room in zip(size_mm, room_mm, strict=True)
        ):
            return scale
    return SCALES[-1]


def scale_text(scale: Fraction) -> str:
    """Return a scale as a title block has it: "1:5" or "2:1"."""
    return f"{scale.numerator}:{scale.denominator}"
