"""What an offset lost: features that vanished, rings that split or closed, widths at the limit.

Nothing here changes a shape. The rows of an offset know which source rows they came from; a source
row that no one came from is lost, and the narrowest place near it says how wide the feature was.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

import numpy as np
import shapely

from platekit.geometry.boxes import grown, meeting_pairs
from platekit.geometry.chords import chord_points
from platekit.geometry.distance import row_distances
from platekit.geometry.offset.careful import Outcome
from platekit.geometry.offset.proof import filled_ring
from platekit.geometry.offset.rows import RingRows, moved_rows
from platekit.geometry.offset.trim import LIMIT_MM
from platekit.geometry.points import Point
from platekit.geometry.tables import (
    X0,
    X1,
    Y0,
    Y1,
    Table,
    crossings_right_of,
    first_moments,
    points_at,
    row_boxes,
    signed_area,
)

MEASURED_ON_MM = 1e-4  # chords on which places (not widths) are found


class LossKind(Enum):
    """What happened to a ring, or to a feature of it."""

    VANISHED = "vanished"  # nothing is left of the ring
    SPLIT = "split"  # it fell into several
    CLOSED_NOTCH = "closed notch"  # its walls met: a bay was filled or cut off
    FEATURE_LOST = "feature lost"  # some segments have no counterpart
    KERF_LIMIT = "kerf limit"  # two microns more or less would change the shape
    APPROXIMATED = "approximated"  # no exact construction was proved: fine chords stand in


@dataclass(frozen=True, slots=True, kw_only=True)
class Loss:
    """One thing an offset lost.

    Attributes:
        kind: What happened.
        ring: Which ring of the source: 0 the outer one, then the inner ones.
        at: Where.
        width_mm: How wide the source is there, mm; None where no width says it.
        segments: Which segments of the ring have no counterpart in the result.
    """

    kind: LossKind
    ring: int
    at: Point
    width_mm: float | None = None
    segments: tuple[int, ...] = ()


@dataclass(frozen=True)
class _Narrow:
    """Two rows that face each other across what the offset fills."""

    width_mm: float
    at: Point
    rows: frozenset[int]


def ring_losses(
    source: Table, outcome: Outcome, *, ring: int, growth_mm: float
) -> tuple[Loss, ...]:
    """Return what one ring lost, gravest first; see `Loss`."""
    everything = tuple(range(len(source)))
    losses = []
    if outcome.approximated:
        at = Point(float(source[0, X0]), float(source[0, Y0]))
        losses.append(Loss(kind=LossKind.APPROXIMATED, ring=ring, at=at))
    if not outcome.rings:
        at, width_mm = _widest(source)
        losses.append(
            Loss(kind=LossKind.VANISHED, ring=ring, at=at, width_mm=width_mm, segments=everything)
        )
    kept = {int(k) for made in outcome.rings for k in made.source[~made.joining].tolist()}
    lost = [k for k in everything if k not in kept] if outcome.rings else []
    if len(outcome.rings) == 1 and not lost and not outcome.at_limit:
        return tuple(losses)
    turned = [np.sign(signed_area(made.table)) for made in outcome.rings]
    own = float(np.sign(signed_area(source)))
    kinds = [LossKind.SPLIT] * (turned.count(own) - 1)
    kinds += [LossKind.CLOSED_NOTCH] * turned.count(-own)
    told = range(len(source)) if kinds or outcome.at_limit else lost
    narrows = _narrows(source, growth_mm, told)
    # Of two ways across that are equally wide the one between lost walls tells more.
    narrows.sort(key=lambda n: (round(n.width_mm, 9), -len(n.rows & set(lost)), sorted(n.rows)))
    runs = _runs(lost, len(source))
    losses += [_neck(kind, ring, narrows, runs, source) for kind in kinds]
    losses += [_run_loss(run, ring, narrows, source) for run in runs]
    if outcome.at_limit:
        losses.append(_limit(ring, source, growth_mm))
    return tuple(losses)


def _neck(
    kind: LossKind, ring: int, narrows: list[_Narrow], runs: list[list[int]], source: Table
) -> Loss:
    """Return the loss at the narrowest place not yet told, and take what it explains away."""
    if not narrows:
        return Loss(kind=kind, ring=ring, at=Point(float(source[0, X0]), float(source[0, Y0])))
    narrow = narrows[0]
    told = [run for run in runs if narrow.rows & set(run)]
    for run in told:
        runs.remove(run)
    segments = tuple(sorted(k for run in told for k in run))
    beside = narrow.rows | set(segments)
    narrows[:] = [other for other in narrows if not other.rows & beside]
    return Loss(kind=kind, ring=ring, at=narrow.at, width_mm=narrow.width_mm, segments=segments)


def _run_loss(run: list[int], ring: int, narrows: list[_Narrow], source: Table) -> Loss:
    facing = [narrow for narrow in narrows if narrow.rows <= set(run)]
    if facing:
        return Loss(
            kind=LossKind.CLOSED_NOTCH,
            ring=ring,
            at=facing[0].at,
            width_mm=facing[0].width_mm,
            segments=tuple(sorted(run)),
        )
    middle = points_at(source[[run[len(run) // 2]]], np.array([0.5]))[0, 0]
    at = Point(float(middle[0]), float(middle[1]))
    return Loss(kind=LossKind.FEATURE_LOST, ring=ring, at=at, segments=tuple(sorted(run)))


def _limit(ring: int, source: Table, growth_mm: float) -> Loss:
    """Return the loss that names the place nearest to the limit of the kerf."""
    wanted = 2 * abs(growth_mm)
    narrows = _narrows(source, growth_mm, range(len(source)))
    if narrows:
        best = min(narrows, key=lambda narrow: abs(narrow.width_mm - wanted))
        if abs(best.width_mm - wanted) <= 4 * LIMIT_MM:
            return Loss(kind=LossKind.KERF_LIMIT, ring=ring, at=best.at, width_mm=best.width_mm)
    at, width_mm = _widest(source)
    return Loss(kind=LossKind.KERF_LIMIT, ring=ring, at=at, width_mm=width_mm)


def _widest(source: Table) -> tuple[Point, float]:
    """Return the middle of a ring and the diameter, mm, of the largest circle inside it."""
    filled = filled_ring(source, tolerance_mm=MEASURED_ON_MM)
    if filled.is_empty:
        return Point(float(source[0, X0]), float(source[0, Y0])), 0.0
    radius = shapely.maximum_inscribed_circle(filled, tolerance=MEASURED_ON_MM)
    x, y = shapely.get_coordinates(radius)[0]
    area, mx, my = first_moments(source)
    middle = Point(mx / area, my / area)
    if crossings_right_of(source, *middle) % 2 == 1:
        x, y = middle  # where a person would look for it
    return Point(float(x), float(y)), 2 * float(radius.length)


def _runs(lost: Sequence[int], count: int) -> list[list[int]]:
    """Return the lost rows in runs of neighbours, around the ring's end too."""
    runs: list[list[int]] = []
    for k in lost:
        if runs and runs[-1][-1] == k - 1:
            runs[-1].append(k)
        else:
            runs.append([k])
    if len(runs) > 1 and runs[0][0] == 0 and runs[-1][-1] == count - 1:
        runs[0] = runs.pop() + runs[0]
    return runs


