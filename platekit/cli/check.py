"""``platekit check``: all short of stock and cut files, and what the checks say, worst first."""

from __future__ import annotations

import argparse
import json
import math
import sys
import textwrap
from collections import Counter
from collections.abc import Collection, Iterable, Iterator
from pathlib import Path

from platekit.checks.check import FAMILIES
from platekit.checks.examine import CHECKS, Report
from platekit.cli.cautions import ESTIMATES, switched_on
from platekit.cli.given import check_options
from platekit.cli.terminal import ProgressLine, counted, say, tinted
from platekit.export.build_checks import checks_json, checks_record, finding_json
from platekit.export.one_file import write_one
from platekit.findings import Finding, Severity, figures_of
from platekit.hardware.hazards import Hazard
from platekit.job.checking import Noted, noted
from platekit.job.drawing_up import DrawnUp, draw_up
from platekit.job.recipe import Recipe

COLOURS = {Severity.STOP: 31, Severity.WARNING: 33, Severity.NOTE: 36, Severity.PASSED: 32}
WIDTH = 98
HEAD = 9  # room for the longest severity and two blanks
# Beyond this a margin says no more than that there is plenty.
PLENTY = 100.0
# Units of what gives under load: forces, stresses, torques, and shares of them.
GIVES = {"N", "MPa", "N m", ""}


def check_recipe(recipe: Recipe, given: argparse.Namespace) -> int:
    """Check `recipe` as the command line asks, print what is worth a look and write it down.

    Returns:
        0, or 1 when a finding says stop.

    Raises:
        PlatekitError: The input was wrong, or the record cannot be written.
    """
    options = check_options(given)
    here = Path.cwd()  # a recipe may change the working folder
    progress = ProgressLine()
    try:
        drawn_up = draw_up(recipe, options, progress=progress)
        note = noted(recipe, options, drawn_up, here=here)
        if note.text is not None:
            write_one(here / note.path, note.text)
    finally:
        progress.wipe()
    if given.json:
        said = {
            "recipe": recipe.name,
            "findings": [finding_json(finding) for finding in note.findings],
            "checks": checks_json(checks_record(drawn_up.report)),
            "steps": len(drawn_up.proof.steps),
        }
        say(json.dumps(said, indent=2))
    else:
        for line in _told(recipe, drawn_up, note, passed=given.all):
            say(line)
    return 1 if any(one.severity is Severity.STOP for one in note.findings) else 0


def _told(recipe: Recipe, drawn_up: DrawnUp, note: Noted, *, passed: bool) -> Iterator[str]:
    pieces = sum(kind.quantity for kind in drawn_up.parts)
    yield (
        f"{recipe.name}: {counted(pieces, 'piece')} of {counted(len(drawn_up.parts), 'kind')}, "
        f"from {drawn_up.sheet.name}, kerf {drawn_up.beam.kerf_mm:g} mm"
    )
    steps = drawn_up.proof.steps
    if len(steps) > 1:
        yield f"  it goes together in {counted(len(steps), 'step')}"
    yield f"  {counts_of(note.findings)}"
    report = drawn_up.report
    yield ""
    yield from _families(drawn_up)
    yield from weakest_link(report)
    for finding in note.findings:
        yield ""
        yield from _lines(finding)
    if passed:
        for finding in report.passed:
            yield ""
            yield from _lines(finding)
    hazards = list(switched_on(drawn_up.given.hazards))
    if hazards or any(report.of(family) for family in ("hold", "drive")):
        yield ""
        yield from ESTIMATES
        yield from hazards
    yield ""
    if note.text is None:
        yield f"Not written: {note.path}"
        yield "  is of another job, or none of ours, and stays as it is; platekit make renews it"
    else:
        yield f"Written to {note.path}"
    yield "Stock and doubled cuts on whole sheets are checked by platekit make."


def _families(drawn_up: DrawnUp) -> Iterator[str]:
    """Yield a line for each family: how much it weighed, how much passed, and its weakest.

    A family that had nothing to weigh says what to tell it, where the rig could use it.
    """
    report = drawn_up.report
    yield f"  {'':<20}{'weighed':>8}{'passed':>8}  least margin"
    for family, asks in FAMILIES.items():
        weighed = report.of(family)
        good = sum(one.severity is Severity.PASSED for one in weighed)
        row = f"  {asks:<20}{len(weighed) or '-':>8}{good if weighed else '-':>8}"
        weakest = report.weakest(family)
        if weakest is None:
            yield f"{row}  {_wanting(family, drawn_up) if not weighed else ''}".rstrip()
            continue
        said = f"{margin_text(weakest)}  {_where(weakest)}: {weakest.measure.removesuffix(':')}"
        yield _clipped(f"{row}  {said}")
    if report.skipped:
        yield from textwrap.wrap(
            f"left out: {', '.join(_left_out(report.skipped))}",
            width=WIDTH,
            initial_indent="  ",
            subsequent_indent="    ",
        )


