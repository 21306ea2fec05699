"""Screws by standard: what their heads fill, what turns them, the lengths they are made in."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Literal

from platekit.handbook import Catalogue, Row, read
from platekit.hardware.blocks import Block, cylinder, hexagon
from platekit.hardware.fasteners.property_classes import screw_class
from platekit.hardware.fasteners.screw_lengths import length_between, lengths_from_to_mm
from platekit.hardware.fasteners.threads import metric_thread
from platekit.hardware.items import Item
from platekit.hardware.standards import ByStandard

Drive = Literal["hex socket", "hexagon"]
# Corner to corner over flat to flat of a hexagon.
CORNERS = 2 / math.sqrt(3)


@dataclass(frozen=True, slots=True, kw_only=True)
class ScrewKind:
    """Screws of one standard and one thread, in all their lengths.

    Attributes:
        standard: "ISO 4762".
        thread: "M5".
        form: Form of the head: "socket cap", "button", "countersunk", "hexagon".
        flush: Whether the head lies within what it holds; its length counts the head then.
        drive: What turns it: a "hex socket" in the head, or the head itself, a "hexagon".
        drive_mm: Size of key or wrench: width across flats.
        head_diameter_mm: Largest diameter of the head, over the corners of a hexagon; of a
            countersunk head that of its sharp edge.
        head_height_mm: Height of the head; largest, of a hexagon nominal.
        property_class: Class that its bill says unless another is asked: "8.8".
        lengths_mm: Preferred lengths, rising, as the standard counts them.
        source: Where the figures come from.
    """

    standard: str
    thread: str
    form: str
    flush: bool
    drive: Drive
    drive_mm: float
    head_diameter_mm: float
    head_height_mm: float
    property_class: str
    lengths_mm: tuple[float, ...]
    source: str

    @property
    def nominal_mm(self) -> float:
        """Diameter of the thread."""
        return metric_thread(self.thread).nominal_mm

    @property
    def pitch_mm(self) -> float:
        """Pitch of the thread."""
        return metric_thread(self.thread).pitch_mm

    def length_mm(self, *, least_mm: float, most_mm: float = math.inf) -> float:
        """Return the shortest preferred length from `least_mm` to `most_mm`.

        Raises:
            PartError: No preferred length lies there; lists those made.
        """
        what = f"{self.standard} {self.thread} screw"
        return length_between(self.lengths_mm, what=what, least_mm=least_mm, most_mm=most_mm)

    def designation(self, length_mm: float, *, property_class: str = "") -> str:
        """Return what to order: "ISO 4762 M5x20 8.8".

        Args:
            length_mm: One of the preferred lengths.
            property_class: Left out, the one the standard's screws are commonly sold in.

        Raises:
            PartError: `length_mm` is no preferred length.
            UnknownNameError: There is no such property class.
        """
        length_mm = self.length_mm(least_mm=length_mm, most_mm=length_mm)
        grade = screw_class(property_class or self.property_class)
        return f"{self.standard} {self.thread}x{length_mm:g} {grade}"

    def item(
        self, length_mm: float, *, quantity: int = 1, note: str = "", property_class: str = ""
    ) -> Item:
        """Return the bill's line: "screw ISO 4762 M5x20 8.8".

        Raises:
            PartError: `length_mm` is no preferred length, or the quantity is none.
            UnknownNameError: There is no such property class.
        """
        what = self.designation(length_mm, property_class=property_class)
        return Item(f"screw {what}", quantity, note)

    def blocks(self, length_mm: float) -> tuple[Block, ...]:
        """Return head and shank on the face z = 0 that the head bears on, or is flush with.

        The shank is as thick as its thread, down to -`length_mm`. A round head is the cylinder
        around it, a countersunk one too: more than it fills, never less.

        Raises:
            PartError: `length_mm` is no preferred length.
        """
        length_mm = self.length_mm(least_mm=length_mm, most_mm=length_mm)
        low_mm, high_mm = (-self.head_height_mm, 0.0) if self.flush else (0.0, self.head_height_mm)
        if self.drive == "hexagon":
            head = hexagon("head", self.drive_mm, low_mm=low_mm, high_mm=high_mm)
        else:
            head = cylinder("head", self.head_diameter_mm, low_mm=low_mm, high_mm=high_mm)
        under_mm = min(low_mm, 0.0)
        return head, cylinder("shank", self.nominal_mm, low_mm=-length_mm, high_mm=under_mm)


def _standards() -> Catalogue[Row]:
    rows = read("platekit.hardware", "tables/screw_standards.csv")
    return Catalogue.of("standard of a screw", rows, name=lambda row: row.text("standard"))


def _drive(row: Row) -> Drive:
    match row.text("drive"):
        case "hex socket":
            return "hex socket"
        case "hexagon":
            return "hexagon"
        case other:
            raise row.fault("drive", f"is {other!r}", remedy="give hex socket or hexagon")


def _socket_screws(standards: Catalogue[Row]) -> Iterator[ScrewKind]:
    for row in read("platekit.hardware", "tables/screws.csv"):
        about = standards[row.text("standard")]
        yield ScrewKind(
            standard=row.text("standard"),
            thread=row.text("thread"),
            form=about.text("form"),
            flush=about.flag("flush"),
            drive=_drive(about),
            drive_mm=row.length_mm("drive_mm"),
            head_diameter_mm=row.length_mm("head_diameter_mm"),
            head_height_mm=row.length_mm("head_height_mm"),
            property_class=screw_class(about.text("property_class")),
            lengths_mm=lengths_from_to_mm(
                row.length_mm("shortest_mm"), row.length_mm("longest_mm")
            ),
            source=f"{row.source}; {about.source}",
        )


def _hexagon_screws(standards: Catalogue[Row]) -> Iterator[ScrewKind]:
    """Yield ISO 4017 and ISO 4014: one head, other lengths."""
    columns = {"ISO 4017": ("shortest_mm", "longest_mm")}
    columns["ISO 4014"] = ("shortest_shank_mm", "longest_shank_mm")
    for row in read("platekit.hardware", "tables/hexagon_heads.csv"):
        for standard, (shortest, longest) in columns.items():
            about = standards[standard]
            yield ScrewKind(
                standard=standard,
                thread=row.text("thread"),
                form=about.text("form"),
                flush=about.flag("flush"),
                drive=_drive(about),
                drive_mm=row.length_mm("across_flats_mm"),
                head_diameter_mm=row.length_mm("across_flats_mm") * CORNERS,
                head_height_mm=row.length_mm("height_mm"),
                property_class=screw_class(about.text("property_class")),
                lengths_mm=lengths_from_to_mm(row.length_mm(shortest), row.length_mm(longest)),
                source=f"{row.source}; {about.source}",
            )


@cache
def _screws() -> ByStandard[ScrewKind]:
    standards = _standards()
    kinds = [*_socket_screws(standards), *_hexagon_screws(standards)]
    return ByStandard.of("screw", kinds, keys=lambda kind: (kind.standard, kind.thread))


def screw_by(standard: str, thread: str) -> ScrewKind:
    """Return the screws of a standard and a thread: ``screw_by("ISO 7380-1", "M5")``.

    Raises:
        UnknownNameError: No such standard, or no such thread in it; offers the nearest.
    """
    return _screws().find(standard, thread)


def known_screw_standards() -> tuple[str, ...]:
    """Return the standards of screws that are known."""
    return _screws().standards


def known_threads_of(standard: str) -> tuple[str, ...]:
    """Return the threads known of a standard of screws, rising.

    Raises:
        UnknownNameError: There is no such standard.
    """
    return _screws().threads(standard)
