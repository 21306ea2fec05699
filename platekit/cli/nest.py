"""``platekit nest``: lay parts lists on stock, write the sheets, say what came of it."""

from __future__ import annotations

import argparse
import json
from collections import Counter
from collections.abc import Iterable
from pathlib import Path

from platekit.cli.cautions import CAUTIONS
from platekit.cli.terminal import ProgressLine, complain, counted, say
from platekit.job.lists import NestBuild, NestOptions, nest_lists


def nest_files(given: argparse.Namespace) -> int:
    """Nest the lists of a command line and print what came of it.

    Returns:
        0, or 1 when a part found no place.

    Raises:
        PlatekitError: The input was wrong or the folder cannot be written; nothing was.
    """
    from platekit.export.atomic import write_all

    options = NestOptions(
        stock=tuple(given.stock),
        roll_height_mm=given.roll,
        gap_mm=given.gap,
        margin_mm=0.0 if given.margin is None else given.margin,
        seconds=given.seconds,
        seed=given.seed,
    )
    progress = ProgressLine()
    try:
        build = nest_lists(given.files, options, progress=progress)
        folder = given.out / build.name
        progress("writing the files")
        write_all(folder, build.files)
    finally:
        progress.wipe()
    if given.json:
        # In full, not rounded as files are: a rounded place may no longer keep its gap.
        say(json.dumps(build.answer, allow_nan=False))
    else:
        for line in _summary(build, folder):
            say(line)
    left = Counter(one.part for one in build.nested.unplaced)
    if left:
        named = ", ".join(f"{part} ({count})" for part, count in left.items())
        complain(f"without a place: {named}; {build.nested.unplaced[0].reason}")
    return 1 if left else 0


def _summary(build: NestBuild, folder: Path) -> Iterable[str]:
    sheets = build.nested.sheets
    placed = sum(len(sheet.placements) for sheet in sheets)
    yield f"{build.name}: {counted(placed, 'piece')} on {counted(len(sheets), 'sheet')}"
    for number, sheet in enumerate(sheets, start=1):
        yield (
            f"  sheet {number}  {sheet.stock}  {counted(len(sheet.placements), 'piece')}"
            f"  {100 * sheet.utilisation:.1f} % filled,"
            f" {sheet.used_length_mm:.1f} mm of its length used"
        )
    yield f"{counted(len(build.files), 'file')} in {folder}; outlines are cut as they are given"
    yield ""
    yield from CAUTIONS
