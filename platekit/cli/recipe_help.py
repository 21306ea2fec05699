"""Help for ``make``: its own options, and those of the recipe it is asked about."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable

from platekit.cli.arguments import make_help
from platekit.cli.terminal import say
from platekit.job.parameters import Parameter, show
from platekit.job.recipe import Recipe


def print_make_help(recipe: Recipe | None, *, alone: bool = False) -> int:
    """Print what `make` takes, and what `recipe` itself takes with ``--set``.

    Args:
        recipe: The recipe asked about, if one was.
        alone: Whether the recipe's file is run by itself.
    """
    say(make_help(recipe.path if recipe else None, alone=alone).rstrip("\n"))
    if recipe is None:
        say("\nplatekit make RECIPE --help shows the recipe's own parameters as well.")
        return 0
    say()
    for line in _recipe_help(recipe):
        say(line)
    return 0


def _recipe_help(recipe: Recipe) -> Iterable[str]:
    yield f"{recipe.name}: {recipe.summary}" if recipe.summary else recipe.name
    if recipe.sheet is not None:
        yield f"  drawn for {recipe.sheet.name}"
    if not recipe.parameters:
        yield "  it has no parameters of its own"
        return
    yield "  its own parameters, for --set NAME=VALUE:"
    shown = [(one.name, _default(one), one) for one in recipe.parameters]
    names = max(len(name) for name, _, _ in shown)
    values = max(len(value) for _, value, _ in shown)
    for name, value, one in shown:
        head = f"    {name:<{names}}  {value:<{values}}  "
        yield from textwrap.wrap(
            _about(one),
            width=98,
            initial_indent=head,
            subsequent_indent=" " * len(head),
        ) or [head.rstrip()]


def _default(parameter: Parameter) -> str:
    return f"{show(parameter.default)} {parameter.unit}".rstrip()


def _about(parameter: Parameter) -> str:
    kind = f"one of {', '.join(parameter.choices)}" if parameter.choices else parameter.kind
    return f"{parameter.help} ({kind})" if parameter.help else f"({kind})"
