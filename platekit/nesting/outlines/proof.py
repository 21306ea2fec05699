"""Proof of a laying, before it takes the place of one that is known to be sound."""

from __future__ import annotations

from platekit.nesting.laying import Laying, Task
from platekit.nesting.outcome import as_nest
from platekit.nesting.verify import verify


def is_sound(task: Task, laying: Laying) -> bool:
    """Return whether `laying` keeps every gap, margin and turn, by exact distances."""
    room = task.rooms[0]
    nest = as_nest(task, laying, gap_mm=room.gap_mm, margin_mm=room.margin_mm, given=(), of="")
    return not verify(nest, [kind.part for kind in task.kinds])
