"""Traces: where what is taken apart goes, as lines from things to their seats.

A bought part has one along its own middle, from its foot to the spot its foot will stand on, a
screw along its axis. Plates have none: their tabs and slots tell where they go.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from platekit.assembly.proof.things import ThingKind
from platekit.geometry.tables import Floats
from platekit.views.scene import Scene, Shown

# Boxes with less air between them touch: fits are tenths of a millimetre.
TOUCHING_MM = 0.5
# A gap between two things is closed along a line that it leaves by less than this.
ALONG_MM = 0.01
TRACED = frozenset({ThingKind.DEVICE, ThingKind.PULLEY})


def traces(scene: Scene) -> Floats:
    """Return lines from things to their seats, as the rig is taken apart, shape (n, 2, 3).

    Args:
        scene: The rig as it is built; things know where they go.
    """
    known = {one.name: one for one in scene.things}
    ways = {name: np.array(step.way) for step in scene.steps for name in step.things}
    plates = {plate: one.name for one in scene.things for plate in one.plates}
    lines = []
    for screw in scene.fastenings:
        held = {plates.get(name, name) for name in screw.holds}
        if screw.name in known:
            seats = [known[name] for name in held if name in known]
            lines += list(_trace(known[screw.name], -np.array(screw.way), seats))
    for one in scene.things:
        if one.kind in TRACED and one.name in ways and one.step is not None:
            seats = [
                other
                for other in scene.things
                if other is not one
                and other.kind is not ThingKind.FASTENER
                and other.step is not None
                and other.step <= one.step
                and _touch(one, other)
            ]
            lines += list(_trace(one, ways[one.name], seats))
    return np.array(lines).reshape(-1, 2, 3)


def _trace(one: Shown, way: Floats, seats: list[Shown]) -> Iterator[Floats]:
    """Yield the line from a thing's foremost spot to where that goes at the nearest seat."""
    middle = one.box.mean(axis=0)
    foot = middle + way * float(((one.corners - middle) @ way).max())
    mine = np.array(one.apart)
    gaps = [gap for seat in seats if (gap := np.array(seat.apart) - mine) @ way > ALONG_MM]
    straight = [gap for gap in gaps if np.linalg.norm(gap - way * (gap @ way)) < ALONG_MM]
    if straight:
        yield np.array([foot + mine, foot + mine + min(straight, key=np.linalg.norm)])


def _touch(one: Shown, other: Shown) -> bool:
    low, high = np.maximum(one.box[0], other.box[0]), np.minimum(one.box[1], other.box[1])
    return bool((high - low > -TOUCHING_MM).all())
