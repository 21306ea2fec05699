"""``platekit compare``: lay two builds beside each other, write it down, say what changed."""

from __future__ import annotations

import argparse
import json
import sys
import textwrap
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress
from pathlib import Path

from platekit.cli.compare_assembly import told_joints, told_order, told_screws
from platekit.cli.compare_words import decimals_apart, told_bought, told_change
from platekit.cli.terminal import ProgressLine, counted, say, tinted
from platekit.errors import OutputError
from platekit.export.figures import format_mm
from platekit.export.picture import together
from platekit.findings import Finding
from platekit.job.comparing.comparison import COMPARISON, compare, comparison_files, told_apart
from platekit.job.comparing.values import Change, Comparison, PartChange
from platekit.job.records.reading import read_record
from platekit.job.run import RECORD

FOLDER = "compare"
WIDTH = 98
_COLOUR = {"worse": 31, "new": 31, "changed": 33, "better": 32, "gone": 32}


def compare_builds(given: argparse.Namespace) -> int:
    """Compare the two builds of a command line and print what changed.

    Returns:
        0, whether anything changed or not.

    Raises:
        PlatekitError: The input was wrong or the folder cannot be written; nothing was.
    """
    from platekit.export.atomic import write_all

    progress = ProgressLine()
    try:
        progress("reading the builds")
        old, new = read_record(given.old), read_record(given.new)
        progress("laying the parts over each other")
        comparison = compare(old, new, labels=told_apart(given.old, given.new))
        files = comparison_files(comparison)
        folder = given.out / FOLDER / new.recipe
        _require_no_build(folder)
        progress("writing the files")
        write_all(folder, files, manifest=COMPARISON)
    finally:
        progress.wipe()
    if given.json:
        # Escaped, so that it is the same object whatever signs the terminal knows.
        say(json.dumps(json.loads(files[COMPARISON]), indent=2))
        return 0
    for line in told(comparison):
        say(line)
    say(f"{counted(len(files), 'file')} in {folder}")
    return 0


def told(comparison: Comparison) -> Iterator[str]:
    """Yield a comparison line by line; what stayed is not spoken of."""
    old, new = comparison.old, comparison.new
    recipe = old.recipe if old.recipe == new.recipe else f"{old.recipe} -> {new.recipe}"
    yield f"{recipe}: {old.label} -> {new.label}"
    if comparison.same:
        yield "  nothing changed"
        return
    parts = [
        *_named("gone", comparison.gone_parts),
        *_named("new", comparison.new_parts),
        *_parts(comparison.changed_parts),
    ]
    for title, rows in (
        ("Inputs", [(one.name, told_change(one, exact=True)) for one in comparison.inputs]),
        ("Parts", parts),
        ("Joints", list(told_joints(comparison.joints))),
        ("Screws", list(told_screws(comparison.screws))),
        ("Assembly", list(told_order(comparison.order))),
        ("Hardware", [("", told_bought(one)) for one in comparison.hardware]),
        ("Sheets", [(one.name, told_change(one)) for one in comparison.sheets]),
        ("Prices", [(one.name, told_change(one)) for one in comparison.prices]),
        ("Findings", list(_findings(comparison))),
    ):
        if rows:
            yield title
            yield from _table(rows, coloured=title == "Findings")


def _require_no_build(folder: Path) -> None:
    held = False
    with suppress(OSError):  # a folder that cannot be looked into is refused by the writing
        held = (folder / RECORD).exists()
    if held:
        raise OutputError(
            f"{folder} holds a build, which a comparison must not mix with",
            remedy="choose another folder with --out",
        )


def _table(rows: Sequence[tuple[str, str]], *, coloured: bool) -> Iterator[str]:
    """Yield rows of a name and what is said of it, the latter lined up and broken to a width."""
    room = max((len(name) for name, _ in rows if len(name) <= WIDTH // 3), default=0)
    for name, said in rows:
        head = f"  {name:<{room}}  " if room else "  "
        lines = textwrap.wrap(
            said,
            width=WIDTH,
            initial_indent=head,
            subsequent_indent=" " * (room + 6),
            break_on_hyphens=False,
        )
        first, *more = lines or [head]  # an empty name in a record is told as nothing
        if coloured and name:
            word = tinted(name, _COLOUR[name], stream=sys.stdout)
            first = first.replace(name, word, 1)
        for line in (first, *more):
            yield line.replace("\N{NO-BREAK SPACE}", " ")


def _named(fate: str, names: Iterable[str]) -> Iterator[tuple[str, str]]:
    said = ", ".join(names)
    if said:
        yield "", f"{fate}: {said}"


def _parts(parts: Sequence[PartChange]) -> Iterator[tuple[str, str]]:
    """Yield a row a part; a sheet that changed alike in all of them is told once."""
    sheets = [
        (one.name, told_change(one)) for part in parts for one in part.changes if _of_sheet(one)
    ]
    shared = [one for one, count in Counter(sheets).items() if count == len(parts) > 1]
    for name, said in shared:
        yield "", f"{name} {said} in all {len(parts)} changed parts"
    for part in parts:
        told_here = [(one.name, told_change(one)) for one in part.changes]
        words = [f"{name} {said}" for name, said in told_here if (name, said) not in shared]
        words += _areas(part)
        if words:
            yield part.name, "; ".join(map(together, words))


def _of_sheet(change: Change) -> bool:
    return change.name in ("material", "thickness")


def _areas(part: PartChange) -> Iterator[str]:
    if part.shape is None:
        return
    removed, added = part.shape.removed_mm2, part.shape.added_mm2
    if removed is None or added is None:
        yield "outline changed; one crosses itself or both each other too often to say by how much"
        return
    for area, word in ((removed, "removed"), (added, "added")):
        if area:
            yield f"{format_mm(area, decimals=decimals_apart([area], [0.0]))} mm2 {word}"


def _findings(comparison: Comparison) -> Iterator[tuple[str, str]]:
    for fate, findings in (("gone", comparison.gone_findings), ("new", comparison.new_findings)):
        for finding in findings:
            yield fate, _finding(finding)
    for change in comparison.changed_findings:
        yield change.trend, _finding(change.new)
        was = _finding(change.old)
        if change.old.remedy == change.new.remedy:
            was = was.removesuffix(f"; {change.old.remedy}")
        yield "", f"was {was}"


def _finding(finding: Finding) -> str:
    return f"{finding.severity.name.lower()}: {finding}"
