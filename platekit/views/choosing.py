"""Choosing a view: from where what matters is seen best, as near the usual view as will do."""

from __future__ import annotations

from collections.abc import Sequence, Set as AbstractSet

import numpy as np

from platekit.views.camera import ISOMETRIC_DEG, Camera
from platekit.views.scene import Shown
from platekit.views.sight import Sight, sight_of

# The usual view first, then the others from above, then those from below.
VIEWS = tuple(
    Camera(azimuth_deg=turn, elevation_deg=height)
    for height in (ISOMETRIC_DEG, -ISOMETRIC_DEG)
    for turn in (45.0, 315.0, 135.0, 225.0)
)
# A view is taken that shows this much of what could be seen of it, if nothing stood before it.
ENOUGH = 0.6
# Spots looked at to each side of what matters.
SPOTS = 28


def chosen_view(
    things: Sequence[Shown], subject: AbstractSet[str], *, views: Sequence[Camera] = VIEWS
) -> Camera:
    """Return the first view that shows enough of the subject, or else the one with most of it.

    Args:
        things: What is there.
        subject: Names of what is to be seen, one at least.
        views: From where it may be seen, the best liked first; one at least.
    """
    return chosen_sight(things, subject, views=views).camera


def chosen_sight(
    things: Sequence[Shown], subject: AbstractSet[str], *, views: Sequence[Camera] = VIEWS
) -> Sight:
    """Return what `chosen_view` does, with the things as that camera has them.

    Args:
        things: What is there.
        subject: Names of what is to be seen, one at least.
        views: From where it may be seen, the best liked first; one at least.
    """
    best, most = sight_of(things, views[0]), -1.0
    for camera in views:
        sight = best if camera == views[0] else sight_of(things, camera)
        share = _share(sight, subject)
        if share > most:
            best, most = sight, share
        if share >= ENOUGH:
            break
    return best


def share_seen(things: Sequence[Shown], subject: AbstractSet[str], camera: Camera) -> float:
    """Return how much of a subject is seen, of what would be if it stood alone; by spots.

    Args:
        things: What is there.
        subject: Names of what is to be seen.
        camera: From where.
    """
    return _share(sight_of(things, camera), subject)


def _share(sight: Sight, subject: AbstractSet[str]) -> float:
    wanted = np.array([one.name in subject for one in sight.things])
    if not wanted.any():
        return 0.0
    alone = sight_of([one for one in sight.things if one.name in subject], sight.camera)
    low, high = alone.corners[:, :2].min(axis=0), alone.corners[:, :2].max(axis=0)
    steps = (np.arange(SPOTS) + 0.5) / SPOTS
    spots = np.stack(np.meshgrid(*(low + (high - low) * steps[:, None]).T), axis=-1).reshape(-1, 2)
    spots = spots[alone.owners(spots) >= 0]
    owners = sight.owners(spots)
    return float((wanted[owners] & (owners >= 0)).sum() / max(len(spots), 1))
