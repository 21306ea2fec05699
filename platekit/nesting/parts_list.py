"""Parts lists: parts to nest, as JSON written by anybody.

One object with ``parts``: a list of objects with ``id``, ``quantity`` (1 when absent),
``rotations_deg`` (allowed turns; null or absent for any), ``outline`` (a ring of [x, y] in mm,
the first point not repeated) and ``holes`` (rings, may be absent). Optionally ``name``, and what
the list was meant for: ``sheet`` [width, height], ``gap``, ``roll_height``. Other fields are left
alone.

Nothing in such a file is trusted: every message names the file, the part and the field.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path as FilePath
from typing import Any, NoReturn

from platekit.errors import NestingError
from platekit.geometry.chains import LARGEST_COORDINATE_MM, Contour, closed_polyline
from platekit.geometry.faults import Fault, Rule, find_faults
from platekit.geometry.points import Pair, near
from platekit.geometry.profile import Profile
from platekit.nesting.values import NestPart

# No beam leaves a part smaller than this standing, mm.
SMALLEST_PART_MM = 0.01

# More copies than this is a slip of the keyboard.
MOST_COPIES = 100_000


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
    file = FilePath(path)
    try:
        text = file.read_text(encoding="utf-8")
    except UnicodeDecodeError as err:
        raise NestingError(
            f"{file}: is no text in UTF-8", remedy="give a parts list in JSON"
        ) from err
    except OSError as err:
        raise NestingError(
            f"{file}: cannot be read ({err.strerror or err})", remedy="name a file that is there"
        ) from err
    return parse_parts_list(text, source=str(file))


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
    try:
        data = json.loads(text, parse_constant=_no_constant)
    except (json.JSONDecodeError, RecursionError) as err:
        at = f" at line {err.lineno}" if isinstance(err, json.JSONDecodeError) else ""
        what = err.msg if isinstance(err, json.JSONDecodeError) else "nested too deeply"
        raise NestingError(
            f"{source}: is no JSON{at}: {what}", remedy="give a parts list in JSON"
        ) from err
    except ValueError as err:
        raise NestingError(
            f"{source}: holds a number that is none: {err}", remedy="give finite numbers"
        ) from err
    entry = _Entry(source, "", data)
    listed = entry.field("parts", list)
    if not listed:
        entry.fail("parts", "is empty", "list at least one part")
    parts: dict[str, NestPart] = {}
    for number, said in enumerate(listed, start=1):
        part = _part(_Entry(source, f"part {number}", said))
        if part.name in parts:
            _Entry(source, part.name, said).fail(
                "id", "is used twice", "give every part an id of its own"
            )
        parts[part.name] = part
    return PartsList(
        name=str(data.get("name") or FilePath(source).stem),
        parts=tuple(parts.values()),
        sheet_mm=_sheet(entry) if "sheet" in data else None,
        roll_height_mm=entry.size("roll_height") if "roll_height" in data else None,
        gap_mm=entry.number("gap", data["gap"], least=0.0) if "gap" in data else None,
    )


@dataclass(frozen=True, slots=True)
class _Entry:
    """One JSON object, and where it stands for the sake of messages."""

    source: str
    part: str
    data: Any

    def __post_init__(self) -> None:
        if not isinstance(self.data, dict):
            self.fail("", f"is {_kind(self.data)}", "write an object in {} with named fields")

    def fail(self, field: str, problem: str, remedy: str) -> NoReturn:
        what = f"field {field!r} {problem}" if field else problem
        raise NestingError(f"{self.source}: {what}", part=self.part, remedy=remedy)

    def field(self, name: str, kind: type[list[Any]]) -> Any:  # noqa: ANN401 - JSON is what it is
        if name not in self.data:
            self.fail(name, "is missing", "add it")
        value = self.data[name]
        if not isinstance(value, kind):
            self.fail(name, f"is {_kind(value)}", "give a list in []")
        return value

    def number(self, name: str, value: object, *, least: float = -math.inf) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float):
            self.fail(name, f"holds {_kind(value)}", "give a number")
        if not least <= value <= LARGEST_COORDINATE_MM or value < -LARGEST_COORDINATE_MM:
            low = max(least, -LARGEST_COORDINATE_MM)
            self.fail(
                name,
                f"holds {_short(value)}",
                f"give a number from {low:g} to {LARGEST_COORDINATE_MM:g}",
            )
        return float(value)

    def size(self, name: str) -> float:
        return self.number(name, self.data[name], least=SMALLEST_PART_MM)


def _part(entry: _Entry) -> NestPart:
    if "id" not in entry.data:
        entry.fail("id", "is missing", "give the part an id")
    name = entry.data["id"]
    if isinstance(name, bool) or not isinstance(name, str | int) or not str(name).strip():
        entry.fail("id", f"is {_kind(name)}", "give a text or a whole number")
    entry = _Entry(entry.source, str(name), entry.data)
    outline = _ring(entry, "outline", entry.field("outline", list))
    said = entry.data.get("holes")
    holes = [] if said is None else entry.field("holes", list)
    rings = [_ring(entry, f"holes[{k}]", hole) for k, hole in enumerate(holes)]
    profile = Profile(outline, tuple(rings))
    faults = find_faults(profile)
    if faults:
        # A crossed ring may enclose nothing as well: the crossing says more.
        _fail_for(entry, min(faults, key=lambda fault: fault.rule is Rule.AREA))
    return NestPart(str(name), profile, _quantity(entry), _rotations(entry))


def _fail_for(entry: _Entry, fault: Fault) -> NoReturn:
    field = "outline" if fault.ring == 0 else f"holes[{fault.ring - 1}]"
    other = ""
    if fault.other is not None:
        other = ", the outline," if fault.other == 0 else f", holes[{fault.other - 1}],"
    entry.fail(
        field,
        f"{fault.rule.value}{other} at ({fault.at.x:g}, {fault.at.y:g})",
        "give rings that go once around one area, holes apart and inside the outline",
    )


def _ring(entry: _Entry, field: str, said: object) -> Contour:
    if not isinstance(said, list):
        entry.fail(field, f"is {_kind(said)}", "give a list of [x, y] points")
    points: list[Pair] = []
    for k, point in enumerate(said):
        if not isinstance(point, list) or len(point) != 2:
            entry.fail(f"{field}[{k}]", f"is {_short(point)}", "give a point [x, y]")
        x, y = (entry.number(f"{field}[{k}]", value) for value in point)
        points.append((x, y))
    ring = _without_doubled(points)
    if len(ring) < 3:
        entry.fail(field, f"has {len(ring)} different points", "give a closed ring of at least 3")
    xs, ys = zip(*ring, strict=True)
    least = min(max(xs) - min(xs), max(ys) - min(ys))
    if least < SMALLEST_PART_MM:
        entry.fail(
            field,
            f"is only {least:.3g} mm across",
            f"give at least {SMALLEST_PART_MM:g} mm: lists are in millimetres",
        )
    return closed_polyline(ring)


def _without_doubled(ring: Sequence[Pair]) -> list[Pair]:
    """Return the ring's points without any that repeats the one before it, the last included."""
    kept: list[Pair] = []
    for point in ring:
        if not kept or not near(kept[-1], point):
            kept.append(point)
    while len(kept) > 1 and near(kept[0], kept[-1]):
        kept.pop()
    return kept


