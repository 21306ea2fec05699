"""What was given on a command line, as the options of a job."""

from __future__ import annotations

import argparse

from platekit.job.options import Options, Spacing


def check_options(given: argparse.Namespace) -> Options:
    """Return the options of a `check` command line.

    Raises:
        PlatekitError: One is out of range.
    """
    return Options(
        thickness_mm=given.thickness,
        material=given.material,
        kerf_mm=given.kerf,
        join=given.join,
        chosen=tuple(given.chosen),
        out=given.out,
        skip=tuple(given.skip),
        bed_mm=given.bed,
    )


def show_options(given: argparse.Namespace) -> Options:
    """Return the options of a `show` command line.

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
    )


def make_options(given: argparse.Namespace) -> Options:
    """Return the options of a `make` command line.

    Raises:
        PlatekitError: One is out of range.
    """
    return Options(
        thickness_mm=given.thickness,
        material=given.material,
        kerf_mm=given.kerf,
        join=given.join,
        stock=tuple(given.stock),
        roll_height_mm=given.roll,
        names=given.names,
        spacing=spacing(given),
        chosen=tuple(given.chosen),
        prices=given.prices,
        dxf=given.dxf,
        out=given.out,
        skip=tuple(given.skip),
        bed_mm=given.bed,
        cut_anyway=given.cut_anyway,
        glb=getattr(given, "glb", False),  # a pack always has it, a page never
    )


def spacing(given: argparse.Namespace) -> Spacing:
    """Return how parts lie on the stock, as a command line asks for it.

    Raises:
        NestingError: A value is out of range.
    """
    return Spacing(gap_mm=given.gap, margin_mm=given.margin, seconds=given.seconds, seed=given.seed)
