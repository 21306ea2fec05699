"""Plain values as JSON text: figures rounded once, none that is not finite."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping

from platekit.export.figures import rounded

Json = None | bool | int | float | str | list["Json"] | dict[str, "Json"]


def json_text(value: object, *, indent: int | None = 2) -> str:
    """Return any plain value as JSON text, keys in the order given, one line end at the end.

    Args:
        value: Text, numbers, None, and mappings, lists and tuples of these.
        indent: Blanks a level; None puts everything on one line.

    Raises:
        TypeError: Something in it is of another type.
    """
    return json.dumps(_plain(value), indent=indent, ensure_ascii=False, allow_nan=False) + "\n"


def plain_mapping(mapping: Mapping[str, object]) -> dict[str, Json]:
    """Return a mapping in what JSON knows: figures rounded, tuples as lists, endless ones null.

    Raises:
        TypeError: Something in it is of another type.
    """
    return {str(name): _plain(value) for name, value in mapping.items()}


def _plain(value: object) -> Json:
    if value is None or isinstance(value, str | bool | int):
        return value
    if isinstance(value, float):
        return rounded(value) if math.isfinite(value) else None
    if isinstance(value, Mapping):
        return plain_mapping(value)
    if isinstance(value, list | tuple):
        return [_plain(one) for one in value]
    message = f"{value!r} is a {type(value).__name__}, which JSON does not know"
    raise TypeError(message)
