"""Outlines read back from the words of an SVG path, as `platekit.export.pathdata` writes them.

Not every path is one of ours: a ring is ``M x y``, then ``L x y`` and ``A r r 0 0 turn x y``,
then ``Z``; a whole circle is two halves, ``M x y a r r 0 1 turn 2r 0 a r r 0 1 turn -2r 0 Z``.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence

import numpy as np

from platekit.errors import GeometryError
from platekit.geometry.chains import Contour, circle
from platekit.geometry.points import SAME_POINT_MM
from platekit.geometry.profile import Profile

_FIGURE = r"-?\d{1,9}(?:\.\d{1,9})?"
_ARC = rf"a ({_FIGURE}) ({_FIGURE}) 0 1 ([01]) ({_FIGURE}) 0"
_CIRCLE = re.compile(rf"M ({_FIGURE}) ({_FIGURE}) {_ARC} {_ARC} Z")
_START = re.compile(rf"M ({_FIGURE}) ({_FIGURE})")
_STEP = re.compile(
    rf" (?:L ({_FIGURE}) ({_FIGURE})|A ({_FIGURE}) ({_FIGURE}) 0 0 ([01]) ({_FIGURE}) ({_FIGURE}))"
)
_END = " Z"

_REMEDY = "give it as platekit writes it: M, then L and A in capitals, then Z"


def profile_read(rings: Sequence[str]) -> Profile:
    """Return the shape whose rings are written as `rings`: its edge first, then its holes.

    Raises:
        GeometryError: There is no ring, or one is not written as platekit writes rings.
    """
    if not rings:
        raise GeometryError("an outline has no rings", remedy="give its edge, then its holes")
    outer, *inners = map(contour_read, rings)
    return Profile(outer, tuple(inners))


def contour_read(words: str) -> Contour:
    """Return the contour written as `words`, arcs as arcs, a circle as a circle.

    The centre of an arc is found from its ends, its radius and its sense.

    Raises:
        GeometryError: The words are not of the kind platekit writes, an arc's ends lie further
            apart than its diameter, or the ring is open.

    Source:
        The elliptical arc command: W3C, Scalable Vector Graphics 1.1, section 8.3.8.
    """
    whole = _CIRCLE.fullmatch(words)
    if whole is not None:
        return _circle(whole)
    start = _START.match(words)
    if start is None or not words.endswith(_END):
        raise GeometryError(f"a ring is written {_short(words)}", remedy=_REMEDY)
    x, y = float(start[1]), float(start[2])
    rows: list[tuple[float, ...]] = []
    at, stop = start.end(), len(words) - len(_END)
    while at < stop:
        step = _STEP.match(words, at, stop)
        if step is None:
            raise GeometryError(f"a ring goes on with {_short(words[at + 1 :])}", remedy=_REMEDY)
        at = step.end()
        straight = step[1] is not None
        end = float(step[1 if straight else 6]), float(step[2 if straight else 7])
        if math.hypot(end[0] - x, end[1] - y) < SAME_POINT_MM:
            continue  # what was a nanometre long may come out shorter
        if straight:
            rows.append((x, y, *end, 0.0, 0.0, 0.0, 0.0))
        else:
            if step[3] != step[4]:
                raise GeometryError(
                    f"an arc has the radii {step[3]} and {step[4]}", remedy="give circles only"
                )
            rows.append(_arc_row((x, y), end, radius=float(step[3]), ccw=step[5] == "1"))
        x, y = end
    if not rows:
        raise GeometryError("a ring goes nowhere", remedy=_REMEDY)
    return Contour(np.array(rows, dtype=np.float64))


def _circle(said: re.Match[str]) -> Contour:
    left, y, r, *rest = said.groups()
    radius = float(r)
    fits = rest[0] == rest[3] == rest[4] == r and rest[1] == rest[5]
    wide, back = float(rest[2]), float(rest[6])
    if not fits or back != -wide or abs(wide - 2 * radius) > SAME_POINT_MM:
        raise GeometryError(f"a circle is written {_short(said[0])}", remedy=_REMEDY)
    made = circle((float(left) + radius, float(y)), diameter_mm=wide)
    return made if rest[1] == "1" else made.reversed()


def _arc_row(
    start: tuple[float, float], end: tuple[float, float], *, radius: float, ccw: bool
) -> tuple[float, ...]:
    """Return the row of the arc of less than half a turn from `start` to `end`."""
    (x0, y0), (x1, y1) = start, end
    chord = math.hypot(x1 - x0, y1 - y0)
    if chord > 2 * radius:
        raise GeometryError(
            f"an arc of radius {radius:g} mm spans {chord:g} mm",
            remedy="give ends no further apart than the diameter",
        )
    # From the middle of the chord to the centre, which lies left of the way when ccw.
    far = math.sqrt((radius - chord / 2) * (radius + chord / 2)) * (1.0 if ccw else -1.0)
    cx = (x0 + x1) / 2 - far * (y1 - y0) / chord
    cy = (y0 + y1) / 2 + far * (x1 - x0) / chord
    return (x0, y0, x1, y1, cx, cy, radius, 1.0 if ccw else -1.0)


def _short(words: str) -> str:
    return ascii(words if len(words) <= 40 else f"{words[:37]}...")
