"""Parts lists: parts to nest, as JSON written by anybody.

One object with ``parts``: a list of objects with ``id``, ``quantity`` (1 when absent),
``rotations_deg`` (allowed turns; null or absent for any), ``outline`` (a ring of [x, y] in mm,
the first point not repeated) and ``holes`` (rings, may be absent). A part may also say ``mirror``
(whether it may be laid face down), ``together`` (parts with one word here lie on one sheet),
``on`` (the name of the stock it must lie on), ``material`` and ``thickness`` (what it is cut
from). Optionally ``name``, and what the list was meant for: ``sheet`` [width, height], ``gap``,
``roll_height``. Other fields are left alone.

Nothing in such a file is trusted: every message names the file, the part and the field.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path as FilePath

from platekit.errors import NestingError
from platekit.nesting.json_entry import SMALLEST_MM, Entry, kind, parsed, read_text, short
from platekit.nesting.json_rings import profile_of
from platekit.nesting.values import NestPart

# More copies than this is a slip of the keyboard.
MOST_COPIES = 100_000

_WHAT = "a parts list"


@dataclass(frozen=True, slots=True, kw_only=True)
class PartsList:
    """What a parts list says.

    Attributes:
        name: The list's own name, or the file's.
        parts: The parts.
        sheet_mm: Width and height of the sheet it was made for, if it says.
        roll_height_mm: Height of the roll it was made for, if it says.
        gap_mm: The gap it was made for, if it says.
    """

    name: str
    parts: tuple[NestPart, ...]
    sheet_mm: tuple[float, float] | None = None
    roll_height_mm: float | None = None
    gap_mm: float | None = None


def read_parts_list(path: FilePath | str) -> PartsList:
    """Return the parts list in the file at `path`.

    Raises:
        NestingError: The file cannot be read, is no JSON, or says something that cannot be.
    """
    return parse_parts_list(read_text(path, what=_WHAT), source=str(FilePath(path)))


def read_parts_lists(paths: Iterable[FilePath | str]) -> tuple[PartsList, ...]:
    """Return several lists, no part's id used in two of them.

    Raises:
        NestingError: As `read_parts_list`, or an id stands in two files.
    """
    lists: list[PartsList] = []
    owner: dict[str, str] = {}
    for path in paths:
        found = read_parts_list(path)
        for part in found.parts:
            if part.name in owner:
                raise NestingError(
                    f"{path}: the id stands in {owner[part.name]} as well",
                    part=part.name,
                    remedy="give every part an id of its own",
                )
            owner[part.name] = str(path)
        lists.append(found)
    return tuple(lists)


def parse_parts_list(text: str, *, source: str) -> PartsList:
    """Return the parts list written in `text`; `source` is what messages call it.

    Raises:
        NestingError: It is no JSON, or says something that cannot be.
    """
    entry = parsed(text, source=source, what=_WHAT)
    listed = entry.listed("parts")
    if not listed:
        entry.fail("parts", "is empty", "list at least one part")
    parts: dict[str, NestPart] = {}
    for number, said in enumerate(listed, start=1):
        part = _part(Entry(source, f"part {number}", said))
        if part.name in parts:
            Entry(source, part.name, said).fail(
                "id", "is used twice", "give every part an id of its own"
            )
        parts[part.name] = part
    return PartsList(
        name=str(entry.data.get("name") or FilePath(source).stem),
        parts=tuple(parts.values()),
        sheet_mm=_sheet(entry) if entry.says("sheet") else None,
        roll_height_mm=entry.size("roll_height") if entry.says("roll_height") else None,
        gap_mm=entry.number("gap", entry.data["gap"], least=0.0) if entry.says("gap") else None,
    )


def _part(entry: Entry) -> NestPart:
    if "id" not in entry.data:
        entry.fail("id", "is missing", "give the part an id")
    name = entry.data["id"]
    if isinstance(name, str) and not name.strip():
        entry.fail("id", "is blank", "give the part an id")
    if isinstance(name, bool) or not isinstance(name, str | int):
        entry.fail("id", f"is {kind(name)}", "give a text or a whole number")
    entry = Entry(entry.source, str(name), entry.data)
    return NestPart(
        str(name),
        profile_of(entry),
        entry.whole("quantity", entry.data.get("quantity", 1), least=1, most=MOST_COPIES),
        _rotations(entry),
        mirror=entry.flag("mirror"),
        together=entry.text("together"),
        on=entry.text("on"),
        material=entry.text("material"),
        thickness_mm=entry.size("thickness") if entry.says("thickness") else None,
    )


def _rotations(entry: Entry) -> tuple[float, ...] | None:
    if not entry.says("rotations_deg"):
        return None
    said = entry.data["rotations_deg"]
    if not isinstance(said, list):
        entry.fail("rotations_deg", f"is {kind(said)}", "give a list of angles, or null for any")
    if not said:
        entry.fail("rotations_deg", "is empty", "allow at least 0, or write null for any")
    return tuple(entry.number("rotations_deg", angle) for angle in said)


def _sheet(entry: Entry) -> tuple[float, float]:
    said = entry.listed("sheet")
    if len(said) != 2:
        entry.fail("sheet", f"is {short(said)}", "give [width, height]")
    width, height = (entry.number("sheet", value, least=SMALLEST_MM) for value in said)
    return width, height
