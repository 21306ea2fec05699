"""Shapes and random designs that every geometry test may walk."""

from __future__ import annotations

import math

from hypothesis import strategies as st

from platekit.geometry.chains import Contour, circle, closed_polyline
from platekit.geometry.curves import Arc, Line
from platekit.geometry.motion import turn_about
from platekit.geometry.points import Point
from platekit.geometry.profile import Profile


def rectangle_ring(left: float, bottom: float, width: float, height: float) -> Contour:
    """Return an upright rectangle, counter-clockwise."""
    right, top = left + width, bottom + height
    return closed_polyline([(left, bottom), (right, bottom), (right, top), (left, top)])


def slot_ring(x: float, y: float, length: float, width: float, angle_deg: float = 0.0) -> Contour:
    """Return a slot with half-round ends, `length` over all, counter-clockwise."""
    r, h = width / 2, (length - width) / 2
    a, b, c, d = (
        Point(x - h, y - r),
        Point(x + h, y - r),
        Point(x + h, y + r),
        Point(x - h, y + r),
    )
    ring = Contour.of(
        [
            Line(a, b),
            Arc(b, c, Point(x + h, y), r, ccw=True),
            Line(c, d),
            Arc(d, a, Point(x - h, y), r, ccw=True),
        ]
    )
    return ring.moved(turn_about((x, y), angle_deg=angle_deg)) if angle_deg else ring


def d_ring(x: float, y: float, radius: float, flat: float) -> Contour:
    """Return a circle cut off by a flat `flat` above its centre, counter-clockwise."""
    half = math.sqrt(radius * radius - flat * flat)
    left, right = Point(x - half, y + flat), Point(x + half, y + flat)
    return Contour.of([Arc(left, right, Point(x, y), radius, ccw=True), Line(right, left)])


def profiles(grid_mm: float | None = None) -> st.SearchStrategy[Profile]:
    """Return circles, rectangles, slots and D shapes; on a grid they touch and coincide a lot."""

    def number(low: float, high: float) -> st.SearchStrategy[float]:
        if grid_mm is None:
            return st.floats(low, high)
        steps = st.integers(math.ceil(low / grid_mm), math.floor(high / grid_mm))
        return steps.map(lambda k: k * grid_mm)

    place = number(-20, 20)
    angle = st.sampled_from([0.0, 90.0, 45.0]) if grid_mm else st.floats(0, 180)
    rings = st.one_of(
        st.builds(lambda x, y, d: circle((x, y), diameter_mm=d), place, place, number(1, 30)),
        st.builds(rectangle_ring, place, place, number(1, 30), number(1, 30)),
        st.builds(slot_ring, place, place, number(6, 26), number(1, 5), angle),
        st.builds(
            lambda x, y, r, k: d_ring(x, y, r, r * k),
            place,
            place,
            number(2, 10),
            st.sampled_from([-0.5, 0.0, 0.4]),
        ),
    )
    return rings.map(Profile)
