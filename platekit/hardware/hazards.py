"""Hazards: what of a bought part can hurt someone once the rig is switched on."""

from __future__ import annotations

from enum import Enum

from platekit.errors import PartError, UnknownNameError


class Hazard(Enum):
    """One way in which a rig can hurt."""

    MOTION = "motion"  # it turns or moves with more force than a hand can hold
    DRAW_IN = "draw-in"  # a belt or gears draw in what touches them
    MAINS = "mains"  # it is wired to the mains


def as_hazards(names: tuple[str | Hazard, ...]) -> tuple[Hazard, ...]:
    """Return hazards given as such or by name, each once.

    Raises:
        UnknownNameError: One is none of motion, draw-in, mains.
        PartError: It is one name, not several.
    """
    if isinstance(names, str):  # else it would be taken letter by letter
        raise PartError(f"hazards is {names!r}", remedy=f"give names in brackets: ({names!r},)")
    known = {hazard.value: hazard for hazard in Hazard}
    found = []
    for name in names:
        if not isinstance(name, Hazard) and name not in known:
            raise UnknownNameError.among("hazard", name, known)
        found.append(name if isinstance(name, Hazard) else known[name])
    return tuple(dict.fromkeys(found))