def _narrows(source: Table, growth_mm: float, among: Sequence[int]) -> list[_Narrow]:
    """Return pairs of rows, both `among` those, that face each other within the offset's reach."""
    reach = abs(growth_mm) + LIMIT_MM
    boxes = grown(row_boxes(source), by_mm=reach)
    one, other = meeting_pairs(boxes, boxes)
    n = len(source)
    asked = np.zeros(n, dtype=bool)
    asked[list(among)] = True
    pick = (other > one + 1) & ~((one == 0) & (other == n - 1)) & asked[one] & asked[other]
    one, other = one[pick], other[pick]
    width = row_distances(source[one], source[other])
    # Two rows of one gentle bend are near each other but do not face each other.
    moved = moved_rows(RingRows.of([source]), growth_mm=growth_mm)
    bend = np.abs(moved.rows.sweeps)
    until = np.cumsum(bend + np.abs(moved.turn_rad))
    onward = until[other - 1] - until[one] + np.abs(moved.turn_rad[one])
    around = until[-1] - bend[one] - onward - bend[other]
    facing = np.minimum(onward, around) > np.pi / 2 + 1e-9
    pick = (width > 0) & (width <= 2 * reach) & facing
    found = []
    filled_side = (signed_area(source) > 0) != (growth_mm > 0)  # inside the ring is filled
    for a, b, width_mm in zip(one[pick], other[pick], width[pick], strict=True):
        at = _between(source[[a]], source[[b]])
        if (crossings_right_of(source, at.x, at.y) % 2 == 1) == filled_side:
            found.append(_Narrow(float(width_mm), at, frozenset((int(a), int(b)))))
    return found


def _between(a: Table, b: Table) -> Point:
    """Return the middle of the shortest way from one row to another."""
    lines = []
    for row in (a, b):
        points, _ = chord_points(row, tolerance_mm=MEASURED_ON_MM)
        lines.append(shapely.LineString(np.vstack([points, row[:, [X1, Y1]]])))
    way = shapely.get_coordinates(shapely.shortest_line(*lines))
    x, y = way.mean(axis=0)
    return Point(float(x), float(y))
