"""How far a sheet may be from its nominal thickness and still be what it is sold as."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from platekit.handbook import Row, read

# A limit computed in floats must not refuse 3.29 mm for its last bit.
_ROUNDING_MM = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class ThicknessBand:
    """The limits one standard sets for one surface, mm, with t the nominal thickness.

    Attributes:
        material: "plywood".
        surface: "sanded".
        standard: "EN 315".
        over_mm: It holds for t above this...
        to_mm: ...up to and including this.
        minus_mm: Lower limit: t - (minus_mm + minus_per_mm t).
        minus_per_mm: As above, mm per mm.
        plus_mm: Upper limit: t + plus_mm + plus_per_mm t.
        plus_per_mm: As above, mm per mm.
        source: Where it comes from.
    """

    material: str
    surface: str
    standard: str
    over_mm: float
    to_mm: float
    minus_mm: float
    minus_per_mm: float
    plus_mm: float
    plus_per_mm: float
    source: str

    def limits_mm(self, nominal_mm: float) -> tuple[float, float]:
        """Return the least and greatest thickness, mm, of a sheet sold as `nominal_mm`."""
        return (
            nominal_mm - self.minus_mm - self.minus_per_mm * nominal_mm,
            nominal_mm + self.plus_mm + self.plus_per_mm * nominal_mm,
        )

    def holds(self, measured_mm: float, *, nominal_mm: float) -> bool:
        """Return whether a sheet sold as `nominal_mm` may measure `measured_mm`."""
        low, high = self.limits_mm(nominal_mm)
        return low - _ROUNDING_MM <= measured_mm <= high + _ROUNDING_MM


def _band(row: Row) -> ThicknessBand:
    return ThicknessBand(
        material=row.text("material"),
        surface=row.text("surface"),
        standard=row.text("standard"),
        over_mm=row.number("over_mm"),
        to_mm=row.length_mm("to_mm"),
        minus_mm=row.number("minus_mm"),
        minus_per_mm=row.number("minus_per_mm"),
        plus_mm=row.number("plus_mm"),
        plus_per_mm=row.number("plus_per_mm"),
        source=row.source,
    )


@cache
def _bands() -> tuple[ThicknessBand, ...]:
    return tuple(map(_band, read("platekit.materials", "thickness_tolerance.csv")))


def thickness_bands(tolerance: str, *, nominal_mm: float) -> tuple[ThicknessBand, ...]:
    """Return what holds for a nominal thickness: one band for each surface, the narrowest first.

    Args:
        tolerance: Name in the table, as `Material.tolerance` gives it.
        nominal_mm: Thickness the sheet is sold as.

    Returns:
        At least one band; where no standard is tabulated, a tenth either way.
    """
    found = tuple(
        band
        for band in _bands()
        if band.material == tolerance and band.over_mm < nominal_mm <= band.to_mm
    )
    return found or (_TENTH,)


_TENTH = ThicknessBand(
    material="",
    surface="any surface",
    standard="no standard typed in",
    over_mm=0.0,
    to_mm=1e3,
    minus_mm=0.0,
    minus_per_mm=0.1,
    plus_mm=0.0,
    plus_per_mm=0.1,
    source="a tenth of the nominal (common practice, no source)",
)