def _quantity(entry: _Entry) -> int:
    value = entry.data.get("quantity", 1)
    if isinstance(value, float) and value.is_integer():
        value = int(value)
    if isinstance(value, bool) or not isinstance(value, int):
        entry.fail("quantity", f"is {_short(value)}", "give a whole number above 0")
    if not 0 < value <= MOST_COPIES:
        entry.fail("quantity", f"is {_short(value)}", f"give 1 to {MOST_COPIES}")
    return value


def _rotations(entry: _Entry) -> tuple[float, ...] | None:
    said = entry.data.get("rotations_deg")
    if said is None:
        return None
    if not isinstance(said, list):
        entry.fail("rotations_deg", f"is {_kind(said)}", "give a list of angles, or null for any")
    if not said:
        entry.fail("rotations_deg", "is empty", "allow at least 0, or write null for any")
    return tuple(entry.number("rotations_deg", angle) for angle in said)


def _sheet(entry: _Entry) -> tuple[float, float]:
    said = entry.field("sheet", list)
    if len(said) != 2:
        entry.fail("sheet", f"is {_short(said)}", "give [width, height]")
    width, height = (entry.number("sheet", value, least=SMALLEST_PART_MM) for value in said)
    return width, height


def _kind(value: object) -> str:
    if value is None:
        return "null"
    names = {dict: "an object", list: "a list", str: "a text", bool: "true or false"}
    return names.get(type(value), "a number")


def _short(value: object) -> str:
    said = json.dumps(value)
    return said if len(said) <= 40 else f"{said[:37]}..."


def _no_constant(name: str) -> NoReturn:
    raise ValueError(name)
