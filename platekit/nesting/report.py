"""A nesting as plain data, ready for JSON."""

from __future__ import annotations

from typing import Any

from platekit.nesting.values import Nest, NestedSheet, Stock


def report(nest: Nest, *, seconds: float) -> dict[str, Any]:
    """Return `nest` as dicts and lists.

    A placed outline is the given one, mirrored first (x changes sign) where it says so, turned by
    ``rotation_deg`` counter-clockwise about its own origin, then moved by ``(x_mm, y_mm)``.
    Numbers are given in full: rounding belongs to files for machines that ask for it, and a
    rounded place may no longer keep its gap.

    Args:
        nest: The nesting.
        seconds: How long it took.
    """
    return {
        "sheets": sheets_report(nest),
        "unplaced": [
            {"part": entry.part, "copy": entry.copy, "reason": entry.reason}
            for entry in nest.unplaced
        ],
        "seconds": seconds,
    }


def sheets_report(nest: Nest) -> list[dict[str, Any]]:
    """Return the sheets alone, as `report` gives them."""
    return [_sheet(sheet) for sheet in nest.sheets]


def _sheet(sheet: NestedSheet) -> dict[str, Any]:
    said: dict[str, Any] = {}
    if isinstance(sheet.stock, Stock) and sheet.stock.name:
        said["stock"] = sheet.stock.name
    if sheet.material:
        said["material"] = sheet.material
    if sheet.thickness_mm is not None:
        said["thickness_mm"] = sheet.thickness_mm
    if sheet.offcuts:
        box = max(sheet.offcuts, key=lambda offcut: offcut.area_mm2).bounds
        said["offcut_mm"] = [box.width_mm, box.height_mm]
    return {
        **said,
        "size_mm": [sheet.width_mm, sheet.height_mm],
        "used_length_mm": sheet.used_length_mm,
        "utilisation": sheet.utilisation,
        "placements": [
            {
                "part": placement.part,
                "copy": placement.copy,
                "x_mm": placement.x_mm,
                "y_mm": placement.y_mm,
                "rotation_deg": placement.rotation_deg,
                **({"mirrored": True} if placement.mirrored else {}),
            }
            for placement in sheet.placements
        ],
    }
