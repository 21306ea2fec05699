"""Where in which file something went wrong, and the lines about it."""

from __future__ import annotations

import ast
import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from types import CodeType, TracebackType

from platekit.errors import PlatekitError

# So many lines before the one meant, and after it.
ABOUT = 3
# Longer lines are cut: nobody reads them in a message.
LONGEST_LINE = 160


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A line of a file, and what of it is meant.

    Attributes:
        file: The file.
        line: Line there, from 1.
        inside: Function it stands in, or empty.
        mark: First sign meant and the one after the last, from 0; None for the whole line.
    """

    file: str
    line: int
    inside: str = ""
    mark: tuple[int, int] | None = None


def raised_at(err: BaseException, recipe: Path) -> Place | None:
    """Return the innermost place of an error in the recipe or a module of its own beside it.

    Args:
        err: What was raised, as it came out of the recipe's own code.
        recipe: The recipe's file.
    """
    if isinstance(err, SyntaxError) and err.filename and err.lineno:
        return Place(file=err.filename, line=err.lineno, mark=_syntax_mark(err))
    found = None
    for trace in _traces(err.__traceback__):
        code = trace.tb_frame.f_code
        if is_own(code.co_filename, recipe):
            inside = "" if code.co_name == "<module>" else code.co_name
            found = Place(
                file=code.co_filename,
                line=trace.tb_lineno,
                inside=inside,
                mark=_mark(code, trace.tb_lasti, trace.tb_lineno),
            )
    return found


def named_at(err: PlatekitError, recipe: Path) -> Place | None:
    """Return where a recipe first writes the name of the feature or part an error is about.

    What cannot be made shows when joints are dealt, long after the recipe has run; where the
    recipe names the thing is the best there is to point at.
    """
    try:
        tree = ast.parse(recipe.read_bytes())
    except (OSError, SyntaxError, ValueError):
        return None
    texts = [
        node
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    ]
    names = [err.feature, err.part, *err.part.split(" + ")]
    for name in filter(None, names):
        known = [node for node in texts if node.value == name]
        if known:
            node = min(known, key=lambda one: (one.lineno, one.col_offset))
            ends = node.end_col_offset if node.end_lineno == node.lineno else None
            line = _lines(str(recipe))[node.lineno - 1]
            return Place(
                file=str(recipe), line=node.lineno, mark=_signs(line, node.col_offset, ends)
            )
    return None


def is_own(file: str, recipe: Path) -> bool:
    """Return whether code of a file is the recipe's own: the recipe, or beside or below it."""
    if file == str(recipe):
        return True
    beside = os.path.join(recipe.resolve().parent, "")  # noqa: PTH118  a text that ends in a slash
    return file.startswith(beside) and "site-packages" not in file and not _is_ours(file)


def lines_about(file: str, line: int) -> tuple[tuple[int, str], ...]:
    """Return the lines about one with their numbers."""
    text = _lines(file)
    first = max(1, line - ABOUT)
    return tuple(
        (number, text[number - 1][:LONGEST_LINE])
        for number in range(first, min(line + ABOUT, len(text)) + 1)
    )


def _is_ours(file: str) -> bool:
    return file.startswith(str(Path(__file__).resolve().parents[1]))


def _lines(file: str) -> list[str]:
    try:
        return Path(file).read_text(encoding="utf-8", errors="replace").splitlines()
    except OSError:
        return []


def _traces(trace: TracebackType | None) -> Iterator[TracebackType]:
    while trace is not None:
        yield trace
        trace = trace.tb_next


def _mark(code: CodeType, last: int, line: int) -> tuple[int, int] | None:
    """Return which signs of a line an instruction comes from (PEP 657)."""
    if last < 0:
        return None
    places = list(code.co_positions())
    if last // 2 >= len(places):
        return None
    first_line, last_line, start, end = places[last // 2]
    lines = _lines(code.co_filename)
    if first_line != line or start is None or line > len(lines):
        return None
    return _signs(lines[line - 1], start, end if last_line == line else None)


def _signs(line: str, start: int, end: int | None) -> tuple[int, int]:
    """Return places in a line counted in signs; Python counts the bytes of UTF-8."""
    held = line.encode()
    first = len(held[:start].decode(errors="ignore"))
    last = len(line) if end is None else len(held[:end].decode(errors="ignore"))
    return first, max(last, first + 1)


def _syntax_mark(err: SyntaxError) -> tuple[int, int] | None:
    if err.offset is None or err.offset < 1:
        return None
    start = err.offset - 1
    on_line = err.end_lineno in {None, err.lineno}
    end = err.end_offset - 1 if on_line and err.end_offset and err.end_offset > err.offset else None
    return start, end or start + 1
