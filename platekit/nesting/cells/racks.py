"""Racks: the stock of a task that something fits, cut into cells."""

from __future__ import annotations

import numpy as np

from platekit.nesting.cells.filling import Area
from platekit.nesting.cells.layout import Rack
from platekit.nesting.cells.poses import poses_in, whole_cells
from platekit.nesting.cells.raster import Mask, cells_touched
from platekit.nesting.cells.rooms import Fineness, Room, cell_mm
from platekit.nesting.laying import Task


def rack_of(task: Task, *, fineness: Fineness) -> Rack:
    """Return the stock that something fits, with cells and rasters for what fits it."""
    useful: list[tuple[int, float]] = []
    for number, room in enumerate(task.rooms):
        sizes = [kind.sizes_in(room) for kind in task.kinds]
        fitting = [one for one in sizes if one is not None]
        if fitting:
            useful.append((number, cell_mm(room, fitting, fineness=fineness)))
    poses = poses_in(task.kinds, [(task.rooms[number], cell) for number, cell in useful])
    return Rack(
        stocks=tuple(task.stocks[number] for number, _ in useful),
        numbers=tuple(number for number, _ in useful),
        areas=tuple(
            Area(task.rooms[number], cell, fitting, _outside(task.rooms[number], cell))
            for (number, cell), fitting in zip(useful, poses, strict=True)
        ),
        kinds=task.kinds,
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
    return cells_touched(rings, columns=columns, rows=rows)
