"""Parts of two builds, told apart by name: gone, new, and what differs in those that stayed."""

from __future__ import annotations

import warnings
from collections.abc import Sequence

import numpy as np

from platekit.errors import ApproximationWarning, GeometryError
from platekit.export.build import PartRecord
from platekit.export.picture_overlay import Overlay
from platekit.geometry.booleans import difference
from platekit.geometry.chains import Bounds
from platekit.geometry.faults import find_faults
from platekit.geometry.motion import Motion
from platekit.geometry.profile import Profile
from platekit.geometry.tables import row_boxes
from platekit.job.comparing.values import SAME_MM, Change, PartChange

# What a part is moved by need not be finer than what its outline is written in.
SHIFT_DECIMALS = 6
CLEARLY_LESS = 0.9

# A plate of five thousand holes has 24 thousand meetings, every edge's with itself included.
MOST_MEETINGS = 60_000
BOXES_AT_ONCE = 256


def changed_parts(
    old: Sequence[PartRecord], new: Sequence[PartRecord]
) -> tuple[tuple[str, ...], tuple[str, ...], tuple[PartChange, ...]]:
    """Return the names of parts that are gone, of those that are new, and what changed in others.

    A part is known by its name alone: one that was renamed is gone, and new.
    """
    were = {part.name: part for part in old}
    are = {part.name: part for part in new}
    gone = tuple(name for name in were if name not in are)
    added = tuple(name for name in are if name not in were)
    changed = [
        change
        for name, part in were.items()
        if name in are and (change := part_change(part, are[name])) is not None
    ]
    return gone, added, tuple(changed)


def part_change(old: PartRecord, new: PartRecord) -> PartChange | None:
    """Return what differs in one part; None when nothing does."""
    shape = shape_change(old.profile, new.profile)
    changes = []
    if old.material != new.material:
        changes.append(Change(name="material", old=old.material, new=new.material))
    if abs(old.thickness_mm - new.thickness_mm) > SAME_MM:
        changes.append(
            Change(name="thickness", old=old.thickness_mm, new=new.thickness_mm, unit="mm")
        )
    if old.quantity != new.quantity:
        changes.append(Change(name="quantity", old=old.quantity, new=new.quantity))
    if shape is not None:
        if any(abs(a - b) > SAME_MM for a, b in zip(old.size_mm, new.size_mm, strict=True)):
            changes.append(
                Change(name="size", old=list(old.size_mm), new=list(new.size_mm), unit="mm")
            )
        if abs(old.area_mm2 - new.area_mm2) > SAME_MM * old.profile.length_mm:
            changes.append(Change(name="area", old=old.area_mm2, new=new.area_mm2, unit="mm2"))
    if old.contours != new.contours:
        changes.append(Change(name="cuts", old=old.contours, new=new.contours))
    if shape is None and not changes:
        return None
    return PartChange(name=old.name, changes=tuple(changes), shape=shape)


def shape_change(old: Profile, new: Profile) -> Overlay | None:
    """Return two outlines laid over each other; None when they are the same.

    They are laid as they are drawn, or corner on corner or middle on middle where that leaves
    clearly less that differs: a recipe may draw the same part elsewhere, and a plate that grows
    on both sides has its holes where they were.
    """
    if old == new:
        return None
    if _entangled(old, new) or find_faults(old) or find_faults(new):
        return Overlay(old=old, new=new, removed=None, added=None)
    best = _laid(old, new)
    for dx, dy in _shifts(old.bounds, new.bounds):
        if _differs_mm2(best) == 0.0:
            break
        other = _laid(old, new.moved(Motion(dx_mm=dx, dy_mm=dy)))
        if _differs_mm2(other) < CLEARLY_LESS * _differs_mm2(best):
            best = other
    # What the figures in a record are rounded by leaves no piece at all: the booleans drop it.
    return None if best.removed == best.added == () else best


def _entangled(old: Profile, new: Profile) -> bool:
    """Return whether edges come so near each other so often that the search would not end.

    Nobody cuts such a plate, but a file may hold one, and time and memory grow with the meetings.
    """
    boxes = row_boxes(np.concatenate([old.table, new.table]))
    count = 0
    for k in range(0, len(boxes), BOXES_AT_ONCE):
        some = boxes[k : k + BOXES_AT_ONCE, None]
        meet = (some[..., :2] <= boxes[None, :, 2:]) & (boxes[None, :, :2] <= some[..., 2:])
        count += int(np.count_nonzero(meet.all(axis=2)))
        if count > MOST_MEETINGS:
            return True
    return False


def _shifts(old: Bounds, new: Bounds) -> tuple[tuple[float, float], ...]:
    """Return the ways to lay one box on another by corners and middles, but for none at all."""
    ways = [
        (dx, dy)
        for dx in (old.left - new.left, old.right - new.right)
        for dy in (old.bottom - new.bottom, old.top - new.top)
    ]
    ways.append((old.centre.x - new.centre.x, old.centre.y - new.centre.y))
    ways = [(round(dx, SHIFT_DECIMALS), round(dy, SHIFT_DECIMALS)) for dx, dy in ways]
    return tuple(way for way in dict.fromkeys(ways) if way != (0.0, 0.0))


def _laid(old: Profile, new: Profile) -> Overlay:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", ApproximationWarning)  # a micron, and nothing is cut of it
        try:
            removed, added = difference(old, new), difference(new, old)
        except GeometryError:
            return Overlay(old=old, new=new, removed=None, added=None)
    return Overlay(old=old, new=new, removed=removed, added=added)


def _differs_mm2(laid: Overlay) -> float:
    if laid.removed_mm2 is None or laid.added_mm2 is None:
        return float("inf")
    return laid.removed_mm2 + laid.added_mm2
