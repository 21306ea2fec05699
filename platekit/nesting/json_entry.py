"""JSON written by anybody: nothing in it is trusted, every message names file, entry and field."""

from __future__ import annotations

import json
import math
from dataclasses import dataclass
from pathlib import Path as FilePath
from typing import Any, NoReturn

from platekit.errors import NestingError
from platekit.geometry.chains import LARGEST_COORDINATE_MM

# No beam leaves a part smaller than this standing, mm.
SMALLEST_MM = 0.01

_CONSTANTS = ("NaN", "Infinity", "-Infinity")


def read_text(path: FilePath | str, *, what: str) -> str:
    """Return the text of a file.

    Args:
        path: The file.
        what: What it ought to hold, in words: "a parts list".

    Raises:
        NestingError: It cannot be read, or is no text in UTF-8.
    """
    file = FilePath(path)
    try:
        return file.read_text(encoding="utf-8-sig")  # some editors write a mark first
    except UnicodeDecodeError as err:
        raise NestingError(f"{file}: is no text in UTF-8", remedy=f"give {what} in JSON") from err
    except OSError as err:
        raise NestingError(
            f"{file}: cannot be read ({err.strerror or err})", remedy="name a file that is there"
        ) from err


def parsed(text: str, *, source: str, what: str) -> Entry:
    """Return the object a JSON text holds.

    Args:
        text: The text.
        source: What messages call it: the file's name.
        what: What it ought to hold, in words: "a parts list".

    Raises:
        NestingError: It is no JSON, or no object.
    """
    try:
        data = json.loads(text, parse_constant=_no_constant)
    except (json.JSONDecodeError, RecursionError) as err:
        at = f" at line {err.lineno}" if isinstance(err, json.JSONDecodeError) else ""
        said = err.msg if isinstance(err, json.JSONDecodeError) else "nested too deeply"
        raise NestingError(
            f"{source}: is no JSON{at}: {said}", remedy=f"give {what} in JSON"
        ) from err
    except ValueError as err:
        # Python's own words on too many digits would speak of Python.
        said = str(err) if str(err) in _CONSTANTS else "it has too many digits"
        raise NestingError(
            f"{source}: holds a number that is none: {said}", remedy="give finite numbers"
        ) from err
    return Entry(source, "", data)


@dataclass(frozen=True, slots=True)
class Entry:
    """One JSON object, and where it stands for the sake of messages.

    Attributes:
        source: The file.
        name: What the entry is called; empty for the whole file.
        data: The object.

    Raises:
        NestingError: The data is no object.
    """

    source: str
    name: str
    data: Any

    def __post_init__(self) -> None:
        if not isinstance(self.data, dict):
            self.fail("", f"is {kind(self.data)}", "write an object in {} with named fields")

    def fail(self, field: str, problem: str, remedy: str) -> NoReturn:
        """Raise a `NestingError` that names file, entry and field."""
        said = f"field {field!r} {problem}" if field else problem
        raise NestingError(f"{self.source}: {said}", part=self.name, remedy=remedy)

    def says(self, field: str) -> bool:
        """Return whether the field is there and is not null."""
        return self.data.get(field) is not None

    def listed(self, field: str) -> list[Any]:
        """Return a field that must be there and hold a list."""
        if field not in self.data:
            self.fail(field, "is missing", "add it")
        value = self.data[field]
        if not isinstance(value, list):
            self.fail(field, f"is {kind(value)}", "give a list in []")
        return value

    def number(self, field: str, value: object, *, least: float = -math.inf) -> float:
        """Return `value`, which stands in `field`, as a number from `least` up."""
        if isinstance(value, bool) or not isinstance(value, int | float):
            self.fail(field, f"holds {kind(value)}", "give a number")
        if not least <= value <= LARGEST_COORDINATE_MM or value < -LARGEST_COORDINATE_MM:
            low = max(least, -LARGEST_COORDINATE_MM)
            self.fail(
                field,
                f"holds {short(value)}",
                f"give a number from {low:g} to {LARGEST_COORDINATE_MM:g}",
            )
        return float(value)

    def size(self, field: str) -> float:
        """Return a field as a length above 0, mm."""
        if field not in self.data:
            self.fail(field, "is missing", "add it")
        return self.number(field, self.data[field], least=SMALLEST_MM)

    def whole(self, field: str, value: object, *, least: int, most: int) -> int:
        """Return `value`, which stands in `field`, as a whole number."""
        if isinstance(value, float) and value.is_integer():
            value = int(value)
        if isinstance(value, bool) or not isinstance(value, int):
            above = "above 0" if least == 1 else f"from {least} up"
            self.fail(field, f"is {short(value)}", f"give a whole number {above}")
        if not least <= value <= most:
            self.fail(field, f"is {short(value)}", f"give {least} to {most}")
        return value

    def flag(self, field: str) -> bool:
        """Return a field that says true or false; false when it says nothing."""
        value = self.data.get(field)
        if value is None:
            return False
        if not isinstance(value, bool):
            self.fail(field, f"is {short(value)}", "give true or false")
        return value

    def text(self, field: str) -> str:
        """Return a field that holds a text, outer blanks left out; empty when it says nothing."""
        value = self.data.get(field)
        if value is None:
            return ""
        if not isinstance(value, str):
            self.fail(field, f"is {kind(value)}", 'give a text in ""')
        return value.strip()


def kind(value: object) -> str:
    """Return what a JSON value is, in words."""
    if value is None:
        return "null"
    names = {dict: "an object", list: "a list", str: "a text", bool: "true or false"}
    return names.get(type(value), "a number")


def short(value: object) -> str:
    """Return a JSON value as it is written, the end of a long one left out."""
    said = json.dumps(value)
    return said if len(said) <= 40 else f"{said[:37]}..."


def _no_constant(name: str) -> NoReturn:
    raise ValueError(name)
