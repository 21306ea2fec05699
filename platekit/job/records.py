"""Records of runs read back: ``build.json`` as a value again.

Such a file may come from anybody and by any way, so nothing in it is trusted: not its figures,
not its depth, not the names that will become files. Every message names the file and the field.
"""

from __future__ import annotations

import math
import stat
from collections.abc import Callable, Iterator
from contextlib import suppress
from fractions import Fraction
from pathlib import Path
from typing import Any, TypeVar

from platekit.errors import GeometryError, NestingError, PartError
from platekit.export.bill import BillKind, BillLine
from platekit.export.build import (
    BeamInput,
    BuildRecord,
    FileRecord,
    Inputs,
    PartRecord,
    PlacementRecord,
    SheetInput,
    SheetRecord,
)
from platekit.export.pathread import profile_read
from platekit.findings import Finding, Severity
from platekit.geometry.profile import Profile
from platekit.job.run import RECORD
from platekit.nesting.json_entry import Entry, kind, parsed, read_text, short
from platekit.panel.part import require_safe_name

# A large rig writes a tenth of a megabyte; a file far beyond that is none of ours.
LARGEST_FILE_BYTES = 64_000_000
LARGEST_FIGURE = 1e12
MOST_ENTRIES = 10_000  # of one list
MOST_COPIES = 1_000_000
MOST_SEGMENTS = 20_000  # of one part
DEEPEST = 8  # parameters are lists of figures at most, stock lists in an object
LONGEST_NAME = 200

_WHAT = "a build.json, or the folder that holds one"
_AGAIN = "make the build again with this version of platekit"

T = TypeVar("T")


def read_record(path: Path) -> BuildRecord:
    """Return the record that ``platekit make`` left, but for its order of assembly.

    Args:
        path: A build.json, under whatever name, or the folder that holds one.

    Raises:
        NestingError: The file is missing, cannot be read, is no JSON, or says something that no
            record of a build says.
    """
    file = path
    with suppress(OSError):  # what cannot be looked at cannot be read either, which is said below
        file = path / RECORD if path.is_dir() else path
        about = file.stat()
        if not stat.S_ISREG(about.st_mode):  # a device may never end
            raise NestingError(f"{file}: is no file", remedy=f"give {_WHAT}")
        if about.st_size > LARGEST_FILE_BYTES:
            raise NestingError(f"{file}: is larger than any build.json", remedy=f"give {_WHAT}")
    return parse_record(read_text(file, what=_WHAT), source=str(file))


def parse_record(text: str, *, source: str) -> BuildRecord:
    """Return the record written in `text`; `source` is what messages call it.

    Raises:
        NestingError: As `read_record`.
    """
    whole = parsed(text, source=source, what=_WHAT)
    if "platekit" not in whole.data or "recipe" not in whole.data:
        nest = "parts_lists" in whole.data
        whole.fail(
            "",
            "is the record of a nesting, not of a recipe" if nest else "is no record of a build",
            f"give {_WHAT}, as platekit make writes it",
        )
    return BuildRecord(
        platekit=_text(whole, "platekit"),
        recipe=_recipe(whole),
        inputs=_inputs(_inner(whole, "inputs")),
        parts=_parts(whole),
        sheets=tuple(map(_sheet, _entries(whole, "sheets"))),
        bill_of_materials=tuple(map(_bill_line, _entries(whole, "bill_of_materials"))),
        findings=tuple(map(_finding, _entries(whole, "findings"))),
        files=tuple(
            FileRecord(path=_text(one, "path"), sha256=_text(one, "sha256"))
            for one in _entries(whole, "files")
        ),
    )


def _inputs(entry: Entry) -> Inputs:
    sheet, beam = _inner(entry, "sheet"), _inner(entry, "beam")
    return Inputs(
        sheet=SheetInput(
            material=_text(sheet, "material"),
            nominal_mm=_figure(sheet, "nominal_mm"),
            thickness_mm=_figure(sheet, "thickness_mm"),
        ),
        beam=BeamInput(kerf_mm=_figure(beam, "kerf_mm"), source=_text(beam, "source")),
        parameters=_mapping(entry, "parameters"),
        cutting=_mapping(entry, "cutting"),
        nesting=_mapping(entry, "nesting"),
    )


