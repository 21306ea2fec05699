"""What a job is given besides its recipe: sheet, beam, stock, nesting, and the recipe's values."""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from platekit.checks.usual import GRID_MM
from platekit.errors import NestingError
from platekit.materials.stock import StockSize

# Wider than any clamp; more is a slip of the keyboard.
SPACING_MM = (0.0, 500.0)
LONGEST_S = 86_400.0

JoinName = Literal["round", "mitre"]
DxfName = Literal["arcs", "plain"]


# How names stand on the sheets: burnt into the face, as text no laser follows, or not at all.
NamesAs = Literal["score", "note", "none"]


def _within(what: str, value: float, allowed: tuple[float, float]) -> None:
    least, most = allowed
    if not (math.isfinite(value) and least <= value <= most):
        raise NestingError(f"{what} is {value:g} mm", remedy=f"give {least:g} to {most:g} mm")


@dataclass(frozen=True, slots=True, kw_only=True)
class Spacing:
    """How parts lie on their stock, and how long to look for better.

    Attributes:
        gap_mm: Least distance between two cut paths.
        margin_mm: Least distance from a cut path to the edge of the stock.
        seconds: Time the search may take, above 0; its first answer is always finished. None
            lets it end by itself, after the same work and with the same sheets on every computer.
        seed: Start of the search's chance; the same seed gives the same sheets.
    """

    gap_mm: float = 2.0
    margin_mm: float = 5.0
    seconds: float | None = None
    seed: int = 0

    def __post_init__(self) -> None:
        _within("gap", self.gap_mm, SPACING_MM)
        _within("margin", self.margin_mm, SPACING_MM)
        if self.seconds is not None and not 0.0 < self.seconds <= LONGEST_S:
            raise NestingError(
                f"search time is {self.seconds:g} s",
                remedy=f"give seconds above 0, up to {LONGEST_S:g}, or none",
            )
        if not 0 <= self.seed < 2**32:
            raise NestingError(
                f"seed is {self.seed}", remedy="give a whole number from 0 to 2^32 - 1"
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Options:
    """Everything a job is given besides its recipe.

    Attributes:
        thickness_mm: Measured thickness of the sheet; None takes the recipe's sheet as it is.
        material: Name of the material; None takes the recipe's.
        kerf_mm: Width of the cut; None takes the usual one for the sheet.
        join: How a cut path runs around an outside corner.
        stock: Sizes of sheets, for every kind of sheet the job needs, and stock files, whose
            entries serve the sheets they name; empty takes the usual sizes of each sheet.
        roll_height_mm: Height of a roll, instead of sheets.
        spacing: How parts lie on the stock.
        chosen: Recipe parameters by name, as text.
        prices: The user's list of prices, a CSV file; None for a bill without.
        names: How the names of plates that carry one stand on parts and sheets.
        dxf: "arcs" for true arcs; "plain" for old controllers.
        out: Folder that receives a folder named for the recipe.
        skip: Names of checks, or of families of them, to leave out.
        bed_mm: Width and depth of the laser's bed; None where it is not said.
        grid_mm: From wall to wall of the cells of the bed's grid, or from slat to slat.
        cut_anyway: Whether cut files are written though a finding says stop.
        glb: Whether the rig is written for viewers of 3-D files as well.
    """

    thickness_mm: float | None = None
    material: str | None = None
    kerf_mm: float | None = None
    join: JoinName = "round"
    stock: tuple[StockSize | Path, ...] = ()
    roll_height_mm: float | None = None
    spacing: Spacing = Spacing()
    chosen: tuple[tuple[str, str], ...] = ()
    prices: Path | None = None
    names: NamesAs = "score"
    dxf: DxfName = "arcs"
    out: Path = Path("out")
    skip: tuple[str, ...] = ()
    bed_mm: tuple[float, float] | None = None
    grid_mm: float = GRID_MM
    cut_anyway: bool = False
    glb: bool = False
