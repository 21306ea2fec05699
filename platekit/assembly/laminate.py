"""Laminates: layers glued into one thick panel, held in line by dowels while the glue sets."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from platekit.errors import PartError
from platekit.geometry.chains import circle
from platekit.geometry.distance import point_distances
from platekit.geometry.tables import Floats
from platekit.hardware import Item
from platekit.panel.feature import Feature
from platekit.panel.measures import require_count, require_length
from platekit.panel.plate import Plate

# Where dowels are tried: a grid this fine over the layers' common bounds.
TRIES_EACH_WAY = 24


@dataclass(frozen=True)
class Laminate:
    """Layers glued face to face; all drawn in the same x and y.

    Attributes:
        name: What joints and messages call the whole.
        layers: The plates, the lowest first, each a part of its own name.
    """

    name: str
    layers: tuple[Plate, ...]

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
        dowels: How many, placed where every layer has material around them and not symmetric,
            so that a layer laid turned or upside down shows at once; or where they go; 0 for none.
        dowel_mm: Diameter of the dowels. Each layer's holes are wider by its material's fit for a
            glued laminate dowel.

    Raises:
        PartError: Fewer than two layers, or no room for the dowels.
    """
    if len(layers) < 2:
        raise PartError(
            f"a laminate has {len(layers)} layer", part=name, remedy="give two plates or more"
        )
    require_length(dowel_mm, "dowel diameter")
    if isinstance(dowels, int):
        count = require_count(dowels, "number of dowels", least=0)
        spots = _spots(name, layers, count=count, dowel_mm=dowel_mm) if count else ()
    else:
        spots = tuple(dowels)
    if not spots:
        return Laminate(name, layers)
    length = sum(plate.sheet.thickness_mm for plate in layers)
    bought = Item(f"dowel {dowel_mm:g} x {length:g} mm", 1, f"lines up {name}")
    drilled = []
    for k, plate in enumerate(layers):
        play = plate.sheet.material.fits["laminate dowel"]
        hole = circle((0.0, 0.0), diameter_mm=dowel_mm + play)
        pins = [
            Feature(
                kind=f"{dowel_mm:g} mm dowel",
                name=f"dowel {n}",
                cuts=(hole,),
                items=(bought,) if k == 0 else (),
                at=spot,
            )
            for n, spot in enumerate(spots, start=1)
        ]
        drilled.append(plate.with_features(*pins))
    return Laminate(name, tuple(drilled))


def _spots(
    name: str, layers: Sequence[Plate], *, count: int, dowel_mm: float
) -> tuple[tuple[float, float], ...]:
    """Return places with a web all round, as wide as the dowel and as the sheets ask, far apart."""
    webs = [plate.sheet.least_web_mm for plate in layers]
    play = max(plate.sheet.material.fits["laminate dowel"] for plate in layers)
    clear = (dowel_mm + play) / 2 + max(dowel_mm, *webs)
    left = max(plate.bounds.left for plate in layers)
    right = min(plate.bounds.right for plate in layers)
    low = max(plate.bounds.bottom for plate in layers)
    high = min(plate.bounds.top for plate in layers)
    tries = np.array(
        [
            (x, y)
            for x in np.linspace(left + clear, right - clear, TRIES_EACH_WAY)
            for y in np.linspace(low + clear, high - clear, TRIES_EACH_WAY)
        ]
    )
    room = right - left >= 2 * clear and high - low >= 2 * clear
    free = tries[_free(layers, tries, clear)] if room else tries[:0]
    middle = np.array([(left + right) / 2, (low + high) / 2])
    chosen = _far_apart(np.round(free, 3), count, middle, 2 * dowel_mm)
    if len(chosen) < count:
        raise PartError(
            f"there is room for {len(chosen)} of {count} dowels of {dowel_mm:g} mm",
            part=name,
            remedy="use thinner dowels, say where they go, or ask for none with dowels=0",
        )
    return tuple((float(x), float(y)) for x, y in chosen)


def _free(layers: Sequence[Plate], tries: Floats, clear: float) -> np.ndarray:
    free = np.ones(len(tries), dtype=np.bool_)
    for plate in layers:
        rows = plate.profile.table
        each = np.repeat(np.arange(len(tries)), len(rows))
        apart = point_distances(np.tile(rows, (len(tries), 1)), tries[each])
        free &= apart.reshape(len(tries), len(rows)).min(axis=1) >= clear - 1e-9
        free[free] = plate.profile.contains_each(tries[free])
    return free


def _far_apart(free: Floats, count: int, middle: Floats, apart: float) -> list[Floats]:
    """Pick places greedily, each furthest from those before and no mirror image of one."""
    chosen: list[Floats] = []
    if not len(free):
        return chosen
    chosen.append(free[np.argmax(np.hypot(*(free - middle).T))])
    while len(chosen) < count:
        images = [
            2 * middle * turn + spot * (1 - 2 * turn)
            for spot in chosen
            for turn in (np.array([1, 1]), np.array([1, 0]), np.array([0, 1]))
        ]
        gap = np.min([np.hypot(*(free - spot).T) for spot in chosen], axis=0)
        lone = np.min([np.hypot(*(free - image).T) for image in images], axis=0)
        fits = np.where((lone >= apart) & (gap >= apart), gap, -1.0)
        if fits.max() < 0:
            break
        chosen.append(free[np.argmax(fits)])
    return chosen


__all__ = ["Laminate", "laminate"]
