"""What may stand on the command line. Nothing heavy is imported here."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import NoReturn

from platekit.cli.option_groups import (
    add_checks,
    add_chosen,
    add_job_options,
    add_json,
    add_names,
    add_sheet_and_beam,
    add_spacing,
)
from platekit.cli.words import number, seconds, whole
from platekit.errors import PlatekitError
from platekit.job.options import Options
from platekit.version import VERSION

_USUAL = Options()


class UsageError(PlatekitError, ValueError):
    """A command line that makes no sense."""


class Parser(argparse.ArgumentParser):
    """A parser that raises instead of ending the program."""

    def error(self, message: str) -> NoReturn:
        """Raise the message as a `UsageError`."""
        raise UsageError(message, remedy=f"{self.prog} --help shows what is possible")


def parser() -> Parser:
    """Return the parser of the whole command line."""
    return _parsers()[0]


def make_help(recipe: Path | None, *, alone: bool = False) -> str:
    """Return the help of ``make``, or of a recipe that is run by itself."""
    if recipe is not None and alone:
        return script_parser(prog=recipe.name).format_help()
    return _parsers()[1].format_help()


def _parsers() -> tuple[Parser, Parser]:
    whole = Parser(
        prog="platekit",
        description="From a short Python recipe to cut files: flat plates for a laser, nested "
        "on stock sheets, with a bill of materials.",
        epilog="First steps: platekit new bracket, then platekit make bracket.py",
        allow_abbrev=False,
    )
    whole.add_argument("--version", action="version", version=f"platekit {VERSION}")
    commands = whole.add_subparsers(dest="command", metavar="COMMAND", parser_class=Parser)
    make = commands.add_parser(
        "make",
        help="turn a recipe into cut files",
        description="Turn a recipe into cut files, nested sheets, a bill of materials and a "
        "record of the run.",
        allow_abbrev=False,
        add_help=False,
    )
    make.add_argument("recipe", nargs="?", type=Path, metavar="RECIPE", help="a recipe, NAME.py")
    add_make_options(make)
    check = commands.add_parser(
        "check",
        help="say what is wrong before anything is cut",
        description="Run a recipe, deal its joints, prove that it goes together, compensate every "
        "part, weigh what it must bear, and say what is worth a look, worst first. The findings "
        "go into the record of the run, build.json; cut files are not touched.",
        allow_abbrev=False,
    )
    check.add_argument("recipe", type=Path, metavar="RECIPE", help="a recipe, NAME.py")
    add_sheet_and_beam(check)
    add_checks(check)
    shown = check.add_argument_group("recipe and answer")
    add_chosen(shown)
    shown.add_argument(
        "--all", action="store_true", help="what passed as well, with its margins and formulas"
    )
    shown.add_argument(
        "--out",
        type=Path,
        default=_USUAL.out,
        metavar="DIR",
        help="folder of the record, DIR/<recipe>/build.json (default: %(default)s)",
    )
    add_json(shown)
    show = commands.add_parser(
        "show",
        help="show a recipe in the browser while it is written",
        description="Show a recipe as a page in the browser: its parts, the rig in space, its "
        "findings, and its parameters to turn. The page follows every save of the recipe. Only "
        "this computer can see it; Ctrl-C ends it. Nothing is written but, the first time, a "
        "secret of 32 bytes among your own state files (show-secret), so that a recipe has the "
        "same address every time and nobody can guess it; delete it and addresses are new.",
        allow_abbrev=False,
    )
    _add_show_options(show)
    _add_page(commands)
    _add_plans(commands)
    _add_pack(commands)
    explain = commands.add_parser(
        "explain",
        help="say what the checks ask, and by which formula and source",
        description="List every check there is, or say how those named are worked out, and after "
        "whom.",
        allow_abbrev=False,
    )
    explain.add_argument(
        "checks", nargs="*", metavar="CHECK", help="hold.screws, or a family: made, fit, hold..."
    )
    add_json(explain)
    nest = commands.add_parser(
        "nest",
        help="place the parts of a parts list on stock",
        description="Place every part of one or more parts lists (JSON) on sheets, on offcuts of "
        "any shape or on a roll.",
        allow_abbrev=False,
    )
    _add_nest_options(nest)
    compare = commands.add_parser(
        "compare",
        help="say what changed between two builds",
        description="Say what differs between two builds: inputs, parts, things to buy, sheets, "
        "findings; with a picture of every part whose outline changed.",
        allow_abbrev=False,
    )
    _add_compare_options(compare)
    catalogue = commands.add_parser(
        "catalogue",
        help="list what a recipe may name",
        description="List the kinds of bought parts, fasteners and materials a recipe may name, "
        "or the entries of one kind with their figures.",
        allow_abbrev=False,
    )
    catalogue.add_argument(
        "kind", nargs="*", metavar="KIND", help="motors, bearings, screws... (default: all kinds)"
    )
    add_json(catalogue)
    new = commands.add_parser(
        "new",
        help="write a first recipe",
        description="Write NAME.py, a first recipe that runs as it stands. An existing file "
        "is never touched.",
        allow_abbrev=False,
    )
    new.add_argument("name", metavar="NAME", help="letters, digits and _, as in motor_base")
    return whole, make


def _add_page(commands: argparse._SubParsersAction[Parser]) -> None:
    page = commands.add_parser(
        "page",
        help="show all of a run on one page, offline",
        description="Run a recipe as make does and write DIR/<recipe>/page.html, one file that "
        "opens without a network: the rig in space, steps, parts, sheets, bill, findings, inputs. "
        "It carries the cut files and lists of the run, to be saved from it; no other file is "
        "written.",
        allow_abbrev=False,
    )
    page.add_argument("recipe", type=Path, metavar="RECIPE", help="a recipe, NAME.py")
    add_job_options(page, out_help="folder of the page, DIR/<recipe>/page.html")


def _add_plans(commands: argparse._SubParsersAction[Parser]) -> None:
    plans = commands.add_parser(
        "plans",
        help="draw it on paper: full size, dimensioned, step by step",
        description="Draw a recipe on paper, DIR/<recipe>/plans.pdf, for the wall, the saw and the "
        "drill: every part in full size, tiled where it is larger than a page, a dimensioned "
        "drawing of each, the steps of assembly, what to buy, what the checks found.",
        allow_abbrev=False,
    )
    plans.add_argument("recipe", type=Path, metavar="RECIPE", help="a recipe, NAME.py")
    on = plans.add_argument_group("paper")
    which = on.add_mutually_exclusive_group()
    which.add_argument(
        "--paper",
        default="A4",
        metavar="NAME|WxH",
        help="A5 to A0, Letter, Tabloid, or sheets of W by H mm (default: %(default)s)",
    )
    which.add_argument(
        "--roll",
        type=number,
        metavar="WIDTH",
        help="instead of sheets: a roll of this width for what is in full size, mm",
    )
    on.add_argument(
        "--overlap",
        type=number,
        default=10.0,
        metavar="MM",
        help="by how much the pages of a tiled part overlap (default: %(default)g)",
    )
    add_sheet_and_beam(plans)
    add_checks(plans).add_argument(
        "--cut-anyway",
        action="store_true",
        help="draw the outlines although a finding says stop",
    )
    written = plans.add_argument_group("recipe and file")
    add_chosen(written)
    written.add_argument(
        "--out",
        type=Path,
        default=_USUAL.out,
        metavar="DIR",
        help="folder of the plans, DIR/<recipe>/plans.pdf (default: %(default)s)",
    )
    add_json(written)


def _add_pack(commands: argparse._SubParsersAction[Parser]) -> None:
    pack = commands.add_parser(
        "pack",
        help="make a recipe and pack all it takes to build it",
        description="Make a recipe for one or several thicknesses of sheet and write one ZIP "
        "archive to publish: for each thickness the cut files, plans on paper, page, bill, steps "
        "and the rig for viewers of 3-D files; with them the recipe, the licence, and a text that "
        "says how to print, cut and build.",
        allow_abbrev=False,
    )
    pack.add_argument("recipe", type=Path, metavar="RECIPE", help="a recipe, NAME.py")
    add_job_options(pack, several=True, out_help="folder for the archive, DIR/<recipe>-pack.zip")
    published = pack.add_argument_group("publishing")
    published.add_argument(
        "--licence",
        default="",
        metavar="NAME|FILE",
        help="what others may do with it: CC-BY-4.0, CC-BY-SA-4.0, CC0-1.0 or MIT, which are laid "
        "in as a notice or, MIT, in full; or a text file of your own (default: none)",
    )
    published.add_argument("--author", metavar="NAME", help="who made it")


def script_parser(*, prog: str) -> Parser:
    """Return the parser for a recipe that is run as a program of its own."""
    alone = Parser(prog=prog, allow_abbrev=False, add_help=False)
    add_make_options(alone)
    return alone


def add_make_options(to: argparse.ArgumentParser) -> None:
    """Add everything `make` takes besides the recipe."""
    out = add_job_options(to, out_help="folder for the files, which go to DIR/<recipe>")
    out.add_argument(
        "--glb",
        action="store_true",
        help="write the rig for viewers of 3-D files as well, rig.glb",
    )
    out.add_argument(
        "-h",
        "--help",
        action="store_true",
        dest="wants_help",
        help="show this; with a RECIPE also the recipe's own parameters",
    )


def _add_show_options(to: argparse.ArgumentParser) -> None:
    to.add_argument("recipe", type=Path, metavar="RECIPE", help="a recipe, NAME.py")
    add_sheet_and_beam(to)
    add_checks(to)
    page = to.add_argument_group("recipe and page")
    add_chosen(page)
    page.add_argument(
        "--port",
        type=whole,
        metavar="N",
        help="port of the page (default: the recipe's own, always the same while that is free)",
    )
    page.add_argument(
        "--no-browser",
        dest="browser",
        action="store_false",
        help="print the address and open nothing",
    )
    page.add_argument(
        "--limit",
        type=seconds,
        default=60.0,
        metavar="S",
        help="time one run of the recipe may take before it is stopped (default: %(default)g)",
    )


def _add_nest_options(to: argparse.ArgumentParser) -> None:
    to.add_argument("files", nargs="+", type=Path, metavar="FILE", help="a parts list in JSON")
    add_spacing(
        to,
        stock_help="sheets of W by H mm, N of them or as many as it takes; or a stock file",
        stock_default="the parts list's own",
        gap_mm=None,
        margin_mm=None,
    )
    out = to.add_argument_group("files")
    add_names(out, default="none", score="burnt into the face, where a part has room")
    out.add_argument(
        "--out",
        type=Path,
        default=_USUAL.out,
        metavar="DIR",
        help="folder for the files, which go to DIR/<first file> (default: %(default)s)",
    )
    add_json(out)


def _add_compare_options(to: argparse.ArgumentParser) -> None:
    for name, words in (("old", "the one build"), ("new", "the other")):
        to.add_argument(
            name, type=Path, metavar=name.upper(), help=f"{words}: a build.json or its folder"
        )
    to.add_argument(
        "--out",
        type=Path,
        default=_USUAL.out,
        metavar="DIR",
        help="folder for the files, which go to DIR/compare/<recipe> (default: %(default)s)",
    )
    add_json(to)
