"""Strips: how the material of a profile fills a straight band across it.

A band runs along one direction of the plane and is a stated width across. Along it the material
fills the full width, or part of it, or none; where these change follows from the exact curves.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from platekit.geometry.points import SAME_POINT_MM, Point
from platekit.geometry.profile import Profile
from platekit.geometry.tables import CX, CY, TURN, X0, X1, Y0, Y1, R, Table, sweeps_rad

Interval = tuple[float, float]

# An edge this long that runs along the band inside it is a ledge; shorter ones are steps of a
# drawn curve.
LEAST_LEDGE_MM = 0.1


@dataclass(frozen=True, slots=True)
class Band:
    """A straight band of the plane with its own coordinates, mm.

    A point p of the plane lies at ``s = along . p + along_zero_mm`` along the band and at
    ``b = across . p + across_zero_mm`` across it. The band holds ``low_mm <= b <= high_mm``.

    Attributes:
        along: Unit vector of the band's direction.
        across: Unit vector square to it, to either side.
        along_zero_mm: What s is at the plane's origin.
        across_zero_mm: What b is at the plane's origin.
        low_mm: Where the band begins across.
        high_mm: Where it ends across.
    """

    along: tuple[float, float]
    across: tuple[float, float]
    along_zero_mm: float
    across_zero_mm: float
    low_mm: float
    high_mm: float

    def point(self, s_mm: float, b_mm: float) -> Point:
        """Return the point of the plane at `s_mm` along the band and `b_mm` across it."""
        s, b = s_mm - self.along_zero_mm, b_mm - self.across_zero_mm
        return Point(s * self.along[0] + b * self.across[0], s * self.along[1] + b * self.across[1])

    def coordinates(self, point: tuple[float, float]) -> tuple[float, float]:
        """Return (s, b) of a point of the plane."""
        x, y = point
        return (
            self.along[0] * x + self.along[1] * y + self.along_zero_mm,
            self.across[0] * x + self.across[1] * y + self.across_zero_mm,
        )


@dataclass(frozen=True, slots=True)
class Ledge:
    """A straight edge of material that runs along a band inside it.

    Attributes:
        start_mm: Where it begins along the band.
        end_mm: Where it ends.
        across_mm: Where it lies across the band.
    """

    start_mm: float
    end_mm: float
    across_mm: float


@dataclass(frozen=True, slots=True)
class Filling:
    """How a profile fills a band: intervals along it, rising and apart, mm.

    Attributes:
        full: Where the material spans the band's whole width.
        partial: Where it holds some material, but not across the whole width.
        ledges: Edges that run along the band inside it.
    """

    full: tuple[Interval, ...]
    partial: tuple[Interval, ...]
    ledges: tuple[Ledge, ...]


def filling(profile: Profile, band: Band) -> Filling:
    """Return how the material of `profile` fills `band`."""
    low, high = band.low_mm + SAME_POINT_MM, band.high_mm - SAME_POINT_MM
    table = _in_band_coordinates(profile.table, band)
    lines, arcs = table[table[:, TURN] == 0.0], table[table[:, TURN] != 0.0]
    crossed = [*_line_runs(lines, low, high), *_arc_runs(arcs, low, high)]
    broken = merged(crossed)
    middle = (band.low_mm + band.high_mm) / 2
    full = [
        (start, end)
        for (_, start), (end, _) in pairwise(broken)
        if end - start > SAME_POINT_MM and profile.contains(band.point((start + end) / 2, middle))
    ]
    partial = [(start, end) for start, end in broken if end - start > SAME_POINT_MM]
    return Filling(merged(full), merged(partial), tuple(_ledges(lines, low, high)))


def merged(
    intervals: Iterable[Interval], *, within_mm: float = SAME_POINT_MM
) -> tuple[Interval, ...]:
    """Return the intervals joined where they meet or overlap, rising; empty ones count."""
    joined: list[Interval] = []
    for start, end in sorted(intervals):
        if joined and start <= joined[-1][1] + within_mm:
            joined[-1] = (joined[-1][0], max(joined[-1][1], end))
        else:
            joined.append((start, end))
    return tuple(joined)


def _in_band_coordinates(table: Table, band: Band) -> Table:
    turned = table.copy()
    (ax, ay), (bx, by) = band.along, band.across
    for cx, cy in ((X0, Y0), (X1, Y1), (CX, CY)):
        x, y = table[:, cx], table[:, cy]
        turned[:, cx] = ax * x + ay * y + band.along_zero_mm
        turned[:, cy] = bx * x + by * y + band.across_zero_mm
    if ax * by - ay * bx < 0:  # the band sees the plane from behind
        turned[:, TURN] = -table[:, TURN]
    return turned


def _line_runs(lines: Table, low: float, high: float) -> Iterator[Interval]:
    """Yield the range along the band that each line covers inside it."""
    b0, b1 = lines[:, Y0], lines[:, Y1]
    near = np.flatnonzero((np.maximum(b0, b1) > low) & (np.minimum(b0, b1) < high))
    for s0, b0_, s1, b1_ in lines[near][:, [X0, Y0, X1, Y1]].tolist():
        ends = []
        for s, b in ((s0, b0_), (s1, b1_)):
            edge = min(max(b, low), high)
            ends.append(s if edge == b else s0 + (edge - b0_) / (b1_ - b0_) * (s1 - s0))
        yield min(ends), max(ends)


def _arc_runs(arcs: Table, low: float, high: float) -> Iterator[Interval]:
    """Yield the range along the band of every piece of arc inside it.

    Arcs are cut where they turn back across or along the band, so each piece passes once.
    """
    near = (arcs[:, CY] + arcs[:, R] > low) & (arcs[:, CY] - arcs[:, R] < high)
    rows = arcs[near]
    if not len(rows):
        return
    sweeps = sweeps_rad(rows)
    for row, sweep in zip(rows.tolist(), sweeps.tolist(), strict=True):
        first = math.atan2(row[Y0] - row[CY], row[X0] - row[CX])
        stops = {0.0, abs(sweep)}
        for angle in _turning_angles(row, low, high):
            ahead = math.fmod(math.copysign(1.0, sweep) * (angle - first), math.tau) % math.tau
            if ahead < abs(sweep):
                stops.add(ahead)
        ordered = sorted(stops)
        for a, b in pairwise(ordered):
            turn = math.copysign(1.0, sweep)
            middle = row[CY] + row[R] * math.sin(first + turn * (a + b) / 2)
            if low < middle < high:
                ends = [row[CX] + row[R] * math.cos(first + turn * t) for t in (a, b)]
                yield min(ends), max(ends)


def _turning_angles(row: list[float], low: float, high: float) -> Iterator[float]:
    yield from (0.0, math.pi / 2, math.pi, -math.pi / 2)
    for edge in (low, high):
        sine = (edge - row[CY]) / row[R]
        if abs(sine) < 1.0:
            yield math.asin(sine)
            yield math.pi - math.asin(sine)


def _ledges(lines: Table, low: float, high: float) -> Iterator[Ledge]:
    level = np.abs(lines[:, Y1] - lines[:, Y0]) <= SAME_POINT_MM
    inside = (lines[:, Y0] > low) & (lines[:, Y0] < high)
    long = np.abs(lines[:, X1] - lines[:, X0]) >= LEAST_LEDGE_MM
    for s0, b, s1 in lines[level & inside & long][:, [X0, Y0, X1]].tolist():
        yield Ledge(min(s0, s1), max(s0, s1), b)
