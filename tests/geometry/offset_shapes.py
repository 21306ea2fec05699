"""Random contours for offset tests: plain random.Random, so a seed names a shape for ever."""

from __future__ import annotations

import math
import random

from platekit.geometry.booleans import difference, union
from platekit.geometry.chains import Contour, circle, closed_polyline
from platekit.geometry.curves import Arc, Line, Segment
from platekit.geometry.motion import Motion
from platekit.geometry.points import Point
from platekit.geometry.profile import Profile


def seeded(seed: int) -> random.Random:
    """Return the generator a seed names."""
    return random.Random(seed)  # noqa: S311  shapes, not secrets


def rectangle(x0: float, y0: float, x1: float, y1: float) -> Contour:
    """Return an upright rectangle."""
    return closed_polyline([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])


def bulged(corners: list[tuple[float, float, float]]) -> Contour:
    """Return a contour from (x, y, bulge) rows; a bulge is the tangent of a quarter sweep."""
    made: list[Segment] = []
    for (x0, y0, bulge), (x1, y1, _) in zip(corners, corners[1:] + corners[:1], strict=True):
        a, b = Point(x0, y0), Point(x1, y1)
        if bulge == 0:
            made.append(Line(a, b))
            continue
        half = math.hypot(x1 - x0, y1 - y0) / 2
        away = half * (1 - bulge * bulge) / (2 * bulge)
        nx, ny = -(y1 - y0) / (2 * half), (x1 - x0) / (2 * half)
        centre = Point((x0 + x1) / 2 + away * nx, (y0 + y1) / 2 + away * ny)
        made.append(Arc(a, b, centre, math.hypot(x0 - centre.x, y0 - centre.y), bulge > 0))
    return Contour.of(made)


def slot(*, length_mm: float, width_mm: float) -> Contour:
    """Return a round-ended slot about the origin along x, by its overall length."""
    h, r = (length_mm - width_mm) / 2, width_mm / 2
    return bulged([(-h, -r, 0), (h, -r, 1), (h, r, 0), (-h, r, 1)])


def rounded(x0: float, y0: float, x1: float, y1: float, r: float) -> Contour:
    """Return a rectangle with every corner rounded."""
    q = math.tan(math.pi / 8)
    return bulged(
        [
            (x0 + r, y0, 0),
            (x1 - r, y0, q),
            (x1, y0 + r, 0),
            (x1, y1 - r, q),
            (x1 - r, y1, 0),
            (x0 + r, y1, q),
            (x0, y1 - r, 0),
            (x0, y0 + r, q),
        ]
    )


def fingers(*, width: float, height: float, depth: float, along: int, up: int) -> Contour:
    """Return a panel with `along` and `up` fingers standing out on its sides."""
    points: list[tuple[float, float]] = []
    for ox, oy, turn, length, count in (
        (0.0, 0.0, 0.0, width, along),
        (width, 0.0, 90.0, height, up),
        (width, height, 180.0, width, along),
        (0.0, height, 270.0, height, up),
    ):
        w = length / (2 * count + 1)
        side = [(0.0, 0.0)]
        for k in range(count):
            a = w * (2 * k + 1)
            side += [(a, 0.0), (a, -depth), (a + w, -depth), (a + w, 0.0)]
        place = Motion(dx_mm=ox, dy_mm=oy, turn_deg=turn)
        points += [place.apply(p) for p in side]
    return closed_polyline(points)


def bezier_ring(*, chords: int, scale: float = 1.0) -> Contour:
    """Return a closed outline of four cubic curves in `chords` straight pieces each."""
    curves = (
        ((3, 0), (3.4, 2.2), (1.4, 4.6), (0, 4)),
        ((0, 4), (-1.5, 3.4), (-2.6, 1.2), (-3, 0)),
        ((-3, 0), (-2.2, -2.4), (-1.6, -3.7), (0, -4)),
        ((0, -4), (1.8, -4.1), (2.8, -1.6), (3, 0)),
    )
    points = []
    for p in curves:
        for k in range(chords):
            t = k / chords
            w = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
            points.append(
                tuple(
                    scale * sum(a * q[axis] for a, q in zip(w, p, strict=True)) for axis in (0, 1)
                )
            )
    return closed_polyline(points)


def random_profiles(rng: random.Random, *, grid: float | None = None) -> tuple[Profile, ...]:
    """Return a random shape: one to six primitives joined to or cut from each other.

    With a grid every size and place is a multiple of it: edges fall on each other, circles touch.
    """

    def size(low: float, high: float) -> float:
        value = rng.uniform(low, high)
        return max(grid, round(value / grid) * grid) if grid else value

    def place(reach: float) -> float:
        value = rng.uniform(-reach, reach)
        return round(value / grid) * grid if grid else value

    def primitive() -> Profile:
        kind = rng.randrange(5)
        if kind == 0:
            shape = circle((0, 0), diameter_mm=2 * size(0.4, 4))
        elif kind == 1:
            width = size(0.4, 3)
            shape = slot(length_mm=width + size(0.5, 6), width_mm=width)
        elif kind == 2:
            shape = rectangle(0, 0, size(0.3, 6), size(0.3, 6))
        elif kind == 3:
            r = size(0.3, 1.2)
            shape = rounded(0, 0, 2 * r + size(0.2, 5), 2 * r + size(0.2, 5), r)
        else:
            shape = _random_polygon(rng, grid)
        turn = 90.0 * rng.randrange(4) if grid else rng.uniform(0, 360)
        return Profile(shape).moved(Motion(dx_mm=place(4), dy_mm=place(4), turn_deg=turn))

    pieces: tuple[Profile, ...] = (primitive(),)
    for _ in range(rng.randrange(6)):
        tool = primitive()
        if rng.random() < 0.5:
            pieces = union(*pieces, tool)
        else:
            pieces = tuple(p for piece in pieces for p in difference(piece, tool))
    return pieces


def _random_polygon(rng: random.Random, grid: float | None) -> Contour:
    """Return a star-shaped polygon of three to seven corners, some sides bulged when off grid."""
    count = rng.randrange(3, 8)
    angles = sorted(rng.uniform(0, 2 * math.pi) for _ in range(count))
    gaps = [(b - a) % (2 * math.pi) for a, b in zip(angles, angles[1:] + angles[:1], strict=True)]
    if min(gaps) < 0.15 or max(gaps) > 3.0:
        angles = [2 * math.pi * (k + 0.5) / count for k in range(count)]
    corners = []
    for angle in angles:
        r = rng.uniform(0.8, 4)
        x, y = r * math.cos(angle), r * math.sin(angle)
        if grid:
            x, y = 2 * grid * round(x / grid), 2 * grid * round(y / grid)
        corners.append((x, y))
    if grid:
        corners = [p for p, q in zip(corners, corners[1:] + corners[:1], strict=True) if p != q]
        if len(corners) < 3 or abs(closed_polyline(corners).signed_area_mm2) < grid:
            return rectangle(0, 0, 4 * grid, 2 * grid)
        return closed_polyline(corners)
    return bulged([(x, y, rng.choice([0.0, 0.0, rng.uniform(0, 0.25)])) for x, y in corners])
