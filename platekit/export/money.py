"""Money as figures: exact while it is reckoned, rounded once where it is written.

No currency is known here. A price is a fraction, since a box of three may cost ten.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

# Figures after the point. A piece out of a box of thousands costs fractions of the smallest coin;
# the total of a line is wanted finer than any coin, so that rounding is left to who pays.
EACH_DECIMALS = 6
TOTAL_DECIMALS = 4


def rounded_price(value: Fraction, *, decimals: int) -> Decimal:
    """Return `value`, 0 or more, with at most so many figures after the point, halves upward.

    Example:
        >>> rounded_price(Fraction(10, 3), decimals=4), rounded_price(Fraction(1, 8), decimals=2)
        (Decimal('3.3333'), Decimal('0.13'))
    """
    scaled = value * 10**decimals
    whole = (2 * scaled.numerator + scaled.denominator) // (2 * scaled.denominator)
    return Decimal(f"{whole}E-{decimals}")


def price_text(value: Decimal) -> str:
    """Return plain figures, with two after the point or as many more as there are.

    Example:
        >>> price_text(Decimal("12.5000")), price_text(Decimal("0.045"))
        ('12.50', '0.045')
    """
    whole, _, part = f"{value:f}".partition(".")
    return f"{whole}.{part.rstrip('0').ljust(2, '0')}"
