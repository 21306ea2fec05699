"""Fields of a record that may come from anybody: each checked as it is taken.

Every function takes the entry and the name of the field, and raises a `NestingError` that names
the file, the entry and the field.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from typing import Any, TypeVar

from platekit.nesting.json_entry import Entry, kind, short

LARGEST_FIGURE = 1e12
MOST_ENTRIES = 10_000  # of one list
MOST_COPIES = 1_000_000
SAME_LENGTH = 1e-5  # of a unit vector, its figures rounded
DEEPEST = 8  # parameters are lists of figures at most, stock lists in an object

AGAIN = "make the build again with this version of platekit"

T = TypeVar("T")


def inner_of(entry: Entry, field: str) -> Entry:
    """Return the object in a field, with its way there for messages."""
    if field not in entry.data:
        entry.fail(field, "is missing", AGAIN)
    return Entry(entry.source, " / ".join(filter(None, (entry.name, field))), entry.data[field])


def list_of(entry: Entry, field: str) -> list[Any]:
    """Return the list in a field, none of endless length."""
    found = entry.listed(field)
    if len(found) > MOST_ENTRIES:
        entry.fail(field, f"has {len(found)} entries", f"give {MOST_ENTRIES} at most")
    return found


def entries_of(entry: Entry, field: str) -> Iterator[Entry]:
    """Yield the objects in a list, each with its number for messages."""
    where = f"{entry.name} / {field}" if entry.name else field
    for number, said in enumerate(list_of(entry, field), start=1):
        yield Entry(entry.source, f"{where} {number}", said)


def text_of(entry: Entry, field: str) -> str:
    """Return a text as it stands; signs that would steer a terminal are refused."""
    if field not in entry.data:
        entry.fail(field, "is missing", AGAIN)
    value = entry.data[field]
    if not isinstance(value, str):
        entry.fail(field, f"is {kind(value)}", 'give a text in ""')
    _require_printable(entry, field, value)
    return value


def texts_of(entry: Entry, field: str) -> tuple[str, ...]:
    """Return a list of texts, each as `text_of` has it."""
    if field not in entry.data:
        entry.fail(field, "is missing", AGAIN)
    return tuple(
        text_of(Entry(entry.source, entry.name, {field: one}), field)
        for one in list_of(entry, field)
    )


def _require_printable(entry: Entry, field: str, value: str) -> None:
    if not value.replace("\n", " ").isprintable():
        entry.fail(field, f"is {short(value)}", "leave out signs that cannot be printed")


def figure_of(entry: Entry, field: str, *, least: float = 0.0) -> float:
    """Return a number, finite and not below the least; a whole one stays as it is written."""
    if field not in entry.data:
        entry.fail(field, "is missing", AGAIN)
    value = entry.data[field]
    if isinstance(value, bool) or not isinstance(value, int | float):
        entry.fail(field, f"holds {kind(value)}", "give a number")
    if not least <= value <= LARGEST_FIGURE:
        entry.fail(
            field, f"holds {short(value)}", f"give a number from {least:g} to {LARGEST_FIGURE:g}"
        )
    return value


def signed_of(entry: Entry, field: str) -> float:
    """Return a number, which may be below 0."""
    return figure_of(entry, field, least=-LARGEST_FIGURE)


def count_of(entry: Entry, field: str) -> int:
    """Return a whole number above 0."""
    return _whole_of(entry, field, least=1)


def number_of(entry: Entry, field: str) -> int:
    """Return a whole number, which may be 0."""
    return _whole_of(entry, field, least=0)


def _whole_of(entry: Entry, field: str, *, least: int) -> int:
    if field not in entry.data:
        entry.fail(field, "is missing", AGAIN)
    return entry.whole(field, entry.data[field], least=least, most=MOST_COPIES)


def pair_of(entry: Entry, field: str) -> tuple[float, float]:
    """Return a width and a height."""
    said = entry.listed(field)
    if len(said) != 2:
        entry.fail(field, f"is {short(said)}", "give [width, height]")
    width, height = (
        figure_of(Entry(entry.source, entry.name, {field: one}), field) for one in said
    )
    return width, height


def direction_of(entry: Entry, field: str) -> tuple[float, float, float]:
    """Return a unit vector."""
    said = entry.listed(field)
    if len(said) != 3:
        entry.fail(field, f"is {short(said)}", "give [x, y, z]")
    x, y, z = (signed_of(Entry(entry.source, entry.name, {field: one}), field) for one in said)
    if abs(math.hypot(x, y, z) - 1.0) > SAME_LENGTH:
        entry.fail(field, f"is {short(said)}", "give a direction of length 1")
    return x, y, z


def maybe(entry: Entry, field: str, read: Callable[[Entry, str], T]) -> T | None:
    """Return what `read` makes of a field; None where it is missing or null."""
    return read(entry, field) if entry.says(field) else None


def mapping_of(entry: Entry, field: str) -> dict[str, object]:
    """Return plain values by name, none of them endless, huge or nested beyond reason."""
    said = inner_of(entry, field).data
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
