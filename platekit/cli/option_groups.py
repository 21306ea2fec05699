"""Options that several commands have in common."""

from __future__ import annotations

import argparse
from pathlib import Path

from platekit.checks.usual import GRID_MM
from platekit.cli.words import bed, grid, number, pair, stock, whole
from platekit.job.options import NamesAs, Options, Spacing

_USUAL = Options()
_SPACING = Spacing()


def add_job_options(
    to: argparse.ArgumentParser, *, out_help: str, several: bool = False
) -> argparse._ArgumentGroup:
    """Add what a whole run takes; return the group about recipe and files."""
    add_sheet_and_beam(to, several=several)
    add_checks(to).add_argument(
        "--cut-anyway",
        action="store_true",
        help="write the cut files although a finding says stop",
    )
    add_spacing(
        to,
        stock_help="sheets of W by H mm, N of each kind of sheet the job needs or as many as it "
        "takes; or a stock file, its entries for sheets of their material and thickness",
        stock_default="the usual sizes of each kind of sheet",
        gap_mm=_SPACING.gap_mm,
        margin_mm=_SPACING.margin_mm,
    )
    out = to.add_argument_group("recipe and files")
    add_chosen(out)
    out.add_argument(
        "--prices",
        type=Path,
        metavar="FILE",
        help="your list of prices for the bill, CSV: designation,price and, for a box, per (how "
        "many pieces that price buys)",
    )
    out.add_argument(
        "--out",
        type=Path,
        default=_USUAL.out,
        metavar="DIR",
        help=f"{out_help} (default: %(default)s)",
    )
    add_names(
        out,
        default=_USUAL.names,
        score="burnt into the face, on plates that carry theirs",
    )
    out.add_argument(
        "--dxf",
        choices=("arcs", "plain"),
        default=_USUAL.dxf,
        help="plain: chords only, for old controllers (default: %(default)s)",
    )
    add_json(out)
    return out


def add_sheet_and_beam(to: argparse.ArgumentParser, *, several: bool = False) -> None:
    """Add what says which sheet and beam a job is for."""
    job = to.add_argument_group("sheet and beam")
    if several:
        job.add_argument(
            "--thickness",
            type=number,
            action="append",
            default=[],
            metavar="MM",
            help="measured thickness of the sheet; may be given again, for another set of cut "
            "files (default: the recipe's)",
        )
    else:
        job.add_argument(
            "--thickness",
            type=number,
            metavar="MM",
            help="measured thickness of the sheet (default: the recipe's)",
        )
    job.add_argument(
        "--material", metavar="NAME", help="material of the sheet (default: the recipe's)"
    )
    job.add_argument(
        "--kerf",
        type=number,
        metavar="MM",
        help="width of the cut, 0 for the bare outline (default: usual for the sheet; "
        "measure yours)",
    )
    job.add_argument(
        "--join",
        choices=("round", "mitre"),
        default=_USUAL.join,
        help="how the beam runs round outside corners (default: %(default)s)",
    )


def add_checks(to: argparse.ArgumentParser) -> argparse._ArgumentGroup:
    """Add what steers the checks; return the group."""
    checks = to.add_argument_group("checks")
    checks.add_argument(
        "--skip",
        action="append",
        default=[],
        metavar="CHECK",
        help="leave out a check, or a family of them: made, fit, hold, drive; may be given again "
        "(platekit explain lists them)",
    )
    checks.add_argument(
        "--bed",
        type=bed,
        metavar="WxH",
        help="width and depth of the laser's bed, mm: say which parts do not fit on it",
    )
    checks.add_argument(
        "--bed-grid",
        type=grid,
        default=GRID_MM,
        metavar="MM",
        help="from wall to wall of the bed's honeycomb, or from slat to slat: say what falls or "
        f"tips through (usual: {GRID_MM:g})",
    )
    return checks


def add_chosen(to: argparse._ActionsContainer) -> None:
    """Add a way to give values to the recipe's parameters."""
    to.add_argument(
        "--set",
        dest="chosen",
        action="append",
        default=[],
        type=pair,
        metavar="NAME=VALUE",
        help="a value for one of the recipe's parameters; may be given again",
    )


def add_names(to: argparse._ActionsContainer, *, default: NamesAs, score: str) -> None:
    """Add how names of parts stand in cut files."""
    to.add_argument(
        "--names",
        choices=("score", "note", "none"),
        default=default,
        help=f"part names in the cut files; score: {score}; note: text that no laser follows "
        "(default: %(default)s)",
    )


def add_json(to: argparse._ActionsContainer) -> None:
    """Add a way to have the answer as JSON."""
    to.add_argument("--json", action="store_true", help="print one JSON object and nothing else")


def add_spacing(
    to: argparse.ArgumentParser,
    *,
    stock_help: str,
    stock_default: str,
    gap_mm: float | None,
    margin_mm: float | None,
) -> None:
    """Add how parts lie on their stock."""
    nesting = to.add_argument_group("stock and nesting")
    nesting.add_argument(
        "--stock",
        action="append",
        default=[],
        type=stock,
        metavar="WxH[xN]|FILE",
        help=f"{stock_help}; may be given again (default: {stock_default})",
    )
    nesting.add_argument(
        "--roll",
        type=number,
        metavar="HEIGHT",
        help="instead of sheets: stock of this height and open length, mm",
    )
    for name, value, otherwise, words in (
        ("gap", gap_mm, "the parts list's, or 0", "least distance between two cuts"),
        ("margin", margin_mm, "0", "least distance from a cut to the edge of the stock"),
    ):
        said = otherwise if value is None else f"{value:g}"
        nesting.add_argument(
            f"--{name}",
            type=number,
            default=value,
            metavar="MM",
            help=f"{words} (default: {said})",
        )
    nesting.add_argument(
        "--seconds",
        type=number,
        metavar="S",
        help="time to look for a denser nest, above 0; Ctrl-C ends it early and keeps the best "
        "(default: it ends by itself, and the same everywhere)",
    )
    nesting.add_argument(
        "--seed",
        type=whole,
        default=_SPACING.seed,
        metavar="N",
        help="start of the search; the same seed gives the same nest (default: %(default)s)",
    )
