"""The width a laser burns away."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from platekit.errors import PartError
from platekit.handbook import read
from platekit.materials.sheets import Sheet

# CO2 lasers on wood and acrylic burn 0.08 to 0.45 mm (formulas gathered from bureaux); a kerf of
# 2 mm is a saw's, or a slip of the decimal point.
WIDEST_KERF_MM = 2.0
NARROWEST_KERF_MM = 0.01  # finer than any beam: a slip of the decimal point the other way


@dataclass(frozen=True, slots=True)
class Beam:
    """How wide the cut is.

    Attributes:
        kerf_mm: Full width of the cut, from 0.01 to 2 mm. 0 leaves every edge where it was drawn:
            for a machine that makes room for its own beam, or none at all.
        source: Where the figure comes from: "measured", or what the built-in table says.

    Raises:
        PartError: The kerf is no such width.
    """

    kerf_mm: float
    source: str

    def __post_init__(self) -> None:
        if self.kerf_mm != 0 and not NARROWEST_KERF_MM <= self.kerf_mm <= WIDEST_KERF_MM:
            raise PartError(
                f"kerf is {self.kerf_mm:g} mm",
                remedy=f"give the full width of the cut, {NARROWEST_KERF_MM:g} to "
                f"{WIDEST_KERF_MM:g} mm, or 0 where the machine makes room for its own beam",
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class KerfFigure:
    """One figure of the built-in table, mm."""

    material: str
    thickness_mm: float
    kerf_mm: float
    source: str


@cache
def known_kerfs() -> tuple[KerfFigure, ...]:
    """Return the built-in kerfs, by material and rising thickness. All common practice."""
    figures = (
        KerfFigure(
            material=row.text("material"),
            thickness_mm=row.length_mm("thickness_mm"),
            kerf_mm=row.length_mm("kerf_mm"),
            source=row.source,
        )
        for row in read("platekit.materials", "kerfs.csv")
    )
    return tuple(sorted(figures, key=lambda figure: (figure.material, figure.thickness_mm)))


def beam_for(sheet: Sheet, *, kerf_mm: float | None = None) -> Beam:
    """Return the beam for a sheet: the kerf given, else the built-in one for its thickness.

    Between two figures of the table the kerf is interpolated; beyond the last it is that one's.
    Built-in figures are one cutting bureau's: measure your own machine.

    Raises:
        PartError: The kerf given is absurd, or none is given and the table has none for the
            material.
    """
    if kerf_mm is not None:
        return Beam(kerf_mm, "given")
    named = sheet.material.kerf_like
    figures = [figure for figure in known_kerfs() if figure.material == named]
    if not figures:
        raise PartError(
            f"no built-in kerf for {sheet.material.name}",
            remedy="cut a test piece, measure it and give the kerf",
        )
    at_mm = sheet.thickness_mm
    below = [figure for figure in figures if figure.thickness_mm <= at_mm]
    above = [figure for figure in figures if figure.thickness_mm >= at_mm]
    low, high = (below or above)[-1 if below else 0], (above or below)[0 if above else -1]
    share = (
        (at_mm - low.thickness_mm) / (high.thickness_mm - low.thickness_mm)
        if high.thickness_mm > low.thickness_mm
        else 0.0
    )
    kerf = low.kerf_mm + share * (high.kerf_mm - low.kerf_mm)
    rows = f"{low.thickness_mm:g} mm"
    if high is not low:
        rows += f" and {high.thickness_mm:g} mm, interpolated"
    return Beam(
        round(kerf, 4),  # a tenth of a micron: more would claim what no bureau measured
        f"{low.source}; {named} {rows}; measure your own machine",
    )
