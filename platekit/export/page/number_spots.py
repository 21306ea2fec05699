"""Where the number of a piece stands on a drawn sheet: clear of cuts and marks."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from platekit.export.label_room import LabelRoom
from platekit.export.picture_labels import numbered
from platekit.geometry.motion import Motion
from platekit.nesting import NestedSheet
from platekit.panel.part import Part

# Height of the letters, in parts of the sheet's longer side; on small pieces as much smaller.
LETTERS = 0.022
SMALLER = (1.0, 0.75, 0.55, 0.4)
# Size of letters that `numbered` tries first, px.
FIRST_PX = 15.0


class Spot(NamedTuple):
    """Middle of a number on its sheet and the height of its letters, mm."""

    x: float
    y: float
    high: float


def number_spots(nested: NestedSheet, parts: Sequence[Part]) -> list[Spot]:
    """Return where the number of every piece stands, in the order of the placements.

    Copies that are turned alike are looked at once. Where a piece has no room for a number at all
    it stands small in the middle.
    """
    known = {part.name: (number, part) for number, part in enumerate(parts, start=1)}
    letters = LETTERS * max(nested.width_mm, nested.height_mm)
    found: dict[tuple[str, float, bool], Spot] = {}
    spots = []
    for placed in nested.placements:
        key = (placed.part, placed.rotation_deg, placed.mirrored)
        if key not in found:
            number, part = known[placed.part]
            turned = Motion(turn_deg=placed.rotation_deg, mirrored=placed.mirrored)
            found[key] = _spot(part, number, turned, letters)
        spot = found[key]
        spots.append(Spot(spot.x + placed.x_mm, spot.y + placed.y_mm, spot.high))
    return spots


def _spot(part: Part, number: int, turned: Motion, letters: float) -> Spot:
    profile = part.profile.moved(turned)
    marks = [mark.path.moved(turned) for mark in part.marks]
    for share in SMALLER:
        scale = FIRST_PX / (share * letters)
        label = numbered(number, LabelRoom(profile, marks=marks, scale=scale))
        if label is not None:
            return Spot(label.middle.x, label.middle.y, label.size_px / scale)
    box = profile.bounds
    return Spot((box.left + box.right) / 2, (box.bottom + box.top) / 2, SMALLER[-1] * letters)
