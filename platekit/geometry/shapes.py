"""Stock shapes: the outlines and openings a workshop draws without thinking.

Every shape is exact: straight lines, arcs and circles. Contours run counter-clockwise.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from platekit.errors import GeometryError
from platekit.geometry.chains import Contour, circle, closed_polyline
from platekit.geometry.corners import chamfer, fillet, is_number
from platekit.geometry.curves import Arc, Line, Segment
from platekit.geometry.motion import Motion
from platekit.geometry.points import SAME_POINT_MM, Pair, Point, as_point, between, polar
from platekit.geometry.profile import Profile

ORIGIN = Point(0.0, 0.0)


def require_size(value_mm: float, name: str) -> float:
    """Return `value_mm` if it is a finite number above 0.

    Raises:
        GeometryError: It is not; the message gives `name` and the value.
    """
    if not (is_number(value_mm) and math.isfinite(value_mm) and value_mm > 0):
        raise GeometryError(f"{name} is {value_mm} mm", remedy="give a finite length above 0")
    return float(value_mm)


def rectangle(
    width_mm: float,
    height_mm: float,
    *,
    fillet_mm: float = 0.0,
    chamfer_mm: float = 0.0,
    centre: Pair | None = None,
) -> Contour:
    """Return a rectangle, its corners sharp, rounded or cut off.

    Args:
        width_mm: Extent along x, above 0.
        height_mm: Extent along y, above 0.
        fillet_mm: Radius at every corner, at most half the shorter side; 0 for none.
        chamfer_mm: How far along both sides every corner is cut off; 0 for none.
        centre: Where its middle lies; left out, its lower left corner lies at (0, 0).

    Raises:
        GeometryError: A size that cannot be, or both a fillet and a chamfer.
    """
    w, h = require_size(width_mm, "width"), require_size(height_mm, "height")
    left, bottom = 0.0, 0.0
    if centre is not None:
        middle = as_point(centre)
        left, bottom = middle.x - w / 2, middle.y - h / 2
    right, top = left + w, bottom + h
    sharp = closed_polyline([(left, bottom), (right, bottom), (right, top), (left, top)])
    if fillet_mm and chamfer_mm:
        raise GeometryError("both a fillet and a chamfer are given", remedy="give one of the two")
    if fillet_mm:
        return fillet(sharp, radius_mm=fillet_mm)
    if chamfer_mm:
        return chamfer(sharp, setback_mm=chamfer_mm)
    return sharp


def slot(
    length_mm: float, width_mm: float, *, centre: Pair = ORIGIN, angle_deg: float = 0.0
) -> Contour:
    """Return a straight slot with round ends.

    Args:
        length_mm: Overall length, ends included: above `width_mm`.
        width_mm: Width, which is the diameter of the ends.
        centre: Middle of the slot.
        angle_deg: Direction of its length, counter-clockwise from +x.

    Raises:
        GeometryError: A size not above 0, or a length not above the width.
    """
    length, width = require_size(length_mm, "slot length"), require_size(width_mm, "slot width")
    if length - width < SAME_POINT_MM:
        raise GeometryError(
            f"a slot is {length:g} mm long and {width:g} mm wide",
            remedy="give an overall length above the width, or make it a hole",
        )
    half, r, at = (length - width) / 2, width / 2, as_point(centre)
    level = _slot(Point(-half, 0.0), Point(half, 0.0), Point(0.0, r))
    return level.moved(Motion(dx_mm=at.x, dy_mm=at.y, turn_deg=angle_deg))


def slot_between(start: Pair, end: Pair, *, width_mm: float) -> Contour:
    """Return the slot whose round ends are centred on `start` and `end`.

    Raises:
        GeometryError: A width not above 0, or ends that coincide.
    """
    a, b, width = as_point(start), as_point(end), require_size(width_mm, "slot width")
    run = between(a, b)
    if run < SAME_POINT_MM:
        raise GeometryError(
            f"a slot begins and ends at ({a.x:g}, {a.y:g})", remedy="make it a hole"
        )
    r = width / 2
    return _slot(a, b, Point(-(b.y - a.y) / run * r, (b.x - a.x) / run * r))


def _slot(a: Point, b: Point, left: Point) -> Contour:
    """Return the slot from `a` to `b`; `left` leads from an end's centre to its left side."""
    r = math.hypot(*left)
    a_right, b_right = Point(a.x - left.x, a.y - left.y), Point(b.x - left.x, b.y - left.y)
    a_left, b_left = Point(a.x + left.x, a.y + left.y), Point(b.x + left.x, b.y + left.y)
    return Contour.of(
        [
            Line(a_right, b_right),
            Arc(b_right, b_left, b, r, ccw=True),
            Line(b_left, a_left),
            Arc(a_left, a_right, a, r, ccw=True),
        ]
    )


