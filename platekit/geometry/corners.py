"""Corners: rounded with a fillet or cut off with a chamfer, between any two segments.

A fillet's centre lies `radius` away from both sides at once, so it is where the two sides, each
moved by the radius into the corner, meet: a line moves aside, an arc's radius shrinks or grows.
The points of contact are the feet of that centre on the sides. Two lines need no meeting: the
tangent length is radius * tan(turn / 2).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from platekit.errors import GeometryError
from platekit.geometry.chains import Contour
from platekit.geometry.curves import Arc, Line, Segment
from platekit.geometry.intersections import carrier_meetings
from platekit.geometry.points import SAME_POINT_MM, Pair, Point, between
from platekit.geometry.tables import CX, CY, TURN, X0, X1, Y0, Y1, Floats, R, tangents

SMOOTH = 1e-7  # sine of a turn below which two segments run on into each other


@dataclass(frozen=True, slots=True)
class _Cut:
    """What takes a corner's place, and how much of each side it uses up, as a length."""

    segment: Segment
    before_mm: float  # from the end of the side before
    after_mm: float  # from the start of the side after


def corner_points(contour: Contour) -> tuple[tuple[int, Point], ...]:
    """Return the corners that are not smooth: number and place.

    Corner k is where segment k begins.
    """
    turn = _turns(contour)
    sharp = np.flatnonzero(np.abs(turn) > SMOOTH)
    at = contour.table[:, [X0, Y0]].tolist()
    return tuple((int(k), Point(*at[k])) for k in sharp)


def corner_near(contour: Contour, point: Pair) -> int:
    """Return the number of the corner nearest to `point`.

    Raises:
        GeometryError: The contour has no corners.
    """
    found = corner_points(contour)
    if not found:
        raise GeometryError("the outline has no corners", remedy="leave out the fillet")
    return min(found, key=lambda corner: between(corner[1], point))[0]


def fillet(
    contour: Contour,
    *,
    radius_mm: float | Sequence[float],
    corners: Iterable[int] | None = None,
) -> Contour:
    """Return the contour with corners rounded by arcs that run smoothly into both sides.

    Args:
        contour: Any contour of lines and arcs. Never modified.
        radius_mm: One radius for all chosen corners, or one for each, above 0.
        corners: Numbers of the corners to round; corner k is where segment k begins. Left out:
            every corner that is not smooth already.

    Raises:
        GeometryError: A radius does not fit: the message names the corner and, where one
            exists, the largest radius that does. Or there is no such corner.
    """
    chosen = _chosen(contour, corners)
    return _cut_corners(contour, chosen, _per_corner(radius_mm, chosen, "radius"), "fillet")


def chamfer(
    contour: Contour,
    *,
    setback_mm: float | Sequence[float],
    corners: Iterable[int] | None = None,
) -> Contour:
    """Return the contour with corners cut off straight.

    Args:
        contour: Any contour of lines and arcs. Never modified.
        setback_mm: How far from the corner the cut begins, measured along both sides; one for
            all chosen corners, or one for each, above 0.
        corners: As in `fillet`.

    Raises:
        GeometryError: A setback does not fit, or there is no such corner.
    """
    chosen = _chosen(contour, corners)
    return _cut_corners(contour, chosen, _per_corner(setback_mm, chosen, "setback"), "chamfer")


def _turns(contour: Contour) -> Floats:
    """Return the sine of the turn at each segment's start; a full reversal counts as 1."""
    if contour.is_circle:
        return np.zeros(1)
    leave = tangents(contour.table, at_end=False)
    arrive = np.roll(tangents(contour.table, at_end=True), 1, axis=0)
    cross = arrive[:, 0] * leave[:, 1] - arrive[:, 1] * leave[:, 0]
    dot = np.sum(arrive * leave, axis=1)
    return np.where((np.abs(cross) <= SMOOTH) & (dot < 0), 1.0, cross)


def _chosen(contour: Contour, corners: Iterable[int] | None) -> list[int]:
    if corners is None:
        return [k for k, _ in corner_points(contour)]
    sharp = {k for k, _ in corner_points(contour)}
    chosen = list(corners)
    for k in chosen:
        if k not in sharp:
            known = ", ".join(map(str, sorted(sharp))) or "none"
            raise GeometryError(f"there is no corner {k!r}", remedy=f"corners are: {known}")
    if len(set(chosen)) != len(chosen):
        raise GeometryError("a corner is named twice", remedy="name each corner once")
    return chosen


