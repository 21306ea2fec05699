"""``platekit catalogue``: what a recipe may name, read from the tables that ship."""

from __future__ import annotations

import argparse
import json
import shutil
import textwrap
from collections.abc import Callable, Iterator, Mapping, Sequence

from platekit.cli.terminal import say
from platekit.handbook import Row
from platekit.job.catalogue.kinds import KINDS
from platekit.job.catalogue.tables import Column, Kind, Table, everything, find_kind

# Lines are broken to the terminal within these; text that goes to a file or a pipe to the wider.
NARROWEST, WIDEST = 60, 100

# Signs between columns, one where the table would not fit; and least to break the last one to.
WIDE_GAP = 2
LEAST_ROOM = 20

# The source of most rows is said of "the others" where it holds for more than these.
MOST_NAMED = 6

# Said where the whole words do not fit beside the figures.
_SHORT = {"from memory": "memory", "common practice": "practice"}

KNOWN = (
    "looked up: read in the source named; from memory, common practice: check the part in hand "
    "before you cut."
)


def show_catalogue(given: argparse.Namespace) -> int:
    """Print the kinds there are, or the entries of the one asked for.

    Returns:
        0.

    Raises:
        UnknownNameError: There is no such kind.
        TableError: A table cannot be read.
    """
    asked = " ".join(given.kind)
    kinds = (find_kind(asked, KINDS),) if asked.strip() else KINDS
    if given.json:
        # Escaped, so that it is the same object whatever signs the terminal knows.
        say(json.dumps(everything(kinds), indent=2))
        return 0
    width = _width()
    told = told_kind(kinds[0], width=width) if asked.strip() else told_kinds(KINDS, width=width)
    for line in told:
        say(line)
    return 0


def _width() -> int:
    columns = shutil.get_terminal_size(fallback=(WIDEST, 0)).columns
    return min(max(columns, NARROWEST), WIDEST)


def told_kinds(kinds: Sequence[Kind], *, width: int) -> Iterator[str]:
    """Yield a line a kind: what to ask for, how many entries it has, the call that takes one."""
    rows = [
        (kind.name, str(kind.count() or "-"), next(iter(kind.calls), f"({kind.about})"))
        for kind in kinds
    ]
    yield from _aligned([("kind", "entries", "in a recipe"), *rows], right={1}, width=width)
    yield ""
    yield "platekit catalogue KIND     its entries, with the figures to plan by"
    yield "platekit catalogue --json   everything; KIND --json, every field of its entries"


def told_kind(kind: Kind, *, width: int) -> Iterator[str]:
    """Yield the entries of a kind, their doubts and sources, in lines of at most `width`.

    Names and figures are never broken: a table that needs more is wider.
    """
    yield from _broken(f"{kind.name}: {kind.about}", width, indent=2)
    for call in kind.calls:
        yield f"  {call}"
    if kind.own:
        yield f'  {kind.own}("FILE.csv")  # a file of yours; --json shows its columns'
    for table in kind.tables:
        for title, rows in table.parted().items():
            yield ""
            if title:
                yield title
            yield from _told(table, rows, width=width)
    if kind.tables:
        yield ""
        yield from _broken(KNOWN, width)


def _told(table: Table, rows: Sequence[Row], *, width: int) -> Iterator[str]:
    """Yield the rows, and below them what is in doubt about some and where they come from."""

    def name(row: Row) -> str:
        return table.columns[0].cell(row)

    doubts = _footnotes(rows, lambda row: [_doubt(row)], name)
    numbers = {doubt: str(number) for number, doubt in enumerate(doubts, start=1)}
    if table.listed:
        known = ", ".join(dict.fromkeys(row.text("known") for row in rows))
        yield from _broken(f"  {', '.join(map(name, rows))} ({known})", width, indent=2)
    else:
        yield from _figures(table.columns, rows, numbers, width=width)
    for doubt, number in numbers.items():
        yield from _broken(f"  {number}  {doubt}", width, indent=5)
    for hazard, names in _footnotes(rows, _hazards, name).items():
        yield from _broken(f"  caution, {hazard}: {', '.join(names)}", width, indent=4)
    yield from _sources(_footnotes(rows, lambda row: [row.text("source")], name), width=width)


