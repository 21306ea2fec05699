"""``platekit plans``: a recipe on paper, for the wall, the saw and the drill."""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from platekit.cli.cautions import switched_on
from platekit.cli.check import counts_of
from platekit.cli.given import check_options
from platekit.cli.terminal import ProgressLine, counted, say
from platekit.errors import OutputError
from platekit.export.build_checks import finding_json
from platekit.export.one_file import write_one
from platekit.findings import Severity
from platekit.job.planning import PLANS, OnPaper, Planned, plan
from platekit.job.recipe import Recipe


def plan_recipe(recipe: Recipe, given: argparse.Namespace) -> int:
    """Draw `recipe` on paper as the command line asks and say what came of it.

    Returns:
        0, or 1 when a finding withheld the outlines; all else is written.

    Raises:
        PlatekitError: The input was wrong, or the file cannot be written; nothing was.
    """
    on = _on_paper(given)
    options = replace(check_options(given), cut_anyway=given.cut_anyway)
    path = options.out / recipe.name / PLANS
    target = path.absolute()  # a recipe may change the working folder
    progress = ProgressLine()
    try:
        planned = plan(recipe, options, on=on, progress=progress)
        progress("writing the plans")
        _require_ours(target)
        write_one(target, planned.pdf)
    finally:
        progress.wipe()
    if given.json:
        said = {
            "recipe": recipe.name,
            "file": path.as_posix(),
            "paper": on.paper.name,
            "overlap_mm": on.overlap_mm,
            "pages": planned.pages,
            "tiled": list(planned.tiled),
            "withheld": planned.plans.withheld,
            "findings": [finding_json(finding) for finding in planned.findings],
        }
        say(json.dumps(said, indent=2))
    else:
        for line in _told(recipe.name, planned, path):
            say(line)
    return 1 if planned.plans.withheld else 0


def _on_paper(given: argparse.Namespace) -> OnPaper:
    from platekit.export.plans.printing.paper import Paper

    paper = Paper.parse(given.paper) if given.roll is None else Paper.roll(given.roll)
    return OnPaper(paper=paper, overlap_mm=given.overlap)


def _told(name: str, planned: Planned, path: Path) -> Iterator[str]:
    pieces = sum(part.quantity for part in planned.plans.parts)
    kinds = len(planned.plans.parts)
    yield f"{name}: {counted(pieces, 'piece')} of {counted(kinds, 'kind')}"
    yield f"  {counted(planned.pages, 'page')} for {planned.plans.paper.name}"
    if planned.tiled:
        yield f"  {counted(len(planned.tiled), 'part')} tiled over several pages"
    yield f"  {counts_of(planned.findings)}"
    yield f"Written to {path}"
    if planned.plans.withheld:
        yield "No outlines in it: a finding says stop. Its findings say why, and what to do;"
        yield "  --cut-anyway draws them all the same"
        return
    if any(one.severity is Severity.STOP for one in planned.findings):
        yield "Outlines were drawn although a finding says stop: read its findings first."
    yield ""
    yield "Print at 100 %, not fitted to the page, and measure the check square before you cut."
    yield "Saw and drill: clamp the work, wear eye protection, keep dust out of your lungs."
    yield from switched_on(planned.hazards)


def _require_ours(path: Path) -> None:
    """Raise if a file of somebody else stands where the plans should go.

    Raises:
        OutputError: It does, or it cannot be read.
    """
    if not path.exists():
        return
    try:
        ours = b"platekit" in path.read_bytes()
    except OSError as err:
        raise OutputError(
            f"cannot read {path}: {err.strerror}", remedy="move it or choose another --out"
        ) from err
    if not ours:
        raise OutputError(
            f"{path} is in the way: no earlier run is known to have written it",
            remedy="move it or choose another folder with --out",
        )
