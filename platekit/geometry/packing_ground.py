"""The ground: where on an offcut of any shape parts may lie, and where they cannot.

Between an offcut and its bounding box there are bays, and there are its holes: both are kept off
as parts are, but at the margin. The box itself needs no telling: parts keep to it by their bounds.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from itertools import chain, islice

import numpy as np
import shapely

from platekit.geometry.chords import Side, to_polygon
from platekit.geometry.packing_covers import (
    CORNER_CHORDS,
    COVER_TOLERANCE_MM,
    LEAST_GROWTH_MM,
    Cover,
)
from platekit.geometry.profile import Profile
from platekit.geometry.tables import Floats

# A place is good when it keeps the margin to this much less: rounding must not turn a flush fit
# away, and a check to 1e-6 mm must still pass.
MARGIN_SLACK_MM = 5e-7

# Moves tried along either side of the box besides those flush with corners: only its two ends
# and the middle at first. A bay has a corner where it turns by more than chords of an arc do.
ENDS_AND_MIDDLE = 3
LEAST_TURN_RAD = 0.2
EVEN_PLACES = 33  # odd: the middle is among them
MOST_FLUSH = 32

# Where nothing else helps a place is sought from so many of the best places of a grid, until steps
# are this short. Round corners of what is kept off are chords: a share more margin makes up for it.
SEEK_PLACES = 13
SEEK_STARTS = 3
SEEK_MM = 1e-3
SEEK_CHORDS = 32
CHORD_SHARE = 4e-4
AROUND = np.array([(x, y) for x in (-1, 0, 1) for y in (-1, 0, 1) if x or y], dtype=np.float64)

MOST_PLACES = 32  # remembered of one part


class Ground:
    """What of an offcut's bounding box cannot be used.

    Args:
        shape: The offcut, its bounds beginning at the origin.
        margin_mm: Least distance from a part to its edges, holes included.
    """

    __slots__ = (
        "_admitted",
        "_bays",
        "_box",
        "_corners",
        "_edges",
        "_holes",
        "_known",
        "_margin_mm",
        "_too_close_mm",
    )

    def __init__(self, shape: Profile, *, margin_mm: float) -> None:
        inside = to_polygon(shape, tolerance_mm=COVER_TOLERANCE_MM, side=Side.INSIDE)
        box = shape.bounds
        self._box = shapely.box(box.left, box.bottom, box.right, box.top)
        self._margin_mm = margin_mm
        self._holes = shape.inners
        self._bays = np.array(_polygons(shapely.difference(self._box, inside)), dtype=object)
        if margin_mm > 2 * MARGIN_SLACK_MM:
            self._edges, self._too_close_mm = self._bays, margin_mm - MARGIN_SLACK_MM
        else:  # parts may touch: the slack is taken off the polygons, there being no margin
            shrunk = (shapely.buffer(bay, -MARGIN_SLACK_MM) for bay in self._bays)
            edges = [piece for one in shrunk for piece in _polygons(one)]
            self._edges, self._too_close_mm = np.array(edges, dtype=object), 0.0
        shapely.prepare(self._edges)
        self._corners = _corners(self._bays.tolist())
        self._admitted: dict[Cover, bool] = {}
        self._known: dict[Cover, tuple[tuple[float, float], ...]] = {}

    def room_mm2(self, *, gap_mm: float) -> float:
        """Return the room there is, mm2: half a gap may hang over the margin all round."""
        room = shapely.buffer(self._box, gap_mm / 2 - self._margin_mm, join_style="mitre")
        taken = shapely.union_all(list(self._grown(self._margin_mm - gap_mm / 2)))
        return float(shapely.area(shapely.difference(room, taken)))

    def rings(self, *, growth_mm: float) -> tuple[Floats, ...]:
        """Return the rings of the bays, grown by so much (or shrunk), each closed, shape (n, 2).

        Even-odd counting over all rings tells inside from outside.
        """
        whole = shapely.union_all(list(self._grown(growth_mm)))
        boundary = shapely.get_parts(shapely.boundary(whole))
        return tuple(np.asarray(shapely.get_coordinates(ring)) for ring in boundary)

    @property
    def islands(self) -> tuple[tuple[float, float], ...]:
        """Width and height of every hole with the margin round it, mm: parts may lie around."""
        boxes = [ring.bounds for ring in self._holes]
        around = 2 * self._margin_mm
        return tuple((box.width_mm + around, box.height_mm + around) for box in boxes)

    def is_clear(self, polygon: shapely.Polygon) -> bool:
        """Return whether a polygon keeps the margin to every bay and hole."""
        return not bool(np.any(shapely.dwithin(self._edges, polygon, self._too_close_mm)))

    def spare_mm(self, here: shapely.Polygon, there: shapely.Polygon) -> float:
        """Return how far a polygon is from the edges that keep it from being moved to `there`.

        The margin is left out. Infinite when none does.
        """
        met = shapely.dwithin(self._bays, there, self._margin_mm)
        if not met.any():
            return math.inf
        return float(shapely.distance(self._bays[met], here).min()) - self._margin_mm

    def admits(self, covered: Cover) -> bool:
        """Return whether a clear place is found for a part."""
        if covered not in self._admitted:
            flush = self._clear(covered, ENDS_AND_MIDDLE)
            found = chain(flush, self._elsewhere(covered))
            self._admitted[covered] = any(True for _ in found)
        return self._admitted[covered]

    def places(self, covered: Cover) -> tuple[tuple[float, float], ...]:
        """Return moves that bring a part to clear places, leftmost first; none when there are none.

        They bring two sides of it flush with corners of bays or with the box. Only where there is
        no such place others are tried too, until one is found.
        """
        if covered not in self._known:
            flush = list(self._clear(covered, ENDS_AND_MIDDLE))
            if not flush:
                flush = list(islice(self._elsewhere(covered), 1))
            if len(flush) > MOST_PLACES:
                chosen = np.linspace(0, len(flush) - 1, MOST_PLACES).astype(np.intp)
                flush = [flush[k] for k in chosen.tolist()]
            self._known[covered] = tuple(flush)
        return self._known[covered]

    def _grown(self, growth_mm: float) -> Iterable[shapely.Geometry]:
        if abs(growth_mm) <= LEAST_GROWTH_MM:
            return tuple(self._bays)
        return (shapely.buffer(bay, growth_mm, quad_segs=CORNER_CHORDS) for bay in self._bays)

    def _elsewhere(self, covered: Cover) -> Iterator[tuple[float, float]]:
        """Yield clear places that are flush with nothing: spread evenly, and then sought."""
        if covered.polygon.area > self.room_mm2(gap_mm=0.0):
            return
        yield from self._clear(covered, EVEN_PLACES)
        place = self._sought(covered)
        if place is not None:
            yield place

    def _sought(self, covered: Cover) -> tuple[float, float] | None:
        """Return a clear place found by moving to where less and less of the part is off."""
        growth = self._margin_mm * (1.0 + CHORD_SHARE) + SEEK_MM
        off = shapely.union_all(
            [shapely.buffer(bay, growth, quad_segs=SEEK_CHORDS) for bay in self._bays]
        )
        shapely.prepare(off)
        bounds, margin = covered.bounds, self._margin_mm
        left, bottom, right, top = shapely.bounds(self._box).tolist()
        low = np.array([left + margin - bounds.left, bottom + margin - bounds.bottom])
        high = np.maximum(low, [right - margin - bounds.right, top - margin - bounds.top])

        def lost_mm2(places: Floats) -> Floats:
            moved = np.array([covered.moved(dx, dy) for dx, dy in places.tolist()], dtype=object)
            lost: Floats = shapely.area(shapely.intersection(off, moved))
            return lost

        share = np.stack(np.meshgrid(*[np.linspace(0, 1, SEEK_PLACES)] * 2), axis=-1).reshape(-1, 2)
        grid = low + share * (high - low)
        for start in grid[np.argsort(lost_mm2(grid), kind="stable")[:SEEK_STARTS]]:
            here, least = start, float(lost_mm2(start[None, :])[0])
            step = (high - low) / SEEK_PLACES
            while least > 0.0 and step.max() > SEEK_MM:
                around = np.clip(here + AROUND * step, low, high)
                lost = lost_mm2(around)
                best = int(np.argmin(lost))
                if lost[best] < least:
                    here, least = around[best], float(lost[best])
                else:
                    step = step / 2
            dx, dy = here.tolist()
            if least == 0.0 and self.is_clear(covered.moved(dx, dy)):
                return dx, dy
        return None

    def _clear(self, covered: Cover, even_places: int) -> Iterator[tuple[float, float]]:
        """Yield clear places, leftmost first, those flush with something among them."""
        bounds, margin = covered.bounds, self._margin_mm
        left, bottom, right, top = shapely.bounds(self._box).tolist()
        along = _moves(
            self._corners[:, 0],
            room=(left + margin, right - margin),
            part=(bounds.left, bounds.right),
            margin_mm=margin,
            even_places=even_places,
        )
        up = _moves(
            self._corners[:, 1],
            room=(bottom + margin, top - margin),
            part=(bounds.bottom, bounds.top),
            margin_mm=margin,
            even_places=even_places,
        )
        for dx in along.tolist():
            moved = np.array([covered.moved(dx, dy) for dy in up.tolist()], dtype=object)
            near = shapely.dwithin(self._edges[:, None], moved[None, :], self._too_close_mm)
            for dy in up[~near.any(axis=0)].tolist():
                yield dx, dy


def is_lost(shape: Profile, margin_mm: float) -> bool:
    """Return whether a margin all round leaves nothing of a shape."""
    inside = to_polygon(shape, tolerance_mm=COVER_TOLERANCE_MM, side=Side.INSIDE)
    return bool(shapely.is_empty(shapely.buffer(inside, -margin_mm)))


def _moves(
    corners: Floats,
    *,
    room: tuple[float, float],
    part: tuple[float, float],
    margin_mm: float,
    even_places: int,
) -> Floats:
    """Return moves along one axis that keep to the box, flush with corners or evenly spaced."""
    least = room[0] - part[0]
    most = max(room[1] - part[1], least)
    said = np.unique(np.round(corners, 6))
    if len(said) > MOST_FLUSH:
        said = said[np.linspace(0, len(said) - 1, MOST_FLUSH).astype(np.intp)]
    moves = np.concatenate(
        [
            said + margin_mm - part[0],
            said - margin_mm - part[1],
            np.linspace(least, most, even_places),
        ]
    )
    return np.unique(moves[(moves >= least) & (moves <= most)])


def _corners(bays: Iterable[shapely.Polygon]) -> Floats:
    """Return the corners of bays and of their bounds, shape (n, 2)."""
    found = [np.empty((0, 2))]
    for bay in bays:
        left, bottom, right, top = bay.bounds
        found.append(np.array([[left, bottom], [right, top]]))
        for ring in shapely.get_parts(shapely.boundary(bay)):
            points = shapely.get_coordinates(ring)[:-1]
            come = points - np.roll(points, 1, axis=0)
            go = np.roll(come, -1, axis=0)
            cross = come[:, 0] * go[:, 1] - come[:, 1] * go[:, 0]
            turn = np.arctan2(cross, np.sum(come * go, axis=1))
            found.append(points[np.abs(turn) > LEAST_TURN_RAD])
    return np.concatenate(found)


def _polygons(shape: shapely.Geometry) -> tuple[shapely.Polygon, ...]:
    """Return the polygons of a shape that are wider than rounding."""
    pieces = shapely.get_parts(shape)
    return tuple(
        piece
        for piece in pieces
        if isinstance(piece, shapely.Polygon)
        and not shapely.is_empty(shapely.buffer(piece, -MARGIN_SLACK_MM / 2))
    )
