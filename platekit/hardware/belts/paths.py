"""The way of an open belt around two round pulleys: length, centres, wrap and the closed line.

Pure geometry about two circles; teeth are no concern of it.
"""

from __future__ import annotations

import math

from platekit.errors import PartError
from platekit.geometry.chains import Contour
from platekit.geometry.curves import Arc, Line
from platekit.geometry.points import Point, as_point, between

# Newton's steps end here: far below what doubles keep of a metre.
SETTLED_MM = 1e-12
# The iteration comes down from above and doubles its digits at each step; 5 to 8 are usual.
MOST_STEPS = 60


def _lean(first_mm: float, second_mm: float, centres_mm: float) -> float:
    """Return the angle between a strand and the line of centres, radians, signed."""
    sine = (first_mm - second_mm) / (2 * centres_mm)
    if not -1 < sine < 1:
        raise PartError(
            f"centre distance is {centres_mm:g} mm, so one pulley lies within the other",
            remedy=f"give more than {abs(first_mm - second_mm) / 2:g} mm",
        )
    return math.asin(sine)


def open_belt_length_mm(first_mm: float, second_mm: float, *, centres_mm: float) -> float:
    """Return the exact length of an open belt around circles of these diameters.

    Raises:
        PartError: One circle lies within the other.

    Source:
        L = 2 C cos a + pi (D + d)/2 + a (D - d), sin a = (D - d)/(2 C): two tangents and two
        arcs, any handbook of machine elements.
    """
    lean = _lean(first_mm, second_mm, centres_mm)
    straight_mm = 2 * centres_mm * math.cos(lean)
    return straight_mm + math.pi * (first_mm + second_mm) / 2 + lean * (first_mm - second_mm)


def open_belt_centres_mm(first_mm: float, second_mm: float, *, length_mm: float) -> float:
    """Return the distance of centres at which an open belt of `length_mm` is taut.

    The length rises with the distance, ever steeper (its slope is 2 cos a), and is never less
    than two straight strands and half of each circle; so Newton's steps from that bound come
    down on the answer and cannot pass it.

    Raises:
        PartError: The belt does not even go around the larger circle.
    """
    least_mm = math.pi * max(first_mm, second_mm)
    if not length_mm > least_mm:
        raise PartError(
            f"a belt {length_mm:g} mm long does not go around a circle of {least_mm:g} mm",
            remedy="give a longer belt",
        )
    if first_mm == second_mm:
        return (length_mm - least_mm) / 2
    # A hair above the distance at which one circle touches the other from within.
    floor_mm = abs(first_mm - second_mm) / 2 * (1 + 1e-12)
    centres_mm = (length_mm - math.pi * (first_mm + second_mm) / 2) / 2
    centres_mm = max(centres_mm, floor_mm)
    for _ in range(MOST_STEPS):
        excess_mm = open_belt_length_mm(first_mm, second_mm, centres_mm=centres_mm) - length_mm
        slope = 2 * math.cos(_lean(first_mm, second_mm, centres_mm))
        step_mm = excess_mm / slope
        centres_mm = max(centres_mm - step_mm, floor_mm)
        if abs(step_mm) < SETTLED_MM:
            break
    return centres_mm


def open_belt_wraps_deg(
    first_mm: float, second_mm: float, *, centres_mm: float
) -> tuple[float, float]:
    """Return how far the belt lies around each circle, degrees; both make 360 together.

    Raises:
        PartError: One circle lies within the other.
    """
    lean_deg = math.degrees(_lean(first_mm, second_mm, centres_mm))
    return 180 + 2 * lean_deg, 180 - 2 * lean_deg


def open_belt_line(
    first_mm: float,
    second_mm: float,
    *,
    first_at: tuple[float, float],
    second_at: tuple[float, float],
) -> Contour:
    """Return the closed line around circles of these diameters, counter-clockwise, exact.

    Raises:
        PartError: One circle lies within the other.
        GeometryError: A place that is no point.
    """
    first, second = as_point(first_at), as_point(second_at)
    lean = _lean(first_mm, second_mm, between(first, second) or math.ulp(0.0))
    along = math.atan2(second.y - first.y, second.x - first.x)
    side = math.pi / 2 - lean  # from the line of centres to a strand's normal

    def on(centre: Point, diameter_mm: float, turn: float) -> Point:
        angle = along + turn
        reach_mm = diameter_mm / 2
        return Point(centre.x + reach_mm * math.cos(angle), centre.y + reach_mm * math.sin(angle))

    a, b = on(first, first_mm, -side), on(second, second_mm, -side)
    c, d = on(second, second_mm, side), on(first, first_mm, side)
    return Contour.of(
        [
            Line(a, b),
            Arc(b, c, second, second_mm / 2, ccw=True),
            Line(c, d),
            Arc(d, a, first, first_mm / 2, ccw=True),
        ]
    )