def _parts(whole: Entry) -> tuple[PartRecord, ...]:
    parts: dict[str, PartRecord] = {}
    for entry in _entries(whole, "parts"):
        part = _part(entry)
        if part.name.casefold() in parts:  # their pictures would be one file on some disks
            entry.fail("name", f"is {short(part.name)} once more", "give every part its own name")
        parts[part.name.casefold()] = part
    return tuple(parts.values())


def _part(entry: Entry) -> PartRecord:
    name = _text(entry, "name")
    try:
        require_safe_name(name)  # it becomes the name of a file
    except PartError as err:
        entry.fail("name", f"is {short(name)}", err.remedy)
    entry = Entry(entry.source, name, entry.data)
    return PartRecord(
        name=name,
        quantity=_count(entry, "quantity"),
        material=_text(entry, "material"),
        thickness_mm=_figure(entry, "thickness_mm"),
        size_mm=_pair(entry, "size_mm"),
        area_mm2=_figure(entry, "area_mm2"),
        cut_length_mm=_figure(entry, "cut_length_mm"),
        contours=_count(entry, "contours"),
        profile=_profile(entry),
    )


def _profile(entry: Entry) -> Profile:
    if "outline" not in entry.data:
        entry.fail("outline", "is missing", _AGAIN)
    rings = _listed(entry, "outline")
    for ring in rings:
        if not isinstance(ring, str):
            entry.fail("outline", f"holds {kind(ring)}", "give every ring as a text")
    try:
        profile = profile_read(rings)
    except GeometryError as err:
        entry.fail("outline", f"is no outline: {err.problem}", err.remedy or _AGAIN)
    if len(profile.table) > MOST_SEGMENTS:
        entry.fail("outline", f"has {len(profile.table)} segments", f"give {MOST_SEGMENTS} at most")
    return profile


def _sheet(entry: Entry) -> SheetRecord:
    return SheetRecord(
        size_mm=_pair(entry, "size_mm"),
        used_length_mm=_figure(entry, "used_length_mm"),
        utilisation=_figure(entry, "utilisation"),
        placements=tuple(map(_placement, _entries(entry, "placements"))),
        stock=_text(entry, "stock") if "stock" in entry.data else "",
        material=_text(entry, "material") if "material" in entry.data else "",
        thickness_mm=_maybe(entry, "thickness_mm", _figure),
        offcut_mm=_maybe(entry, "offcut_mm", _pair),
    )


def _placement(entry: Entry) -> PlacementRecord:
    return PlacementRecord(
        part=_text(entry, "part"),
        copy=_count(entry, "copy"),
        x_mm=_figure(entry, "x_mm", least=-LARGEST_FIGURE),
        y_mm=_figure(entry, "y_mm", least=-LARGEST_FIGURE),
        rotation_deg=_figure(entry, "rotation_deg", least=-LARGEST_FIGURE),
        mirrored=entry.flag("mirrored"),
    )


def _bill_line(entry: Entry) -> BillLine:
    said = _text(entry, "kind")
    kinds = {one.value: one for one in BillKind}
    if said not in kinds:
        entry.fail("kind", f"is {short(said)}", f"give one of {', '.join(kinds)}")
    quantity = _count(entry, "quantity")
    total = _maybe(entry, "price_total", _figure)
    return BillLine(
        kind=kinds[said],
        name=_text(entry, "name"),
        quantity=quantity,
        material=_text(entry, "material"),
        thickness_mm=_maybe(entry, "thickness_mm", _figure),
        size_mm=_maybe(entry, "size_mm", _pair),
        note=_text(entry, "note"),
        # The total is what sums are made of: the price of one may have been rounded.
        price_each=None if total is None else Fraction(repr(total)) / quantity,
    )


def _finding(entry: Entry) -> Finding:
    said = _text(entry, "severity")
    severities = {one.name.lower(): one for one in Severity}
    if said not in severities:
        entry.fail("severity", f"is {short(said)}", f"give one of {', '.join(severities)}")
    return Finding(
        severity=severities[said],
        part=_text(entry, "part"),
        feature=_text(entry, "feature"),
        measure=_text(entry, "measure"),
        value=_maybe(entry, "value", _signed),
        limit=_maybe(entry, "limit", _signed),
        unit=_text(entry, "unit"),
        source=_text(entry, "source"),
        remedy=_text(entry, "remedy"),
    )


