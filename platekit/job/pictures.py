"""The pictures for people: all the sheets, each sheet, all the parts, the rig in space.

They go with the cut files: a drawing in true proportion is easily taken for one that may be cut,
so where a finding withholds the cut files there are no pictures either.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from platekit.assembly.proof.things import ThingKind
from platekit.export.picture_parts import parts_picture
from platekit.export.picture_rig import exploded_picture, rig_picture
from platekit.export.picture_sheets import PicturedSheet, sheets_picture
from platekit.job.laid import LaidSheet
from platekit.panel.flipping import Face
from platekit.panel.part import Part
from platekit.views.scene import Scene

SHEETS = "pictures/sheets.svg"
PARTS = "pictures/parts.svg"
RIG = "pictures/rig.svg"
EXPLODED = "pictures/exploded.svg"


def pictures(
    title: str,
    *,
    sheets: Iterable[LaidSheet],
    faces: Sequence[Face],
    parts: Sequence[Part] = (),
    scene: Scene | None = None,
) -> dict[str, str]:
    """Return the pictures of a run, by path.

    Args:
        title: Name of the recipe or of the parts list.
        sheets: The nested sheets, one at least.
        faces: The good face of every kind of part.
        parts: Every kind of part, for a picture of their own; none for no such picture.
        scene: The rig in space, for pictures of it where it has more than one panel.
    """
    shown = [PicturedSheet(kind=one.kind, nested=one.nested, kerf_mm=one.kerf_mm) for one in sheets]
    made = {SHEETS: sheets_picture(title, faces=faces, sheets=shown)}
    for number, one in enumerate(shown, start=1):
        made[f"pictures/sheets/{number}.svg"] = sheets_picture(
            title, faces=faces, sheets=[one], first=number
        )
    if parts:
        made[PARTS] = parts_picture(title, parts=parts)
    if scene is not None and sum(one.kind is ThingKind.PLATE for one in scene.things) > 1:
        made[RIG] = rig_picture(title, scene)
        made[EXPLODED] = exploded_picture(title, scene)
    return made
