"""What was given on a command line, as the options of a job."""

from __future__ import annotations

import argparse
from dataclasses import replace

from platekit.job.options import Options, Spacing


def show_options(given: argparse.Namespace) -> Options:
    """Return the options of a `show` command line: sheet, beam, checks, the recipe's own values.

    Raises:
        PlatekitError: One is out of range.
    """
    return Options(
        thickness_mm=given.thickness,
        material=given.material,
        kerf_mm=given.kerf,
        join=given.join,
        chosen=tuple(given.chosen),
        skip=tuple(given.skip),
        bed_mm=given.bed,
        grid_mm=given.bed_grid,
    )


def check_options(given: argparse.Namespace) -> Options:
    """Return the options of a `check` command line: those of `show`, and a folder.

    Raises:
        PlatekitError: One is out of range.
    """
    return replace(show_options(given), out=given.out)


def make_options(given: argparse.Namespace) -> Options:
    """Return the options of a `make` command line: those of `check`, stock and files.

    Raises:
        PlatekitError: One is out of range.
    """
    return replace(
        check_options(given),
        stock=tuple(given.stock),
        roll_height_mm=given.roll,
        names=given.names,
        spacing=spacing(given),
        prices=given.prices,
        dxf=given.dxf,
        cut_anyway=given.cut_anyway,
        glb=getattr(given, "glb", False),  # a pack always has it, a page never
    )


def spacing(given: argparse.Namespace) -> Spacing:
    """Return how parts lie on the stock, as a command line asks for it.

    Raises:
        NestingError: A value is out of range.
    """
    return Spacing(gap_mm=given.gap, margin_mm=given.margin, seconds=given.seconds, seed=given.seed)
