"""Proof of an offset: its own measures, and shapely's buffer as an independent witness.

No offset leaves the engines unproved. The witness is coarse on purpose where it is asked for every
ring (its error is known and allowed for), and fine where there was doubt.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from platekit.geometry.boxes import grown, meeting_pairs
from platekit.geometry.chords import chord_counts, chord_points
from platekit.geometry.distance import point_distances
from platekit.geometry.offset.rows import CENTRE, END, START, MovedRows, ring_areas
from platekit.geometry.offset.trim import Trimmed
from platekit.geometry.points import SAME_POINT_MM
from platekit.geometry.tables import (
    CX,
    CY,
    TURN,
    X0,
    X1,
    Y0,
    Y1,
    Bools,
    Floats,
    Ints,
    R,
    Table,
    is_arc,
    lengths,
    points_at,
    row_boxes,
    signed_area,
)

COARSE_MM = 5e-3  # chords of the quick witness
FINE_MM = 2e-4  # chords of the careful one
# GEOS thins its input by this much of the distance; not seen to cost anything, but promised.
THINNING = 0.012
EXACT_MM = 2e-6  # how far the numbers of a proved ring may stand off the truth
WITNESS_QUARTER = 2  # chords to a quarter turn in the quick witness
LEAST_CHORD_MM = 1e-9  # what is flatter than this has no inside

Areal = shapely.Polygon | shapely.MultiPolygon

SAMPLED_AT = np.array([0.0, 0.25, 0.5, 0.75, 1.0])


def proved(moved: MovedRows, cut: Trimmed) -> Bools:
    """Return which trimmed rings the witness confirms, shape (rings,).

    A ring is confirmed when every row lies at the growth from its own source row, it runs the way
    its source did, does not cross itself, is one ring to the witness as well, and encloses the
    area the witness finds within what both round off.
    """
    rows, growth_mm = moved.rows, moved.growth_mm
    count, reach = rows.count, abs(growth_mm)
    held = cut.sound & _ends_fit(cut) & _parallel(moved, cut)
    if not held.any():
        return held
    areas = ring_areas(cut.table, cut.ring, count)
    held &= np.sign(areas) == np.sign(rows.areas)
    # A join's chord will do here: that nothing else comes near a corner is known already.
    flat = cut.table.copy()
    flat[cut.joining, TURN] = 0.0
    if np.min(np.diff(rows.first)) < 3:
        held &= _drawable(rows.table, rows.ring, count) & _drawable(flat, cut.ring, count)
        if not held.any():
            return held
    held[held] = shapely.is_simple(_loops(flat, cut.ring, held))
    if not held.any():
        return held
    grows = np.where(rows.areas > 0, growth_mm, -growth_mm)[held]
    outlines = shapely.polygons(_loops(rows.table, rows.ring, held))
    witness = shapely.buffer(outlines, grows, quad_segs=WITNESS_QUARTER)
    single = (shapely.get_type_id(witness) == 3) & (shapely.get_num_interior_rings(witness) == 0)
    off = np.abs(shapely.area(witness) - np.abs(areas[held]))
    bent, length = np.where(is_arc(rows.table), rows.lengths, 0.0), rows.lengths
    turned = np.where(moved.gaping, np.abs(moved.turn_rad), 0.0)
    step = np.pi / 2 / WITNESS_QUARTER
    shaved = 0.5 * reach * reach * (1.0 - np.sin(step) / step)  # per radian of a rounded corner
    allowed = COARSE_MM * bent + 1.01 * shaved * turned + THINNING * reach * (length + reach)
    held[held] = single & (off <= np.bincount(rows.ring, weights=allowed, minlength=count)[held])
    return held


def _parallel(moved: MovedRows, cut: Trimmed) -> Bools:
    """Return which rings have every row at the growth from its source row or corner."""
    growth_mm, table = moved.growth_mm, cut.table
    source = moved.rows.table[cut.source]
    joining = np.flatnonzero(cut.joining)
    source[joining, TURN] = 1.0 if growth_mm > 0 else -1.0
    source[joining, CENTRE] = source[joining, END]
    source[joining, R] = 0.0
    fits = table[:, TURN] == source[:, TURN]
    radius = source[:, R] + growth_mm * source[:, TURN]
    curved = np.abs(table[:, CX] - source[:, CX]) + np.abs(table[:, CY] - source[:, CY])
    curved += np.abs(table[:, R] - radius)
    along = moved.begin[cut.source]
    aside = [
        (table[:, x] - source[:, X0]) * along[:, 1] - (table[:, y] - source[:, Y0]) * along[:, 0]
        for x, y in ((X0, Y0), (X1, Y1))
    ]
    straight = np.maximum(np.abs(aside[0] - growth_mm), np.abs(aside[1] - growth_mm))
    fits &= np.where(source[:, TURN] == 0.0, straight, curved) <= SAME_POINT_MM
    held = np.ones(moved.rows.count, dtype=bool)
    held[cut.ring[~fits]] = False
    return held


def _drawable(table: Table, ring: Ints, count: int) -> Bools:
    """Return which rings have chords enough for a polygon."""
    chords = chord_counts(table, tolerance_mm=COARSE_MM)
    drawable: Bools = np.bincount(ring, weights=chords, minlength=count) >= 3
    return drawable


def _loops(table: Table, ring: Ints, wanted: Bools) -> np.typing.NDArray[np.object_]:
    """Return the wanted rings as closed lines on coarse chords."""
    if not wanted.all():
        # shapely wants ring numbers without gaps.
        picked, numbers = wanted[ring], np.cumsum(wanted) - 1
        table, ring = table[picked], numbers[ring[picked]]
    points = table[:, START]
    if is_arc(table).any():
        points, row = chord_points(table, tolerance_mm=COARSE_MM)
        ring = ring[row]
    return np.asarray(shapely.linearrings(points, indices=ring), dtype=object)


def _ends_fit(cut: Trimmed) -> Bools:
    """Return which rings have every arc end on its circle and no gap, shape (rings,)."""
    table = cut.table
    onward = np.empty((len(table), 2))
    onward[:-1] = table[1:, START]
    onward[cut.first[1:] - 1] = table[cut.first[:-1], START]
    fits = (onward == table[:, END]).all(axis=1)
    arcs = np.flatnonzero(is_arc(table))
    if len(arcs):
        rows = table[arcs]
        for x, y in ((X0, Y0), (X1, Y1)):
            off = np.hypot(rows[:, x] - rows[:, CX], rows[:, y] - rows[:, CY]) - rows[:, R]
            fits[arcs[~(np.abs(off) <= SAME_POINT_MM)]] = False
    held = np.ones(len(cut.sound), dtype=bool)
    held[cut.ring[~fits]] = False
    return held


def witness_of(source: Table, *, growth_mm: float, tolerance_mm: float) -> Areal:
    """Return shapely's buffer of the filled ring, its material side grown."""
    filled = filled_ring(source, tolerance_mm=tolerance_mm)
    by = growth_mm if signed_area(source) > 0 else -growth_mm
    reach = abs(growth_mm)
    step = np.arccos(max(1.0 - tolerance_mm / reach, 0.0))
    quarter = max(2, int(np.ceil(np.pi / 4 / step)))
    return as_areal(shapely.buffer(filled, by, quad_segs=quarter))


