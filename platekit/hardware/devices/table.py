"""Devices by name: what the table that ships holds, and tables of the user's own."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import get_args

from platekit.errors import GeometryError, PartError, PlatekitError, UnknownNameError, concerning
from platekit.handbook import Catalogue, Row, TableError, read, read_file, require_columns
from platekit.hardware.devices.device import Device
from platekit.hardware.devices.standing_devices import rectangular_device, round_device
from platekit.hardware.hazards import Hazard, as_hazards
from platekit.hardware.lengths import require_part_mm
from platekit.hardware.metals import Metal

# What a table of devices has; a cell of most may stay empty.
DEVICE_COLUMNS = (
    "designation",
    "width_mm",
    "depth_mm",
    "diameter_mm",
    "height_mm",
    "holes",
    "screw",
    "flange_mm",
    "tapped_mm",
    "spacer_mm",
    "metal",
    "opening_mm",
    "room_mm",
    "doubt",
    "known",
    "source",
)
_METALS: dict[str, Metal] = {name: name for name in get_args(Metal)}


def _device(row: Row) -> Device:
    width_mm, diameter_mm = row.optional_mm("width_mm"), row.optional_mm("diameter_mm")
    if (width_mm is None) == (diameter_mm is None):
        raise row.fault(
            "width_mm",
            "and diameter_mm are both given or both empty",
            remedy="give width_mm and depth_mm of a rectangle, or diameter_mm of a round part",
        )
    try:
        if diameter_mm is not None:
            return _round(row, diameter_mm)
        return _rectangular(row, row.length_mm("width_mm"))
    except (PartError, GeometryError, UnknownNameError) as err:
        raise _as_fault(row, err) from err


def _as_fault(row: Row, err: PlatekitError) -> TableError:
    """Return what is wrong with a part as what is wrong with its row."""
    named = err.feature or err.problem.split()[0]
    column = "screw" if named == "thread" or isinstance(err, UnknownNameError) else named
    problem = err.problem.removeprefix(f"{column} ")
    return row.fault(column, f"of {row.text('designation')}: {problem}", remedy=err.remedy)


def _rectangular(row: Row, width_mm: float) -> Device:
    return rectangular_device(
        row.text("designation"),
        width_mm=width_mm,
        depth_mm=row.length_mm("depth_mm"),
        height_mm=row.length_mm("height_mm"),
        holes=row.points_mm("holes"),
        thread=row.optional_text("screw"),
        flange_mm=row.optional_mm("flange_mm"),
        tapped_mm=row.optional_mm("tapped_mm"),
        spacer_mm=row.optional_mm("spacer_mm") or 0.0,
        metal=_metal(row),
        opening_mm=row.optional_mm("opening_mm") or 0.0,
        bore_mm=_bore_mm(row),
        room_mm=row.optional_mm("room_mm") or 0.0,
        hazards=_hazards(row),
        doubt=row.optional_text("doubt"),
        source=row.source,
    )


def _round(row: Row, diameter_mm: float) -> Device:
    return round_device(
        row.text("designation"),
        diameter_mm=diameter_mm,
        height_mm=row.length_mm("height_mm"),
        holes=row.points_mm("holes"),
        thread=row.optional_text("screw"),
        flange_mm=row.optional_mm("flange_mm"),
        tapped_mm=row.optional_mm("tapped_mm"),
        spacer_mm=row.optional_mm("spacer_mm") or 0.0,
        metal=_metal(row),
        opening_mm=row.optional_mm("opening_mm") or 0.0,
        bore_mm=_bore_mm(row),
        room_mm=row.optional_mm("room_mm") or 0.0,
        hazards=_hazards(row),
        doubt=row.optional_text("doubt"),
        source=row.source,
    )


def _bore_mm(row: Row) -> float:
    """Return what the column `bore_mm` says; a table may do without it."""
    return (row.optional_mm("bore_mm") or 0.0) if "bore_mm" in row.cells else 0.0


def _hazards(row: Row) -> tuple[Hazard, ...]:
    """Return what the column `hazards` says; a user's own table may do without it."""
    said = row.words("hazards") if "hazards" in row.cells else ()
    try:
        return as_hazards(said)
    except UnknownNameError as err:
        raise row.fault("hazards", f"is {'; '.join(said)!r}", remedy=err.remedy) from err


def _metal(row: Row) -> Metal:
    said = row.optional_text("metal") or "steel"
    if said not in _METALS:
        raise row.fault("metal", f"is {said!r}", remedy=f"give one of {', '.join(_METALS)}")
    return _METALS[said]


def _catalogue(rows: tuple[Row, ...]) -> Catalogue[Device]:
    require_columns(rows, DEVICE_COLUMNS)
    return Catalogue.of("device", map(_device, rows), name=lambda part: part.designation)


@cache
def _devices() -> Catalogue[Device]:
    return _catalogue(read("platekit.hardware", "tables/devices.csv"))


def device(designation: str, *, depth_mm: float | None = None) -> Device:
    """Return a part that stands on a plate: ``device("limit switch miniature")``.

    Args:
        designation: As the table has it; case, spaces and dashes do not matter.
        depth_mm: Usable depth of its tapped holes as measured on the part in hand; left out, the
            table's.

    Raises:
        UnknownNameError: The table has no such part; the message lists those it has.
        PartError: It has no tapped holes, or their depth cannot be.
    """
    found = _devices()[designation]
    if depth_mm is None:
        return found
    with concerning(part=found.designation):
        if found.fixing is None or not found.fixing.tapped:
            raise PartError("it has no tapped holes", remedy="leave depth_mm out")
        deep = require_part_mm(depth_mm, "depth_mm")
        return replace(found, fixing=replace(found.fixing, depth_mm=deep))


def known_devices() -> tuple[str, ...]:
    """Return the designations of the table."""
    return tuple(_devices())


def own_devices(path: str | Path) -> Catalogue[Device]:
    """Return the devices of a CSV file of your own: ``own_devices("parts.csv")["my driver"]``.

    Its columns are those of the table that ships: designation; width_mm and depth_mm, or
    diameter_mm; height_mm; holes as "x y; x y" from the middle of the base; screw; flange_mm that
    screws pass through, or tapped_mm, the depth of its own threads; spacer_mm; metal of its
    threads; opening_mm below its middle; room_mm to keep clear; doubt; known ("measured", "looked
    up", "from memory", "common practice", "derived"); source.

    Raises:
        TableError: The file cannot be read, or a value is missing or absurd: the message names
            file, line, column, value and what to give.
    """
    return _catalogue(read_file(path))
