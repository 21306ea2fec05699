"""``platekit make``: run the job, write its files, say what came of it."""

from __future__ import annotations

import argparse
import sys
import textwrap
from collections import Counter
from collections.abc import Iterable
from pathlib import Path

from platekit.cli.arguments import make_help, make_options
from platekit.cli.cautions import CAUTIONS
from platekit.cli.terminal import ProgressLine, complain, say, tinted
from platekit.findings import Finding, Severity
from platekit.job.parameters import Parameter, show
from platekit.job.recipe import Recipe
from platekit.job.run import Build, make

_COLOUR = {Severity.STOP: 31, Severity.WARNING: 33, Severity.NOTE: 36}


def make_recipe(recipe: Recipe, given: argparse.Namespace) -> int:
    """Make `recipe` as the command line asks and print what came of it.

    Returns:
        0, or 1 when a finding withheld the cut files.

    Raises:
        PlatekitError: The input was wrong or the folder cannot be written; nothing was.
    """
    from platekit.export.atomic import write_all

    options = make_options(given)
    progress = ProgressLine()
    try:
        build = make(recipe, options, progress=progress)
        progress("writing the files")
        folder = options.out / recipe.name
        write_all(folder, build.files)
    finally:
        progress.wipe()
    if given.json:
        say(build.record.rstrip("\n"))
        if build.withheld:
            complain(f"the cut files of {recipe.name} are withheld; see the findings")
    else:
        for line in _summary(build, folder):
            say(line)
    return 1 if build.withheld else 0


def print_make_help(recipe: Recipe | None, *, alone: bool = False) -> int:
    """Print what `make` takes, and what `recipe` itself takes with ``--set``.

    Args:
        recipe: The recipe asked about, if one was.
        alone: Whether the recipe's file is run by itself.
    """
    say(make_help(recipe.path if recipe else None, alone=alone).rstrip("\n"))
    if recipe is None:
        say("\nplatekit make RECIPE --help shows the recipe's own parameters as well.")
        return 0
    say()
    for line in _recipe_help(recipe):
        say(line)
    return 0


def _recipe_help(recipe: Recipe) -> Iterable[str]:
    yield f"{recipe.name}: {recipe.summary}" if recipe.summary else recipe.name
    if recipe.sheet is not None:
        yield f"  drawn for {recipe.sheet.name}"
    if not recipe.parameters:
        yield "  it has no parameters of its own"
        return
    yield "  its own parameters, for --set NAME=VALUE:"
    shown = [(one.name, _default(one), one) for one in recipe.parameters]
    names = max(len(name) for name, _, _ in shown)
    values = max(len(value) for _, value, _ in shown)
    for name, value, one in shown:
        head = f"    {name:<{names}}  {value:<{values}}  "
        yield from textwrap.wrap(
            _about(one),
            width=98,
            initial_indent=head,
            subsequent_indent=" " * len(head),
        ) or [head.rstrip()]


def _default(parameter: Parameter) -> str:
    return f"{show(parameter.default)} {parameter.unit}".rstrip()


def _about(parameter: Parameter) -> str:
    kind = f"one of {', '.join(parameter.choices)}" if parameter.choices else parameter.kind
    return f"{parameter.help} ({kind})" if parameter.help else f"({kind})"


def _summary(build: Build, folder: Path) -> Iterable[str]:
    pieces = sum(kind.quantity for kind in build.parts)
    yield (
        f"{build.recipe}: {_count(pieces, 'piece')} of {_count(len(build.parts), 'part')}, "
        f"{build.sheet.name}"
    )
    yield f"  kerf {build.beam.kerf_mm:g} mm ({build.beam.source})"
    for number, sheet in enumerate(build.sheets, start=1):
        yield (
            f"  sheet {number}  {sheet.size_mm[0]:g} x {sheet.size_mm[1]:g} mm"
            f"  {_count(len(sheet.placements), 'piece')}"
            f"  {100 * sheet.utilisation:.0f} % filled,"
            f" {sheet.used_length_mm:.0f} mm of its length used"
        )
    yield from _findings(build.findings)
    count = _count(len(build.files), "file")
    if build.withheld:
        yield f"No cut files: a finding says stop. {count} in {folder}: the bill and the record"
        return
    yield f"{count} in {folder}"
    yield ""
    yield from CAUTIONS


def _findings(findings: Iterable[Finding]) -> Iterable[str]:
    found = sorted(findings, key=lambda finding: -finding.severity)
    if not found:
        yield "  no findings"
        return
    counts = Counter(finding.severity for finding in found)
    said = ", ".join(
        _count(counts[severity], severity.name.lower())
        for severity in sorted(counts, reverse=True)
    )
    yield f"  findings: {said}"
    for finding in found:
        word = finding.severity.name.lower()
        mark = tinted(f"{word:<7}", _COLOUR[finding.severity], stream=sys.stdout)
        yield f"    {mark}  {finding}"


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"