def arc_slot(
    *,
    radius_mm: float,
    sweep_deg: float,
    width_mm: float,
    start_deg: float = 0.0,
    centre: Pair = ORIGIN,
) -> Contour:
    """Return a slot bent along an arc, with round ends.

    Args:
        radius_mm: Radius of its centre line; above half the width.
        sweep_deg: Angle from the centre of one end to the centre of the other, above 0.
        width_mm: Width, which is the diameter of the ends.
        start_deg: Angle of the first end's centre, counter-clockwise from +x.
        centre: Centre of the arc.

    Raises:
        GeometryError: A size that cannot be, or ends that would run into each other.
    """
    r, width = require_size(radius_mm, "radius"), require_size(width_mm, "slot width")
    sweep, at = require_size(sweep_deg, "sweep"), as_point(centre)
    half = width / 2
    if r - half < SAME_POINT_MM:
        raise GeometryError(
            f"an arc slot of radius {r:g} mm is {width:g} mm wide",
            remedy=f"give a width below {2 * r:g} mm",
        )
    apart_deg = math.degrees(2 * math.asin(min(1.0, half / r)))
    if sweep >= 360.0 - apart_deg:
        raise GeometryError(
            f"an arc slot sweeps {sweep:g} degrees, so its ends meet",
            remedy=f"give less than {360.0 - apart_deg:.6g} degrees",
        )
    end_deg = start_deg + sweep
    a_out, a_in = (polar(at, radius_mm=r + s, angle_deg=start_deg) for s in (half, -half))
    b_out, b_in = (polar(at, radius_mm=r + s, angle_deg=end_deg) for s in (half, -half))
    a, b = (polar(at, radius_mm=r, angle_deg=angle) for angle in (start_deg, end_deg))
    return Contour.of(
        [
            Arc(a_out, b_out, at, r + half, ccw=True),
            Arc(b_out, b_in, b, half, ccw=True),
            Arc(b_in, a_in, at, r - half, ccw=False),
            Arc(a_in, a_out, a, half, ccw=True),
        ]
    )


def regular_polygon(
    sides: int,
    *,
    across_flats_mm: float | None = None,
    circle_mm: float | None = None,
    centre: Pair = ORIGIN,
    start_deg: float = 0.0,
) -> Contour:
    """Return a polygon of equal sides and angles.

    Args:
        sides: How many, at least 3.
        across_flats_mm: Diameter of the circle inside, which the sides touch: for an even number
            of sides what a spanner measures.
        circle_mm: Diameter of the circle around, through the corners. Give one of the two.
        centre: Its middle.
        start_deg: Angle of the first corner, counter-clockwise from +x.

    Raises:
        GeometryError: Fewer than 3 sides, a size that cannot be, both sizes or neither.
    """
    if not (is_number(sides) and sides == int(sides)) or sides < 3:
        raise GeometryError(f"a polygon has {sides!r} sides", remedy="give at least 3")
    if (across_flats_mm is None) == (circle_mm is None):
        raise GeometryError(
            "a polygon has no single size", remedy="give across_flats_mm or circle_mm"
        )
    at = as_point(centre)
    if across_flats_mm is not None:
        inside = require_size(across_flats_mm, "width across flats")
        radius = inside / 2 / math.cos(math.pi / sides)
    else:
        radius = require_size(circle_mm or 0.0, "diameter of the circle around") / 2
    step = 360.0 / sides
    return closed_polyline(
        polar(at, radius_mm=radius, angle_deg=start_deg + k * step) for k in range(sides)
    )


def polygon(points: Iterable[Pair], *, fillet_mm: float | Sequence[float] = 0.0) -> Contour:
    """Return the polygon through `points`, with a radius at every corner or one for each.

    Args:
        points: Corners in order, the first not repeated.
        fillet_mm: One radius for all, or as many as there are corners; 0 leaves one sharp.

    Raises:
        GeometryError: Fewer than three corners, a radius that does not fit (the message names
            the corner), or a number of radii that is not the number of corners.
    """
    sharp = closed_polyline(points)
    if isinstance(fillet_mm, (int, float)):
        return fillet(sharp, radius_mm=fillet_mm) if fillet_mm else sharp
    radii = list(fillet_mm)
    if len(radii) != len(sharp.table):
        raise GeometryError(
            f"{len(radii)} radii are given for {len(sharp.table)} corners",
            remedy="give one radius, or one for each corner",
        )
    chosen = {k: r for k, r in enumerate(radii) if r}
    if not chosen:
        return sharp
    return fillet(sharp, radius_mm=tuple(chosen.values()), corners=tuple(chosen))


