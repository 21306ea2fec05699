"""What ``make`` and ``nest`` say about their sheets."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from platekit.cli.terminal import counted
from platekit.export.sheet_table import sheets_table
from platekit.job.laid import LaidSheet, sheet_lines
from platekit.nesting import Unplaced

STOPPED_EARLY = "stopped early by you: this is the best so far"


def told_sheets(sheets: Iterable[LaidSheet]) -> Iterable[str]:
    """Yield the table of the sheets, indented."""
    for line in sheets_table(sheet_lines(sheets)):
        yield f"  {line}"


def told_unplaced(unplaced: Iterable[Unplaced]) -> Iterable[str]:
    """Yield a line for each kind of part that found no place, for each reason."""
    counts = Counter((one.part, one.reason) for one in unplaced)
    for (part, reason), count in counts.items():
        yield f"without a place: {part}, {counted(count, 'piece')}: {reason}"
