"""Faults: rings that cross themselves or each other, holes that lie outside.

Pairs of segments come from their boxes; each pair is judged analytically, so an arc that bulges
through a line is found however small the overlap.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum

import numpy as np
import shapely

from platekit.errors import GeometryError
from platekit.geometry.chains import Contour
from platekit.geometry.distance import row_distances
from platekit.geometry.gaps import nested
from platekit.geometry.intersections import carrier_meetings, foot_on_carrier, on_row
from platekit.geometry.points import SAME_POINT_MM, Point
from platekit.geometry.profile import Profile
from platekit.geometry.tables import (
    CX,
    CY,
    X0,
    X1,
    Y0,
    Y1,
    Bools,
    Ints,
    R,
    Table,
    is_arc,
    row_boxes,
    tangents,
)

LEAST_AREA_MM2 = 1e-6  # a thousandth of a millimetre square: nothing anyone cuts


class Rule(Enum):
    """What a sound profile keeps to."""

    AREA = "encloses no area"
    SELF = "crosses or touches itself"
    APART = "crosses or touches another ring"
    INSIDE = "lies outside the outline"
    NESTED = "lies inside another hole"


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault of a profile.

    Attributes:
        rule: What was broken.
        ring: Which ring: 0 the outline, then the holes in order.
        at: Where.
        other: The other ring, where there is one.
    """

    rule: Rule
    ring: int
    at: Point
    other: int | None = None

    def __str__(self) -> str:
        said = f"{_ring_name(self.ring)} {self.rule.value}"
        if self.other is not None:
            said += f" ({_ring_name(self.other)})"
        return f"{said} at ({self.at.x:.6g}, {self.at.y:.6g})"


def _ring_name(ring: int) -> str:
    return "the outline" if ring == 0 else f"hole {ring}"


def find_faults(shape: Profile | Contour) -> tuple[Fault, ...]:
    """Return every fault of a profile, or of one contour by itself; none when it is sound.

    Touching counts as a fault: a web of no width holds nothing.
    """
    rings = (shape,) if isinstance(shape, Contour) else shape.rings
    found = [
        Fault(Rule.AREA, k, ring.start)
        for k, ring in enumerate(rings)
        if ring.area_mm2 < LEAST_AREA_MM2
    ]
    meetings = sorted(_meetings(rings), key=lambda fault: (fault.ring, fault.other or 0))
    found += meetings
    met = {(f.other, f.ring) for f in meetings if f.other is not None}
    found += _misplaced(rings, met)
    return tuple(found)


def find_crossed(rings: Sequence[Contour]) -> tuple[Fault, ...]:
    """Return one fault for each ring that crosses or touches itself; rings may overlap freely."""
    found = (fault for fault in _meetings(tuple(rings)) if fault.rule is Rule.SELF)
    return tuple(sorted(found, key=lambda fault: fault.ring))


def require_sound(shape: Profile | Contour) -> None:
    """Raise unless the shape has no fault.

    Raises:
        GeometryError: It has one; the message says which, where, and how many more.
    """
    faults = find_faults(shape)
    if faults:
        more = f", and {len(faults) - 1} more" if len(faults) > 1 else ""
        raise GeometryError(
            f"{faults[0]}{more}", remedy="let every ring be simple and keep rings apart"
        )


def _meetings(rings: tuple[Contour, ...]) -> Iterator[Fault]:
    """Yield one fault for each ring that meets itself and each pair of rings that meet."""
    rows = np.concatenate([ring.table for ring in rings])
    counts = np.array([len(ring.table) for ring in rings])
    owner = np.repeat(np.arange(len(rings)), counts)
    first = np.repeat(np.cumsum(counts) - counts, counts)
    following = first + (np.arange(len(rows)) - first + 1) % counts[owner]
    i, j = near_rows(rows, within_mm=SAME_POINT_MM)
    neighbours = (following[i] == j) | (following[j] == i)
    apart = ~neighbours
    i_apart, j_apart = i[apart], j[apart]
    meet = row_distances(rows[i_apart], rows[j_apart]) < SAME_POINT_MM
    bad = list(zip(i_apart[meet].tolist(), j_apart[meet].tolist(), strict=True))
    bad += _bad_neighbours(rows, following, i[neighbours], j[neighbours])
    told: set[tuple[int, int]] = set()
    for a, b in bad:
        ring, other = sorted((int(owner[a]), int(owner[b])))
        if (ring, other) in told:
            continue
        told.add((ring, other))
        at = _meeting_place(rows[a : a + 1], rows[b : b + 1])
        if ring == other:
            yield Fault(Rule.SELF, ring, at)
        else:
            yield Fault(Rule.APART, other, at, ring)


