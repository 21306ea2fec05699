"""Sights: things as one camera has them, reckoned once for whatever is asked about the view."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from platekit.errors import GeometryError
from platekit.geometry.tables import Floats, Ints
from platekit.views.camera import Camera
from platekit.views.occlusion import Screen, nearest_at, screen_of
from platekit.views.scene import Shown


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Sight:
    """Things before a camera.

    Attributes:
        things: What is there.
        camera: From where it is seen.
        corners: All their corners as the camera sees them, thing by thing, shape (n, 3).
        starts: Where the corners of each thing begin, and where all end.
        of: Which thing each triangle is of, thing by thing.
        screen: What hides what lies behind it.
    """

    things: tuple[Shown, ...]
    camera: Camera
    corners: Floats
    starts: Ints
    of: Ints
    screen: Screen

    def corners_of(self, number: int) -> Floats:
        """Return the corners of one thing as the camera sees them, shape (n, 3)."""
        return self.corners[self.starts[number] : self.starts[number + 1]]

    def owners(self, spots: Floats) -> Ints:
        """Return which thing is seen at each spot of the picture, -1 where none is.

        Args:
            spots: Shape (n, 2).
        """
        met = nearest_at(spots, self.screen)
        return np.asarray(np.where(met < 0, -1, self.of[met]), dtype=np.intp)


def sight_of(things: Sequence[Shown], camera: Camera) -> Sight:
    """Return things as a camera has them.

    Raises:
        GeometryError: There is nothing to see.
    """
    if not any(len(one.triangles) for one in things):
        raise GeometryError("there is nothing to draw", remedy="show one thing at least")
    seen = [camera.seen(one.corners) for one in things]
    starts = np.cumsum([0] + [len(corners) for corners in seen])
    corners = np.concatenate(seen)
    triangles = [one.triangles + start for one, start in zip(things, starts, strict=False)]
    return Sight(
        things=tuple(things),
        camera=camera,
        corners=corners,
        starts=starts,
        of=np.repeat(np.arange(len(things)), [len(some) for some in triangles]),
        screen=screen_of(corners, np.concatenate(triangles)),
    )