def ring(*, outside_mm: float, inside_mm: float, centre: Pair = ORIGIN) -> Profile:
    """Return a flat ring: a disc with a round hole in its middle.

    Raises:
        GeometryError: A diameter not above 0, or an inside not smaller than the outside.
    """
    outer = require_size(outside_mm, "outside diameter")
    inner = require_size(inside_mm, "inside diameter")
    if outer - inner < SAME_POINT_MM:
        raise GeometryError(
            f"a ring is {outer:g} mm outside and {inner:g} mm inside",
            remedy="give an inside diameter below the outside one",
        )
    return Profile(
        circle(centre, diameter_mm=outer), (circle(centre, diameter_mm=inner).reversed(),)
    )


def d_shape(diameter_mm: float, across_flat_mm: float, *, centre: Pair = ORIGIN) -> Contour:
    """Return a circle with one flat, at the top: the bore for a D-shaft.

    Args:
        diameter_mm: Diameter of the round part.
        across_flat_mm: From the flat to the far side, as a caliper measures it; between half the
            diameter and the diameter... or less for a shape smaller than a half disc.
        centre: Centre of the round part.

    Raises:
        GeometryError: A size not above 0, or a flat that does not cut the circle.
    """
    d = require_size(diameter_mm, "diameter")
    across = require_size(across_flat_mm, "width across the flat")
    if d - across < SAME_POINT_MM:
        raise GeometryError(
            f"a D of {d:g} mm diameter is {across:g} mm across its flat",
            remedy=f"give less than {d:g} mm across the flat",
        )
    at, r = as_point(centre), d / 2
    half = math.sqrt((d - across) * across)  # half chord: product of the parts of the diameter
    y = at.y + across - r
    left, right = Point(at.x - half, y), Point(at.x + half, y)
    return Contour.of([Line(right, left), Arc(left, right, at, r, ccw=True)])


def double_d(diameter_mm: float, across_flats_mm: float, *, centre: Pair = ORIGIN) -> Contour:
    """Return a circle with two parallel flats, at top and bottom.

    Raises:
        GeometryError: A size not above 0, or flats that do not cut the circle.
    """
    d = require_size(diameter_mm, "diameter")
    across = require_size(across_flats_mm, "width across flats")
    if d - across < SAME_POINT_MM:
        raise GeometryError(
            f"a double D of {d:g} mm diameter is {across:g} mm across its flats",
            remedy=f"give less than {d:g} mm across the flats",
        )
    at, r, h = as_point(centre), d / 2, across / 2
    half = math.sqrt((r - h) * (r + h))
    right_low, right_high = Point(at.x + half, at.y - h), Point(at.x + half, at.y + h)
    left_low, left_high = Point(at.x - half, at.y - h), Point(at.x - half, at.y + h)
    return Contour.of(
        [
            Arc(right_low, right_high, at, r, ccw=True),
            Line(right_high, left_high),
            Arc(left_high, left_low, at, r, ccw=True),
            Line(left_low, right_low),
        ]
    )


def keyed_circle(
    diameter_mm: float, *, key_width_mm: float, key_depth_mm: float, centre: Pair = ORIGIN
) -> Contour:
    """Return a round bore with a keyway at the top.

    Args:
        diameter_mm: Diameter of the bore.
        key_width_mm: Width b of the keyway; below the diameter.
        key_depth_mm: Depth t2 of the keyway beyond the bore, on its middle: the keyway's floor
            lies diameter + depth from the far side of the bore, as hub drawings state it.
        centre: Centre of the bore.

    Raises:
        GeometryError: A size not above 0, or a keyway wider than the bore.
    """
    d = require_size(diameter_mm, "bore diameter")
    b = require_size(key_width_mm, "keyway width")
    depth = require_size(key_depth_mm, "keyway depth")
    if d - b < SAME_POINT_MM:
        raise GeometryError(
            f"a keyway {b:g} mm wide is cut in a bore of {d:g} mm",
            remedy=f"give a width below {d:g} mm",
        )
    at, r, half = as_point(centre), d / 2, b / 2
    shoulder = at.y + math.sqrt((r - half) * (r + half))
    floor = at.y + r + depth
    right, left = at.x + half, at.x - half
    segments: list[Segment] = [
        Line(Point(right, shoulder), Point(right, floor)),
        Line(Point(right, floor), Point(left, floor)),
        Line(Point(left, floor), Point(left, shoulder)),
        Arc(Point(left, shoulder), Point(right, shoulder), at, r, ccw=True),
    ]
    return Contour.of(segments)
