"""Free curves as chords within a stated tolerance; never dressed up as arcs.

A curve f over a step h departs from its chord by at most h^2 / 8 * max|f''| (the error bound of
linear interpolation, any numerical analysis textbook; from memory). For a cubic the second
derivative is linear, so its greatest value stands at an end, and the number of chords follows in
closed form. The bound also holds between the drawn curve and the chord as sets.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from platekit.errors import GeometryError
from platekit.geometry.chains import Contour, closed_polyline
from platekit.geometry.points import Pair, Point, as_point, cos_sin

CHORDS_MM = 0.01  # a hundredth: finer than a beam follows, coarse enough for short files
MOST_CHORDS = 100_000


def bezier(
    start: Pair, control_1: Pair, control_2: Pair, end: Pair, *, tolerance_mm: float = CHORDS_MM
) -> tuple[Point, ...]:
    """Return points on a cubic Bezier curve, both ends included.

    Args:
        start: Where it begins.
        control_1: Its tangent there aims at this point.
        control_2: Its tangent at the end comes from this point.
        end: Where it ends.
        tolerance_mm: Largest distance between the curve and its chords, above 0.

    Raises:
        GeometryError: A point that is none, or a tolerance not above 0.
    """
    p0, p1, p2, p3 = (as_point(p) for p in (start, control_1, control_2, end))
    bend = 6 * max(
        math.hypot(a.x - 2 * b.x + c.x, a.y - 2 * b.y + c.y)
        for a, b, c in ((p0, p1, p2), (p1, p2, p3))
    )
    n = _chords(math.sqrt(bend / (8 * _tolerance(tolerance_mm))))
    inner = [_on_bezier(p0, p1, p2, p3, k / n) for k in range(1, n)]
    return (p0, *inner, p3)


def _on_bezier(p0: Point, p1: Point, p2: Point, p3: Point, t: float) -> Point:
    s = 1.0 - t
    a, b, c, d = s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t
    return Point(
        a * p0.x + b * p1.x + c * p2.x + d * p3.x, a * p0.y + b * p1.y + c * p2.y + d * p3.y
    )


def ellipse(
    width_mm: float,
    height_mm: float,
    *,
    centre: Pair = (0.0, 0.0),
    turn_deg: float = 0.0,
    tolerance_mm: float = CHORDS_MM,
) -> Contour:
    """Return an ellipse as a polygon with its corners on the curve.

    An ellipse is a circle stretched; n chords of a unit circle sag by 1 - cos(pi / n), and the
    stretch enlarges that by no more than the longer half axis.

    Args:
        width_mm: Full length of the axis along x, above 0.
        height_mm: Full length of the axis along y, above 0.
        centre: Its middle.
        turn_deg: Turned by this much, counter-clockwise.
        tolerance_mm: Largest distance between the curve and its chords, above 0.

    Raises:
        GeometryError: A size or tolerance not above 0.
    """
    for name, size in (("width", width_mm), ("height", height_mm)):
        if not (math.isfinite(size) and size > 0):
            raise GeometryError(f"an ellipse's {name} is {size:g} mm", remedy="give one above 0")
    a, b, at = width_mm / 2, height_mm / 2, as_point(centre)
    sag = min(1.0, _tolerance(tolerance_mm) / max(a, b))
    # A multiple of four puts a corner on each end of both axes: it measures what it is called.
    n = max(8, 4 * math.ceil(_chords(math.pi / math.acos(1.0 - sag)) / 4))
    c, s = cos_sin(turn_deg)
    points = []
    for k in range(n):
        x, y = (half * part for half, part in zip((a, b), cos_sin(360.0 * k / n), strict=True))
        points.append((at.x + c * x - s * y, at.y + s * x + c * y))
    return closed_polyline(points)


def spline(
    points: Sequence[Pair], *, closed: bool = False, tolerance_mm: float = CHORDS_MM
) -> tuple[Point, ...]:
    """Return points along a smooth curve through `points`.

    The curve is made of cubics; at each given point its tangent lies along the line from the
    point before to the point after (a cardinal spline of tension one half).

    Args:
        points: What it passes through, in order: at least two, or three when closed.
        closed: Whether it returns to the first point, which is then not repeated.
        tolerance_mm: Largest distance between the curve and its chords, above 0.

    Returns:
        Points in order; when closed, ready for `closed_polyline`.

    Raises:
        GeometryError: Too few points, doubled points, or a tolerance not above 0.
    """
    given = [as_point(p) for p in points]
    least = 3 if closed else 2
    if len(given) < least:
        raise GeometryError(
            f"a curve is drawn through {len(given)} points", remedy=f"give at least {least}"
        )
    n = len(given)
    count = n if closed else n - 1
    for k in range(count):
        if given[k] == given[(k + 1) % n]:
            raise GeometryError(
                f"a curve passes twice running through ({given[k].x:g}, {given[k].y:g})",
                remedy="leave out doubled points",
            )
    slopes = []
    for k in range(n):
        before = given[(k - 1) % n] if closed or k > 0 else given[k]
        after = given[(k + 1) % n] if closed or k < n - 1 else given[k]
        slopes.append(((after.x - before.x) / 6, (after.y - before.y) / 6))
    found: list[Point] = []
    for k in range(count):
        a, b = given[k], given[(k + 1) % n]
        (ax, ay), (bx, by) = slopes[k], slopes[(k + 1) % n]
        run = bezier(a, (a.x + ax, a.y + ay), (b.x - bx, b.y - by), b, tolerance_mm=tolerance_mm)
        found.extend(run[:-1])
    return tuple(found) if closed else (*found, given[-1])


def _tolerance(tolerance_mm: float) -> float:
    if not (math.isfinite(tolerance_mm) and tolerance_mm > 0):
        raise GeometryError(
            f"the chord tolerance is {tolerance_mm:g} mm", remedy="give one above 0, say 0.01"
        )
    return tolerance_mm


def _chords(wanted: float) -> int:
    if wanted > MOST_CHORDS:
        raise GeometryError(
            f"a curve would take {wanted:.3g} chords", remedy="give a larger chord tolerance"
        )
    return max(1, math.ceil(wanted))
