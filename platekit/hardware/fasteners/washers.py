"""Plain washers by standard."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from platekit.handbook import Row, read
from platekit.hardware.blocks import Block, cylinder
from platekit.hardware.items import Item
from platekit.hardware.standards import ByStandard

# Hardness class of both standards' common steel washers; enough beneath screws up to class 8.8.
HARDNESS = "200 HV"


@dataclass(frozen=True, slots=True, kw_only=True)
class Washer:
    """A plain washer. All lengths in mm.

    Attributes:
        standard: "ISO 7089" normal, "ISO 7093-1" large: spares soft plates such as plywood.
        thread: Thread of the screw it is for: "M5".
        inner_mm: Least bore.
        outer_mm: Largest diameter.
        height_mm: Nominal thickness.
        source: Where the figures come from.
    """

    standard: str
    thread: str
    inner_mm: float
    outer_mm: float
    height_mm: float
    source: str

    def designation(self) -> str:
        """Return what to order: "ISO 7089 M5 200 HV"."""
        return f"{self.standard} {self.thread} {HARDNESS}"

    def item(self, *, quantity: int = 1, note: str = "") -> Item:
        """Return the bill's line: "washer ISO 7089 M5 200 HV".

        Raises:
            PartError: The quantity is none.
        """
        return Item(f"washer {self.designation()}", quantity, note)

    def blocks(self) -> tuple[Block, ...]:
        """Return the washer on z = 0."""
        return (
            cylinder(
                "washer", self.outer_mm, low_mm=0, high_mm=self.height_mm, bore_mm=self.inner_mm
            ),
        )


def _washer(row: Row) -> Washer:
    return Washer(
        standard=row.text("standard"),
        thread=row.text("thread"),
        inner_mm=row.length_mm("inner_mm"),
        outer_mm=row.length_mm("outer_mm"),
        height_mm=row.length_mm("height_mm"),
        source=row.source,
    )


@cache
def _washers() -> ByStandard[Washer]:
    rows = read("platekit.hardware", "tables/washers.csv")
    return ByStandard.of("washer", map(_washer, rows), keys=lambda one: (one.standard, one.thread))


def washer(standard: str, thread: str) -> Washer:
    """Return the washer of a standard and a thread: ``washer("ISO 7093-1", "M5")``.

    Raises:
        UnknownNameError: No such standard, or no such thread in it; offers the nearest.
    """
    return _washers().find(standard, thread)


def known_washer_standards() -> tuple[str, ...]:
    """Return the standards of washers that are known."""
    return _washers().standards


def known_washer_threads(standard: str) -> tuple[str, ...]:
    """Return the threads known of a standard of washers, rising.

    Raises:
        UnknownNameError: There is no such standard.
    """
    return _washers().threads(standard)
