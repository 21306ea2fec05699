"""Sheets with parts on them, as the files of a job show them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from platekit.export.sheet_table import SheetLine
from platekit.nesting import NestedSheet


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidSheet:
    """A nested sheet, and what is known of the sheet itself.

    Attributes:
        nested: What lies on it.
        kind: What it is cut from, in words; empty where nobody says.
        material: Its material; empty where nobody says.
        thickness_mm: How thick it measures; None where nobody says.
        kerf_mm: Width of the cut; None where outlines are cut as given.
    """

    nested: NestedSheet
    kind: str = ""
    material: str = ""
    thickness_mm: float | None = None
    kerf_mm: float | None = None


def sheet_lines(sheets: Iterable[LaidSheet]) -> list[SheetLine]:
    """Return the table of the sheets: how full each is, what it costs, what is left."""
    return [
        SheetLine(
            number=number,
            nested=one.nested,
            material=one.material,
            thickness_mm=one.thickness_mm,
        )
        for number, one in enumerate(sheets, start=1)
    ]
