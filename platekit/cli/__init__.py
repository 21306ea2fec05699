"""The command line: `main` is what ``platekit`` runs, `run_recipe` what a recipe itself runs."""

from platekit.cli.commands import main, run_recipe

__all__ = ["main", "run_recipe"]
