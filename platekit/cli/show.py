"""``platekit show``: a recipe in the browser, drawn up again whenever it or a value changes."""

from __future__ import annotations

import argparse
import os
import sys
import threading
import webbrowser

from platekit.cli.given import show_options
from platekit.cli.terminal import complain, say
from platekit.errors import RecipeError
from platekit.live.address import open_place
from platekit.live.problem import Problem
from platekit.live.serving import serve_until_ended


def show_recipe(given: argparse.Namespace) -> int:
    """Show a recipe until the user ends it.

    Returns:
        0, once it was ended from the keyboard.

    Raises:
        PlatekitError: There is no such recipe, an option is out of range, the port is busy.
    """
    options = show_options(given)
    recipe = given.recipe
    # What is in the file may be wrong, and the page will say so; but a page for no file is none.
    if recipe.suffix != ".py" or not recipe.is_file():
        raise RecipeError(f"there is no recipe {recipe}", remedy="give a Python file, NAME.py")
    place = open_place(given.port, recipe)
    told: list[str] = []

    def ready() -> None:
        say(f"{recipe.stem} is shown at {place.address}")
        say("  it follows every save; only this computer can see it; Ctrl-C ends it")
        if given.browser and _has_screen():
            # Some browsers do not come back before they are closed.
            threading.Thread(target=webbrowser.open, args=(place.address,), daemon=True).start()

    def tell(problem: Problem) -> None:
        if told[-1:] != [str(problem)]:
            complain(str(problem))
            told.append(str(problem))

    serve_until_ended(recipe, options, place=place, limit_s=given.limit, ready=ready, told=tell)
    say("ended")
    return 0


def _has_screen() -> bool:
    """Return whether a browser would come up as a window, not over this very terminal."""
    if sys.platform in {"win32", "darwin"}:
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))
