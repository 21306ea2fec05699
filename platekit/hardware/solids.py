"""What bought and printed parts are made of: strength and stiffness."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from platekit.handbook import Catalogue, Row, read


@dataclass(frozen=True, slots=True, kw_only=True)
class Solid:
    """A material of bought, turned or printed parts. MPa, kg/m3.

    Attributes:
        name: "aluminium 6082-T6".
        kind: "metal", "plastic" or "printed plastic".
        yield_mpa: Stress at which it stays bent; of plastics, at which it gives way.
        ultimate_mpa: Stress at which it breaks.
        modulus_mpa: Modulus of elasticity.
        shear_modulus_mpa: Shear modulus.
        density_kg_m3: Density.
        share: What is left of the strength in the weakest direction: across the layers of a
            print. 1 where it has none.
        source: Where they come from, and how they are known.
    """

    name: str
    kind: str
    yield_mpa: float
    ultimate_mpa: float
    modulus_mpa: float
    shear_modulus_mpa: float
    density_kg_m3: float
    share: float = 1.0
    source: str

    @property
    def shear_yield_mpa(self) -> float:
        """Shear stress at which it gives way, in its weakest direction: share x yield / sqrt 3.

        Source:
            Von Mises, textbook; for plastics by common practice, no source.
        """
        return float(self.share * self.yield_mpa / 3**0.5)


def _solid(row: Row) -> Solid:
    return Solid(
        name=row.text("name"),
        kind=row.text("kind"),
        yield_mpa=row.positive("yield_mpa"),
        ultimate_mpa=row.positive("ultimate_mpa"),
        modulus_mpa=row.positive("modulus_mpa"),
        shear_modulus_mpa=row.positive("shear_modulus_mpa"),
        density_kg_m3=row.positive("density_kg_m3"),
        share=row.positive("share"),
        source=row.source,
    )


@cache
def _solids() -> Catalogue[Solid]:
    rows = read("platekit.hardware", "tables/solids.csv")
    aliases = {other: row.text("name") for row in rows for other in row.words("other_names")}
    return Catalogue.of(
        "material of a part", map(_solid, rows), name=lambda one: one.name, aliases=aliases
    )


def solid(name: str) -> Solid:
    """Return the material of a part: ``solid("aluminium 6082-T6")``, ``solid("PLA printed")``.

    Raises:
        UnknownNameError: The table has none such; the message lists those it has.
    """
    return _solids()[name]


def known_solids() -> tuple[str, ...]:
    """Return the names of the table."""
    return tuple(_solids())