def _recipe(whole: Entry) -> str:
    """Return the recipe's name, which becomes that of a folder."""
    name = _text(whole, "recipe")
    wrong = not name.strip(" .") or name.startswith(".") or set(name) & set('/\\:*?"<>|')
    if wrong or len(name) > LONGEST_NAME:
        whole.fail("recipe", f"is {short(name)}", "give the name of a recipe, not a path")
    return name


def _inner(entry: Entry, field: str) -> Entry:
    if field not in entry.data:
        entry.fail(field, "is missing", _AGAIN)
    return Entry(entry.source, " / ".join(filter(None, (entry.name, field))), entry.data[field])


def _listed(entry: Entry, field: str) -> list[Any]:
    found = entry.listed(field)
    if len(found) > MOST_ENTRIES:
        entry.fail(field, f"has {len(found)} entries", f"give {MOST_ENTRIES} at most")
    return found


def _entries(entry: Entry, field: str) -> Iterator[Entry]:
    where = f"{entry.name} / {field}" if entry.name else field
    for number, said in enumerate(_listed(entry, field), start=1):
        yield Entry(entry.source, f"{where} {number}", said)


def _text(entry: Entry, field: str) -> str:
    """Return a text as it stands; signs that would steer a terminal are refused."""
    if field not in entry.data:
        entry.fail(field, "is missing", _AGAIN)
    value = entry.data[field]
    if not isinstance(value, str):
        entry.fail(field, f"is {kind(value)}", 'give a text in ""')
    _require_printable(entry, field, value)
    return value


def _require_printable(entry: Entry, field: str, value: str) -> None:
    if not value.replace("\n", " ").isprintable():
        entry.fail(field, f"is {short(value)}", "leave out signs that cannot be printed")


def _figure(entry: Entry, field: str, *, least: float = 0.0) -> float:
    if field not in entry.data:
        entry.fail(field, "is missing", _AGAIN)
    value = entry.data[field]
    if isinstance(value, bool) or not isinstance(value, int | float):
        entry.fail(field, f"holds {kind(value)}", "give a number")
    if not least <= value <= LARGEST_FIGURE:
        entry.fail(
            field, f"holds {short(value)}", f"give a number from {least:g} to {LARGEST_FIGURE:g}"
        )
    return float(value)


def _signed(entry: Entry, field: str) -> float:
    return _figure(entry, field, least=-LARGEST_FIGURE)


def _count(entry: Entry, field: str) -> int:
    if field not in entry.data:
        entry.fail(field, "is missing", _AGAIN)
    return entry.whole(field, entry.data[field], least=1, most=MOST_COPIES)


def _pair(entry: Entry, field: str) -> tuple[float, float]:
    said = entry.listed(field)
    if len(said) != 2:
        entry.fail(field, f"is {short(said)}", "give [width, height]")
    width, height = (_figure(Entry(entry.source, entry.name, {field: one}), field) for one in said)
    return width, height


def _maybe(entry: Entry, field: str, read: Callable[[Entry, str], T]) -> T | None:
    return read(entry, field) if entry.says(field) else None


def _mapping(entry: Entry, field: str) -> dict[str, object]:
    """Return plain values by name, none of them endless, huge or nested beyond reason."""
    said = _inner(entry, field).data
    _require_plain(entry, field, said, depth=0)
    return dict(said)


def _require_plain(entry: Entry, field: str, value: object, *, depth: int) -> None:
    if depth > DEEPEST:
        entry.fail(field, "is nested too deeply", f"nest {DEEPEST} levels at most")
    if isinstance(value, str):
        _require_printable(entry, field, value)
    elif isinstance(value, int | float):
        if not abs(value) <= LARGEST_FIGURE:
            endless = isinstance(value, float) and not math.isfinite(value)
            said = "an endless number" if endless else short(value)
            entry.fail(field, f"holds {said}", f"give numbers within {LARGEST_FIGURE:g}")
    elif isinstance(value, dict | list):
        if len(value) > MOST_ENTRIES:
            entry.fail(field, f"has {len(value)} entries", f"give {MOST_ENTRIES} at most")
        for one in value:
            _require_plain(entry, field, one, depth=depth + 1)
        if isinstance(value, dict):
            for one in value.values():
                _require_plain(entry, field, one, depth=depth + 1)
