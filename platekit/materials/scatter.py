"""How far a cut joint is from what was drawn: scatter of sheet and beam, and what joints bear.

Nearly all of it is common practice without a source: measure your own sheet and machine.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from platekit.handbook import read


@dataclass(frozen=True, slots=True, kw_only=True)
class Scatter:
    """What one kind of material does under a laser. All in mm.

    Attributes:
        kerf_mm: Half of the band the width of the cut lies in.
        position_mm: Half of the band the place of a cut lies in on its plate.
        pitch_mm: Half of the band a tab lies in beside its slot once the plates are set to each
            other: what neighbours do not share.
        thickness_mm: Half of the band the thickness lies in, within one measured sheet.
        forced_mm: Interference over which a glued joint still goes together.
        pressed_mm: Interference over which a press joint can be driven; `forced_mm` where it must
            not be pressed.
        filled_mm: Gap that glue still fills.
        loose_mm: Play beyond which a joint that slides rattles.
    """

    kerf_mm: float
    position_mm: float
    pitch_mm: float
    thickness_mm: float
    forced_mm: float
    pressed_mm: float
    filled_mm: float
    loose_mm: float


# What is taken of a kind the table does not know: plastics are the most careful row.
_UNKNOWN = "plastic"


@cache
def _figures() -> Mapping[str, Mapping[str, float]]:
    found: dict[str, dict[str, float]] = {}
    for row in read("platekit.materials", "scatter.csv"):
        kind = found.setdefault(row.optional_text("kind"), {})
        kind[row.text("figure")] = row.number("half_mm")
    return found


@cache
def scatter_of(kind: str) -> Scatter:
    """Return the scatter of a kind of material ("plywood"); of plastics where it is unknown."""
    table = _figures()
    figures = {**table[""], **table.get(kind, table[_UNKNOWN])}
    return Scatter(
        kerf_mm=figures["kerf"],
        position_mm=figures["position"],
        pitch_mm=figures["pitch"],
        thickness_mm=figures["thickness"],
        forced_mm=figures["forced"],
        pressed_mm=figures.get("pressed", figures["forced"]),
        filled_mm=figures["filled"],
        loose_mm=figures["loose"],
    )
