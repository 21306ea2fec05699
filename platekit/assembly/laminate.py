"""Laminates: layers glued into one thick panel, held in line by dowels while the glue sets."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from platekit.assembly.dowelling import drilled
from platekit.assembly.panels import Dowels
from platekit.errors import PartError
from platekit.panel.measures import require_count, require_length
from platekit.panel.plate import Plate


@dataclass(frozen=True)
class Laminate:
    """Layers glued face to face; all drawn in the same x and y.

    Attributes:
        name: What joints and messages call the whole.
        layers: The plates, the lowest first, each a part of its own name.
        dowels: Dowels that find their places once it stands in an assembly; None for none, or
            where they are drilled already.
    """

    name: str
    layers: tuple[Plate, ...]
    dowels: Dowels | None = None

    @property
    def thickness_mm(self) -> float:
        """Thickness of all layers, mm, as measured; the glue line is not counted."""
        return sum(plate.sheet.thickness_mm for plate in self.layers)


def laminate(
    name: str,
    *layers: Plate,
    dowels: int | Sequence[tuple[float, float]] = 2,
    dowel_mm: float = 4.0,
) -> Laminate:
    """Return layers glued into one panel, with holes for alignment dowels through all of them.

    Args:
        name: Name of the whole.
        *layers: The plates, the lowest first, drawn in the same x and y.
        dowels: How many, placed by the assembly where every layer has material around them, clear
            of bought parts and joints, and not symmetric, so that a layer laid turned or upside
            down shows at once; or where they go; 0 for none.
        dowel_mm: Diameter of the dowels. Each layer's holes are wider by its material's fit for a
            glued laminate dowel.

    Raises:
        PartError: Fewer than two layers, or a dowel given a place where it cannot be.
    """
    if len(layers) < 2:
        raise PartError(
            f"a laminate has {len(layers)} layer", part=name, remedy="give two plates or more"
        )
    diameter = require_length(dowel_mm, "dowel diameter")
    if isinstance(dowels, int):
        count = require_count(dowels, "number of dowels", least=0)
        return Laminate(name, layers, Dowels(count, diameter) if count else None)
    return Laminate(name, drilled(name, layers, dowels, diameter_mm=diameter))


__all__ = ["Laminate", "laminate"]
