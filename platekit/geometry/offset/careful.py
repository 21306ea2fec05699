"""The careful offset: the thorough engine under proof, and what to do when a proof fails.

First the weave as asked; then with the growth a hair larger or smaller, which parts edges that
fall on each other exactly; then against a witness 2 um to either side, for shapes at the very
limit of the kerf; then a rebuild by provenance from shapely's own buffer. Each must pass the same
proof. What passes none becomes a fine polyline, and is reported as one.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely

from platekit.geometry.chains import Contour
from platekit.geometry.distance import point_distances
from platekit.geometry.offset.proof import FINE_MM, Areal, fault, rings_of, witness_of
from platekit.geometry.offset.rows import MovedRows, RingRows, joins, moved_rows
from platekit.geometry.offset.trim import LIMIT_MM
from platekit.geometry.offset.weave import Traced, woven
from platekit.geometry.rebuild import NotRebuiltError, Sources, polyline_ring, rebuild_rings
from platekit.geometry.tables import (
    TURN,
    X0,
    X1,
    Y0,
    Y1,
    Bools,
    Floats,
    R,
    Table,
    lengths,
    points_at,
    signed_area,
)

# Under the engines' own 2 um-thousandths of error, over what two coincident edges are apart.
HAIR_MM = 6e-7
# A witness on coarser chords may err at shallow corners; a finer one is asked before giving up.
WITNESSES_MM = (FINE_MM, 2e-5, 2e-6)
REBUILT_FROM_MM = (2e-3, 4e-4, 1e-4)
POLYLINE_MM = 1e-4


@dataclass(frozen=True)
class Outcome:
    """What one ring became.

    Attributes:
        rings: The rings, exact unless `approximated`.
        at_limit: Whether 2 um more or less growth makes another number of rings.
        approximated: Whether the rings are polylines within a tenth of a micron.
    """

    rings: tuple[Traced, ...]
    at_limit: bool = False
    approximated: bool = False


def careful_offset(moved: MovedRows) -> tuple[Outcome, ...]:
    """Return what every ring becomes."""
    attempts = _Attempts(moved)
    return tuple(_settled(k, attempts) for k in range(moved.rows.count))


class _Attempts:
    """The weaves of all rings at each growth, made when first asked for."""

    def __init__(self, moved: MovedRows) -> None:
        self.moved = moved
        self._made: dict[float, tuple[list[Traced], ...]] = {}

    def source(self, ring: int) -> Table:
        """Return one ring's rows."""
        first = self.moved.rows.first
        return self.moved.rows.table[first[ring] : first[ring + 1]]

    def local(self, ring: int, *, extra_mm: float) -> list[Traced]:
        """Return one ring's weave, its source rows numbered from 0."""
        if extra_mm not in self._made:
            again = self.moved
            if extra_mm:
                again = moved_rows(again.rows, growth_mm=again.growth_mm + extra_mm)
            self._made[extra_mm] = woven(again)
        first = self.moved.rows.first[ring]
        return [
            Traced(traced.table, traced.source - first, traced.joining)
            for traced in self._made[extra_mm][ring]
        ]


def _settled(ring: int, attempts: _Attempts) -> Outcome:
    source, growth_mm = attempts.source(ring), attempts.moved.growth_mm
    witness = _witnesses(source, growth_mm)
    beside = [
        witness_of(source, growth_mm=growth_mm + by, tolerance_mm=FINE_MM)
        for by in (-LIMIT_MM, LIMIT_MM)
    ]
    at_limit = len({len(rings_of(shape)) for shape in (witness[FINE_MM], *beside)}) > 1
    for extra_mm in (0.0, HAIR_MM, -HAIR_MM):
        made = attempts.local(ring, extra_mm=extra_mm)
        for tolerance_mm in WITNESSES_MM:
            if _holds(source, made, growth_mm, witness[tolerance_mm], tolerance_mm):
                return Outcome(tuple(made), at_limit)
    if at_limit:
        for extra_mm in (0.0, HAIR_MM, -HAIR_MM):
            made = attempts.local(ring, extra_mm=extra_mm)
            if any(_holds(source, made, growth_mm, other, 8 * LIMIT_MM) for other in beside):
                return Outcome(tuple(made), at_limit)
    for tolerance_mm in REBUILT_FROM_MM:
        rebuilt = _rebuilt(source, growth_mm, tolerance_mm)
        if rebuilt is not None and _holds(
            source, rebuilt, growth_mm, witness[FINE_MM], 2 * tolerance_mm
        ):
            return Outcome(tuple(rebuilt), at_limit)
    return Outcome(tuple(_polylines(source, growth_mm)), at_limit, approximated=True)


