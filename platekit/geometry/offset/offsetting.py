"""Offset: grow or shrink a profile, exactly, and say what was lost on the way.

Circles change their radius and enter no engine. Every other ring goes through the quick engine
(`trim`), is proved, and only where there is doubt through the careful one
(`careful`).
"""

from __future__ import annotations

import math
import warnings
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

import numpy as np
import shapely

from platekit.errors import ApproximationWarning, GeometryError
from platekit.geometry.booleans import difference_all
from platekit.geometry.chains import Contour
from platekit.geometry.chords import chord_points
from platekit.geometry.offset.careful import careful_offset
from platekit.geometry.offset.losses import Loss, LossKind, ring_losses
from platekit.geometry.offset.pointed import pointed
from platekit.geometry.offset.proof import FINE_MM, proved
from platekit.geometry.offset.rows import MovedRows, RingRows, moved_rows
from platekit.geometry.offset.trim import LIMIT_MM, Trimmed, clear_rings, trimmed
from platekit.geometry.offset.weave import Traced
from platekit.geometry.points import Point
from platekit.geometry.profile import Profile
from platekit.geometry.tables import (
    CX,
    CY,
    TURN,
    X0,
    X1,
    Y0,
    Y1,
    Ints,
    R,
    Table,
    reversed_table,
    sweeps_rad,
)

LEAST_RADIUS_MM = 1e-6  # a circle this small is gone


class Join(Enum):
    """How the offset turns a corner that it opens."""

    ROUND = "round"  # an arc about the corner: reaches no further than the offset itself
    MITRE = "mitre"  # drawn out to a point where the turn is at most 90 degrees


@dataclass(frozen=True, slots=True)
class OffsetResult:
    """A shape after an offset.

    Attributes:
        profiles: What is left, in pieces; empty when nothing is.
        losses: What was lost on the way, ring by ring.
    """

    profiles: tuple[Profile, ...]
    losses: tuple[Loss, ...] = ()

    @property
    def profile(self) -> Profile:
        """The only piece.

        Raises:
            GeometryError: There is none, or more than one.
        """
        if len(self.profiles) != 1:
            raise GeometryError(
                f"the offset leaves {len(self.profiles)} pieces",
                remedy="offset by less, or make its narrowest place wider",
            )
        return self.profiles[0]


def offset_rings(profile: Profile, *, growth_mm: float, join: Join = Join.ROUND) -> OffsetResult:
    """Return the profile with every ring moved by `growth_mm`, each on its own.

    Args:
        profile: The shape. Never modified.
        growth_mm: How far the material grows: the outer ring outwards, holes inwards. Below 0 it
            shrinks; rings may then come to cross each other, see `offset`.
        join: How opened corners are turned.

    Returns:
        The grown profile, usually in one piece. A notch whose mouth closes leaves a hole.

    Raises:
        GeometryError: The growth is not a finite number.

    Source:
        Minkowski sum with a disc: de Berg et al., Computational Geometry, 3rd ed. (2008),
        chapter 13. Each ring is proved against shapely's buffer.
    """
    _require_finite(growth_mm)
    if growth_mm == 0.0:
        return OffsetResult((profile,))
    rings, losses = _moved_rings([ring.table for ring in profile.rings], growth_mm, join)
    return OffsetResult(_profiles(rings, _ways(rings)), losses)


def offset(profile: Profile, *, distance_mm: float, join: Join = Join.ROUND) -> OffsetResult:
    """Return the whole shape grown (`distance_mm` above 0) or shrunk (below 0).

    Shrinking lets holes run into each other and into the outer edge, which may fall into pieces.

    Args:
        profile: The shape. Never modified.
        distance_mm: How far every edge moves, away from the material when above 0.
        join: How opened corners are turned.

    Raises:
        GeometryError: The distance is not a finite number.
    """
    _require_finite(distance_mm)
    if distance_mm >= 0.0:
        return offset_rings(profile, growth_mm=distance_mm, join=join)
    rings, losses = _moved_rings([ring.table for ring in profile.rings], distance_mm, join)
    bodies = _profiles(rings[:1], [True])
    cutters = [hole for made in rings[1:] for hole in _grown_holes(made)]
    if not cutters:
        return OffsetResult(bodies, losses)
    return OffsetResult(difference_all(bodies, cutters), losses)


def _require_finite(length_mm: float) -> None:
    if not math.isfinite(length_mm):
        raise GeometryError(f"an offset of {length_mm:g} mm", remedy="give a finite distance in mm")


def _moved_rings(
    tables: Sequence[Table], growth_mm: float, join: Join
) -> tuple[list[list[Table]], tuple[Loss, ...]]:
    """Return for each ring the rings it becomes, and what was lost."""
    made: list[list[Table]] = [[] for _ in tables]
    losses: list[Loss] = []
    round_ones = [k for k, table in enumerate(tables) if len(table) == 1]
    if round_ones:
        losses += _move_circles(tables, round_ones, growth_mm, made)
    others = [k for k, table in enumerate(tables) if len(table) > 1]
    if others:
        losses += _move_chains(tables, others, growth_mm, join, made)
    return made, tuple(sorted(losses, key=lambda loss: loss.ring))


