"""What sheets bear: characteristic strengths and mean stiffness, by material and thickness."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

from platekit.handbook import Row, read
from platekit.materials.sheets import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class Strength:
    """What a sheet bears. All in MPa but `poisson`, `density_kg_m3`. None for what is not known.

    0 is along the face grain, 90 across it.

    Attributes:
        bending_0_mpa: Characteristic bending strength, the span along the face grain.
        bending_90_mpa: The same across it.
        tension_0_mpa: Characteristic strength in tension in the plane.
        tension_90_mpa: The same across the face grain.
        compression_0_mpa: Characteristic strength in compression in the plane.
        compression_90_mpa: The same across the face grain.
        panel_shear_mpa: Characteristic shear through the thickness: cutting the sheet across.
        planar_shear_0_mpa: Characteristic shear of one veneer rolling on the next.
        planar_shear_90_mpa: The same across the face grain.
        modulus_0_mpa: Mean modulus of elasticity in bending.
        modulus_90_mpa: The same across the face grain.
        panel_shear_modulus_mpa: Mean shear modulus through the thickness.
        poisson: Poisson's ratio.
        density_kg_m3: Characteristic density, which holes' bearing strength hangs on.
        timber: "plywood" or "mdf", whose factors of EN 1995-1-1 apply; empty where none do.
        doubt: What to mind; empty when nothing.
        source: Where the figures come from.
    """

    bending_0_mpa: float | None = None
    bending_90_mpa: float | None = None
    tension_0_mpa: float | None = None
    tension_90_mpa: float | None = None
    compression_0_mpa: float | None = None
    compression_90_mpa: float | None = None
    panel_shear_mpa: float | None = None
    planar_shear_0_mpa: float | None = None
    planar_shear_90_mpa: float | None = None
    modulus_0_mpa: float | None = None
    modulus_90_mpa: float | None = None
    panel_shear_modulus_mpa: float | None = None
    poisson: float | None = None
    density_kg_m3: float
    timber: str = ""
    doubt: str = ""
    source: str


FIGURES = (
    "bending_0_mpa",
    "bending_90_mpa",
    "tension_0_mpa",
    "tension_90_mpa",
    "compression_0_mpa",
    "compression_90_mpa",
    "panel_shear_mpa",
    "planar_shear_0_mpa",
    "planar_shear_90_mpa",
    "modulus_0_mpa",
    "modulus_90_mpa",
    "panel_shear_modulus_mpa",
    "poisson",
)


def _strength(row: Row) -> Strength:
    figures = {name: row.positive(name) if row.optional_text(name) else None for name in FIGURES}
    return Strength(
        **figures,
        density_kg_m3=row.positive("density_k_kg_m3"),
        timber=row.optional_text("timber"),
        doubt=row.optional_text("doubt"),
        source=row.source,
    )


@cache
def _table() -> Mapping[str, tuple[tuple[float, Strength], ...]]:
    found: dict[str, list[tuple[float, Strength]]] = {}
    for row in read("platekit.materials", "strengths.csv"):
        found.setdefault(row.text("material"), []).append(
            (row.length_mm("mean_mm"), _strength(row))
        )
    return {name: tuple(sorted(rows, key=lambda row: row[0])) for name, rows in found.items()}


def strength_of(sheet: Sheet) -> Strength | None:
    """Return what a sheet bears, straight lines drawn between the thicknesses of the table.

    Outside them the nearest row counts. None where the table has nothing on the material.
    """
    rows = _table().get(sheet.material.name)
    return None if rows is None else _between(rows, sheet.thickness_mm)


def _between(rows: Sequence[tuple[float, Strength]], thickness_mm: float) -> Strength:
    if thickness_mm <= rows[0][0]:
        return rows[0][1]
    for (thin_mm, thin), (thick_mm, thick) in pairwise(rows):
        if thickness_mm <= thick_mm:
            share = (thickness_mm - thin_mm) / (thick_mm - thin_mm)
            figures = {name: _mixed(thin, thick, name, share) for name in FIGURES}
            density = thin.density_kg_m3 + share * (thick.density_kg_m3 - thin.density_kg_m3)
            return Strength(
                **figures,
                density_kg_m3=density,
                timber=thin.timber,
                doubt=thin.doubt,
                source=thin.source,
            )
    return rows[-1][1]


def _mixed(thin: Strength, thick: Strength, name: str, share: float) -> float | None:
    low, high = getattr(thin, name), getattr(thick, name)
    if low is None or high is None:
        # What one of two neighbours has not is taken from the other: better than nothing known.
        known: float | None = low if high is None else high
        return known
    return float(low + share * (high - low))
