"""The bill of materials: what to cut, what to buy."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum

from platekit.export.cells import figure_cell, text_cell

COLUMNS = (
    "kind",
    "name",
    "quantity",
    "material",
    "thickness_mm",
    "width_mm",
    "height_mm",
    "note",
)


class BillKind(Enum):
    """What a line of the bill is about; lines are sorted in this order."""

    PART = "part"  # to cut
    SHEET = "sheet"  # to buy, and to cut from
    HARDWARE = "hardware"  # to buy


@dataclass(frozen=True, slots=True, kw_only=True)
class BillLine:
    """One line of the bill.

    Attributes:
        kind: Part, sheet or hardware.
        name: Name of the part or sheet; designation of the hardware item.
        quantity: How many.
        material: What it is made of; empty for hardware.
        thickness_mm: Measured thickness of the sheet, mm; None for hardware.
        size_mm: Width and height, mm; None for hardware.
        note: Anything else worth knowing.
    """

    kind: BillKind
    name: str
    quantity: int
    material: str = ""
    thickness_mm: float | None = None
    size_mm: tuple[float, float] | None = None
    note: str = ""


def merged_bill(lines: Iterable[BillLine]) -> tuple[BillLine, ...]:
    """Return the bill with equal lines added up: parts, then sheets, then hardware, by name."""
    order = {kind: position for position, kind in enumerate(BillKind)}
    totals: dict[tuple[object, ...], list[BillLine]] = {}
    for line in lines:
        key = (line.kind, line.name, line.material, line.thickness_mm, line.size_mm, line.note)
        totals.setdefault(key, []).append(line)
    merged = [
        BillLine(
            kind=same[0].kind,
            name=same[0].name,
            quantity=sum(line.quantity for line in same),
            material=same[0].material,
            thickness_mm=same[0].thickness_mm,
            size_mm=same[0].size_mm,
            note=same[0].note,
        )
        for same in totals.values()
    ]
    return tuple(sorted(merged, key=lambda line: (order[line.kind], _as_read(line.name))))


def bill_csv(lines: Iterable[BillLine]) -> str:
    r"""Return the bill as comma-separated text with one header line, in the order given.

    Lines end in ``\n``, figures have a decimal point, what is not known is an empty cell. Text
    that begins with ``= + - @`` gets an apostrophe in front, lest a spreadsheet run it as a
    formula; numbers never need one here.
    """
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(COLUMNS)
    for line in lines:
        width, height = line.size_mm or (None, None)
        writer.writerow(
            [
                line.kind.value,
                text_cell(line.name),
                line.quantity,
                text_cell(line.material),
                figure_cell(line.thickness_mm),
                figure_cell(width),
                figure_cell(height),
                text_cell(line.note),
            ]
        )
    return stream.getvalue()


def _as_read(name: str) -> list[tuple[int, int, str]]:
    """Return a sort key by which M5 x 8 comes before M5 x 10."""
    words = re.split(r"(\d+)", name)
    return [(0, int(word), "") if word.isdecimal() else (1, 0, word) for word in words]
