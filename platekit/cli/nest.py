"""``platekit nest``: lay parts lists on stock, write the sheets, say what came of it."""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterable
from pathlib import Path

from platekit.cli.cautions import CAUTIONS
from platekit.cli.sheets import STOPPED_EARLY, told_sheets, told_unplaced
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
        names=given.names,
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
        if build.interrupted:
            complain(STOPPED_EARLY)
    else:
        for line in _summary(build, folder):
            say(line)
    for line in told_unplaced(build.nested.unplaced):
        complain(line)
    return 1 if build.nested.unplaced else 0


def _summary(build: NestBuild, folder: Path) -> Iterable[str]:
    sheets = build.nested.sheets
    placed = sum(len(sheet.placements) for sheet in sheets)
    yield f"{build.name}: {counted(placed, 'piece')} on {counted(len(sheets), 'sheet')}"
    yield from told_sheets(build.laid)
    if build.interrupted:
        yield f"  {STOPPED_EARLY}"
    if build.nameless:
        yield f"  no room or no letters to score the name of {', '.join(build.nameless)}"
    yield f"{counted(len(build.files), 'file')} in {folder}; outlines are cut as they are given"
    yield ""
    yield from CAUTIONS
