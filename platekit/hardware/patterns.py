"""Where the holes of a pattern stand."""

from __future__ import annotations

import math

from platekit.errors import PartError
from platekit.geometry.points import Point, polar

# More holes than this on one circle is a slip of the finger, not a flange.
MOST_HOLES = 720


def bolt_circle_points(
    count: int, *, pcd_mm: float, start_deg: float = 0.0, centre: tuple[float, float] = (0.0, 0.0)
) -> tuple[Point, ...]:
    """Return the centres of `count` equally spaced holes, counter-clockwise.

    Exact wherever a hole lies on an axis through the centre.

    Args:
        count: How many holes, 1 to 720.
        pcd_mm: Diameter of the pitch circle, above 0.
        start_deg: Where the first hole stands, counter-clockwise from +x.
        centre: Centre of the circle, mm.

    Raises:
        PartError: The count is no whole number in range, or the circle is none.

    Source:
        x = PCD/2 cos(360 k/n), y = PCD/2 sin(360 k/n): the hole-circle tables of machinery
        handbooks.
    """
    if type(count) is not int or not 1 <= count <= MOST_HOLES:
        raise PartError(
            f"a bolt circle of {count!r} holes", remedy=f"give a whole number, 1 to {MOST_HOLES}"
        )
    if not (math.isfinite(pcd_mm) and pcd_mm > 0):
        raise PartError(f"bolt circle diameter is {pcd_mm} mm", remedy="give a PCD above 0")
    if not math.isfinite(start_deg):
        raise PartError(
            f"first hole of the bolt circle stands at {start_deg} degrees",
            remedy="give a finite angle",
        )
    # 360 k / n in this order hits 90, 180 and 270 exactly, which k * (360 / n) does not.
    return tuple(
        polar(centre, radius_mm=pcd_mm / 2, angle_deg=start_deg + 360.0 * k / count)
        for k in range(count)
    )


def rectangle_points(
    *, width_mm: float, height_mm: float, centre: tuple[float, float] = (0.0, 0.0)
) -> tuple[Point, ...]:
    """Return the corners of a rectangle of holes, counter-clockwise from the lower left.

    A width or height of 0 gives the two holes that are left.

    Args:
        width_mm: Distance of the holes along x.
        height_mm: Distance of the holes along y.
        centre: Centre of the pattern, mm.

    Raises:
        PartError: A distance is negative or not finite, or both are 0.
    """
    for what, value in (("width", width_mm), ("height", height_mm)):
        if not (math.isfinite(value) and value >= 0):
            raise PartError(f"{what} of the hole pattern is {value} mm", remedy="give 0 or more")
    if width_mm == 0 and height_mm == 0:
        raise PartError("the hole pattern has no extent", remedy="give a width or a height above 0")
    cx, cy = centre
    corners = (
        Point(cx - width_mm / 2, cy - height_mm / 2),
        Point(cx + width_mm / 2, cy - height_mm / 2),
        Point(cx + width_mm / 2, cy + height_mm / 2),
        Point(cx - width_mm / 2, cy + height_mm / 2),
    )
    return tuple(dict.fromkeys(corners))
