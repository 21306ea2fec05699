"""Chords: polygons that stand in for arcs, within a stated tolerance and on a stated side.

The one place where an arc becomes points. The polygon is for topology, solids and pictures; it
never flows back into a shape's own coordinates.
"""

from __future__ import annotations

from enum import Enum

import numpy as np
import shapely

from platekit.geometry.chains import Chain
from platekit.geometry.profile import Profile
from platekit.geometry.tables import (
    CX,
    CY,
    TURN,
    X0,
    X1,
    Y0,
    Y1,
    Floats,
    Ints,
    R,
    Table,
    is_arc,
    sweeps_rad,
)

# shapely keeps one-ulp spikes where nearly equal points meet; a picometre's rounding removes them.
ROUNDING_DIGITS = 9
CHORD_TOLERANCE_MM = 2e-3  # arcs.md: coarser loses arcs in overlays, finer only costs time


class Side(Enum):
    """On which side of the true shape its polygon may lie."""

    NEAR = "near"  # corners on the arcs: convex arcs lose a little, hollow ones gain
    OUTSIDE = "outside"  # never smaller than the shape: safe for clearances
    INSIDE = "inside"  # never larger than the shape


def chord_counts(table: Table, *, tolerance_mm: float) -> Ints:
    """Return how many chords each row needs for a sagitta within `tolerance_mm`, shape (n,)."""
    radius = np.where(is_arc(table), table[:, R], 1.0)
    cosine = np.clip(1.0 - tolerance_mm / radius, 0.0, 1.0)
    step = 2.0 * np.arccos(cosine)  # at most half a turn: never fewer than two chords a circle
    step = np.minimum(step, np.pi / 2)
    needed = np.ceil(np.abs(sweeps_rad(table)) / step - 1e-9)
    return np.where(is_arc(table), np.maximum(needed, 1), 1).astype(np.intp)


def chord_points(table: Table, *, tolerance_mm: float) -> tuple[Floats, Ints]:
    """Return points along a chain and the row each chord belongs to.

    Returns:
        Points, shape (m, 2): each row's start and its inner division points, the chain's last
        end point left out. Rows, shape (m,): chord k runs from point k to the next.
    """
    counts = chord_counts(table, tolerance_mm=tolerance_mm)
    rows = np.repeat(np.arange(len(table)), counts)
    first = np.cumsum(counts) - counts
    step = np.arange(len(rows)) - first[rows]
    points = table[rows][:, [X0, Y0]]
    bent = np.flatnonzero((step > 0) & is_arc(table)[rows])
    if len(bent):
        row = rows[bent]
        angle = sweeps_rad(table)[row] * step[bent] / counts[row]
        c, s = np.cos(angle), np.sin(angle)
        dx = table[row, X0] - table[row, CX]
        dy = table[row, Y0] - table[row, CY]
        points[bent, 0] = table[row, CX] + dx * c - dy * s
        points[bent, 1] = table[row, CY] + dx * s + dy * c
    return np.round(points, ROUNDING_DIGITS), rows


def polyline_points(chain: Chain, *, tolerance_mm: float) -> Floats:
    """Return points along `chain`, ends included, shape (m, 2); a contour's last is its first."""
    points, _ = chord_points(chain.table, tolerance_mm=tolerance_mm)
    return np.vstack([points, chain.table[-1:, [X1, Y1]]])


def ring_points(table: Table, *, tolerance_mm: float, side: Side, material_left: bool) -> Floats:
    """Return the polygon of a closed chain, its last point not repeated, shape (m, 2).

    `side` speaks of the material: with OUTSIDE the polygon's material covers the true material.
    An arc that must not be undercut gets the corners of its tangents instead of its chords.
    """
    return _ring_points(table, tolerance_mm=tolerance_mm, side=side, material_left=material_left)[0]


def profile_rings(profile: Profile, *, tolerance_mm: float, side: Side) -> list[Floats]:
    """Return the polygons of a profile's rings, the outer one first; see `ring_points`.

    All in one go: a plate has more holes than a hole has rows.
    """
    points, rows = _ring_points(
        profile.table, tolerance_mm=tolerance_mm, side=side, material_left=True
    )
    ends = np.cumsum([len(ring.table) for ring in profile.rings])
    return np.split(points, np.searchsorted(rows, ends[:-1]))


def _ring_points(
    table: Table, *, tolerance_mm: float, side: Side, material_left: bool
) -> tuple[Floats, Ints]:
    """Return the corners of polygons and, rising, the row of each; see `ring_points`."""
    if side is Side.NEAR:
        return chord_points(table, tolerance_mm=tolerance_mm)
    sweep = sweeps_rad(table)
    bulges = (table[:, TURN] > 0) == material_left  # the arc is convex towards the void
    wraps = is_arc(table) & (bulges if side is Side.OUTSIDE else ~bulges)
    # A tangent corner stands off further than a chord sags: one more.
    counts = chord_counts(table, tolerance_mm=tolerance_mm) + wraps
    whole = (table[:, X0] == table[:, X1]) & (table[:, Y0] == table[:, Y1])
    # Every row begins with its start, but for a circle wrapped in tangents.
    made = counts + (wraps & ~whole)
    rows = np.repeat(np.arange(len(table)), made)
    step = np.arange(len(rows)) - (np.cumsum(made) - made)[rows]
    step = step + (wraps & whole)[rows]
    corner = wraps[rows] & (step > 0)
    angle = sweep[rows] * (step - 0.5 * corner) / counts[rows]
    reach = np.where(corner, 1.0 / np.cos(sweep / counts / 2)[rows], 1.0)
    c, s = np.cos(angle) * reach, np.sin(angle) * reach
    dx, dy = (table[:, X0] - table[:, CX])[rows], (table[:, Y0] - table[:, CY])[rows]
    ring = table[rows][:, [X0, Y0]]
    bent = step > 0
    ring[bent, 0] = (table[rows, CX] + dx * c - dy * s)[bent]
    ring[bent, 1] = (table[rows, CY] + dx * s + dy * c)[bent]
    return np.round(ring, ROUNDING_DIGITS), rows


def to_polygon(
    profile: Profile, *, tolerance_mm: float = CHORD_TOLERANCE_MM, side: Side = Side.NEAR
) -> shapely.Polygon:
    """Return the profile as a shapely polygon.

    Args:
        profile: The exact shape.
        tolerance_mm: Largest gap between a true arc and its chord.
        side: On which side of the true shape the polygon lies.
    """
    shell, *holes = profile_rings(profile, tolerance_mm=tolerance_mm, side=side)
    return shapely.Polygon(shell, holes)