class _witnesses(dict[float, Areal]):  # noqa: N801 - reads as what it holds
    """shapely's buffers of one ring by chord tolerance, made when first asked for."""

    def __init__(self, source: Table, growth_mm: float) -> None:
        super().__init__()
        self._source, self._growth_mm = source, growth_mm

    def __missing__(self, tolerance_mm: float) -> Areal:
        made = witness_of(self._source, growth_mm=self._growth_mm, tolerance_mm=tolerance_mm)
        self[tolerance_mm] = made
        return made


def _holds(
    source: Table,
    made: list[Traced],
    growth_mm: float,
    witness: Areal,
    tolerance_mm: float,
) -> bool:
    tables = [traced.table for traced in made]
    reason = fault(source, tables, growth_mm=growth_mm, witness=witness, tolerance_mm=tolerance_mm)
    return reason is None


def _rebuilt(source: Table, growth_mm: float, tolerance_mm: float) -> list[Traced] | None:
    """Return the rings rebuilt from shapely's buffer, or None where that fails too."""
    moved = moved_rows(RingRows.of([source]), growth_mm=growth_mm)
    chain, number, joining = _chain(moved)
    sources = Sources((Contour.trusted(chain),), tolerance_mm)
    outlines = list(_oriented(source, growth_mm, tolerance_mm))
    try:
        rings = rebuild_rings(outlines, sources)
    except (NotRebuiltError, shapely.GEOSException, IndexError):
        return None
    exact = [ring.table for ring in rings if ring is not None]
    return [_traced(table, chain, number, joining) for table in exact]


def _oriented(source: Table, growth_mm: float, tolerance_mm: float) -> Iterator[Floats]:
    """Yield the witness's rings, the material on their left."""
    witness = witness_of(source, growth_mm=growth_mm, tolerance_mm=tolerance_mm)
    ccw = signed_area(source) > 0
    for part in shapely.get_parts(witness):
        if isinstance(part, shapely.Polygon) and not part.is_empty:
            turned = shapely.orient_polygons(part)
            for ring in (turned.exterior, *turned.interiors):
                points = np.asarray(shapely.get_coordinates(ring)[:-1])
                yield points if ccw else points[::-1]


def _chain(moved: MovedRows) -> tuple[Table, np.typing.NDArray[np.intp], Bools]:
    """Return moved rows and joins as one closed chain, straight rows bridging the overlaps."""
    table = moved.table.copy()
    table[:, R] = np.abs(table[:, R])
    n = len(table)
    bridges = np.zeros((n, 8))
    bridges[:, [X0, Y0]] = table[:, [X1, Y1]]
    bridges[:, [X1, Y1]] = table[moved.rows.after][:, [X0, Y0]]
    corners = np.flatnonzero(moved.gaping)
    bridges[corners] = joins(moved, corners)
    chain = np.stack([table, bridges], axis=1).reshape(-1, 8)
    joining = np.tile([False, True], n)
    solid = (lengths(chain) > HAIR_MM) & ((chain[:, TURN] == 0) | (chain[:, R] > HAIR_MM))
    return chain[solid], np.repeat(np.arange(n), 2)[solid], joining[solid]


def _traced(
    table: Table, chain: Table, number: np.typing.NDArray[np.intp], joining: Bools
) -> Traced:
    """Return the ring with each row's origin: the row of the chain that its middle lies on."""
    middle = points_at(table, np.array([0.5]))[:, 0]
    k, m = len(table), len(chain)
    row, piece = np.tile(np.arange(m), k), np.repeat(np.arange(k), m)
    away = point_distances(chain[row], middle[piece]).reshape(k, m)
    nearest = np.argmin(away, axis=1)
    return Traced(table, number[nearest], joining[nearest])


def _polylines(source: Table, growth_mm: float) -> list[Traced]:
    made = []
    for points in _oriented(source, growth_mm, POLYLINE_MM):
        table = np.array(polyline_ring(points).table)
        middle = points_at(table, np.array([0.5]))[:, 0]
        k, m = len(table), len(source)
        row, piece = np.tile(np.arange(m), k), np.repeat(np.arange(k), m)
        away = point_distances(source[row], middle[piece]).reshape(k, m)
        made.append(Traced(table, np.argmin(away, axis=1), np.zeros(k, dtype=bool)))
    return made
