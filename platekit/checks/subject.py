"""What the checks look at: a whole job, drawn up."""

from __future__ import annotations

from dataclasses import dataclass

from platekit.assembly.assembly import Assembly
from platekit.assembly.resolve import Resolved
from platekit.checks.usual import DRAWS, GRID_MM
from platekit.geometry.profile import Profile
from platekit.panel.feature import Placed
from platekit.panel.part import Part


@dataclass(frozen=True, kw_only=True)
class Piece:
    """A kind of part and how the beam goes round it.

    Attributes:
        part: The part, nominal.
        path: Where the middle of the beam runs, in the part's coordinates.
        kerf_mm: Width of the beam's cut.
        features: Its features, in the part's coordinates; joints are not among them.
        least_web_mm: Thinnest web that its plate asks for; None where it leaves that to the sheet.
    """

    part: Part
    path: Profile
    kerf_mm: float
    features: tuple[Placed, ...] = ()
    least_web_mm: float | None = None


@dataclass(frozen=True, kw_only=True)
class Subject:
    """A job as the checks see it.

    Attributes:
        pieces: Every kind of part.
        whole: The assembly and what its joints came to; None for a single plate.
        bed_mm: Width and depth of the laser's bed; None where it is not said.
        grid_mm: From wall to wall of the cells of the bed's grid, or from slat to slat.
        seed: Start of chance; the same seed gives the same findings.
        draws: How many joints are drawn by lot where chance decides.
    """

    pieces: tuple[Piece, ...]
    whole: tuple[Assembly, Resolved] | None = None
    bed_mm: tuple[float, float] | None = None
    grid_mm: float = GRID_MM
    seed: int = 0
    draws: int = DRAWS
