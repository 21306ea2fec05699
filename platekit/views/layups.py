"""Laminates before they are glued: layers pulled apart in their order, dowels, where glue goes."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from platekit.assembly.frames import Vector
from platekit.assembly.proof.things import ThingKind
from platekit.geometry.tables import Floats
from platekit.views.balloons import Balloon, ballooned
from platekit.views.camera import ISOMETRIC, Camera
from platekit.views.entries import Entry
from platekit.views.glue import HATCH_SHARE, contacts, hatching
from platekit.views.hidden import drawn_in, unhidden
from platekit.views.line_drawing import LineDrawing
from platekit.views.scene import Glued, LayUp, Shown
from platekit.views.sight import sight_of

# Air between two layers, in parts of what the smaller measures across, and in parts of by how much
# it is smaller: enough to see between them from above, beneath a large one as well.
AIR_SHARE, OVERHANG_SHARE = 0.3, 0.42
# How far a dowel's axis stands out of the topmost layer, in parts of how high that is raised.
STICKS_OUT = 0.1
# Radius of a balloon, in parts of the picture's width; two columns of them stand beside it.
RADIUS_SHARE = 0.026


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class LayUpView:
    """The layers of a laminate, one above the other, as they are to be glued.

    Attributes:
        name: What they become.
        layers: Names of the layers, the lowest first: balloon 1 is the lowest.
        drawing: The layers; all but the lowest are new. Dowels stand in the lowest.
        axes: Where the dowels go through what is above: ends of each line, mm, shape (2, 2).
        glue: Hatching where glue goes, as far as it is seen, likewise.
        balloons: The numbers of the layers.
        radius_mm: Radius of a balloon.
        dowels: How many dowels keep them in line.
    """

    name: str
    layers: tuple[str, ...]
    drawing: LineDrawing
    axes: tuple[Floats, ...]
    glue: tuple[Floats, ...]
    balloons: tuple[Balloon, ...]
    radius_mm: float
    dowels: int = 0

    @property
    def box(self) -> Floats:
        """Least and greatest x, y of everything, balloons as well, mm, shape (2, 2)."""
        middles = np.array([one.centre for one in self.balloons]).reshape(-1, 2)
        spots = np.concatenate(
            [self.drawing.box, middles - self.radius_mm, middles + self.radius_mm, *self.axes]
        )
        return np.array([spots.min(axis=0), spots.max(axis=0)])


def layup_view(layup: LayUp, *, camera: Camera = ISOMETRIC) -> LayUpView:
    """Return a laminate's layers one above the other, the lowest where it lies.

    Args:
        layup: The layers and their dowels.
        camera: From where they are seen; from above, since glue goes on what looks up.
    """
    home = {one.name: one for one in layup.layers}
    names = tuple(home)
    across = [float(np.ptp(one.box[:, :2], axis=0).max()) for one in layup.layers]
    airs = [
        AIR_SHARE * min(pair) + OVERHANG_SHARE * abs(np.subtract(*pair))
        for pair in pairwise(across)
    ]
    up = dict(zip(names, np.cumsum([0.0, *airs]).tolist(), strict=True))
    lifted = [one.moved(Vector(0.0, 0.0, up[one.name])) for one in layup.layers]
    shown = [*lifted, *layup.dowels]
    sight = sight_of(shown, camera)
    drawing = drawn_in(sight, new=frozenset(names[1:]))
    size = float(np.hypot(drawing.width_mm, drawing.height_mm))
    lines = []
    for below, above in pairwise(names):
        for contact in contacts(home, Glued(between=(below, above))):
            beneath, _ = hatching(contact, camera, apart_mm=HATCH_SHARE * size)
            lines.append(beneath + np.array([0.0, 0.0, up[below]]))
    glue = unhidden(np.concatenate([np.empty((0, 2, 3)), *lines]), sight)
    axes = [_axis(one, up[names[-1]]) for one in layup.dowels]
    numbered = [
        Entry(number=k, label=name, things=(name,), kind=ThingKind.PLATE)
        for k, name in enumerate(names, start=1)
    ]
    radius = RADIUS_SHARE * max(drawing.width_mm, drawing.height_mm)
    return LayUpView(
        name=layup.name,
        layers=names,
        drawing=drawing,
        axes=tuple(ends for _, ends in unhidden(np.array(axes).reshape(-1, 2, 3), sight)),
        glue=tuple(ends for _, ends in glue),
        balloons=ballooned(drawing, numbered, radius_mm=radius),
        radius_mm=radius,
        dowels=len(layup.dowels),
    )


def _axis(dowel: Shown, lift_mm: float) -> Floats:
    """Return the line from a dowel's head to where it comes out of the topmost layer."""
    low, high = dowel.box
    middle = (low + high) / 2
    top = high[2] + (1.0 + STICKS_OUT) * lift_mm
    return np.array([[*middle[:2], high[2]], [*middle[:2], top]])