def _footnotes(
    rows: Sequence[Row], texts: Callable[[Row], Sequence[str]], name: Callable[[Row], str]
) -> Mapping[str, Sequence[str]]:
    """Return what is said of several rows once, each with the names of the rows it is said of."""
    found: dict[str, list[str]] = {}
    for row in rows:
        for said in filter(None, texts(row)):
            found.setdefault(said, []).append(name(row))
    return found


def _doubt(row: Row) -> str:
    return row.optional_text("doubt") if "doubt" in row.cells else ""


def _hazards(row: Row) -> Sequence[str]:
    return row.words("hazards") if "hazards" in row.cells else ()


def _figures(
    columns: Sequence[Column], rows: Sequence[Row], numbers: Mapping[str, str], *, width: int
) -> Iterator[str]:
    shown = [column for column in columns if any(column.cell(row) != "-" for row in rows)]
    cells = [[column.cell(row) for column in shown] for row in rows]
    heads = [column.heading for column in shown]
    if numbers:
        heads.append("note")
        for row, line in zip(rows, cells, strict=True):
            line.append(numbers.get(_doubt(row), ""))
    tops = [head.partition("|")[0] for head in heads]
    units = [head.partition("|")[2] for head in heads]
    whole = [tops, *([units] if any(units) else []), *cells]
    # The first names the row and stays to the left.
    right = {
        k for k, column in enumerate(shown) if k and _of_figures(column, [c[k] for c in cells])
    }
    gap = WIDE_GAP
    if max(map(len, _aligned(whole, right=right))) > width:
        whole = [[_SHORT.get(cell, cell) for cell in line] for line in whole]
    if max(map(len, _aligned(whole, right=right, width=width))) > width:
        gap = 1
    yield from _aligned(whole, right=right, width=width, gap=gap)


def _of_figures(column: Column, cells: Sequence[str]) -> bool:
    """Return whether a column holds single figures, which stand to the right."""
    figures = [cell for cell in cells if cell != column.missing]
    return all(cell.replace(".", "").lstrip("-").isdigit() for cell in figures)


def _aligned(
    rows: Sequence[Sequence[str]],
    *,
    right: set[int],
    width: int | None = None,
    gap: int = WIDE_GAP,
) -> Iterator[str]:
    """Yield rows in columns, `gap` signs apart; the last is broken where it goes beyond `width`."""
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    before = WIDE_GAP + sum(widths[:-1]) + gap * (len(widths) - 1)
    for row in rows:
        cells = [
            cell.rjust(room) if k in right else cell.ljust(room)
            for k, (cell, room) in enumerate(zip(row, widths, strict=True))
        ]
        head = " " * WIDE_GAP + (" " * gap).join((*cells[:-1], ""))
        last = cells[-1].rstrip()
        if width is None or before + len(last) <= width:
            yield f"{head}{last}".rstrip()
            continue
        first, *more = _broken(last, max(width - before, LEAST_ROOM)) or [""]
        yield f"{head}{first}".rstrip()
        for rest in more:
            yield " " * before + rest


def _sources(sources: Mapping[str, Sequence[str]], *, width: int) -> Iterator[str]:
    """Yield where the rows come from; what several sources have in common is said once."""
    if len(sources) == 1:
        yield from _broken(f"  source: {next(iter(sources))}", width, indent=4)
        return
    yield "  sources"
    longest = max(sources, key=lambda source: len(sources[source]))
    alike: dict[str, list[str]] = {}
    for source, names in sources.items():
        head, comma, rest = source.partition(", ")
        others = source == longest and len(names) > MOST_NAMED
        of = "the others" if others else ", ".join(names)
        alike.setdefault(f"{head}{comma}", []).append(f"{rest} ({of})".lstrip())
    for head, said in alike.items():
        yield from _broken(f"    {head.rstrip()} {'; '.join(said)}", width, indent=6)


def _broken(text: str, width: int, *, indent: int = 0) -> list[str]:
    """Return `text` broken to `width`; designations keep their hyphens."""
    return textwrap.wrap(
        text, width, subsequent_indent=" " * indent, break_on_hyphens=False, break_long_words=False
    )
