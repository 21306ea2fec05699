"""Racks: the stock of a task that something fits, cut into cells."""

from __future__ import annotations

from platekit.nesting.cells.filling import Area
from platekit.nesting.cells.layout import Rack
from platekit.nesting.cells.poses import poses_in
from platekit.nesting.cells.rooms import Fineness, cell_mm
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
            Area(task.rooms[number], cell, fitting)
            for (number, cell), fitting in zip(useful, poses, strict=True)
        ),
        kinds=task.kinds,
    )
