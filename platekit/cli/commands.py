"""The commands, and the one place where a trouble becomes a message and an exit status."""

from __future__ import annotations

import argparse
import inspect
import os
import sys
import traceback
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from platekit.cli.arguments import UsageError, parser, script_parser
from platekit.cli.recipe_help import print_make_help
from platekit.cli.terminal import complain, hush
from platekit.errors import PlatekitError, RecipeError
from platekit.job.recipe import Recipe, load_recipe, recipe_of
from platekit.job.slips import RECIPE_MODULE

# What the exit status says.
DONE, WITHHELD, WRONG_INPUT, INTERRUPTED = 0, 1, 2, 130

# Set to 1 to see where an error of ours came from.
TRACEBACK_VARIABLE = "PLATEKIT_TRACEBACK"


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command line and return its exit status.

    Args:
        argv: The words after the program's name; left out, those of this process.

    Returns:
        0 done; 1 done, but a finding withheld the cut files; 2 the input was wrong, nothing was
        written; 130 interrupted from the keyboard.
    """
    words = sys.argv[1:] if argv is None else list(argv)
    return _guarded(lambda: _run(words))


def run_recipe(function: Callable[..., object]) -> None:
    """Make `function`, a recipe, as ``platekit make`` would, and end the program.

    For the end of a recipe's own file, so that the file runs by itself::

        if __name__ == "__main__":
            run_recipe(motor_base)

    Args:
        function: The recipe. The command line of this process holds the options of ``make``.

    Raises:
        SystemExit: Always; its code is the exit status of `main`.
        RecipeError: The file is being read by platekit rather than run by itself.
    """
    module = getattr(function, "__module__", "")
    if module.startswith(RECIPE_MODULE):
        raise RecipeError(
            "run_recipe is called while platekit reads the recipe",
            remedy='put it under: if __name__ == "__main__":',
        )
    sys.exit(_guarded(lambda: _run_alone(function)))


def _run(words: list[str]) -> int:
    given = parser().parse_args(words)
    if given.command is None:
        raise UsageError("no command given", remedy="platekit --help shows them")
    return _COMMANDS[given.command](given)


# Each imports what it needs when it is asked for, so that --help answers at once.


def _new(given: argparse.Namespace) -> int:
    from platekit.cli.new import write_first_recipe

    return write_first_recipe(given.name)


def _nest(given: argparse.Namespace) -> int:
    from platekit.cli.nest import nest_files

    return nest_files(given)


def _compare(given: argparse.Namespace) -> int:
    from platekit.cli.compare import compare_builds

    return compare_builds(given)


def _catalogue(given: argparse.Namespace) -> int:
    from platekit.cli.catalogue import show_catalogue

    return show_catalogue(given)


def _explain(given: argparse.Namespace) -> int:
    from platekit.cli.explain import explain_checks

    return explain_checks(given)


def _check(given: argparse.Namespace) -> int:
    from platekit.cli.check import check_recipe

    return check_recipe(load_recipe(given.recipe), given)


def _show(given: argparse.Namespace) -> int:
    from platekit.cli.show import show_recipe

    return show_recipe(given)


def _page(given: argparse.Namespace) -> int:
    from platekit.cli.page import page_recipe

    return page_recipe(load_recipe(given.recipe), given)


def _plans(given: argparse.Namespace) -> int:
    from platekit.cli.plans import plan_recipe

    return plan_recipe(load_recipe(given.recipe), given)


def _pack(given: argparse.Namespace) -> int:
    from platekit.cli.pack import pack_recipe

    return pack_recipe(load_recipe(given.recipe), given)


def _make_file(given: argparse.Namespace) -> int:
    if given.recipe is None:
        if given.wants_help:
            return print_make_help(None)
        raise UsageError("no recipe given", remedy="platekit make RECIPE.py")
    return _make(load_recipe(given.recipe), given)


_COMMANDS: Mapping[str, Callable[[argparse.Namespace], int]] = {
    "make": _make_file,
    "page": _page,
    "plans": _plans,
    "pack": _pack,
    "check": _check,
    "show": _show,
    "explain": _explain,
    "nest": _nest,
    "compare": _compare,
    "catalogue": _catalogue,
    "new": _new,
}


def _run_alone(function: Callable[..., object]) -> int:
    if not inspect.isfunction(function):
        raise RecipeError(f"run_recipe was given {function!r}", remedy="give it the function")
    path = Path(inspect.unwrap(function).__code__.co_filename)
    given = script_parser(prog=path.name).parse_args(sys.argv[1:])
    return _make(recipe_of(function, path=path), given, alone=True)


def _make(recipe: Recipe, given: argparse.Namespace, *, alone: bool = False) -> int:
    if given.wants_help:
        return print_make_help(recipe, alone=alone)
    from platekit.cli.make import make_recipe  # heavy: the whole chain

    return make_recipe(recipe, given)


def _guarded(work: Callable[[], int]) -> int:
    """Return the exit status of `work`, whatever happens in it."""
    try:
        status = work()
        sys.stdout.flush()
    except SystemExit as err:  # argparse, after --help and --version
        return err.code if isinstance(err.code, int) else DONE
    except BrokenPipeError:
        hush()
        return DONE
    except KeyboardInterrupt:
        complain("interrupted; no file was left half-written")
        return INTERRUPTED
    except Exception as err:  # noqa: BLE001  a traceback is no message
        if os.environ.get(TRACEBACK_VARIABLE) == "1":
            traceback.print_exc()
        complain(_explained(err))
        return WRONG_INPUT
    return status


def _explained(err: Exception) -> str:
    if isinstance(err, PlatekitError):
        return str(err)
    if isinstance(err, MemoryError):
        return "out of memory; nothing was written"
    return (
        f"this is a fault in platekit itself, nothing was written: {type(err).__name__}: {err}\n"
        f"  please report it, with what {TRACEBACK_VARIABLE}=1 shows"
    )
