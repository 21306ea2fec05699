"""``platekit explain``: what each check asks, by which formula, and after whom."""

from __future__ import annotations

import argparse
import json
import textwrap
from collections.abc import Iterator

from platekit.checks.check import FAMILIES, Check
from platekit.checks.examine import CHECKS, checks_named
from platekit.cli.terminal import say

WIDTH = 98


def explain_checks(given: argparse.Namespace) -> int:
    """Print the list of all checks, or how those asked for are worked out.

    Returns:
        0.

    Raises:
        UnknownNameError: There is no such check or family.
    """
    named = checks_named(given.checks)
    asked = [check for check in CHECKS if check.name in named] if given.checks else list(CHECKS)
    if given.json:
        said = [{"check": one.name, "asks": one.asks, "by": one.by} for one in asked]
        say(json.dumps(said, indent=2))
        return 0
    for line in _explained(asked) if given.checks else _listed(asked):
        say(line)
    return 0


def _listed(checks: list[Check]) -> Iterator[str]:
    room = max(len(check.name) for check in checks) + 2
    for family, asks in FAMILIES.items():
        yield f"{asks[0].upper()}{asks[1:]}?"
        for check in checks:
            if check.family == family:
                yield from textwrap.wrap(
                    check.asks,
                    width=WIDTH,
                    initial_indent=f"  {check.name:<{room}}",
                    subsequent_indent=" " * (room + 2),
                )
        yield ""
    yield "platekit explain CHECK      how it is worked out, and after whom"
    yield "--skip CHECK                leaves one out, in platekit check and platekit make;"
    yield '.without_checks("CHECK")    does so in a recipe'


def _explained(checks: list[Check]) -> Iterator[str]:
    for place, check in enumerate(checks):
        if place:
            yield ""
        yield check.name
        for text in (check.asks, check.by):
            yield from textwrap.wrap(text, width=WIDTH, initial_indent="  ", subsequent_indent="  ")