def is_number(value: object) -> bool:
    """Return whether `value` is a number; True and False are not."""
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def _per_corner(size_mm: float | Sequence[float], chosen: list[int], what: str) -> list[float]:
    sizes = [size_mm] * len(chosen) if isinstance(size_mm, (int, float)) else list(size_mm)
    if len(sizes) != len(chosen):
        raise GeometryError(
            f"{len(sizes)} sizes are given for {len(chosen)} corners",
            remedy="give one for all, or one for each",
        )
    for size in sizes:
        if not (is_number(size) and math.isfinite(size) and size > 0):
            raise GeometryError(f"a corner's {what} is {size} mm", remedy="give a length above 0")
    return [float(size) for size in sizes]


Kind = Literal["fillet", "chamfer"]


def _cut_corners(contour: Contour, chosen: list[int], sizes: list[float], kind: Kind) -> Contour:
    sides = contour.segments
    wanted = dict(zip(chosen, sizes, strict=True))
    cuts = _cuts(sides, wanted, kind)
    if isinstance(cuts, int):
        raise _does_not_fit(sides, cuts, wanted, kind)
    return Contour.of(_rebuilt(sides, cuts))


def _cuts(sides: Sequence[Segment], wanted: dict[int, float], kind: Kind) -> dict[int, _Cut] | int:
    """Return the cut at each corner, or the number of a corner whose size does not fit."""
    cut_at = _fillet_between if kind == "fillet" else _chamfer_between
    cuts: dict[int, _Cut] = {}
    for k, size in wanted.items():
        cut = cut_at(sides[k - 1], sides[k], size)
        if cut is None:
            return k
        cuts[k] = cut
    for k, side in enumerate(sides):
        after = (k + 1) % len(sides)
        used = cuts[k].after_mm if k in cuts else 0.0
        used += cuts[after].before_mm if after in cuts else 0.0
        if used > side.length_mm + SAME_POINT_MM:
            return max((c for c in (k, after) if c in cuts), key=lambda corner: wanted[corner])
    return cuts


def _rebuilt(sides: Sequence[Segment], cuts: dict[int, _Cut]) -> list[Segment]:
    built: list[Segment] = []
    for k, side in enumerate(sides):
        after = (k + 1) % len(sides)
        start, end, left_over = side.start, side.end, side.length_mm
        if k in cuts:
            built.append(cuts[k].segment)
            start = cuts[k].segment.end
            left_over -= cuts[k].after_mm
        if after in cuts:
            end = cuts[after].segment.start
            left_over -= cuts[after].before_mm
        if left_over <= SAME_POINT_MM:  # two cuts meet: the side between them is used up
            continue
        if isinstance(side, Line):
            built.append(Line(start, end))
        else:
            built.append(Arc(start, end, side.centre, side.radius_mm, side.ccw))
    return built


def _chamfer_between(before: Segment, after: Segment, setback_mm: float) -> _Cut | None:
    if setback_mm > min(before.length_mm, after.length_mm) + SAME_POINT_MM:
        return None
    start = before.at(max(0.0, 1.0 - setback_mm / before.length_mm))
    end = after.at(min(1.0, setback_mm / after.length_mm))
    if between(start, end) <= SAME_POINT_MM:
        return None
    return _Cut(Line(start, end), setback_mm, setback_mm)


def _fillet_between(before: Segment, after: Segment, radius_mm: float) -> _Cut | None:
    arrive, leave = _tangent(before, at_end=True), _tangent(after, at_end=False)
    cross = arrive.x * leave.y - arrive.y * leave.x
    if abs(cross) <= SMOOTH:  # a full reversal: no circle touches both sides
        return None
    side = 1.0 if cross > 0 else -1.0
    if isinstance(before, Line) and isinstance(after, Line):
        return _line_line(before, after, radius_mm, side)
    found: list[_Cut] = []
    for centre in _centres(before, after, side * radius_mm):
        start, end = _foot(before, centre), _foot(after, centre)
        arc = Arc(start, end, centre, radius_mm, ccw=side > 0)
        cut = _measured(before, after, arc)
        if cut is not None:
            found.append(cut)
    return min(found, key=lambda cut: cut.before_mm + cut.after_mm, default=None)


def _line_line(before: Line, after: Line, radius_mm: float, side: float) -> _Cut | None:
    u, v = _tangent(before, at_end=True), _tangent(after, at_end=False)
    cross, dot = u.x * v.y - u.y * v.x, u.x * v.x + u.y * v.y
    tangent = radius_mm * abs(cross) / (1.0 + dot)  # tan(w / 2) = sin w / (1 + cos w)
    if tangent > min(before.length_mm, after.length_mm) + SAME_POINT_MM:
        return None
    corner = after.start
    start = Point(corner.x - tangent * u.x, corner.y - tangent * u.y)
    end = Point(corner.x + tangent * v.x, corner.y + tangent * v.y)
    aside = side * radius_mm
    centre = Point(start.x - aside * u.y, start.y + aside * u.x)
    if between(start, end) <= SAME_POINT_MM:
        return None
    return _Cut(Arc(start, end, centre, radius_mm, ccw=side > 0), tangent, tangent)


