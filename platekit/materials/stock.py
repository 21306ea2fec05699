"""Sizes of the sheets on the shelf."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from platekit.errors import PartError

# The largest boards sold are a little over 5 m; more is a slip of the finger.
LARGEST_MM = 10_000.0
_WRITTEN = re.compile(
    r"\s*([^x\u00d7\s]+)\s*[x\u00d7]\s*([^x\u00d7\s]+)\s*(?:[x\u00d7]\s*([^x\u00d7\s]+)\s*)?",
    re.IGNORECASE,
)
_HOW = (
    "write it as WIDTHxHEIGHT or WIDTHxHEIGHTxCOUNT in mm, as in 600x400 or 600x400x3, "
    "or name a stock file, FILE.json"
)


@dataclass(frozen=True, slots=True)
class StockSize:
    """One size of stock, the face grain along its width.

    Attributes:
        width_mm: Along x, above 0 and at most 10 m.
        height_mm: Along y, likewise.
        count: How many there are; None for as many as needed.

    Raises:
        PartError: A side is no such length, or the count no whole number from 1 up.
    """

    width_mm: float
    height_mm: float
    count: int | None = None

    def __post_init__(self) -> None:
        for side, value in (("width", self.width_mm), ("height", self.height_mm)):
            if not (math.isfinite(value) and 0 < value <= LARGEST_MM):
                raise PartError(
                    f"{side} of the stock is {value} mm",
                    remedy=f"give a length above 0, up to {LARGEST_MM:g} mm",
                )
        if self.count is None:
            return
        if type(self.count) is not int or self.count < 1:
            raise PartError(
                f"count of the stock is {self.count!r}",
                remedy="give a whole number from 1 up, or none for as many as needed",
            )

    @classmethod
    def parse(cls, text: str) -> StockSize:
        """Return the stock written as ``"600x400"`` or ``"600x400x3"``.

        Raises:
            PartError: The text says no such thing; quotes it.
        """
        written = _WRITTEN.fullmatch(text)
        if not written:
            raise PartError(f"stock size {text!r} cannot be read", remedy=_HOW)
        width, height, count = written.groups()
        try:
            sides = float(width), float(height)
            many = None if count is None else int(count)
        except ValueError as err:
            raise PartError(f"stock size {text!r} cannot be read", remedy=_HOW) from err
        try:
            return cls(*sides, many)
        except PartError as err:
            err.problem = f"stock size {text!r}: {err.problem}"
            raise

    def __str__(self) -> str:
        """Return the size as `parse` reads it."""
        said = f"{self.width_mm:.12g}x{self.height_mm:.12g}"
        return said if self.count is None else f"{said}x{self.count}"