def _left_out(skipped: Collection[str]) -> Iterator[str]:
    """Yield the families that are left out as a whole, and the single checks of others."""
    for family in FAMILIES:
        own = [one.name for one in CHECKS if one.family == family]
        left = [name for name in own if name in skipped]
        if left == own:
            yield family
        else:
            yield from left


def _wanting(family: str, drawn_up: DrawnUp) -> str:
    """Return what a recipe may say so that a family has something to weigh."""
    if drawn_up.given.whole is None:
        return ""
    if family == "hold":
        return "say what acts on it: .with_loads(load(...))"
    if family == "drive" and Hazard.MOTION in drawn_up.given.hazards:
        return "say what drives it: .with_drives(drive(...))"
    return ""


def weakest_link(report: Report) -> Iterator[str]:
    """Yield what gives first under load, and what to change for more; first what holds nothing."""
    texts = [
        f"held by nothing: {_where(one)}: {figures_of(one)}"
        for one in report.of("hold")
        if one.severity is Severity.STOP and one.margin is None
    ]
    weakest = _gives_first(report)
    if weakest is not None:
        where = f"{_where(weakest)}: {figures_of(weakest)}"
        texts += [
            f"weakest link under load, {margin_text(weakest)}: {where}",
            f"for more: {weakest.remedy}",
        ]
    if texts:
        yield ""
    for text in texts:
        yield from textwrap.wrap(text, width=WIDTH, initial_indent="  ", subsequent_indent="    ")


def _gives_first(report: Report) -> Finding | None:
    """Return the least margin of a force, stress or torque; of anything weighed without such.

    What bends, winds up or stands too near an edge is no link that gives.
    """
    held = [one for one in report.of("hold") if one.margin is not None]
    loaded = [one for one in held if one.unit in GIVES]
    return min(
        loaded or held,
        key=lambda one: math.inf if one.margin is None else one.margin,
        default=None,
    )


def _clipped(line: str) -> str:
    return line if len(line) <= WIDTH else f"{line[: WIDTH - 3].rstrip()}..."


def margin_text(finding: Finding) -> str:
    """Return a margin as people say it: "1.4 times"; plenty where it is beyond counting."""
    if finding.margin is None:
        return ""
    return "plenty" if finding.margin >= PLENTY else f"{finding.margin:.2f} times"


def counts_of(findings: Iterable[Finding]) -> str:
    """Return how many findings of each kind there are, the gravest first."""
    counts = Counter(finding.severity for finding in findings)
    if not counts:
        return "no findings"
    return ", ".join(
        counted(counts[severity], severity.name.lower())
        for severity in sorted(counts, reverse=True)
    )


def _where(finding: Finding) -> str:
    return " / ".join(name for name in (finding.part, finding.feature) if name)


def _lines(finding: Finding) -> Iterator[str]:
    """Yield one finding: where, what was measured against what, how, and what to do."""
    word = finding.severity.name.lower()
    mark = tinted(f"{word:<{HEAD}}", COLOURS[finding.severity], stream=sys.stdout)
    first, *more = textwrap.wrap(_where(finding), width=WIDTH - HEAD) or [""]
    yield f"{mark}{first}".rstrip()
    blank = " " * HEAD
    for line in more:
        yield blank + line
    margin = f"; margin {margin_text(finding)}" if finding.margin is not None else ""
    texts = [f"{figures_of(finding)}{margin}"]
    if finding.formula:
        texts.append(f"by {finding.formula}")
    rests = [finding.source] if finding.source else []
    rests += [f"check {finding.check}"] if finding.check else []
    if rests:
        texts.append(f"({'; '.join(rests)})")
    if finding.severity is not Severity.PASSED:
        texts.append(f"-> {finding.remedy}")
    for text in texts:
        yield from textwrap.wrap(
            text, width=WIDTH, initial_indent=blank, subsequent_indent=f"{blank}   "
        )
