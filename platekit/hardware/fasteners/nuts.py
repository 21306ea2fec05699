"""Hexagon nuts by standard."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from platekit.handbook import Row, read
from platekit.hardware.blocks import Block, hexagon
from platekit.hardware.fasteners.property_classes import nut_class
from platekit.hardware.fasteners.threads import metric_thread
from platekit.hardware.items import Item
from platekit.hardware.standards import ByStandard


@dataclass(frozen=True, slots=True, kw_only=True)
class Nut:
    """A hexagon nut. All lengths in mm.

    Attributes:
        standard: "ISO 4032" full, "ISO 4035" thin, "ISO 7040" locked by a plastic
            ring, which holds less each time it is undone.
        thread: "M5".
        across_flats_mm: Nominal width.
        across_corners_mm: Least width over its corners.
        height_mm: Largest height, ring included.
        property_class: Class that its bill says unless another is asked. A full nut of class 8
            carries what a screw of class 8.8 does (ISO 898-2); a thin one does not, and says so by
            its leading 0.
        source: Where the figures come from.
    """

    standard: str
    thread: str
    across_flats_mm: float
    across_corners_mm: float
    height_mm: float
    property_class: str
    source: str

    def designation(self, *, property_class: str = "") -> str:
        """Return what to order: "ISO 4032 M5 8".

        Raises:
            UnknownNameError: There is no such property class.
        """
        grade = nut_class(property_class or self.property_class)
        return f"{self.standard} {self.thread} {grade}"

    def item(self, *, quantity: int = 1, note: str = "", property_class: str = "") -> Item:
        """Return the bill's line: "nut ISO 4032 M5 8".

        Raises:
            PartError: The quantity is none.
            UnknownNameError: There is no such property class.
        """
        what = self.designation(property_class=property_class)
        return Item(f"nut {what}", quantity, note)

    def blocks(self) -> tuple[Block, ...]:
        """Return the nut on z = 0; its bore is the thread's diameter, so that a shank touches."""
        bore_mm = metric_thread(self.thread).nominal_mm
        return (
            hexagon("nut", self.across_flats_mm, low_mm=0, high_mm=self.height_mm, bore_mm=bore_mm),
        )


def _nut(row: Row) -> Nut:
    return Nut(
        standard=row.text("standard"),
        thread=row.text("thread"),
        across_flats_mm=row.length_mm("across_flats_mm"),
        across_corners_mm=row.length_mm("across_corners_mm"),
        height_mm=row.length_mm("height_mm"),
        property_class=nut_class(row.text("property_class")),
        source=row.source,
    )


@cache
def _nuts() -> ByStandard[Nut]:
    rows = read("platekit.hardware", "tables/nuts.csv")
    return ByStandard.of("nut", map(_nut, rows), keys=lambda one: (one.standard, one.thread))


def nut(standard: str, thread: str) -> Nut:
    """Return the nut of a standard and a thread: ``nut("ISO 4035", "M5")``.

    Raises:
        UnknownNameError: No such standard, or no such thread in it; offers the nearest.
    """
    return _nuts().find(standard, thread)


def known_nut_standards() -> tuple[str, ...]:
    """Return the standards of nuts that are known."""
    return _nuts().standards


def known_nut_threads(standard: str) -> tuple[str, ...]:
    """Return the threads known of a standard of nuts, rising.

    Raises:
        UnknownNameError: There is no such standard.
    """
    return _nuts().threads(standard)
