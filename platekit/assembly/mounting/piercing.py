"""Piercing: the hole in every layer that something passes through.

Where a layer is open already for what passes, nothing is cut; where one hole holds another, the
larger is cut. So a shaft passes its own bearing's seat, and a bolt a slot the recipe has drawn.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from platekit.assembly.panels import Panel
from platekit.errors import PartError
from platekit.geometry.booleans import intersection
from platekit.geometry.chains import Contour
from platekit.geometry.distance import point_distances
from platekit.geometry.points import SAME_POINT_MM, Point
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import slot
from platekit.panel.feature import Feature
from platekit.panel.plate import Plate

# Overlaps smaller than this are rounding, not material in the way.
NOTHING_MM2 = 1e-4


@dataclass(frozen=True)
class Cut:
    """A hole asked of one layer, in the plate's coordinates.

    Attributes:
        panel: Name of the panel.
        plate: Name of the plate.
        owner: What asks for it; names the feature.
        kind: What it is, in workshop words.
        core: What passes there.
        hole: The hole to cut.
        room: What other holes should keep out of; None for nothing.
        most_panel_mm: Thickest plate that what sits there can clamp.
        of: The device it serves; empty for a bolt's.
    """

    panel: str
    plate: str
    owner: str
    kind: str
    core: Contour
    hole: Contour
    room: Contour | None = None
    most_panel_mm: float | None = None
    of: str = ""


def is_open(plate: Plate, core: Contour) -> bool:
    """Return whether nothing of a plate's material lies in the way of `core`."""
    box, bounds = core.bounds, plate.bounds
    if (
        box.right <= bounds.left
        or box.left >= bounds.right
        or box.top <= bounds.bottom
        or box.bottom >= bounds.top
    ):
        return True
    profile = plate.profile
    if core.is_circle:
        centre, radius = box.centre, box.width_mm / 2
        if profile.contains(centre):
            return False
        spots = np.tile(Point(*centre), (len(profile.table), 1))
        return bool(point_distances(profile.table, spots).min() >= radius - SAME_POINT_MM)
    return sum(piece.area_mm2 for piece in intersection(profile, Profile(core))) < NOTHING_MM2


def moving(hole: Contour, *, travel_mm: float, along_deg: float) -> Contour:
    """Return a round hole drawn out into the slot in which what passes it can move.

    Raises:
        PartError: The hole is not round.
    """
    if travel_mm <= SAME_POINT_MM:
        return hole
    if not hole.is_circle:
        raise PartError(
            f"a hole of its shape cannot be drawn out by {travel_mm:g} mm",
            remedy="leave travel_mm out and cut its opening with slot() or window()",
        )
    width = hole.bounds.width_mm
    return slot(width + travel_mm, width, centre=hole.bounds.centre, angle_deg=along_deg)


def pierced(panels: Sequence[Panel], cuts: Iterable[Cut]) -> tuple[Panel, ...]:
    """Return the panels with every hole cut that is not open already.

    Raises:
        PartError: A hole lies across an edge or over another that does not hold it.
    """
    wanted: dict[tuple[str, str], list[Cut]] = {}
    for cut in cuts:
        wanted.setdefault((cut.panel, cut.plate), []).append(cut)
    changed = []
    for panel in panels:
        layers = tuple(
            _cut(plate, wanted.get((panel.name, plate.name), ())) for plate in panel.layers
        )
        changed.append(replace(panel, layers=layers) if layers != panel.layers else panel)
    return tuple(changed)


def _cut(plate: Plate, cuts: Sequence[Cut]) -> Plate:
    needed = [cut for cut in cuts if not is_open(plate, cut.core)]
    largest = sorted(needed, key=lambda cut: -abs(Profile(cut.hole).area_mm2))
    kept: list[Cut] = []
    for cut in largest:
        if not any(_holds(other.hole, cut.hole) for other in kept):
            kept.append(cut)
    features: dict[str, Feature] = {}
    for cut in sorted(kept, key=cuts.index):
        old = features.get(cut.owner)
        rooms = () if cut.room is None else (cut.room,)
        if old is None:
            features[cut.owner] = Feature(
                kind=cut.kind,
                name=cut.owner,
                cuts=(cut.hole,),
                rooms=rooms,
                at=(0.0, 0.0),
                most_panel_mm=cut.most_panel_mm,
                of=cut.of,
            )
        else:
            features[cut.owner] = replace(
                old, cuts=(*old.cuts, cut.hole), rooms=(*old.rooms, *rooms)
            )
    return plate.with_features(*features.values()) if features else plate


def _holds(outer: Contour, inner: Contour) -> bool:
    """Return whether one closed contour lies inside another."""
    a, b = outer.bounds, inner.bounds
    if outer.is_circle and inner.is_circle:
        apart = float(np.hypot(a.centre[0] - b.centre[0], a.centre[1] - b.centre[1]))
        return apart + b.width_mm / 2 <= a.width_mm / 2 + SAME_POINT_MM
    beyond = (
        b.left < a.left - SAME_POINT_MM
        or b.right > a.right + SAME_POINT_MM
        or b.bottom < a.bottom - SAME_POINT_MM
        or b.top > a.top + SAME_POINT_MM
    )
    if beyond:
        return False
    shared = sum(piece.area_mm2 for piece in intersection(Profile(outer), Profile(inner)))
    return shared >= Profile(inner).area_mm2 - NOTHING_MM2
