"""Socket head cap screws with their hexagon nuts and plain washers."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from platekit.errors import PartError
from platekit.handbook import Catalogue, Row, read
from platekit.hardware.clearance import ClearanceFit, clearance_hole_mm
from platekit.hardware.items import Item


@dataclass(frozen=True, slots=True, kw_only=True)
class Screw:
    """One thread size: screw ISO 4762, nut ISO 4032, washer ISO 7089. All in mm.

    Attributes:
        thread: "M5".
        nominal_mm: Diameter of the thread.
        pitch_mm: Coarse pitch, ISO 261.
        head_diameter_mm: Largest diameter of the plain head.
        head_height_mm: Largest height of the head.
        hex_key_mm: Key for the socket.
        nut_across_flats_mm: Nominal width of the nut.
        nut_across_corners_mm: Least width of the nut over its corners.
        nut_height_mm: Largest height of the nut.
        washer_inner_mm: Least bore of the washer.
        washer_outer_mm: Largest diameter of the washer.
        washer_height_mm: Nominal thickness of the washer.
        lengths_mm: Preferred lengths under the head, rising.
        source: Where the figures come from.
    """

    thread: str
    nominal_mm: float
    pitch_mm: float
    head_diameter_mm: float
    head_height_mm: float
    hex_key_mm: float
    nut_across_flats_mm: float
    nut_across_corners_mm: float
    nut_height_mm: float
    washer_inner_mm: float
    washer_outer_mm: float
    washer_height_mm: float
    lengths_mm: tuple[float, ...]
    source: str

    def clearance_mm(self, fit: ClearanceFit | str = ClearanceFit.MEDIUM) -> float:
        """Return the diameter, mm, of the hole that lets the screw pass, ISO 273.

        Raises:
            UnknownNameError: `fit` is none of fine, medium, coarse.
        """
        return clearance_hole_mm(self.thread, fit=fit)

    def length_mm(self, *, least_mm: float, most_mm: float = math.inf) -> float:
        """Return the shortest preferred length from `least_mm` to `most_mm`.

        Raises:
            PartError: No preferred length lies there; names those next to it.
        """
        if not (math.isfinite(least_mm) and least_mm > 0) or math.isnan(most_mm):
            raise PartError(
                f"length of the {self.thread} screw is asked from {least_mm} to {most_mm} mm",
                remedy="give lengths above 0",
            )
        fitting = [length for length in self.lengths_mm if least_mm <= length <= most_mm]
        if fitting:
            return fitting[0]
        asked = (
            f"{least_mm:.4g} mm or longer"
            if math.isinf(most_mm)
            else (f"{least_mm:.4g} to {most_mm:.4g} mm")
        )
        listed = ", ".join(f"{length:g}" for length in self.lengths_mm)
        raise PartError(
            f"no {self.thread} screw is {asked}",
            remedy=f"change what it grips or add washers; lengths made: {listed} mm",
        )

    def nutted_length_mm(self, *, grip_mm: float, washers: int = 2) -> float:
        """Return the preferred length, mm, that clamps `grip_mm` with washers and a nut.

        The nut is counted at full height and the end shows at least two pitches (common
        practice, no source), so that every thread of the nut carries.

        Args:
            grip_mm: What lies between the washers.
            washers: How many in all.

        Raises:
            PartError: No preferred length is long enough, or the grip is no length.
        """
        if not (math.isfinite(grip_mm) and grip_mm > 0):
            raise PartError(
                f"grip of the {self.thread} screw is {grip_mm} mm", remedy="give a grip above 0"
            )
        stack_mm = grip_mm + washers * self.washer_height_mm + self.nut_height_mm
        return self.length_mm(least_mm=stack_mm + 2 * self.pitch_mm)

    def item(self, *, length_mm: float, quantity: int = 1, note: str = "") -> Item:
        """Return the bill's line for the screw.

        Raises:
            PartError: `length_mm` is no preferred length, or the quantity is none.
        """
        length_mm = self.length_mm(least_mm=length_mm, most_mm=length_mm)
        return Item(f"screw ISO 4762 {self.thread}x{length_mm:g}", quantity, note)

    def nut_item(self, *, quantity: int = 1, note: str = "") -> Item:
        """Return the bill's line for its hexagon nut."""
        return Item(f"nut ISO 4032 {self.thread}", quantity, note)

    def washer_item(self, *, quantity: int = 1, note: str = "") -> Item:
        """Return the bill's line for its plain washer."""
        return Item(f"washer ISO 7089 {self.thread}", quantity, note)


def _screw(row: Row) -> Screw:
    return Screw(
        thread=row.text("thread"),
        nominal_mm=row.length_mm("nominal_mm"),
        pitch_mm=row.length_mm("pitch_mm"),
        head_diameter_mm=row.length_mm("head_diameter_mm"),
        head_height_mm=row.length_mm("head_height_mm"),
        hex_key_mm=row.length_mm("hex_key_mm"),
        nut_across_flats_mm=row.length_mm("nut_across_flats_mm"),
        nut_across_corners_mm=row.length_mm("nut_across_corners_mm"),
        nut_height_mm=row.length_mm("nut_height_mm"),
        washer_inner_mm=row.length_mm("washer_inner_mm"),
        washer_outer_mm=row.length_mm("washer_outer_mm"),
        washer_height_mm=row.length_mm("washer_height_mm"),
        lengths_mm=row.lengths_mm("lengths_mm"),
        source=row.source,
    )


@cache
def _screws() -> Catalogue[Screw]:
    rows = read("platekit.hardware", "tables/screws.csv")
    return Catalogue.of("screw", map(_screw, rows), name=lambda entry: entry.thread)


def screw(thread: str) -> Screw:
    """Return the screw of a thread size: ``screw("M5")``.

    Raises:
        UnknownNameError: The table has no such size; the message lists those it has.
    """
    return _screws()[thread]


def known_screws() -> tuple[str, ...]:
    """Return the thread sizes of the table, rising."""
    return tuple(_screws())
