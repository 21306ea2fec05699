"""Clearance holes for screws, ISO 273."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from functools import cache

from platekit.errors import UnknownNameError
from platekit.handbook import Catalogue, read


class ClearanceFit(Enum):
    """How freely a screw passes its hole, ISO 273."""

    FINE = "fine"
    MEDIUM = "medium"
    COARSE = "coarse"


@dataclass(frozen=True, slots=True, kw_only=True)
class ClearanceRow:
    """One line of ISO 273, mm."""

    thread: str
    fine_mm: float
    medium_mm: float
    coarse_mm: float
    source: str

    def diameter_mm(self, fit: ClearanceFit | str) -> float:
        """Return the hole diameter, mm, for `fit`.

        Raises:
            UnknownNameError: `fit` is none of fine, medium, coarse.
        """
        match clearance_fit(fit):
            case ClearanceFit.FINE:
                return self.fine_mm
            case ClearanceFit.MEDIUM:
                return self.medium_mm
            case ClearanceFit.COARSE:
                return self.coarse_mm


def clearance_fit(fit: ClearanceFit | str) -> ClearanceFit:
    """Return `fit`, given as one or by name.

    Raises:
        UnknownNameError: It is none of fine, medium, coarse.
    """
    if isinstance(fit, ClearanceFit):
        return fit
    names = [known.value for known in ClearanceFit]
    said = str(fit).strip().casefold()
    if said not in names:
        raise UnknownNameError.among("clearance fit", fit, names)
    return ClearanceFit(said)


@cache
def clearance_rows() -> Catalogue[ClearanceRow]:
    """Return ISO 273 as it ships."""
    rows = (
        ClearanceRow(
            thread=row.text("thread"),
            fine_mm=row.length_mm("fine_mm"),
            medium_mm=row.length_mm("medium_mm"),
            coarse_mm=row.length_mm("coarse_mm"),
            source=row.source,
        )
        for row in read("platekit.hardware", "tables/clearance_holes.csv")
    )
    return Catalogue.of("thread", rows, name=lambda row: row.thread)


def clearance_hole_mm(thread: str, *, fit: ClearanceFit | str = ClearanceFit.MEDIUM) -> float:
    """Return the diameter, mm, of the hole that lets `thread` pass.

    Raises:
        UnknownNameError: ISO 273 as typed here has no such thread, or there is no such fit.

    Source:
        ISO 273:1979, fine H12, medium H13, coarse H14.
    """
    return clearance_rows()[thread].diameter_mm(fit)


def known_clearance_threads() -> tuple[str, ...]:
    """Return the threads whose clearance holes are known."""
    return tuple(clearance_rows())
