"""``platekit make``: run the job, write its files, say what came of it."""

from __future__ import annotations

import argparse
import json
import sys
import textwrap
from collections.abc import Iterable
from pathlib import Path

from platekit.cli.cautions import CAUTIONS, switched_on
from platekit.cli.check import COLOURS, counts_of
from platekit.cli.given import make_options
from platekit.cli.sheets import STOPPED_EARLY, told_sheets
from platekit.cli.terminal import ProgressLine, complain, counted, say, tinted
from platekit.export.bill import SUM_NAMES
from platekit.export.money import price_text
from platekit.export.totals import Totals
from platekit.findings import Finding
from platekit.job.recipe import Recipe
from platekit.job.run import RECORD, Build, make


def make_recipe(recipe: Recipe, given: argparse.Namespace) -> int:
    """Make `recipe` as the command line asks and print what came of it.

    Returns:
        0, or 1 when a finding withheld the cut files.

    Raises:
        PlatekitError: The input was wrong or the folder cannot be written; nothing was.
    """
    from platekit.export.atomic import write_all

    options = make_options(given)
    folder = options.out / recipe.name
    target = folder.absolute()  # a recipe may change the working folder
    progress = ProgressLine()
    try:
        build = make(recipe, options, progress=progress)
        progress("writing the files")
        write_all(target, build.files)
    finally:
        progress.wipe()
    if given.json:
        # Escaped, so that it is the same object whatever signs the terminal knows.
        say(json.dumps(json.loads(build.files[RECORD]), indent=2))
        if build.interrupted:
            complain(STOPPED_EARLY)
        if build.withheld:
            complain(f"the cut files of {recipe.name} are withheld; see the findings")
    else:
        for line in _summary(build, folder):
            say(line)
    return 1 if build.withheld else 0


def _summary(build: Build, folder: Path) -> Iterable[str]:
    pieces = sum(kind.quantity for kind in build.parts)
    yield (
        f"{build.recipe}: {counted(pieces, 'piece')} of {counted(len(build.parts), 'kind')}, "
        f"from {build.sheet.name}"
    )
    yield from textwrap.wrap(
        f"kerf {build.beam.kerf_mm:g} mm ({build.beam.source})",
        width=98,
        initial_indent="  ",
        subsequent_indent="    ",
    )
    yield from told_sheets(build.laid)
    yield from _totals(build.totals)
    if build.interrupted:
        yield f"  {STOPPED_EARLY}"
    yield from _findings(build.findings)
    count = counted(len(build.files), "file")
    if build.withheld:
        yield f"No cut files: a finding says stop. {count} in {folder}: the bill and the record"
        yield "  platekit check says why; --cut-anyway writes them all the same"
        return
    yield f"{count} in {folder}"
    if build.stopped:
        yield "Cut files were written although a finding says stop: read it before the laser runs."
    yield ""
    yield from CAUTIONS
    yield from switched_on(build.hazards)


def _totals(totals: Totals | None) -> Iterable[str]:
    if totals is None:
        return
    said = [
        f"{counted(totals.sheet_count, 'sheet')}, {totals.sheet_area_mm2 / 1e6:.2f} m2",
        f"{totals.cut_length_mm / 1000:.1f} m of cut",
    ]
    if totals.fasteners is not None:
        said.append(counted(totals.fasteners, "screw"))
    yield f"  in all: {'; '.join(said)}"
    prices = totals.prices
    if prices is None:
        return
    sums = [(SUM_NAMES[kind], total) for kind, total in prices.of_kind.items()]
    costs = ", ".join(f"{name} {price_text(total)}" for name, total in [*sums, ("rig", prices.rig)])
    lacking = len(prices.unpriced)
    yield f"  prices: {costs}" + (f"; {lacking} of the bill without a price" if lacking else "")


def _findings(findings: Iterable[Finding]) -> Iterable[str]:
    found = sorted(findings, key=lambda finding: -finding.severity)
    if not found:
        yield "  no findings"
        return
    yield f"  findings: {counts_of(found)}"
    for finding in found:
        word = finding.severity.name.lower()
        mark = tinted(f"{word:<7}", COLOURS[finding.severity], stream=sys.stdout)
        yield f"    {mark}  {finding}"
