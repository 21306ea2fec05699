"""Line drawings of a rig on paper: tinted faces, visible lines, new things set off."""

from __future__ import annotations

import numpy as np

from platekit.assembly.proof.things import ThingKind
from platekit.export.palette import OKABE_ITO
from platekit.export.picture import tinted
from platekit.export.plans.press import INK, Press, Stroke
from platekit.geometry.tables import Floats
from platekit.views.line_drawing import Face, LineDrawing

OUTLINE_MM, EDGE_MM = 0.25, 0.13
# How much of the colour is left on a face that looks up, to the left, to the right.
SHARES = {"top": 0.10, "left": 0.18, "right": 0.28}
NEW, OLD, BOUGHT = OKABE_ITO["orange"], OKABE_ITO["sky blue"], OKABE_ITO["black"]
NEW_MORE = 2.4


def picture(
    press: Press,
    drawing: LineDrawing,
    *,
    room: tuple[float, float, float, float],
    most_scale: float = 1.0,
) -> float:
    """Draw a picture amidst a room (left, bottom, width, height); return its scale."""
    left, bottom, width, height = room
    scale = min(width / drawing.width_mm, height / drawing.height_mm, most_scale)
    middle = drawing.box.mean(axis=0)
    home = np.array([left + width / 2, bottom + height / 2])

    def at(points: Floats) -> list[tuple[float, float]]:
        placed = np.round((points - middle) * scale + home, 3)
        return [(float(x), float(y)) for x, y in placed]

    areas: dict[str, list[list[tuple[float, float]]]] = {}
    for face in drawing.faces:
        areas.setdefault(_tint(face), []).extend(at(ring) for ring in face.rings)
    for fill, rings in areas.items():
        press.rings(rings, fill=fill)
    for kind, width_mm in (("edge", EDGE_MM), ("outline", OUTLINE_MM)):
        press.polylines(
            [at(one.points) for one in drawing.strokes if one.kind == kind],
            stroke=Stroke(width_mm=width_mm, colour=INK),
        )
    return scale


def _tint(face: Face) -> str:
    share = SHARES[face.shade]
    if face.new:
        return tinted(NEW, share=NEW_MORE * share)
    return tinted(OLD if face.kind is ThingKind.PLATE else BOUGHT, share=share)
