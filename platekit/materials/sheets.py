"""The sheet a job is cut from."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

from platekit.errors import PartError
from platekit.materials.stock import StockSize
from platekit.materials.substances import Laser, Material, material
from platekit.materials.thickness import thickness_bands

# Desk-top and workshop CO2 lasers end at 10 to 25 mm; 60 mm is a length in the wrong field.
THINNEST_MM = 0.1
THICKEST_MM = 50.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A material in one thickness. `sheet` and `birch_plywood` make one more briefly.

    Attributes:
        material: What it is made of; one a laser may cut.
        nominal_mm: Thickness it is sold as.
        thickness_mm: Thickness it measures: what joints and slots are made to.
        stock: Sizes on the shelf.
        grain: Whether the face grain, along x of the stock, counts when parts are placed.

    Raises:
        PartError: A thickness is not finite, not above 0, or absurd; the material must not be
            cut by a laser; or no stock is given.
    """

    material: Material
    nominal_mm: float
    thickness_mm: float
    stock: tuple[StockSize, ...]
    grain: bool

    def __post_init__(self) -> None:
        if self.material.laser is Laser.REFUSED:
            raise PartError(
                f"{self.material.name} must not be cut by a laser: {self.material.laser_reason}",
                remedy="choose another material",
            )
        for what, value in (("nominal", self.nominal_mm), ("measured", self.thickness_mm)):
            if not (math.isfinite(value) and THINNEST_MM <= value <= THICKEST_MM):
                raise PartError(
                    f"{what} thickness of the {self.material.name} is {value} mm",
                    remedy=f"give {THINNEST_MM:g} to {THICKEST_MM:g} mm",
                )
        if not self.stock:
            raise PartError(
                f"the {self.material.name} has no stock size",
                remedy="give at least one, as 600x400",
            )

    @property
    def name(self) -> str:
        """The sheet in words: "birch plywood 6 mm", or "birch plywood 6 mm, measures 6.3 mm"."""
        said = f"{self.material.name} {self.nominal_mm:.6g} mm"
        if self.thickness_mm == self.nominal_mm:
            return said
        return f"{said}, measures {self.thickness_mm:.6g} mm"

    def __str__(self) -> str:
        """Return the sheet in words."""
        return self.name

    @property
    def least_web_mm(self) -> float:
        """Least width of material to leave between two cuts, mm. Common practice."""
        return max(self.material.least_web_mm, self.material.web_per_thickness * self.thickness_mm)

    @property
    def least_finger_mm(self) -> float:
        """Least width of a finger or tab, mm. Common practice."""
        return max(
            self.material.least_web_mm, self.material.finger_per_thickness * self.thickness_mm
        )

    @property
    def finger_mm(self) -> float:
        """Width of a finger or tab to aim at, mm: three thicknesses.

        Common practice, no source: two to four times the thickness.
        """
        return max(self.least_finger_mm, 3.0 * self.thickness_mm)

    @property
    def least_hole_mm(self) -> float:
        """Diameter of the smallest hole worth cutting, mm: half the thickness, 1 mm at least.

        Common practice, no source.
        """
        return max(1.0, self.thickness_mm / 2)

    def mass_kg(self, area_mm2: float) -> float | None:
        """Return the mass, kg, of `area_mm2` of it; None where no density is known. An estimate."""
        if self.material.density_kg_m3 is None:
            return None
        return area_mm2 * self.thickness_mm * self.material.density_kg_m3 * 1e-9

    def with_thickness(self, thickness_mm: float) -> Sheet:
        """Return the same sheet measuring `thickness_mm`.

        It stays what it was sold as while the measure is within what the standard allows for
        that; beyond, it is taken to be sold as the nearest thickness made.

        Raises:
            PartError: The thickness is not finite, not above 0, or absurd.
        """
        measured = replace(self, thickness_mm=thickness_mm)
        bands = thickness_bands(self.material.tolerance, nominal_mm=self.nominal_mm)
        if any(band.holds(thickness_mm, nominal_mm=self.nominal_mm) for band in bands):
            return measured
        return replace(measured, nominal_mm=_nearest_nominal_mm(self.material, thickness_mm))

    def with_stock(self, stock: Iterable[StockSize]) -> Sheet:
        """Return the same sheet in other sizes.

        Raises:
            PartError: None is given.
        """
        return replace(self, stock=tuple(stock))


def _nearest_nominal_mm(what: Material, thickness_mm: float) -> float:
    return min(
        what.nominals_mm or (thickness_mm,),
        key=lambda nominal_mm: (abs(nominal_mm - thickness_mm), nominal_mm),
    )


def sheet(
    name: str,
    *,
    nominal_mm: float | None = None,
    thickness_mm: float | None = None,
    stock: Iterable[StockSize] | None = None,
    grain: bool | None = None,
) -> Sheet:
    """Return a sheet of a known material: ``sheet("MDF", nominal_mm=6)``.

    Args:
        name: Name of the material, whatever its case and spaces.
        nominal_mm: Thickness it is sold as; the nearest one made when only a measure is given.
        thickness_mm: Thickness it measures; the nominal one when left out.
        stock: Sizes on the shelf; usual ones when left out.
        grain: Whether the grain counts when placing; as the material has it when left out.

    Raises:
        UnknownNameError: The material is not known; the message lists those that are.
        PartError: A laser must not cut it, no thickness is given, or one is absurd.
    """
    what = material(name)
    if what.laser is not Laser.REFUSED:
        if nominal_mm is None and thickness_mm is None:
            raise PartError(
                f"the {what.name} has no thickness", remedy="give nominal_mm, thickness_mm or both"
            )
        if nominal_mm is None and thickness_mm is not None:
            nominal_mm = _nearest_nominal_mm(what, thickness_mm)
    nominal_mm = math.nan if nominal_mm is None else nominal_mm
    return Sheet(
        material=what,
        nominal_mm=nominal_mm,
        thickness_mm=nominal_mm if thickness_mm is None else thickness_mm,
        stock=what.stock if stock is None else tuple(stock),
        grain=what.grain if grain is None else grain,
    )


def birch_plywood(
    nominal_mm: float = 6.0,
    *,
    thickness_mm: float | None = None,
    stock: Iterable[StockSize] | None = None,
) -> Sheet:
    """Return a sheet of birch plywood.

    Raises:
        PartError: A thickness is absurd.
    """
    return sheet("birch plywood", nominal_mm=nominal_mm, thickness_mm=thickness_mm, stock=stock)
