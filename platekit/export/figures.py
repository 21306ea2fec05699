"""The one rounding between the exact shapes and every file."""

from __future__ import annotations

import math

# A nanometre. Coarser would show in arcs, whose centres readers find from their rounded ends;
# finer is noise: shapes are only promised to this much.
DECIMALS = 6


def format_mm(value: float, *, decimals: int = DECIMALS) -> str:
    """Return `value` as plain decimal figures: no exponent, no trailing zeros, no ``-0``.

    Args:
        value: Any finite number; mm, but a factor or an angle is written the same way.
        decimals: Most figures after the point, 0 or more.

    Raises:
        ValueError: `value` is not finite: no file may carry it.

    Example:
        >>> format_mm(0.1 + 0.2), format_mm(-1e-9), format_mm(1200.0), format_mm(2 / 3, decimals=2)
        ('0.3', '0', '1200', '0.67')
    """
    if not math.isfinite(value):
        message = f"{value} cannot be written as a figure"
        raise ValueError(message)
    text = f"{value:.{decimals}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def rounded(value: float, *, decimals: int = DECIMALS) -> float:
    """Return the number that `format_mm` writes.

    Raises:
        ValueError: `value` is not finite.
    """
    return float(format_mm(value, decimals=decimals))
