"""What sheets are made of, and whether a laser may cut it."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum
from functools import cache

from platekit.errors import UnknownNameError
from platekit.handbook import Catalogue, Row, plain, read
from platekit.materials.fits import Fits, fits_of
from platekit.materials.stock import StockSize


class Laser(Enum):
    """Whether a CO2 laser may cut a material."""

    SAFE = "safe"  # with extraction, air assist and someone standing by
    CAUTION = "caution"  # cuts badly, burns easily or gives off bad fumes
    REFUSED = "refused"  # harms people or the machine


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """A sheet material.

    Attributes:
        name: "birch plywood".
        kind: "plywood", "fibreboard", "acrylic", "plastic", or "refused".
        laser: Whether a laser may cut it.
        laser_reason: Why, in a sentence.
        grain: Whether its face has a direction.
        density_kg_m3: Mean density; None where it does not matter.
        nominals_mm: Thicknesses sold, rising.
        stock: Sizes taken when the user names none.
        fits: Clearance by joint.
        finger_per_thickness: Least finger width over sheet thickness.
        web_per_thickness: Least web (wood between two cuts) over sheet thickness.
        least_web_mm: Web that no thickness allows to go below.
        kerf_like: Name under which the kerf table has figures; empty when it has none.
        tolerance: Name under which the thickness tolerance stands; empty when there is none.
        source: Where the figures come from.
    """

    name: str
    kind: str
    laser: Laser
    laser_reason: str
    grain: bool = False
    density_kg_m3: float | None = None
    nominals_mm: tuple[float, ...] = ()
    stock: tuple[StockSize, ...] = ()
    fits: Fits = field(default_factory=Fits)
    finger_per_thickness: float = 1.0
    web_per_thickness: float = 1.0
    least_web_mm: float = 2.0
    kerf_like: str = ""
    tolerance: str = ""
    source: str

    @property
    def laser_safe(self) -> bool:
        """Whether a laser may cut it at all; `laser` tells cautions apart."""
        return self.laser is not Laser.REFUSED


def _cut(row: Row) -> Material:
    kind = row.text("kind")
    return Material(
        name=row.text("name"),
        kind=kind,
        laser=Laser(row.text("laser")),
        laser_reason=row.text("laser_reason"),
        grain=row.flag("grain"),
        density_kg_m3=row.positive("density_kg_m3"),
        nominals_mm=row.lengths_mm("nominals_mm"),
        stock=tuple(StockSize.parse(size) for size in row.words("stock")),
        fits=fits_of(kind),
        finger_per_thickness=row.positive("finger_per_thickness"),
        web_per_thickness=row.positive("web_per_thickness"),
        least_web_mm=row.length_mm("least_web_mm"),
        kerf_like=row.optional_text("kerf_like"),
        tolerance=row.optional_text("tolerance"),
        source=row.source,
    )


def _refused(row: Row) -> Material:
    return Material(
        name=row.text("name"),
        kind="refused",
        laser=Laser.REFUSED,
        laser_reason=row.text("laser_reason"),
        source=row.source,
    )


@cache
def _materials() -> Catalogue[Material]:
    cut = read("platekit.materials", "materials.csv")
    refused = read("platekit.materials", "refused.csv")
    aliases = {
        other: row.text("name") for row in (*cut, *refused) for other in row.words("other_names")
    }
    entries = (*map(_cut, cut), *map(_refused, refused))
    return Catalogue.of("material", entries, name=lambda entry: entry.name, aliases=aliases)


def material(name: str) -> Material:
    """Return a material by name, whatever its case and spaces; materials no laser may cut too.

    Whatever has PVC in its name counts as PVC: a spelling must not make it safe.

    Raises:
        UnknownNameError: The tables have no such material; the message lists those to cut.
    """
    everything = _materials()
    try:
        return everything[name]
    except UnknownNameError:
        if "pvc" in plain(str(name)):
            return everything["PVC"]
        raise UnknownNameError.among("material", name, known_materials()) from None


def known_materials() -> tuple[str, ...]:
    """Return the materials that may be cut, in the order of the table."""
    return tuple(name for name, entry in _materials().entries.items() if entry.laser_safe)
