"""Knurled brass inserts, pressed hot into printed plastic.

Not for plywood: it chars before it flows.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from platekit.handbook import Catalogue, Row, read
from platekit.hardware.blocks import Block, cylinder
from platekit.hardware.fasteners.threads import metric_thread
from platekit.hardware.items import Item


@dataclass(frozen=True, slots=True, kw_only=True)
class Insert:
    """A heat-set insert. All lengths in mm; makers differ: check the part in hand.

    Attributes:
        thread: "M3".
        hole_mm: Diameter of the hole it is pressed into.
        outer_mm: Diameter over its knurls.
        length_mm: Its length.
        source: Where the figures come from.
    """

    thread: str
    hole_mm: float
    outer_mm: float
    length_mm: float
    source: str

    def designation(self) -> str:
        """Return what to order: "M3x5.7, hole 4 mm"; there is no standard to name."""
        return f"{self.thread}x{self.length_mm:g}, hole {self.hole_mm:g} mm"

    def item(self, *, quantity: int = 1, note: str = "") -> Item:
        """Return the bill's line: "heat-set insert M3x5.7, hole 4 mm".

        Raises:
            PartError: The quantity is none.
        """
        return Item(f"heat-set insert {self.designation()}", quantity, note)

    def blocks(self) -> tuple[Block, ...]:
        """Return the insert flush with the face z = 0, its bore the thread's diameter.

        It fills its hole; the knurls that sink into the plastic around are left out, so that it
        touches what holds it and claims nothing of it.
        """
        bore_mm = metric_thread(self.thread).nominal_mm
        return (
            cylinder("insert", self.hole_mm, low_mm=-self.length_mm, high_mm=0, bore_mm=bore_mm),
        )


def _insert(row: Row) -> Insert:
    return Insert(
        thread=row.text("thread"),
        hole_mm=row.length_mm("hole_mm"),
        outer_mm=row.length_mm("outer_mm"),
        length_mm=row.length_mm("length_mm"),
        source=row.source,
    )


@cache
def _inserts() -> Catalogue[Insert]:
    rows = read("platekit.hardware", "tables/inserts.csv")
    return Catalogue.of("heat-set insert", map(_insert, rows), name=lambda one: one.thread)


def heat_set_insert(thread: str) -> Insert:
    """Return the insert of a thread: ``heat_set_insert("M3")``.

    Raises:
        UnknownNameError: The table has no such thread; offers the nearest.
    """
    return _inserts()[thread]


def known_heat_set_inserts() -> tuple[str, ...]:
    """Return the threads of the inserts that are known, rising."""
    return tuple(_inserts())
