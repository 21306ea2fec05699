"""``platekit check``: all short of stock and cut files, and what the checks say, worst first."""

from __future__ import annotations

import argparse
import json
import sys
import textwrap
from collections import Counter
from collections.abc import Iterable, Iterator

from platekit.cli.arguments import check_options
from platekit.cli.cautions import switched_on
from platekit.cli.terminal import ProgressLine, counted, say, tinted
from platekit.export.build import finding_json
from platekit.findings import Finding, Severity, figures_of
from platekit.job.drawing_up import DrawnUp, draw_up
from platekit.job.recipe import Recipe

COLOURS = {Severity.STOP: 31, Severity.WARNING: 33, Severity.NOTE: 36}
WIDTH = 98
HEAD = 9  # room for the longest severity and two blanks


def check_recipe(recipe: Recipe, given: argparse.Namespace) -> int:
    """Check `recipe` as the command line asks and print what is worth a look. Nothing is written.

    Returns:
        0, or 1 when a finding says stop.

    Raises:
        PlatekitError: The input was wrong.
    """
    progress = ProgressLine()
    try:
        drawn_up = draw_up(recipe, check_options(given), progress=progress)
        findings = drawn_up.findings
    finally:
        progress.wipe()
    if given.json:
        said = {
            "recipe": recipe.name,
            "findings": [finding_json(finding) for finding in findings],
            "steps": len(drawn_up.proof.steps),
        }
        say(json.dumps(said, indent=2))
    else:
        for line in _told(recipe, drawn_up, findings):
            say(line)
    return 1 if any(one.severity is Severity.STOP for one in findings) else 0


def _told(recipe: Recipe, drawn_up: DrawnUp, findings: tuple[Finding, ...]) -> Iterator[str]:
    pieces = sum(kind.quantity for kind in drawn_up.parts)
    yield (
        f"{recipe.name}: {counted(pieces, 'piece')} of {counted(len(drawn_up.parts), 'kind')}, "
        f"from {drawn_up.sheet.name}, kerf {drawn_up.beam.kerf_mm:g} mm"
    )
    steps = drawn_up.proof.steps
    if len(steps) > 1:
        yield f"  it goes together in {counted(len(steps), 'step')}"
    yield f"  {counts_of(findings)}"
    for finding in findings:
        yield ""
        yield from _lines(finding)
    hazards = list(switched_on(drawn_up.given.hazards))
    if hazards:
        yield ""
        yield from hazards
    yield ""
    yield "Stock and doubled cuts on whole sheets are checked by platekit make."


def counts_of(findings: Iterable[Finding]) -> str:
    """Return how many findings of each kind there are, the gravest first."""
    counts = Counter(finding.severity for finding in findings)
    if not counts:
        return "no findings"
    return ", ".join(
        counted(counts[severity], severity.name.lower())
        for severity in sorted(counts, reverse=True)
    )


def _lines(finding: Finding) -> Iterator[str]:
    """Yield one finding: where, what was measured against what, and what to do."""
    word = finding.severity.name.lower()
    where = " / ".join(name for name in (finding.part, finding.feature) if name)
    mark = tinted(f"{word:<{HEAD}}", COLOURS[finding.severity], stream=sys.stdout)
    first, *more = textwrap.wrap(where, width=WIDTH - HEAD) or [""]
    yield f"{mark}{first}".rstrip()
    blank = " " * HEAD
    for line in more:
        yield blank + line
    source = f" ({finding.source})" if finding.source else ""
    for text in (f"{figures_of(finding)}{source}", f"-> {finding.remedy}"):
        yield from textwrap.wrap(
            text, width=WIDTH, initial_indent=blank, subsequent_indent=f"{blank}   "
        )
