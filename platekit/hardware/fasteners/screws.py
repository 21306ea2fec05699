"""One thread size as joints use it: socket head cap screw, hexagon nut, plain washer."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from platekit.errors import PartError
from platekit.handbook import Catalogue
from platekit.hardware.fasteners.clearance import ClearanceFit, clearance_hole_mm
from platekit.hardware.fasteners.nuts import Nut, nut
from platekit.hardware.fasteners.screw_kinds import ScrewKind, known_threads_of, screw_by
from platekit.hardware.fasteners.washers import Washer, washer
from platekit.hardware.items import Item

CAP_SCREWS, FULL_NUTS, PLAIN_WASHERS = "ISO 4762", "ISO 4032", "ISO 7089"


@dataclass(frozen=True, slots=True, kw_only=True)
class Screw:
    """One thread size: screw ISO 4762, nut ISO 4032, washer ISO 7089. All in mm.

    Attributes:
        kind: The screw.
        nut: Its full nut.
        washer: Its plain washer.
    """

    kind: ScrewKind
    nut: Nut
    washer: Washer

    @property
    def thread(self) -> str:
        """Its thread: "M5"."""
        return self.kind.thread

    @property
    def nominal_mm(self) -> float:
        """Diameter of the thread."""
        return self.kind.nominal_mm

    @property
    def pitch_mm(self) -> float:
        """Coarse pitch, ISO 261."""
        return self.kind.pitch_mm

    @property
    def head_diameter_mm(self) -> float:
        """Largest diameter of the plain head."""
        return self.kind.head_diameter_mm

    @property
    def head_height_mm(self) -> float:
        """Largest height of the head."""
        return self.kind.head_height_mm

    @property
    def hex_key_mm(self) -> float:
        """Key for the socket."""
        return self.kind.drive_mm

    @property
    def nut_across_flats_mm(self) -> float:
        """Nominal width of the nut."""
        return self.nut.across_flats_mm

    @property
    def nut_across_corners_mm(self) -> float:
        """Least width of the nut over its corners."""
        return self.nut.across_corners_mm

    @property
    def nut_height_mm(self) -> float:
        """Largest height of the nut."""
        return self.nut.height_mm

    @property
    def washer_inner_mm(self) -> float:
        """Least bore of the washer."""
        return self.washer.inner_mm

    @property
    def washer_outer_mm(self) -> float:
        """Largest diameter of the washer."""
        return self.washer.outer_mm

    @property
    def washer_height_mm(self) -> float:
        """Nominal thickness of the washer."""
        return self.washer.height_mm

    @property
    def lengths_mm(self) -> tuple[float, ...]:
        """Preferred lengths under the head, rising."""
        return self.kind.lengths_mm

    @property
    def source(self) -> str:
        """Where the figures come from."""
        return f"{self.kind.source}; {self.nut.source}; {self.washer.source}"

    def clearance_mm(self, fit: ClearanceFit | str = ClearanceFit.MEDIUM) -> float:
        """Return the diameter, mm, of the hole that lets the screw pass, ISO 273.

        Raises:
            UnknownNameError: `fit` is none of fine, medium, coarse.
        """
        return clearance_hole_mm(self.thread, fit=fit)

    def length_mm(self, *, least_mm: float, most_mm: float = math.inf) -> float:
        """Return the shortest preferred length from `least_mm` to `most_mm`.

        Raises:
            PartError: No preferred length lies there; lists those made.
        """
        return self.kind.length_mm(least_mm=least_mm, most_mm=most_mm)

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

    def item(
        self, *, length_mm: float, quantity: int = 1, note: str = "", property_class: str = "8.8"
    ) -> Item:
        """Return the bill's line for the screw: "screw ISO 4762 M5x20 8.8".

        Raises:
            PartError: `length_mm` is no preferred length, or the quantity is none.
            UnknownNameError: There is no such property class.
        """
        return self.kind.item(
            length_mm, quantity=quantity, note=note, property_class=property_class
        )

    def nut_item(self, *, quantity: int = 1, note: str = "", property_class: str = "8") -> Item:
        """Return the bill's line for its hexagon nut: "nut ISO 4032 M5 8".

        Raises:
            PartError: The quantity is none.
            UnknownNameError: There is no such property class.
        """
        return self.nut.item(quantity=quantity, note=note, property_class=property_class)

    def washer_item(self, *, quantity: int = 1, note: str = "") -> Item:
        """Return the bill's line for its plain washer."""
        return self.washer.item(quantity=quantity, note=note)


@cache
def _screws() -> Catalogue[Screw]:
    sizes = (
        Screw(
            kind=screw_by(CAP_SCREWS, thread),
            nut=nut(FULL_NUTS, thread),
            washer=washer(PLAIN_WASHERS, thread),
        )
        for thread in known_threads_of(CAP_SCREWS)
    )
    return Catalogue.of("screw", sizes, name=lambda entry: entry.thread)


def screw(thread: str) -> Screw:
    """Return the screw of a thread size: ``screw("M5")``.

    Raises:
        UnknownNameError: The table has no such size; the message lists those it has.
    """
    return _screws()[thread]


def known_screws() -> tuple[str, ...]:
    """Return the thread sizes of the table, rising."""
    return tuple(_screws())
