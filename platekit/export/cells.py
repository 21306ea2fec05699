"""Cells of comma-separated lists, as a spreadsheet may safely open them."""

from __future__ import annotations

import re

from platekit.export.figures import format_mm

# A spreadsheet takes a cell that begins so for a formula and runs it when the list is opened.
_LIKE_A_FORMULA = ("=", "+", "-", "@")

_CONTROL = re.compile(r"[\x00-\x1f\x7f]+")


def figure_cell(value: float | None, *, decimals: int = 3) -> str:
    """Return a number as a cell; None is an empty one."""
    return "" if value is None else format_mm(value, decimals=decimals)


def text_cell(text: str) -> str:
    """Return text as a cell: on one line, and no formula."""
    plain = _CONTROL.sub(" ", text)
    return f"'{plain}" if plain.lstrip().startswith(_LIKE_A_FORMULA) else plain
