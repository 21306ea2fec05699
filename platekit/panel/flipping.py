"""Parts face down: what a piece looks like when its back is up."""

from __future__ import annotations

from dataclasses import dataclass

from platekit.geometry.motion import Motion
from platekit.geometry.profile import Profile
from platekit.panel.lettering import spelt
from platekit.panel.naming import name_marks
from platekit.panel.part import Mark, Part

FACE_DOWN = Motion(mirrored=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """One face of a piece: what is seen when it lies that way up.

    Attributes:
        name: Name of the part.
        profile: Its shape; no kerf in it.
        marks: Lines on this face, in the same coordinates.
    """

    name: str
    profile: Profile
    marks: tuple[Mark, ...] = ()


def face_of(part: Part) -> Face:
    """Return the good face of a part."""
    return Face(name=part.name, profile=part.profile, marks=part.marks)


def flipped(face: Face) -> Face:
    """Return the other face: mirrored in its own y axis, its name written anew to be read.

    Args:
        face: One face; where it carries its name, so does the other, not mirrored but lettered
            again, if there is room.
    """
    profile = face.profile.moved(FACE_DOWN)
    marks = tuple(mark.moved(FACE_DOWN) for mark in face.marks if not mark.is_name)
    if any(mark.is_name for mark in face.marks):
        marks = (*marks, *name_marks(profile, spelt(face.name), marks=marks)[0])
    return Face(name=face.name, profile=profile, marks=marks)
