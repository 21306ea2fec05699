"""Parts face down: what a piece looks like when its back is up."""

from __future__ import annotations

from dataclasses import replace

from platekit.geometry.motion import Motion
from platekit.panel.naming import name_marks
from platekit.panel.part import Part

FACE_DOWN = Motion(mirrored=True)


def flipped(part: Part) -> Part:
    """Return `part` face down: mirrored in its own y axis, its name written anew to be read.

    Args:
        part: The part; where it carries its name, the name is not mirrored but lettered again.
    """
    profile = part.profile.moved(FACE_DOWN)
    marks = tuple(mark.moved(FACE_DOWN) for mark in part.marks if not mark.is_name)
    if any(mark.is_name for mark in part.marks):
        name, _ = name_marks(profile, part.name, marks=marks)
        marks = (*marks, *name)
    return replace(part, profile=profile, marks=marks)
