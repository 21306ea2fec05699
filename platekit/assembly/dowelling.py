"""Dowelling: where a laminate's alignment dowels go, once all else in it is known.

They come last, when bearings are seated and screws have their holes, and keep off what other
panels will take away.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from platekit.assembly.panels import Dowels, Panel
from platekit.errors import PartError
from platekit.geometry.chains import Bounds, circle
from platekit.geometry.distance import point_distances
from platekit.geometry.tables import Bools, Floats
from platekit.hardware import Item
from platekit.panel.feature import Feature
from platekit.panel.plate import Plate

# Where dowels are tried: a grid this fine over the layers' common bounds.
TRIES_EACH_WAY = 24
# Slabs that share less than this only touch.
TOUCHING_MM = 0.01


@dataclass(frozen=True, slots=True)
class _Search:
    """What a laminate's dowels must keep to.

    Attributes:
        layers: The plates.
        clear_mm: From a dowel's middle to every cut and edge.
        apart_mm: Between two dowels, and between one and the mirror image of another.
        taken: Boxes in the plates' coordinates to keep out of.
    """

    layers: tuple[Plate, ...]
    clear_mm: float
    apart_mm: float
    taken: tuple[Bounds, ...]


def dowelled(panels: Sequence[Panel]) -> tuple[Panel, ...]:
    """Return the panels with the dowels of laminates that did not say where theirs go.

    Raises:
        PartError: There is no room for them.
    """
    return tuple(
        panel if panel.dowels is None else _with_dowels(panel, panel.dowels, panels)
        for panel in panels
    )


def drilled(
    name: str,
    layers: Sequence[Plate],
    spots: Iterable[tuple[float, float]],
    *,
    diameter_mm: float,
) -> tuple[Plate, ...]:
    """Return layers with dowel holes at `spots`, wider by each material's fit.

    Raises:
        PartError: A hole lies off a layer, across its edge or over another.
    """
    places = tuple(spots)
    length = sum(plate.sheet.thickness_mm for plate in layers)
    bought = Item(f"dowel {diameter_mm:g} x {length:g} mm", 1, f"lines up {name}")
    made = []
    for k, plate in enumerate(layers):
        play = plate.sheet.material.fits["laminate dowel"]
        hole = circle((0.0, 0.0), diameter_mm=diameter_mm + play)
        pins = [
            Feature(
                kind=f"{diameter_mm:g} mm dowel",
                name=f"dowel {n}",
                cuts=(hole,),
                items=(bought,) if k == 0 else (),
                at=spot,
            )
            for n, spot in enumerate(places, start=1)
        ]
        made.append(plate.with_features(*pins))
    return tuple(made)


def _with_dowels(panel: Panel, asked: Dowels, panels: Sequence[Panel]) -> Panel:
    taken = tuple(
        box
        for other in panels
        if other is not panel and (box := _taken_by(other, panel)) is not None
    )
    layers = panel.layers
    webs = [plate.sheet.least_web_mm for plate in layers]
    play = max(plate.sheet.material.fits["laminate dowel"] for plate in layers)
    search = _Search(
        layers=layers,
        clear_mm=(asked.diameter_mm + play) / 2 + max(asked.diameter_mm, *webs),
        apart_mm=2 * asked.diameter_mm,
        taken=taken,
    )
    spots = _spots(panel.name, asked, search)
    made = drilled(panel.name, layers, spots, diameter_mm=asked.diameter_mm)
    return replace(panel, layers=made, dowels=None)


def _taken_by(other: Panel, panel: Panel) -> Bounds | None:
    """Return the box that another slab covers in a panel's plane; None where they do not meet."""
    box = other.bounds
    corners = np.array(
        [
            panel.frame.coordinates(other.frame.point(x, y, height))
            for x in (box.left, box.right)
            for y in (box.bottom, box.top)
            for height in (0.0, other.thickness_mm)
        ]
    )
    low, high = corners.min(axis=0), corners.max(axis=0)
    if min(high[2], panel.thickness_mm) - max(low[2], 0.0) <= TOUCHING_MM:
        return None
    return Bounds(float(low[0]), float(low[1]), float(high[0]), float(high[1]))


def _spots(name: str, asked: Dowels, search: _Search) -> tuple[tuple[float, float], ...]:
    """Return places with a web all round, as wide as the dowel and as the sheets ask, far apart."""
    layers, clear = search.layers, search.clear_mm
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
    free = tries[_free(search, tries)] if room else tries[:0]
    middle = np.array([(left + right) / 2, (low + high) / 2])
    chosen = _far_apart(np.round(free, 3), asked.count, middle, search.apart_mm)
    if len(chosen) < asked.count:
        raise PartError(
            f"there is room for {len(chosen)} of {asked.count} dowels of {asked.diameter_mm:g} mm",
            part=name,
            remedy="make the layers larger, use thinner dowels, say where they go, or ask for none "
            "with dowels=0",
        )
    return tuple((float(x), float(y)) for x, y in chosen)


def _free(search: _Search, tries: Floats) -> Bools:
    free = np.ones(len(tries), dtype=np.bool_)
    clear = search.clear_mm - 1e-9
    for box in search.taken:
        x, y = tries[:, 0], tries[:, 1]
        free &= (
            (x <= box.left - clear)
            | (x >= box.right + clear)
            | (y <= box.bottom - clear)
            | (y >= box.top + clear)
        )
    for plate in search.layers:
        rows = plate.profile.table
        each = np.repeat(np.arange(len(tries)), len(rows))
        apart = point_distances(np.tile(rows, (len(tries), 1)), tries[each])
        free &= apart.reshape(len(tries), len(rows)).min(axis=1) >= clear
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
