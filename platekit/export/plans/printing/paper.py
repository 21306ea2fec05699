"""Paper: what plans are printed on, and what of a page can be printed."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from platekit.errors import PlatekitError, UnknownNameError

# Office printers leave up to 6 mm unprinted, ink printers up to 12 mm at the tail of a sheet
# (common practice, no source).
MARGIN_MM = 12.0
# Room inside the margins for the line above the plan, and for bar, words and map below it.
HEAD_MM, FOOT_MM = 8.0, 17.0
# Of that the lowest: the bar that is the lower side of every page's check square, its figures, air.
BAR_MM = 7.0
# Smaller than a postcard nothing is left of a page but its furniture.
LEAST_SIDES_MM = (105.0, 148.0)
# A PDF page ends at 14400 units of 1/72 inch, 5080 mm (ISO 32000-1, annex C, from memory).
LONGEST_MM = 5000.0
# Pages of a roll are cut off here: longer ones nobody unrolls on a bench (common practice).
ROLL_PAGE_MM = 2500.0
OVERLAP_MM = 10.0
OVERLAPS_MM = (5.0, 50.0)

# Sides, upright, mm. A sizes: ISO 216; Letter: 8.5 x 11 in, ANSI/ASME Y14.1 A; Tabloid: 11 x 17 in,
# the same, B; all from memory.
SIZES_MM: Mapping[str, tuple[float, float]] = MappingProxyType(
    {
        "A5": (148.0, 210.0),
        "A4": (210.0, 297.0),
        "A3": (297.0, 420.0),
        "A2": (420.0, 594.0),
        "A1": (594.0, 841.0),
        "A0": (841.0, 1189.0),
        "Letter": (215.9, 279.4),
        "Tabloid": (279.4, 431.8),
    }
)
# Tables and drawings are made for pages about the size of A4 to A3.
_READABLE_MM = ((200.0, 300.0), (270.0, 435.0))
_SIZE = re.compile(r"\s*([^x\u00d7\s]+)\s*[x\u00d7]\s*([^x\u00d7\s]+)\s*", re.IGNORECASE)
_ROLL = re.compile(r"\s*roll\s*(\S*)\s*", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """Sheets of one size, or a roll.

    Attributes:
        name: What it is called: "A4", "610 x 900 mm", "roll 914 mm".
        width_mm: Shorter side of a sheet, width of a roll.
        height_mm: Longer side of a sheet; None for a roll, whose pages are as long as they must.

    Raises:
        PlatekitError: A side is not finite, too small for the margins, or too long for a PDF.
    """

    name: str
    width_mm: float
    height_mm: float | None

    def __post_init__(self) -> None:
        short, long = LEAST_SIDES_MM
        sides = [self.width_mm] if self.height_mm is None else [self.width_mm, self.height_mm]
        for side, least in zip(sides, LEAST_SIDES_MM, strict=False):
            if not (math.isfinite(side) and least <= side):
                raise PlatekitError(
                    f"paper {self.name}: a side of {side:g} mm leaves no room between margins of "
                    f"{MARGIN_MM:g} mm, scale bar and check square",
                    remedy=f"give at least {short:g} x {long:g} mm, or a roll of {short:g} mm",
                )
            if side > LONGEST_MM:
                raise PlatekitError(
                    f"paper {self.name}: a side of {side:g} mm is longer than a PDF page can be",
                    remedy=f"give sides in mm, up to {LONGEST_MM:g}",
                )

    @classmethod
    def parse(cls, text: str) -> Paper:
        """Return the paper written as ``"A4"``, ``"610x900"`` or ``"roll 914"``.

        Raises:
            PlatekitError: The name is unknown, a size is no number in mm or cannot be printed on.
        """
        for name, (width, height) in SIZES_MM.items():
            if text.strip().casefold() == name.casefold():
                return cls(name=name, width_mm=width, height_mm=height)
        rolled = _ROLL.fullmatch(text)
        if rolled:
            return cls.roll(_number(rolled[1], text))
        sized = _SIZE.fullmatch(text)
        if sized:
            short, long = sorted(_number(side, text) for side in sized.groups())
            return cls(name=f"{short:g} x {long:g} mm", width_mm=short, height_mm=long)
        raise UnknownNameError.among("paper", text, [*SIZES_MM, "WIDTHxHEIGHT", "roll WIDTH"])

    @classmethod
    def roll(cls, width_mm: float) -> Paper:
        """Return a roll of a width.

        Raises:
            PlatekitError: It cannot be printed on.
        """
        return cls(name=f"roll {width_mm:g} mm", width_mm=width_mm, height_mm=None)

    @property
    def windows(self) -> tuple[tuple[float, float], ...]:
        """Width and height of what a page has room for at full size, one for each way it lies."""
        if self.height_mm is None:
            return (window_of(self.width_mm, ROLL_PAGE_MM),)
        return (
            window_of(self.width_mm, self.height_mm),
            window_of(self.height_mm, self.width_mm),
        )

    @property
    def reading_mm(self) -> tuple[float, float]:
        """Sides, upright, of the pages that are for reading: its own, or those of A4."""
        if self.height_mm is None:
            return SIZES_MM["A4"]
        fits = all(
            low <= side <= high
            for side, (low, high) in zip((self.width_mm, self.height_mm), _READABLE_MM, strict=True)
        )
        return (self.width_mm, self.height_mm) if fits else SIZES_MM["A4"]


def window_of(width_mm: float, height_mm: float) -> tuple[float, float]:
    """Return what of a page is left for a plan: less margins, head and foot."""
    return width_mm - 2 * MARGIN_MM, height_mm - 2 * MARGIN_MM - HEAD_MM - FOOT_MM


def checked_overlap(overlap_mm: float) -> float:
    """Return how far tiles overlap.

    Raises:
        PlatekitError: It is not finite or out of range.
    """
    least, most = OVERLAPS_MM
    if not (math.isfinite(overlap_mm) and least <= overlap_mm <= most):
        raise PlatekitError(
            f"overlap of the pages is {overlap_mm:g} mm",
            remedy=f"give {least:g} to {most:g} mm, as in --overlap {OVERLAP_MM:g}",
        )
    return overlap_mm


def _number(text: str, whole: str) -> float:
    try:
        return float(text)
    except ValueError:
        raise PlatekitError(
            f"paper {whole.strip()!r} has {text!r} for a side",
            remedy="give plain numbers in mm, as in 610x900 or roll 914",
        ) from None
