"""Points, and the trigonometry that is exact where a workshop expects it to be."""

from __future__ import annotations

import math
from typing import NamedTuple

# One micron's thousandth: below this two points of a chain are one point. Far under any
# beam's accuracy, far above what doubles lose in a long chain of operations.
SAME_POINT_MM = 1e-6


class Point(NamedTuple):
    """A place in the plane, mm, y up. A plain ``(x, y)`` pair serves wherever one is asked for."""

    x: float
    y: float


Pair = tuple[float, float]  # what callers may write for a Point


def as_point(pair: Pair) -> Point:
    """Return `pair` as a Point of finite floats.

    Raises:
        GeometryError: It is not two finite numbers.
    """
    from platekit.errors import GeometryError

    try:
        point = Point(float(pair[0]), float(pair[1]))
        fits = all(map(math.isfinite, point)) and len(tuple(pair)) == len(point)
    except (TypeError, ValueError, IndexError):
        fits = False
    if not fits:
        raise GeometryError(f"{pair!r} is no point", remedy="give two finite numbers (x, y) in mm")
    return point


def cos_sin(angle_deg: float) -> tuple[float, float]:
    """Return cosine and sine, exact at every multiple of 90 degrees.

    `math.cos(math.pi / 2)` is 6e-17; panels turned a quarter must stay square to the last bit.
    """
    turned = math.fmod(angle_deg, 360.0)
    quarters, rest = divmod(turned, 90.0)
    c, s = math.cos(math.radians(rest)), math.sin(math.radians(rest))
    if rest == 0.0:
        c, s = 1.0, 0.0
    elif rest == 45.0:
        c = s = math.sqrt(0.5)
    for _ in range(int(quarters) % 4):
        c, s = -s, c
    return c + 0.0, s + 0.0  # + 0.0 turns -0.0 into 0.0


def polar(centre: Pair, *, radius_mm: float, angle_deg: float) -> Point:
    """Return the point at `radius_mm` from `centre`, `angle_deg` counter-clockwise from +x."""
    c, s = cos_sin(angle_deg)
    return Point(centre[0] + radius_mm * c, centre[1] + radius_mm * s)


def between(a: Pair, b: Pair) -> float:
    """Return the distance between two points, mm."""
    return math.hypot(b[0] - a[0], b[1] - a[1])


def near(a: Pair, b: Pair, *, within_mm: float = SAME_POINT_MM) -> bool:
    """Return whether two points lie within `within_mm` of each other."""
    return between(a, b) <= within_mm
