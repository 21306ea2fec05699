"""Nested sheets of two builds: how many of which, how well filled."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from platekit.export.build import SheetRecord
from platekit.export.figures import format_mm
from platekit.job.comparing.values import SAME_MM, Change

SAME_SHARE = 1e-6


def changed_sheets(old: Sequence[SheetRecord], new: Sequence[SheetRecord]) -> tuple[Change, ...]:
    """Return how the sheets of two builds differ: their number, of each kind, and their filling.

    A kind is a stock's name, or material and size. The thickness tells kinds apart only where a
    build has one material in several.
    """
    return tuple(_changes(old, new))


def _changes(old: Sequence[SheetRecord], new: Sequence[SheetRecord]) -> Iterator[Change]:
    if len(old) != len(new):
        yield Change(name="sheets", old=len(old), new=len(new))
    by_thickness = _several(old) | _several(new)
    were, are = (Counter(_kind(one, by_thickness) for one in some) for some in (old, new))
    if len(were | are) > 1:
        for kind in dict.fromkeys([*were, *are]):
            if were[kind] != are[kind]:
                yield Change(name=f"sheets of {kind}", old=were[kind], new=are[kind])
    was, now = _filled(old), _filled(new)
    if abs(was - now) > SAME_SHARE:
        yield Change(name="filled", old=100 * was, new=100 * now, unit="%")
    used, uses = (sum(one.used_length_mm for one in some) for some in (old, new))
    if abs(used - uses) > SAME_MM:
        yield Change(name="length used", old=used, new=uses, unit="mm")


def _filled(sheets: Sequence[SheetRecord]) -> float:
    """Return which share of all the sheets together is parts."""
    areas = [one.size_mm[0] * one.size_mm[1] for one in sheets]
    whole = sum(areas)
    if whole == 0.0:
        return 0.0
    return sum(a * one.utilisation for a, one in zip(areas, sheets, strict=True)) / whole


def _several(sheets: Sequence[SheetRecord]) -> set[str]:
    """Return the materials that come in several thicknesses."""
    kinds = {(one.material, one.thickness_mm) for one in sheets}
    return {name for name, count in Counter(name for name, _ in kinds).items() if count > 1}


def _kind(sheet: SheetRecord, by_thickness: set[str]) -> str:
    width, height = (format_mm(side, decimals=2) for side in sheet.size_mm)
    thick = ""
    if sheet.material in by_thickness and sheet.thickness_mm is not None:
        thick = f"{format_mm(sheet.thickness_mm, decimals=3)} mm"
    words = (sheet.stock, sheet.material, thick, f"{width} x {height} mm")
    return " ".join(word for word in words if word)
