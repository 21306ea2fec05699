"""Taken apart: where everything goes when a rig is shown with air between its things.

Things go back along the way they came, in the order they came, each until it is clear of all that
was there before it; so each stands over its own place, and the picture tells the order of
assembly. Screws go out along their own axes, off what they hold.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from platekit.assembly.frames import NOWHERE, Vector
from platekit.assembly.mounting.bodies import Fastening
from platekit.assembly.proof import Step
from platekit.geometry.tables import Floats

# Air between two things, mm and in parts of the rig's size.
AIR_MM, AIR_SHARE = 6.0, 0.025
# What stands before a rig like a wall goes further: the eye is to see past it.
WALL_SHARE = 0.3
# Air between a screw and what it holds, in parts of that between other things.
SCREW_AIR = 0.4
# Things whose shadows along the way overlap by less than this pass each other.
PASSING_MM = 0.5


@dataclass(slots=True)
class Apart:
    """A rig as it is taken apart.

    Attributes:
        boxes: Least and greatest x, y, z of each thing, shape (2, 3) each.
        plates: In which thing each plate is, by name.
        moved: How far each thing has gone; what is not in it is not there yet.
    """

    boxes: Mapping[str, Floats]
    plates: Mapping[str, str]
    moved: dict[str, Floats] = field(default_factory=dict)

    def now(self, names: Sequence[str]) -> Floats:
        """Return the boxes of things where they are now, shape (n, 2, 3)."""
        return np.array([self.boxes[name] + self.moved[name] for name in names])

    def clear(self, block: Sequence[str], there: Sequence[str], way: Floats, air_mm: float) -> None:
        """Move a block along a way until it is clear of what is there."""
        if not block or not there:
            return
        main = int(np.argmax(np.abs(way)))
        across = [k for k in range(3) if k != main]
        mine, theirs = self.now(block), self.now(there)
        shared = np.minimum(mine[:, None, 1], theirs[None, :, 1]) - np.maximum(
            mine[:, None, 0], theirs[None, :, 0]
        )
        meets = (shared[:, :, across] > PASSING_MM).all(axis=2)
        if way[main] > 0:
            lacks = theirs[None, :, 1, main] - mine[:, None, 0, main]
        else:
            lacks = mine[:, None, 1, main] - theirs[None, :, 0, main]
        needed = float(np.where(meets, lacks + air_mm, 0.0).max(initial=0.0))
        for name in block:
            self.moved[name] = self.moved[name] + needed * way / abs(way[main])

    def draw_out(self, screw: Fastening, *, air_mm: float) -> None:
        """Draw a screw out of what it holds; a nut in a pocket stays with what it is in."""
        way = np.array(screw.way)
        held = [self.plates.get(name, name) for name in screw.holds]
        held = [name for name in dict.fromkeys(held) if name in self.moved]
        # The one its head lies on reaches furthest the way it comes out.
        held.sort(key=lambda name: float((self.boxes[name] @ way).max()))
        self.moved[screw.name] = self.moved[held[-1]] if held else np.zeros(3)
        self.clear([screw.name], held, way, air_mm)
        nut = f"{screw.name} nut"
        if nut in self.boxes and held:
            self.moved[nut] = self.moved[held[0]]


def taken_apart(
    boxes: Mapping[str, Floats],
    *,
    steps: Sequence[Step],
    fastenings: Iterable[Fastening],
    plates: Mapping[str, str],
    riding: Mapping[str, str],
) -> dict[str, Vector]:
    """Return where things go, by name; what no step brings in stays.

    Args:
        boxes: Least and greatest x, y, z of each thing, shape (2, 3) each.
        steps: The order of assembly.
        fastenings: The screws.
        plates: In which thing each plate is, by name: one of the layers of a laminate, say.
        riding: What is clamped into what, by name: it goes where that goes.
    """
    if not boxes:
        return {}
    low = np.min([box[0] for box in boxes.values()], axis=0)
    high = np.max([box[1] for box in boxes.values()], axis=0)
    size = float(np.linalg.norm(high - low))
    air = AIR_MM + AIR_SHARE * size
    screws = {one.name: one for one in fastenings}
    rig = Apart(boxes, plates)
    heaps: dict[str, list[str]] = {}
    for step in steps:
        there = heaps.setdefault(step.heap, [])
        back = -np.array(step.way)
        if step.brings:
            block = heaps.pop(step.brings, [])
        else:
            block = [name for name in (*step.things, *step.belts) if name in boxes]
            rig.moved |= {name: np.zeros(3) for name in block}
        wall = set(plates.values()).issuperset(step.things) and abs(back[2]) < 0.5
        rig.clear(block, there, back, AIR_MM + WALL_SHARE * size if wall else air)
        there += block
        for name in step.fasteners:
            if name in boxes and name in screws:
                rig.draw_out(screws[name], air_mm=SCREW_AIR * air)
                there.append(name)
    for name, carrier in riding.items():
        if name in boxes and carrier in rig.moved:
            rig.moved[name] = rig.moved[carrier]
    return {name: Vector(*map(float, rig.moved.get(name, NOWHERE))) for name in boxes}
