"""Choosing a view: from where what matters is seen best, as near the usual view as will do."""

from __future__ import annotations

from collections.abc import Sequence, Set as AbstractSet

import numpy as np

from platekit.geometry.tables import Floats
from platekit.views.camera import ISOMETRIC_DEG, Camera
from platekit.views.occlusion import nearest_at, screen_of
from platekit.views.scene import Shown

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
    shares = []
    for camera in views:
        shares.append(share_seen(things, subject, camera))
        if shares[-1] >= ENOUGH:
            break
    return views[int(np.argmax(shares))]


def share_seen(things: Sequence[Shown], subject: AbstractSet[str], camera: Camera) -> float:
    """Return how much of a subject is seen, of what would be if it stood alone; by spots.

    Args:
        things: What is there.
        subject: Names of what is to be seen.
        camera: From where.
    """
    alone = [one for one in things if one.name in subject]
    if not alone:
        return 0.0
    corners = np.concatenate([camera.seen(one.corners)[:, :2] for one in alone])
    low, high = corners.min(axis=0), corners.max(axis=0)
    steps = (np.arange(SPOTS) + 0.5) / SPOTS
    spots = np.stack(np.meshgrid(*(low + (high - low) * steps[:, None]).T), axis=-1).reshape(-1, 2)
    covered = _owners(alone, spots, camera) >= 0
    first = [*alone, *(one for one in things if one.name not in subject)]
    owner = _owners(first, spots, camera)
    seen = covered & (owner >= 0) & (owner < len(alone))
    return float(seen.sum() / max(covered.sum(), 1))


def _owners(things: Sequence[Shown], spots: Floats, camera: Camera) -> Floats:
    """Return which thing is seen at each spot, -1 where none is."""
    seen = [camera.seen(one.corners) for one in things]
    base = np.cumsum([0] + [len(corners) for corners in seen])
    triangles = [one.triangles + start for one, start in zip(things, base, strict=False)]
    beyond = np.column_stack([spots, np.zeros(len(spots))])  # so that the grid reaches them
    screen = screen_of(np.concatenate([*seen, beyond]), np.concatenate(triangles))
    of = np.repeat(np.arange(len(things)), [len(one) for one in triangles])
    met = nearest_at(spots, screen)
    return np.asarray(np.where(met < 0, -1, of[met]))
