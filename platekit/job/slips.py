"""What to say when a recipe's own code goes wrong: its line, never platekit's."""

from __future__ import annotations

import linecache
import sys
from collections.abc import Iterator
from contextlib import contextmanager, redirect_stdout, suppress
from pathlib import Path
from types import FrameType, TracebackType

from platekit.errors import PlatekitError, RecipeError

# Modules made of recipes have names that no import statement can ask for.
RECIPE_MODULE = "recipe:"


@contextmanager
def recipe_at_work(path: Path) -> Iterator[None]:
    """Run a recipe's own code: what it raises becomes a `RecipeError` with the recipe's line.

    Meanwhile modules beside the recipe can be imported, nothing is written next to it (no
    bytecode), and what it prints goes to standard error, since standard output is the answer.
    An interrupt from the keyboard passes through.

    Args:
        path: The recipe's file, as the user named it.

    Raises:
        RecipeError: Whatever the recipe raised, told with its own line.
    """
    beside = str(path.resolve().parent)
    bytecode, sys.dont_write_bytecode = sys.dont_write_bytecode, True
    # Last, so that a recipe called json.py does not stand in for the real json.
    sys.path.append(beside)
    try:
        with redirect_stdout(sys.stderr):
            yield
    except KeyboardInterrupt:
        raise
    except SyntaxError as err:
        raise _unparsable(err, path) from err
    except SystemExit as err:
        raise _told(f"it ends the program (exit {err.code})", err, path) from err
    except PlatekitError as err:
        raise _told(str(err), err, path) from err
    except RecursionError as err:
        raise _told("it calls itself without end (RecursionError)", err, path) from err
    except BaseException as err:
        raise _told(_sentence(err), err, path) from err
    finally:
        sys.dont_write_bytecode = bytecode
        with suppress(ValueError):
            sys.path.reverse()
            sys.path.remove(beside)
        sys.path.reverse()


def quoted(path: Path, line: int) -> str:
    """Return one line of a recipe below its number, or nothing when it cannot be read."""
    linecache.checkcache(str(path))
    text = linecache.getline(str(path), line).strip()
    return f"\n  {line} | {text}" if text else ""


def _sentence(err: BaseException) -> str:
    kind = type(err).__name__
    said = str(err).strip()
    return f"{said} ({kind})" if said else kind


def _told(problem: str, err: BaseException, path: Path) -> RecipeError:
    frame, line = _own_line(err.__traceback__, path)
    place = f"{path}, line {line}" if line else str(path)
    name = frame.f_code.co_name if frame else ""
    inside = f" in {name}" if name not in {"", "<module>"} else ""
    return RecipeError(f"{place}{inside}: {problem}{quoted(path, line) if line else ''}")


def _own_line(trace: TracebackType | None, path: Path) -> tuple[FrameType | None, int]:
    """Return the innermost frame of the recipe's own file, and its line."""
    found: tuple[FrameType | None, int] = (None, 0)
    while trace is not None:
        if trace.tb_frame.f_code.co_filename == str(path):
            found = (trace.tb_frame, trace.tb_lineno)
        trace = trace.tb_next
    return found


def _unparsable(err: SyntaxError, path: Path) -> RecipeError:
    """Return the error for a file that is no Python: the recipe, or a module beside it."""
    where = err.filename or str(path)
    line = err.lineno or 0
    place = f"{where}, line {line}" if line else where
    text = (err.text or linecache.getline(where, line)).rstrip()
    shown = ""
    if line and text.strip():
        indent = len(text) - len(text.lstrip())
        mark = " " * (max((err.offset or 1) - 1 - indent, 0) + len(f"  {line} | "))
        shown = f"\n  {line} | {text.strip()}\n{mark}^"
    return RecipeError(f"{place}: it does not parse: {err.msg}{shown}")
