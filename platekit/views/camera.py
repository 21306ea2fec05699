"""Cameras: from where a rig is looked at, and how space comes to lie on the picture.

Parallel projection only: what is equally long and equally turned is drawn equally long, so that a
picture may be measured along its axes.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from platekit.assembly.frames import Vector
from platekit.errors import GeometryError
from platekit.geometry.tables import Floats

# From this height all three axes of the workshop look equally short: 35.26 degrees.
ISOMETRIC_DEG = math.degrees(math.asin(1 / math.sqrt(3)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Camera:
    """Where the eye is, infinitely far away.

    As it stands the picture is isometric: edges along x, y and z lie 120 degrees apart and are
    equally shortened.

    Attributes:
        azimuth_deg: From where it looks, seen from above: 0 from the front, 90 from the right,
            180 from the back, 270 from the left.
        elevation_deg: From how high: 0 level, 90 from straight above, -90 from below.

    Raises:
        GeometryError: An angle is no number, or the elevation is beyond straight up or down.

    Source:
        ISO 5456-3:1996, isometric axonometry (axes and scales derived by trigonometry).
    """

    azimuth_deg: float = 45.0
    elevation_deg: float = ISOMETRIC_DEG

    def __post_init__(self) -> None:
        if not (math.isfinite(self.azimuth_deg) and abs(self.elevation_deg) <= 90.0):
            raise GeometryError(
                f"a camera looks from azimuth {self.azimuth_deg}, elevation {self.elevation_deg}",
                remedy="give an azimuth in degrees and an elevation from -90 to 90",
            )

    @property
    def axes(self) -> Floats:
        """Unit vectors of the picture's x and y and of the way to the eye, as rows, shape (3, 3).

        They are right-handed, so that what runs counter-clockwise seen from outside does so on
        the picture where it faces the eye.
        """
        azimuth, elevation = math.radians(self.azimuth_deg), math.radians(self.elevation_deg)
        sin_a, cos_a = math.sin(azimuth), math.cos(azimuth)
        sin_e, cos_e = math.sin(elevation), math.cos(elevation)
        return np.array(
            [
                [cos_a, sin_a, 0.0],
                [-sin_a * sin_e, cos_a * sin_e, cos_e],
                [sin_a * cos_e, -cos_a * cos_e, sin_e],
            ]
        )

    def seen(self, corners: Floats) -> Floats:
        """Return places in space as the picture has them.

        Args:
            corners: Places, mm, shape (n, 3).

        Returns:
            x and y on the picture plane, y up, and how far they are towards the eye; mm,
            shape (n, 3).
        """
        return np.asarray(corners, dtype=float) @ self.axes.T

    def at(self, place: Vector) -> tuple[float, float]:
        """Return where one place lies on the picture, mm."""
        x, y, _ = self.seen(np.array([place]))[0]
        return float(x), float(y)

    def on_picture(self, way: Vector) -> tuple[float, float]:
        """Return a direction in space as it lies on the picture, not made unit length."""
        return self.at(way)


ISOMETRIC = Camera()
