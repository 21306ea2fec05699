"""Racks: the stock of a task that something fits, cut into cells."""

from __future__ import annotations

import numpy as np

from platekit.nesting.cells.filling import Area
from platekit.nesting.cells.layout import Rack
from platekit.nesting.cells.poses import Pose, poses_in, whole_cells
from platekit.nesting.cells.raster import Mask, cells_touched
from platekit.nesting.cells.rooms import Fineness, Room, cell_mm
from platekit.nesting.laying import Task

# An offcut is rastered in upright bands of so many cells: while it is, a cell takes 50 bytes.
AT_ONCE_CELLS = 1_000_000


def rack_of(task: Task, *, fineness: Fineness) -> Rack:
    """Return the stock that something fits, with cells and rasters for what fits it."""
    useful: list[tuple[int, float]] = []
    for number, room in enumerate(task.rooms):
        stock = task.stocks[number]
        sizes = [kind.sizes_in(room) for kind in task.kinds if kind.part.may_lie_on(stock)]
        fitting = [one for one in sizes if one is not None]
        if fitting:
            useful.append((number, cell_mm(room, fitting, fineness=fineness)))
    posed = poses_in(task.kinds, [(task.rooms[number], cell) for number, cell in useful])
    words = tuple(kind.part.together for kind in task.kinds)
    return Rack(
        stocks=tuple(task.stocks[number] for number, _ in useful),
        numbers=tuple(number for number, _ in useful),
        areas=tuple(
            Area(
                task.rooms[number],
                cell,
                _wished(task, number, fitting),
                _outside(task.rooms[number], cell),
                words,
            )
            for (number, cell), fitting in zip(useful, posed, strict=True)
        ),
        kinds=task.kinds,
    )


def _wished(
    task: Task, number: int, fitting: tuple[tuple[Pose, ...], ...]
) -> tuple[tuple[Pose, ...], ...]:
    """Return the poses with none for the kinds that must lie on another stock."""
    stock = task.stocks[number]
    return tuple(
        poses if kind.part.may_lie_on(stock) else ()
        for kind, poses in zip(task.kinds, fitting, strict=True)
    )


def _outside(room: Room, cell: float) -> Mask | None:
    """Return the cells that parts, half a gap grown, cannot touch without leaving the shape."""
    if room.ground is None:
        return None
    half = room.gap_mm / 2
    corner = room.margin_mm - half
    rings = [(ring - corner) / cell for ring in room.ground.rings(growth_mm=corner)]
    columns = 1 + whole_cells(room.inner_width_mm + room.gap_mm, cell_mm=cell)
    rows = 1 + whole_cells(room.inner_height_mm + room.gap_mm, cell_mm=cell)
    if not rings:
        return np.zeros((columns, rows), dtype=np.bool_)
    return np.concatenate(
        [
            cells_touched(
                [ring - (first, 0) for ring in rings],
                columns=min(step, columns - first),
                rows=rows,
            )
            for step in [max(AT_ONCE_CELLS // rows, 1)]
            for first in range(0, columns, step)
        ]
    )
