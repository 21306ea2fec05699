"""What a job is given besides its recipe: sheet, beam, stock, nesting, and the recipe's values."""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from platekit.errors import NestingError
from platekit.materials.stock import StockSize

# Wider than any clamp; more is a slip of the keyboard.
SPACING_MM = (0.0, 500.0)
SECONDS = (0.0, 86_400.0)
# A search told to take no time still finishes its first layout.
_NO_TIME_S = 1e-9

JoinName = Literal["round", "mitre"]
DxfName = Literal["arcs", "plain"]


def _within(what: str, value: float, allowed: tuple[float, float], *, unit: str = "mm") -> None:
    least, most = allowed
    if not (math.isfinite(value) and least <= value <= most):
        raise NestingError(
            f"{what} is {value:g} {unit}", remedy=f"give {least:g} to {most:g} {unit}"
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Spacing:
    """How parts lie on their stock, and how long to look for better.

    Attributes:
        gap_mm: Least distance between two cut paths.
        margin_mm: Least distance from a cut path to the edge of the stock.
        seconds: Time the search may take; 0 takes the first answer. None lets it end by itself,
            after the same work and with the same sheets on every computer.
        seed: Start of the search's chance; the same seed gives the same sheets.
    """

    gap_mm: float = 2.0
    margin_mm: float = 5.0
    seconds: float | None = None
    seed: int = 0

    def __post_init__(self) -> None:
        _within("gap", self.gap_mm, SPACING_MM)
        _within("margin", self.margin_mm, SPACING_MM)
        if self.seconds is not None:
            _within("search time", self.seconds, SECONDS, unit="s")
        if not 0 <= self.seed < 2**32:
            raise NestingError(f"seed is {self.seed}", remedy="give a whole number from 0 to 2^32")

    @property
    def search_seconds(self) -> float | None:
        """The time as the search wants to hear it: above 0, or None."""
        return None if self.seconds is None else max(self.seconds, _NO_TIME_S)


@dataclass(frozen=True, slots=True, kw_only=True)
class Options:
    """Everything a job is given besides its recipe.

    Attributes:
        thickness_mm: Measured thickness of the sheet; None takes the recipe's sheet as it is.
        material: Name of the material; None takes the recipe's.
        kerf_mm: Width of the cut; None takes the usual one for the sheet.
        join: How a cut path runs around an outside corner.
        stock: Sheets to nest on; empty takes the usual sizes of the sheet.
        spacing: How parts lie on the stock.
        chosen: Recipe parameters by name, as text.
        dxf: "arcs" for true arcs; "plain" for old controllers.
        out: Folder that receives a folder named for the recipe.
    """

    thickness_mm: float | None = None
    material: str | None = None
    kerf_mm: float | None = None
    join: JoinName = "round"
    stock: tuple[StockSize, ...] = ()
    spacing: Spacing = Spacing()
    chosen: tuple[tuple[str, str], ...] = ()
    dxf: DxfName = "arcs"
    out: Path = Path("out")
