"""The command line that makes a pack again, for the text that lies in it."""

from __future__ import annotations

import shlex
from collections.abc import Iterable, Iterator
from pathlib import Path

from platekit.export.licences import LICENCES
from platekit.job.options import Options
from platekit.job.recipe import Recipe

_USUAL = Options()
_NAMES = {one.casefold() for one in LICENCES}


def pack_command(
    recipe: Recipe,
    options: Options,
    thicknesses_mm: Iterable[float | None],
    *,
    licence: str,
    author: str | None,
) -> str:
    """Return the command line that makes a pack again, files by their names alone.

    Args:
        recipe: The recipe.
        options: What its runs were given.
        thicknesses_mm: The thickness of each run; None for the recipe's own.
        licence: Licence or file, as it was given; may be empty.
        author: Who made it, as it was given.
    """
    words = ["platekit", "pack", recipe.path.name]
    for one in thicknesses_mm:
        if one is not None:
            words += ["--thickness", f"{one:.10g}"]
    words += [word for pair in _given(options) for word in pair if word]
    if licence:
        words += ["--licence", licence if licence.casefold() in _NAMES else Path(licence).name]
    if author is not None:
        words += ["--author", author]
    return shlex.join(words)


def _given(options: Options) -> Iterator[tuple[str, str]]:
    """Yield the options that differ from what is usual, as words of a command line."""
    usual, spacing = _USUAL, options.spacing
    said: list[tuple[str, object, object]] = [
        ("--material", options.material, None),
        ("--kerf", options.kerf_mm, None),
        ("--join", options.join, usual.join),
        ("--bed", _by(options.bed_mm), None),
        ("--bed-grid", options.grid_mm, usual.grid_mm),
        ("--roll", options.roll_height_mm, None),
        ("--gap", spacing.gap_mm, usual.spacing.gap_mm),
        ("--margin", spacing.margin_mm, usual.spacing.margin_mm),
        ("--seconds", spacing.seconds, None),
        ("--seed", spacing.seed, usual.spacing.seed),
        ("--prices", options.prices and options.prices.name, None),
        ("--names", options.names, usual.names),
        ("--dxf", options.dxf, usual.dxf),
    ]
    for word, value, otherwise in said:
        if value != otherwise:
            yield word, f"{value:.10g}" if isinstance(value, float) else str(value)
    for one in options.skip:
        yield "--skip", one
    for stock in options.stock:
        yield "--stock", stock.name if isinstance(stock, Path) else str(stock)
    for name, value in options.chosen:
        yield "--set", f"{name}={value}"
    if options.cut_anyway:
        yield "--cut-anyway", ""


def _by(size_mm: tuple[float, float] | None) -> str | None:
    return None if size_mm is None else f"{size_mm[0]:g}x{size_mm[1]:g}"
