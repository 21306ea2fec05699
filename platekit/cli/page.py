"""``platekit page``: run the job as make does, and show all of it on one page."""

from __future__ import annotations

import argparse
import json

from platekit.cli.check import counts_of
from platekit.cli.given import make_options
from platekit.cli.sheets import STOPPED_EARLY
from platekit.cli.terminal import ProgressLine, complain, counted, say
from platekit.export.one_file import write_one
from platekit.job.paging import PAGE, page_of, page_text, require_own
from platekit.job.recipe import Recipe
from platekit.job.run import make


def page_recipe(recipe: Recipe, given: argparse.Namespace) -> int:
    """Write the build page of `recipe` and say where it is.

    Returns:
        0, or 1 when a finding withholds the cut files: the page says so too.

    Raises:
        PlatekitError: The input was wrong, or the page cannot be written; nothing was.
    """
    options = make_options(given)
    path = options.out / recipe.name / PAGE
    target = path.absolute()  # a recipe may change the working folder
    require_own(target)
    progress = ProgressLine()
    try:
        build = make(recipe, options, progress=progress)
        progress("drawing the page")
        page = page_of(recipe, build, folder=target.parent)
        text = page_text(page)
        write_one(target, text)
    finally:
        progress.wipe()
    if build.interrupted:
        complain(STOPPED_EARLY)
    lacking = sum(not file.there for file in page.files)
    carried = sum(file.text is not None for file in page.files)
    if given.json:
        said = {
            "recipe": recipe.name,
            "page": path.as_posix(),
            "bytes": len(text.encode()),
            "linked": len(page.files) - lacking,
            "missing": lacking,
            "carried": carried,
            "withheld": build.withheld,
        }
        say(json.dumps(said, indent=2))
        return 1 if build.withheld else 0
    things = 0 if page.scene is None else len(page.scene.things)
    shown = [counted(things, "thing")] if things > 1 else []
    shown += [counted(len(build.parts), "kind") + " of part", counted(len(build.sheets), "sheet")]
    say(f"{recipe.name}: {', '.join(shown)}; {counts_of(build.findings)}")
    say(f"Written to {path}, {len(text.encode()) / 1000:.0f} kB; it opens without a network")
    if build.withheld:
        say("A finding says stop: the page shows it; platekit make withholds the cut files")
    elif carried:
        say(f"It carries {counted(carried, 'file')} of this run, cut files among them, to be saved")
        say("  from it; platekit make writes them as a folder")
    return 1 if build.withheld else 0
