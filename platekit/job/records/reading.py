"""Records of runs read back: ``build.json`` as a value again.

Such a file may come from anybody and by any way, so nothing in it is trusted: not its figures,
not its depth, not the names that will become files. Every message names the file and the field.
"""

from __future__ import annotations

import stat
from contextlib import suppress
from fractions import Fraction
from pathlib import Path

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
from platekit.export.money import EACH_DECIMALS, TOTAL_DECIMALS
from platekit.export.pathread import profile_read
from platekit.geometry.profile import Profile
from platekit.job.records.assembly import assembly_of
from platekit.job.records.checks import checks_of, finding_of
from platekit.job.records.fields import (
    AGAIN,
    LARGEST_FIGURE,
    count_of,
    entries_of,
    figure_of,
    inner_of,
    list_of,
    mapping_of,
    maybe,
    pair_of,
    text_of,
)
from platekit.job.run import RECORD
from platekit.nesting.json_entry import Entry, kind, parsed, read_text, short
from platekit.panel.part import require_safe_name

# A large rig writes a tenth of a megabyte; a file far beyond that is none of ours.
LARGEST_FILE_BYTES = 64_000_000
MOST_SEGMENTS = 20_000  # of one part
LONGEST_NAME = 200

_WHAT = "a build.json, or the folder that holds one"


def read_record(path: Path) -> BuildRecord:
    """Return the record that ``platekit make`` left.

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
        platekit=text_of(whole, "platekit"),
        recipe=_recipe(whole),
        inputs=_inputs(inner_of(whole, "inputs")),
        parts=_parts(whole),
        sheets=tuple(map(_sheet, entries_of(whole, "sheets"))),
        bill_of_materials=tuple(map(_bill_line, entries_of(whole, "bill_of_materials"))),
        findings=tuple(map(finding_of, entries_of(whole, "findings"))),
        checks=maybe(whole, "checks", checks_of),
        assembly=maybe(whole, "assembly", assembly_of),
        files=tuple(
            FileRecord(path=text_of(one, "path"), sha256=text_of(one, "sha256"))
            for one in entries_of(whole, "files")
        ),
    )


def _inputs(entry: Entry) -> Inputs:
    sheet, beam = inner_of(entry, "sheet"), inner_of(entry, "beam")
    return Inputs(
        sheet=SheetInput(
            material=text_of(sheet, "material"),
            nominal_mm=figure_of(sheet, "nominal_mm"),
            thickness_mm=figure_of(sheet, "thickness_mm"),
        ),
        beam=BeamInput(kerf_mm=figure_of(beam, "kerf_mm"), source=text_of(beam, "source")),
        parameters=mapping_of(entry, "parameters"),
        cutting=mapping_of(entry, "cutting"),
        nesting=mapping_of(entry, "nesting"),
    )


def _parts(whole: Entry) -> tuple[PartRecord, ...]:
    parts: dict[str, PartRecord] = {}
    for entry in entries_of(whole, "parts"):
        part = _part(entry)
        if part.name.casefold() in parts:  # their pictures would be one file on some disks
            entry.fail("name", f"is {short(part.name)} once more", "give every part its own name")
        parts[part.name.casefold()] = part
    return tuple(parts.values())


def _part(entry: Entry) -> PartRecord:
    name = text_of(entry, "name")
    try:
        require_safe_name(name)  # it becomes the name of a file
    except PartError as err:
        entry.fail("name", f"is {short(name)}", err.remedy)
    entry = Entry(entry.source, name, entry.data)
    return PartRecord(
        name=name,
        quantity=count_of(entry, "quantity"),
        material=text_of(entry, "material"),
        thickness_mm=figure_of(entry, "thickness_mm"),
        size_mm=pair_of(entry, "size_mm"),
        area_mm2=figure_of(entry, "area_mm2"),
        cut_length_mm=figure_of(entry, "cut_length_mm"),
        contours=count_of(entry, "contours"),
        profile=_profile(entry),
    )


def _profile(entry: Entry) -> Profile:
    if "outline" not in entry.data:
        entry.fail("outline", "is missing", AGAIN)
    rings = list_of(entry, "outline")
    for ring in rings:
        if not isinstance(ring, str):
            entry.fail("outline", f"holds {kind(ring)}", "give every ring as a text")
    try:
        profile = profile_read(rings)
    except GeometryError as err:
        entry.fail("outline", f"is no outline: {err.problem}", err.remedy or AGAIN)
    if len(profile.table) > MOST_SEGMENTS:
        entry.fail("outline", f"has {len(profile.table)} segments", f"give {MOST_SEGMENTS} at most")
    return profile


def _sheet(entry: Entry) -> SheetRecord:
    return SheetRecord(
        size_mm=pair_of(entry, "size_mm"),
        used_length_mm=figure_of(entry, "used_length_mm"),
        utilisation=figure_of(entry, "utilisation"),
        placements=tuple(map(_placement, entries_of(entry, "placements"))),
        stock=text_of(entry, "stock") if "stock" in entry.data else "",
        material=text_of(entry, "material") if "material" in entry.data else "",
        thickness_mm=maybe(entry, "thickness_mm", figure_of),
        offcut_mm=maybe(entry, "offcut_mm", pair_of),
    )


def _placement(entry: Entry) -> PlacementRecord:
    return PlacementRecord(
        part=text_of(entry, "part"),
        copy=count_of(entry, "copy"),
        x_mm=figure_of(entry, "x_mm", least=-LARGEST_FIGURE),
        y_mm=figure_of(entry, "y_mm", least=-LARGEST_FIGURE),
        rotation_deg=figure_of(entry, "rotation_deg", least=-LARGEST_FIGURE),
        mirrored=entry.flag("mirrored"),
    )


def _bill_line(entry: Entry) -> BillLine:
    said = text_of(entry, "kind")
    kinds = {one.value: one for one in BillKind}
    if said not in kinds:
        entry.fail("kind", f"is {short(said)}", f"give one of {', '.join(kinds)}")
    quantity = count_of(entry, "quantity")
    return BillLine(
        kind=kinds[said],
        name=text_of(entry, "name"),
        quantity=quantity,
        material=text_of(entry, "material"),
        thickness_mm=maybe(entry, "thickness_mm", figure_of),
        size_mm=maybe(entry, "size_mm", pair_of),
        note=text_of(entry, "note"),
        price_each=_price_each(entry, quantity),
    )


def _price_each(entry: Entry, quantity: int) -> Fraction | None:
    """Return a price that is written as it was, for one and for all of them.

    Both were rounded, each for itself; the middle of what either leaves open is such a price.
    """
    if not (entry.says("price_each") or entry.says("price_total")):
        return None
    each, total = (Fraction(repr(figure_of(entry, f"price_{of}"))) for of in ("each", "total"))
    least, most = (
        limit(
            each + side * Fraction(1, 2 * 10**EACH_DECIMALS),
            (total + side * Fraction(1, 2 * 10**TOTAL_DECIMALS)) / quantity,
        )
        for limit, side in ((max, -1), (min, 1))
    )
    if least > most:
        entry.fail(
            "price_total",
            f"holds {short(float(total))}, which is not {quantity} times price_each",
            "give what all of them cost",
        )
    return max(Fraction(0), (least + most) / 2)


def _recipe(whole: Entry) -> str:
    """Return the recipe's name, which becomes that of a folder."""
    name = text_of(whole, "recipe")
    wrong = not name.strip(" .") or name.startswith(".") or set(name) & set('/\\:*?"<>|')
    if wrong or len(name) > LONGEST_NAME:
        whole.fail("recipe", f"is {short(name)}", "give the name of a recipe, not a path")
    return name