def _centres(before: Segment, after: Segment, left_mm: float) -> list[Point]:
    """Return the points `left_mm` to the left of both carriers."""
    rows = [_shifted(before, left_mm), _shifted(after, left_mm)]
    if any(row is None for row in rows):
        return []
    a, b = (np.array([row]) for row in rows)
    return [Point(float(x), float(y)) for x, y in carrier_meetings(a, b)[0] if not np.isnan(x)]


def _shifted(side: Segment, left_mm: float) -> list[float] | None:
    row = [0.0] * 8
    if isinstance(side, Line):
        t = _tangent(side, at_end=False)
        dx, dy = -t.y * left_mm, t.x * left_mm
        row[X0], row[Y0] = side.start.x + dx, side.start.y + dy
        row[X1], row[Y1] = side.end.x + dx, side.end.y + dy
        return row
    turn = 1.0 if side.ccw else -1.0
    radius = side.radius_mm - turn * left_mm
    if radius <= SAME_POINT_MM:  # the fillet would be larger than the hollow it sits in
        return None
    row[CX], row[CY], row[R], row[TURN] = *side.centre, radius, turn
    return row


def _tangent(side: Segment, *, at_end: bool) -> Point:
    if isinstance(side, Line):
        length = side.length_mm
        return Point((side.end.x - side.start.x) / length, (side.end.y - side.start.y) / length)
    at = side.end if at_end else side.start
    turn = 1.0 if side.ccw else -1.0
    return Point(
        -turn * (at.y - side.centre.y) / side.radius_mm,
        turn * (at.x - side.centre.x) / side.radius_mm,
    )


def _foot(side: Segment, point: Point) -> Point:
    if isinstance(side, Line):
        t = _tangent(side, at_end=False)
        along = (point.x - side.start.x) * t.x + (point.y - side.start.y) * t.y
        return Point(side.start.x + along * t.x, side.start.y + along * t.y)
    dx, dy = point.x - side.centre.x, point.y - side.centre.y
    scale = side.radius_mm / math.hypot(dx, dy)
    return Point(side.centre.x + dx * scale, side.centre.y + dy * scale)


def _measured(before: Segment, after: Segment, arc: Arc) -> _Cut | None:
    """Return the cut if the arc's ends lie on the sides and it turns less than half a turn."""
    if between(arc.start, arc.end) <= SAME_POINT_MM or abs(arc.sweep_deg) >= 180.0:
        return None
    from_start = _length_to(before, arc.start)
    after_mm = _length_to(after, arc.end)
    if from_start is None or after_mm is None:
        return None
    return _Cut(arc, before.length_mm - from_start, after_mm)


def _length_to(side: Segment, point: Point) -> float | None:
    """Return the length along `side` to a point on its carrier, None where it lies beyond."""
    if isinstance(side, Line):
        t = _tangent(side, at_end=False)
        along = (point.x - side.start.x) * t.x + (point.y - side.start.y) * t.y
    else:
        to = Arc(side.start, point, side.centre, side.radius_mm, side.ccw)
        along = 0.0 if between(side.start, point) <= SAME_POINT_MM else to.length_mm
    return along if -SAME_POINT_MM <= along <= side.length_mm + SAME_POINT_MM else None


def _does_not_fit(
    sides: Sequence[Segment], corner: int, wanted: dict[int, float], kind: Kind
) -> GeometryError:
    """Return the error for one corner, with the largest size that does fit where there is one.

    Equal sizes are taken down together; among unequal ones only the one that is too large.
    """
    size_mm = wanted[corner]
    together = len(set(wanted.values())) == 1

    def fits(tried_mm: float) -> bool:
        tried = {k: tried_mm if together or k == corner else v for k, v in wanted.items()}
        return not isinstance(_cuts(sides, tried, kind), int)

    low, high = 0.0, size_mm
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (middle, high) if fits(middle) else (low, middle)
    fits_mm = round(low, 3)  # a round figure where it fits, else the next one below
    if not fits(fits_mm):
        fits_mm = math.floor(low * 1000) / 1000
    what = "fillet of radius" if kind == "fillet" else "chamfer with a setback of"
    at = sides[corner].start
    return GeometryError(
        f"a {what} {size_mm:g} mm does not fit corner {corner} at ({at.x:g}, {at.y:g})",
        remedy=f"give at most {fits_mm:g} mm" if fits_mm > 0 else "leave this corner out",
    )
