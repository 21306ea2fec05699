"""Joints drawn by lot: how much play they have once everything has scattered.

Every tab has its own slot, and all must find theirs at one setting of the plates: the play that a
joint has along one direction is its clearance less the range of its offsets, so that every further
tab takes some. Thickness and kerf of one joint are one size each, whatever it has of tabs.
"""

from __future__ import annotations

import zlib
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from platekit.formulas.fit_yield import Scattered, drawn_clearances_mm

Drawn = NDArray[np.float64]

# Beyond so many layers one more takes nothing that counts, and every three of them are tried.
MOST_POINTS = 12


def chance_for(seed: int, *words: object) -> np.random.Generator:
    """Return a source of lots that the seed and the words settle, on every computer alike."""
    said = " / ".join(str(word) for word in words)
    return np.random.default_rng([abs(seed), zlib.crc32(said.encode())])


def drawn_mm(half_mm: float, *, count: int, chance: np.random.Generator, name: str) -> Drawn:
    """Return `count` deviations of one size about 0, normal, three standard deviations a half."""
    size = Scattered(name=name, mean_mm=0.0, half_mm=half_mm)
    return drawn_clearances_mm([size], count=count, chance=chance)


def drawn_range_mm(
    half_mm: float, *, places: int, count: int, chance: np.random.Generator
) -> Drawn:
    """Return how far apart the least and the greatest of several offsets lie, `count` times.

    Args:
        half_mm: Half of the band of each offset.
        places: How many offsets each joint has; of one alone the range is 0.
        count: How many joints.
        chance: Where the lots come from.
    """
    low, high = np.full(count, np.inf), np.full(count, -np.inf)
    if places < 2:
        return np.zeros(count)
    for _ in range(places):
        offset = drawn_mm(half_mm, count=count, chance=chance, name="position")
        np.minimum(low, offset, out=low)
        np.maximum(high, offset, out=high)
    return np.asarray(high - low, dtype=np.float64)


def drawn_circle_mm(
    half_mm: float, *, places: int, count: int, chance: np.random.Generator
) -> Drawn:
    """Return the diameter of the least circle round several points drawn in a plane.

    So much a bore loses that goes through so many layers. Of all points some two or three hold
    the circle: it is the greatest of the least circles round every three of them.

    Args:
        half_mm: Half of the band of each point, along x and along y.
        places: How many points; `MOST_POINTS` at the most are drawn.
        count: How many times.
        chance: Where the lots come from.
    """
    points = [
        (
            drawn_mm(half_mm, count=count, chance=chance, name="place"),
            drawn_mm(half_mm, count=count, chance=chance, name="place"),
        )
        for _ in range(min(places, MOST_POINTS))
    ]
    return circle_round_mm(points)


def circle_round_mm(points: Sequence[tuple[Drawn, Drawn]]) -> Drawn:
    """Return the diameter of the least circle round points: x and y of each, many times over."""
    widest = np.zeros(len(points[0][0]))
    for (ax, ay), (bx, by) in combinations(points, 2):
        np.maximum(widest, np.hypot(ax - bx, ay - by), out=widest)
    for three in combinations(points, 3):
        np.maximum(widest, _circle_round(*three), out=widest)
    return widest


def _circle_round(*points: tuple[Drawn, Drawn]) -> Drawn:
    """Return the diameter of the circle through three points; 0 where two of them hold it."""
    (ax, ay), (bx, by), (cx, cy) = points
    a, b, c = np.hypot(bx - cx, by - cy), np.hypot(cx - ax, cy - ay), np.hypot(ax - bx, ay - by)
    sides = np.sort(np.stack([a, b, c]), axis=0)
    sharp = sides[0] ** 2 + sides[1] ** 2 > sides[2] ** 2
    doubled_area = np.abs((bx - ax) * (cy - ay) - (cx - ax) * (by - ay))
    # Sides over twice the doubled area are the circumradius: a b c / 4 A, textbook.
    return np.where(sharp, a * b * c / np.where(sharp, doubled_area, 1.0), 0.0)


@dataclass(frozen=True, kw_only=True)
class Lots:
    """Joints drawn by lot at a clearance of 0; a clearance moves all of them alike.

    Attributes:
        tight_mm: Of every joint what decides whether it goes together: its least play.
        wide_mm: What decides whether it holds still: its greatest gap or play.
        least_mm: It goes together at this play or more.
        most_mm: It holds still at this or less.
    """

    tight_mm: Drawn
    wide_mm: Drawn
    least_mm: float
    most_mm: float

    def together(self, clearance_mm: float) -> float:
        """Return the share of joints that go together at a clearance."""
        return float(np.mean(self.tight_mm + clearance_mm >= self.least_mm))

    def still(self, clearance_mm: float) -> float:
        """Return the share of joints that do not rattle at a clearance."""
        return float(np.mean(self.wide_mm + clearance_mm <= self.most_mm))

    def window_mm(self, wanted: float) -> tuple[float, float]:
        """Return the least and the greatest clearance at which a share does both.

        The least is above the greatest where no clearance does.
        """
        least = self.least_mm - float(np.quantile(self.tight_mm, 1.0 - wanted, method="lower"))
        most = self.most_mm - float(np.quantile(self.wide_mm, wanted, method="higher"))
        return least, most


def least_of(several: Sequence[Drawn]) -> Drawn:
    """Return the least of several for each joint."""
    return np.asarray(np.min(list(several), axis=0), dtype=np.float64)


def greatest_of(several: Sequence[Drawn]) -> Drawn:
    """Return the greatest of several for each joint."""
    return np.asarray(np.max(list(several), axis=0), dtype=np.float64)