def near_rows(rows: Table, *, within_mm: float) -> tuple[Ints, Ints]:
    """Return the pairs i < j of rows whose boxes come within `within_mm` of each other."""
    boxes = row_boxes(rows)
    grow = np.array([-within_mm, -within_mm, within_mm, within_mm])
    tree = shapely.STRtree(np.asarray(shapely.box(*boxes.T)))
    i, j = tree.query(np.asarray(shapely.box(*(boxes + grow).T)))
    once = i < j
    return i[once], j[once]


def _bad_neighbours(rows: Table, following: Ints, i: Ints, j: Ints) -> list[tuple[int, int]]:
    """Return neighbours that meet elsewhere than in the point they share, or double back."""
    if len(i) == 0:
        return []
    bad = _doubles_back(rows, following, i, j)
    meetings = carrier_meetings(rows[i], rows[j])
    for k in range(2):
        point = meetings[:, k]
        hit = on_row(rows[i], point, within_mm=0.0) & on_row(rows[j], point, within_mm=0.0)
        shared = np.zeros(len(i), dtype=np.bool_)
        for before, after in ((i, j), (j, i)):
            corner = rows[before][:, [X1, Y1]]
            here = np.hypot(*(corner - point).T) <= 1e2 * SAME_POINT_MM
            shared |= (following[before] == after) & here
        bad |= hit & ~shared
    return list(zip(i[bad].tolist(), j[bad].tolist(), strict=True))


def _doubles_back(rows: Table, following: Ints, i: Ints, j: Ints) -> Bools:
    arrive, leave = tangents(rows, at_end=True), tangents(rows, at_end=False)
    bad = np.zeros(len(i), dtype=np.bool_)
    for before, after in ((i, j), (j, i)):
        joined = following[before] == after
        turn = np.sum(arrive[before] * leave[after], axis=1)
        a, b = rows[before], rows[after]
        both_straight = ~is_arc(a) & ~is_arc(b)
        one_circle = is_arc(a) & is_arc(b)
        one_circle &= np.hypot(a[:, CX] - b[:, CX], a[:, CY] - b[:, CY]) < SAME_POINT_MM
        one_circle &= np.abs(a[:, R] - b[:, R]) < SAME_POINT_MM
        bad |= joined & (turn < -1.0 + 1e-12) & (both_straight | one_circle)
    return bad


def _meeting_place(a: Table, b: Table) -> Point:
    for point in carrier_meetings(a, b)[0]:
        at = point[None, :]
        if on_row(a, at, within_mm=SAME_POINT_MM)[0] and on_row(b, at, within_mm=SAME_POINT_MM)[0]:
            return Point(float(point[0]), float(point[1]))
    ends = np.array([a[0, [X0, Y0]], a[0, [X1, Y1]], b[0, [X0, Y0]], b[0, [X1, Y1]]])
    others = np.concatenate([b, b, a, a])
    foot = foot_on_carrier(others, ends)
    off = np.hypot(*(foot - ends).T) + np.where(on_row(others, foot, within_mm=1e-6), 0.0, 1e9)
    best = ends[int(np.argmin(off))]
    return Point(float(best[0]), float(best[1]))


def _misplaced(rings: tuple[Contour, ...], met: set[tuple[int, int]]) -> list[Fault]:
    """Return holes outside the outline or inside another hole, those that cross it left out."""
    if len(rings) == 1:
        return []
    found = [
        Fault(Rule.INSIDE, k, ring.start)
        for k, ring in enumerate(rings[1:], start=1)
        if (0, k) not in met and not rings[0].encloses(ring.start)
    ]
    for inner, outer in nested(rings[1:]):
        pair = (min(inner, outer) + 1, max(inner, outer) + 1)
        if pair not in met:
            found.append(Fault(Rule.NESTED, inner + 1, rings[inner + 1].start, outer + 1))
    return found