def _move_circles(
    tables: Sequence[Table], numbers: Sequence[int], growth_mm: float, made: list[list[Table]]
) -> list[Loss]:
    rows = np.concatenate([tables[k] for k in numbers])
    radius = rows[:, R] + rows[:, TURN] * growth_mm
    moved = rows.copy()
    scale = radius / rows[:, R]
    moved[:, X0] = moved[:, X1] = rows[:, CX] + (rows[:, X0] - rows[:, CX]) * scale
    moved[:, Y0] = moved[:, Y1] = rows[:, CY] + (rows[:, Y0] - rows[:, CY]) * scale
    moved[:, R] = radius
    losses = []
    for place, k in enumerate(numbers):
        if radius[place] > LEAST_RADIUS_MM:
            made[k] = [moved[place : place + 1]]
            if radius[place] > LIMIT_MM:
                continue
        at = Point(float(rows[place, CX]), float(rows[place, CY]))
        width_mm = 2 * float(rows[place, R])
        if not made[k]:
            losses.append(
                Loss(kind=LossKind.VANISHED, ring=k, at=at, width_mm=width_mm, segments=(0,))
            )
        if radius[place] > -LIMIT_MM:
            losses.append(Loss(kind=LossKind.KERF_LIMIT, ring=k, at=at, width_mm=width_mm))
    return losses


def _move_chains(
    tables: Sequence[Table],
    numbers: Sequence[int],
    growth_mm: float,
    join: Join,
    made: list[list[Table]],
) -> list[Loss]:
    rows = RingRows.of([tables[k] for k in numbers])
    moved = moved_rows(rows, growth_mm=growth_mm)
    cut = trimmed(moved)
    # A pointed corner stands off by up to the root of two times the growth.
    reach_mm = abs(growth_mm) * (math.sqrt(2) if join is Join.MITRE else 1.0) + LIMIT_MM
    if cut.sound.any():
        cut.sound[:] &= clear_rings(moved, reach_mm=reach_mm)
        cut.sound[:] = proved(moved, cut)
    if cut.sound.any():
        table, stops = (cut.table, cut.first) if join is Join.ROUND else _pointed(cut)
        for place in np.flatnonzero(cut.sound).tolist():
            made[numbers[place]] = [table[stops[place] : stops[place + 1]]]
    doubtful = np.flatnonzero(~cut.sound).tolist()
    if not doubtful:
        return []
    return _move_carefully(tables, [numbers[k] for k in doubtful], growth_mm, join, made)


def _pointed(cut: Trimmed) -> tuple[Table, Ints]:
    whole = RingRows(cut.table, cut.ring, cut.first)
    table, origin = pointed(
        cut.table, joining=cut.joining, full=cut.joining, after=whole.after, before=whole.before
    )
    return table, np.searchsorted(cut.ring[origin], np.arange(whole.count + 1))


def _move_carefully(
    tables: Sequence[Table],
    numbers: Sequence[int],
    growth_mm: float,
    join: Join,
    made: list[list[Table]],
) -> list[Loss]:
    moved = moved_rows(RingRows.of([tables[k] for k in numbers]), growth_mm=growth_mm)
    losses: list[Loss] = []
    for k, outcome in zip(numbers, careful_offset(moved), strict=True):
        losses += ring_losses(tables[k], outcome, ring=k, growth_mm=growth_mm)
        if outcome.approximated:
            warnings.warn(
                f"the offset of ring {k} by {growth_mm:g} mm could not be proved exact; it is a "
                "polyline within 0.1 um",
                ApproximationWarning,
                stacklevel=5,
            )
        rings = [traced.table for traced in outcome.rings]
        if join is Join.MITRE and not outcome.approximated:
            single = moved_rows(RingRows.of([tables[k]]), growth_mm=growth_mm)
            rings = [_pointed_where_room(traced, single) for traced in outcome.rings]
        made[k] = rings
    return losses


def _pointed_where_room(traced: Traced, moved: MovedRows) -> Table:
    """Return the ring with its whole joins pointed, or as it is where the points would cross."""
    if len(traced.table) < 2:
        return traced.table
    turn = np.abs(moved.turn_rad[traced.source])
    full = np.abs(sweeps_rad(traced.table)) >= turn - 1e-9
    ring = RingRows.of([traced.table])
    table, _ = pointed(
        traced.table, joining=traced.joining, full=full, after=ring.after, before=ring.before
    )
    points, _ = chord_points(table, tolerance_mm=FINE_MM)
    return table if shapely.Polygon(points).is_valid else traced.table


def _ways(rings: Sequence[Sequence[Table]]) -> list[bool]:
    """Return how a profile's rings run: the outer one counter-clockwise, holes clockwise."""
    return [True] + [False] * (len(rings) - 1)


def _profiles(rings: Sequence[Sequence[Table]], ccw: Sequence[bool]) -> tuple[Profile, ...]:
    """Return outer rings with the holes that lie in them.

    Args:
        rings: What each ring of the source became.
        ccw: Whether each ring of the source ran counter-clockwise: one that is still one ring
            runs the way it did.
    """
    outers: list[Contour] = []
    inners: list[Contour] = []
    for made, way in zip(rings, ccw, strict=True):
        for table in made:
            contour = Contour.trusted(table)
            outer = way if len(made) == 1 else contour.is_ccw
            (outers if outer else inners).append(contour)
    if len(outers) == 1:
        return (Profile.trusted(outers[0], inners),)
    homes: list[list[Contour]] = [[] for _ in outers]
    for ring in inners:
        for k, outline in enumerate(outers):
            if outline.encloses(ring.start):
                homes[k].append(ring)
                break
    return tuple(
        Profile.trusted(outline, holes) for outline, holes in zip(outers, homes, strict=True)
    )


def _grown_holes(made: Sequence[Table]) -> tuple[Profile, ...]:
    """Return one grown hole as shapes to cut with: what stands free inside it stays."""
    return _profiles([[reversed_table(table) for table in made]], [True])