def filled_ring(ring: Table, *, tolerance_mm: float) -> Areal:
    """Return what a ring encloses, on chords of `tolerance_mm` or as fine as a sliver needs."""
    points, _ = chord_points(ring, tolerance_mm=tolerance_mm)
    while len(points) < 3 and tolerance_mm > LEAST_CHORD_MM:
        tolerance_mm /= 10
        points, _ = chord_points(ring, tolerance_mm=tolerance_mm)
    if len(points) < 3:
        return shapely.Polygon()
    filled = shapely.Polygon(points)
    if filled.is_valid:
        return filled
    return as_areal(shapely.make_valid(filled, method="structure"))


def as_areal(shape: shapely.Geometry) -> Areal:
    """Return the shape if it has an inside, else an empty polygon."""
    return shape if isinstance(shape, shapely.Polygon | shapely.MultiPolygon) else shapely.Polygon()


def rings_of(shape: shapely.Geometry) -> list[Floats]:
    """Return the points of every ring of a polygonal shape, shells first in each polygon."""
    loops = []
    for part in shapely.get_parts(shape):
        if isinstance(part, shapely.Polygon) and not part.is_empty:
            loops += [part.exterior, *part.interiors]
    return [shapely.get_coordinates(loop)[:-1] for loop in loops]


