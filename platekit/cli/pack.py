"""``platekit pack``: a recipe made, and everything it takes to build it in one archive."""

from __future__ import annotations

import argparse
import hashlib
import json
import textwrap
from collections.abc import Iterator
from pathlib import Path

from platekit.cli.cautions import CAUTIONS, switched_on
from platekit.cli.check import counts_of
from platekit.cli.given import make_options
from platekit.cli.terminal import ProgressLine, counted, say
from platekit.export.build import file_records
from platekit.export.build_checks import finding_json
from platekit.export.one_file import write_one
from platekit.export.pack import require_own_pack
from platekit.findings import Severity
from platekit.hardware.hazards import Hazard
from platekit.job.packing import Packed, packed
from platekit.job.recipe import Recipe


def pack_recipe(recipe: Recipe, given: argparse.Namespace) -> int:
    """Make `recipe` for every thickness asked for and write one archive of all of it.

    Returns:
        0, or 1 when a finding withheld the cut files of a thickness.

    Raises:
        PlatekitError: The input was wrong or the archive cannot be written; nothing was.
    """
    thicknesses = given.thickness
    # One thickness each: those of the command line are told apart from its other options.
    options = make_options(argparse.Namespace(**{**vars(given), "thickness": None}))
    path = options.out / f"{recipe.name}-pack.zip"
    target = path.absolute()  # a recipe may change the working folder
    require_own_pack(target)
    progress = ProgressLine()
    try:
        done = packed(
            recipe,
            options,
            thicknesses_mm=thicknesses,
            licence=given.licence,
            author=given.author,
            progress=progress,
        )
        write_one(target, done.raw)
    finally:
        progress.wipe()
    if given.json:
        say(json.dumps(_record(done, path), indent=2))
    else:
        for line in _summary(done, path):
            say(line)
    return 1 if done.withheld else 0


def _summary(done: Packed, path: Path) -> Iterator[str]:
    yield f"{done.recipe}: packed for {_thicknesses(len(done.builds))}"
    for folder, build in done.builds.items():
        pieces = sum(part.quantity for part in build.parts)
        yield (
            f"  {folder}: {counted(pieces, 'piece')} of {counted(len(build.parts), 'kind')} "
            f"on {counted(len(build.sheets), 'sheet')}, from {build.sheet.name}"
        )
        yield f"    kerf {build.beam.kerf_mm:g} mm ({build.beam.source})"
        yield f"    {counts_of(build.findings)}"
        for stop in (one for one in build.findings if one.severity is Severity.STOP):
            yield from textwrap.wrap(
                str(stop), width=98, initial_indent="    stop: ", subsequent_indent="      "
            )
        if build.withheld:
            yield "    no cut files: a finding says stop; --cut-anyway packs them all the same"
    yield f"{counted(len(done.files), 'file')} in {path}, {len(done.raw) / 1e6:.1f} MB"
    yield "  platekit check says what the findings are and what to do about them"
    yield ""
    yield from CAUTIONS
    yield from switched_on(_hazards(done))


def _thicknesses(number: int) -> str:
    return "one thickness" if number == 1 else f"{number} thicknesses"


def _hazards(done: Packed) -> list[Hazard]:
    found = (hazard for build in done.builds.values() for hazard in build.hazards)
    return list(dict.fromkeys(found))


def _record(done: Packed, path: Path) -> dict[str, object]:
    return {
        "recipe": done.recipe,
        "pack": path.as_posix(),
        "sha256": hashlib.sha256(done.raw).hexdigest(),
        "thicknesses": [
            {
                "folder": folder,
                "thickness_mm": build.sheet.thickness_mm,
                "withheld": build.withheld,
                "findings": [finding_json(one) for one in build.findings],
            }
            for folder, build in done.builds.items()
        ],
        "files": [{"path": one.path, "sha256": one.sha256} for one in file_records(done.files)],
    }
