"""Words of a command line as numbers, sizes and pairs."""

from __future__ import annotations

import argparse
from pathlib import Path

from platekit.checks.usual import LEAST_GRID_MM, MOST_GRID_MM
from platekit.errors import PlatekitError
from platekit.job.options import LONGEST_S
from platekit.materials.stock import StockSize


def number(text: str) -> float:
    """Return the number that was written.

    Raises:
        ArgumentTypeError: Nothing of the kind was.
    """
    try:
        return float(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text!r} is no number") from None


def seconds(text: str) -> float:
    """Return the time above 0, up to a day, that was written, seconds.

    Raises:
        ArgumentTypeError: Nothing of the kind was.
    """
    value = number(text)
    if not 0.0 < value <= LONGEST_S:
        raise argparse.ArgumentTypeError(f"{text} s is not above 0, up to {LONGEST_S:g} s")
    return value


def whole(text: str) -> int:
    """Return the whole number that was written.

    Raises:
        ArgumentTypeError: Nothing of the kind was.
    """
    try:
        return int(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"{text!r} is no whole number") from None


def stock(text: str) -> StockSize | Path:
    """Return the size of stock, or the file of it, that was written.

    Raises:
        ArgumentTypeError: Nothing of the kind was.
    """
    if text.lower().endswith(".json"):
        return Path(text)
    try:
        return StockSize.parse(text)
    except PlatekitError as err:
        raise argparse.ArgumentTypeError(str(err)) from None


def bed(text: str) -> tuple[float, float]:
    """Return the bed's width and depth that were written as WxH.

    Raises:
        ArgumentTypeError: Nothing of the kind was.
    """
    try:
        size = StockSize.parse(text)
    except PlatekitError as err:
        raise argparse.ArgumentTypeError(str(err)) from None
    if size.count is not None:
        raise argparse.ArgumentTypeError(f"{text!r} says how many beds")
    return size.width_mm, size.height_mm


def grid(text: str) -> float:
    """Return how wide the cells of the bed's grid are, mm.

    Raises:
        ArgumentTypeError: Nothing of the kind was written.
    """
    value = number(text)
    if not LEAST_GRID_MM <= value <= MOST_GRID_MM:
        raise argparse.ArgumentTypeError(
            f"{text} mm is no grid of a bed: give {LEAST_GRID_MM:g} to {MOST_GRID_MM:g}"
        )
    return value


def pair(text: str) -> tuple[str, str]:
    """Return the name and value that were written as NAME=VALUE.

    Raises:
        ArgumentTypeError: Nothing of the kind was.
    """
    name, equals, value = text.partition("=")
    if not equals or not name.strip():
        raise argparse.ArgumentTypeError(f"{text!r} is not NAME=VALUE")
    return name.strip(), value