def fault(
    source: Table,
    made: Sequence[Table],
    *,
    growth_mm: float,
    witness: Areal,
    tolerance_mm: float,
) -> str | None:
    """Return what is wrong with one ring's offset, or None when it is proved.

    Args:
        source: The ring.
        made: The rings it became.
        growth_mm: How far its material grew.
        witness: shapely's buffer on chords of `tolerance_mm`.
        tolerance_mm: See `witness`.
    """
    expected = rings_of(witness)
    if len(expected) != len(made):
        return f"{len(made)} rings, the witness finds {len(expected)}"
    if not made:
        return None
    off = _off_distance(source, np.concatenate(made), reach_mm=abs(growth_mm))
    if off > EXACT_MM:
        return f"off by {off:g} mm"
    unsound = next(filter(None, map(_unsound, made)), None)
    allowed_mm = THINNING * abs(growth_mm) + 2 * tolerance_mm
    return unsound or _disagreement(source, made, witness, tolerance_mm, allowed_mm)


def _disagreement(
    source: Table, made: Sequence[Table], witness: Areal, tolerance_mm: float, allowed_mm: float
) -> str | None:
    """Return where the witness's corners or area differ from the rings made, or None."""
    lines = shapely.union_all(
        [shapely.LinearRing(chord_points(ring, tolerance_mm=tolerance_mm)[0]) for ring in made]
    )
    shapely.prepare(lines)
    corners = np.concatenate(rings_of(witness))
    astray = ~shapely.dwithin(lines, np.asarray(shapely.points(corners)), allowed_mm)
    if astray.any():
        x, y = corners[int(np.argmax(astray))]
        return f"the witness goes elsewhere at ({x:g}, {y:g})"
    area = sum(signed_area(ring) for ring in made) * np.sign(signed_area(source))
    if abs(area - witness.area) > allowed_mm * witness.length + 1e-9:
        return f"area {area:g} mm2, the witness finds {witness.area:g} mm2"
    return None


def _unsound(ring: Table) -> str | None:
    whole = len(ring) == 1
    gap = np.hypot(*(np.roll(ring[:, [X0, Y0]], -1, axis=0) - ring[:, [X1, Y1]]).T)
    if np.max(gap) > SAME_POINT_MM:
        return "open"
    if np.min(lengths(ring)) < SAME_POINT_MM:
        return "a row of no length"
    arcs = ring[is_arc(ring)]
    for x, y in ((X0, Y0), (X1, Y1)):
        radial = np.abs(np.hypot(arcs[:, x] - arcs[:, CX], arcs[:, y] - arcs[:, CY]) - arcs[:, R])
        if len(arcs) and np.max(radial) > SAME_POINT_MM:
            return "an end off its circle"
    if whole and len(arcs) == 0:
        return "one line"
    return None


def _off_distance(source: Table, made: Table, *, reach_mm: float) -> float:
    """Return by how much samples of `made` miss being at `reach_mm` from `source`, mm."""
    samples = points_at(made, SAMPLED_AT).reshape(-1, 2)
    boxes = np.concatenate([samples, samples], axis=1)
    point, row = meeting_pairs(grown(boxes, by_mm=reach_mm + 2 * EXACT_MM), row_boxes(source))
    nearest = np.full(len(samples), np.inf)
    np.minimum.at(nearest, point, point_distances(source[row], samples[point]))
    return float(np.max(np.abs(nearest - reach_mm)))
