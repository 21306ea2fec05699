"""Union, difference and intersection of exact profiles.

shapely decides what survives; `rebuild` gives it back as the lines, arcs and circles it was made
of. Whatever the operation cannot have touched never enters it: cutters well inside the material
become holes as they are, holes away from every cutter stay as they are.
"""

from __future__ import annotations

import warnings
from collections.abc import Callable, Iterable, Sequence

import numpy as np
import shapely

from platekit.errors import ApproximationWarning, GeometryError
from platekit.geometry.boxes import grown, meeting_pairs, meets
from platekit.geometry.chains import Contour
from platekit.geometry.chords import CHORD_TOLERANCE_MM
from platekit.geometry.profile import Profile
from platekit.geometry.rebuild import NotRebuiltError, Sources, polyline_ring, rebuild_rings
from platekit.geometry.tables import Floats

# Each proof that fails is tried again on finer chords; measured in the design notes: one in
# thousands needs the second rung, none of the recorded ones the last.
LADDER_MM = (CHORD_TOLERANCE_MM, CHORD_TOLERANCE_MM / 5, CHORD_TOLERANCE_MM / 20, 2e-5)
APART_MM = 4 * CHORD_TOLERANCE_MM  # rings further apart than this cannot touch, chords or not
# Pieces and holes thinner than this on average are leavings of rounding, not of the design.
SLIVER_MM = 1e-4

Overlay = Callable[[Sequence[shapely.Geometry]], shapely.Geometry]


# What recipes may write: an outline, a profile, or what a boolean gave back.
Shape = Profile | Contour | tuple[Profile, ...]


def union(*shapes: Shape) -> tuple[Profile, ...]:
    """Return the shapes joined: one piece or several, in order of their lower left corners."""
    return union_all(_given(shapes))


def difference(subject: Shape, *cutters: Shape) -> tuple[Profile, ...]:
    """Return `subject` less every cutter: no piece, one or several."""
    return difference_all(_given([subject]), _given(cutters))


def _given(shapes: Iterable[Shape]) -> tuple[Profile, ...]:
    flat: list[Profile] = []
    for shape in shapes:
        if isinstance(shape, tuple):
            flat += shape
        else:
            flat.append(Profile(shape) if isinstance(shape, Contour) else shape)
    return tuple(flat)


def intersection(*shapes: Shape) -> tuple[Profile, ...]:
    """Return what all the shapes have in common: no piece, one or several.

    Raises:
        GeometryError: No shape is given.
    """
    if not shapes:
        raise GeometryError("an intersection of nothing", remedy="give at least one shape")
    operands = [_given([shape]) for shape in shapes]
    if len(operands) == 1:
        return operands[0]

    def common(parts: Sequence[shapely.Geometry]) -> shapely.Geometry:
        left = parts[0]
        for part in parts[1:]:
            left = shapely.intersection(left, part)
        return left

    return _ordered(_overlay(operands, common))


def union_all(profiles: Iterable[Profile]) -> tuple[Profile, ...]:
    """Return all the profiles joined; those that touch no other pass through as they are."""
    given = list(profiles)
    pieces: list[Profile] = []
    for group in _groups(given):
        if len(group) == 1:
            pieces.append(group[0])
        else:
            pieces += _overlay_near(group, [], lambda parts: shapely.union_all(list(parts)))
    return _ordered(pieces)


def difference_all(subjects: Iterable[Profile], cutters: Iterable[Profile]) -> tuple[Profile, ...]:
    """Return each subject less every cutter. The subjects must lie apart from each other."""
    tools = list(cutters)
    pieces: list[Profile] = []
    for subject in subjects:
        pieces += _cut(subject, tools)
    return _ordered(pieces)


def single(pieces: Sequence[Profile], *, after: str) -> Profile:
    """Return the only piece.

    Raises:
        GeometryError: There is none, or more than one; the message says so after `after`.
    """
    if len(pieces) == 1:
        return pieces[0]
    left = "nothing is left" if not pieces else f"the shape falls into {len(pieces)} pieces"
    raise GeometryError(f"{left} after {after}", remedy="move or shrink what was cut away")


def _cut(subject: Profile, tools: Sequence[Profile]) -> list[Profile]:
    boxes = _boxes([subject, *tools])
    near = meets(grown(boxes[:1], by_mm=APART_MM)[0], boxes[1:])
    tools = [tool for tool, hit in zip(tools, near, strict=True) if hit]
    if not tools:
        return [subject]
    free = _well_inside(subject, tools)
    cut = subject.with_holes(tool.outer for tool, inside in zip(tools, free, strict=True) if inside)
    rest = [tool for tool, inside in zip(tools, free, strict=True) if not inside]
    if not rest:
        return [cut]
    return _overlay_near(
        [cut],
        rest,
        lambda parts: shapely.difference(parts[0], shapely.union_all(list(parts[1:]))),
    )


def _well_inside(subject: Profile, tools: Sequence[Profile]) -> list[bool]:
    """Return which tools are plain, apart from each other, and clear of the subject's edges."""
    boxes = _boxes(tools)
    plain = np.array([not tool.inners for tool in tools])
    one, other = meeting_pairs(grown(boxes, by_mm=APART_MM), boxes)
    plain[one[one != other]] = False
    if not plain.any():
        return [False] * len(tools)
    picked = np.flatnonzero(plain).tolist()
    sources = Sources(subject.rings, CHORD_TOLERANCE_MM)
    body = shapely.Polygon(sources.polygons[0], list(sources.polygons[1:]))
    shapely.prepare(body)
    rings = Sources(tuple(tools[k].outer for k in picked), CHORD_TOLERANCE_MM).polygons
    outlines = [shapely.Polygon(ring) for ring in rings]
    inside = shapely.contains_properly(body, outlines)
    edge = body.boundary
    shapely.prepare(edge)
    plain[picked] = inside & ~shapely.dwithin(edge, outlines, APART_MM)
    return [bool(free) for free in plain]


def _overlay_near(
    group: Sequence[Profile], tools: Sequence[Profile], combine: Overlay
) -> list[Profile]:
    """Overlay with every hole left out that no other operand comes near; they go back after."""
    operands = [*group, *tools]
    boxes = _boxes(operands)
    aside: list[Contour] = []
    thinned: list[list[Profile]] = []
    for k, operand in enumerate(operands):
        if not operand.inners:
            thinned.append([operand])
            continue
        others = np.delete(boxes, k, axis=0)
        rings = np.array([_box(ring) for ring in operand.inners])
        touched = [bool(meets(box, others).any()) for box in grown(rings, by_mm=APART_MM)]
        keep = [ring for ring, hit in zip(operand.inners, touched, strict=True) if hit]
        if k < len(group):
            aside += [ring for ring, hit in zip(operand.inners, touched, strict=True) if not hit]
        else:
            keep = list(operand.inners)  # a tool's hole leaves an island
        thinned.append([Profile.trusted(operand.outer, keep)])
    pieces = _overlay(thinned, combine)
    if not aside:
        return pieces
    homes: list[list[Contour]] = [[] for _ in pieces]
    for ring in aside:
        for k, piece in enumerate(pieces):
            if piece.contains(ring.start):
                homes[k].append(ring)
                break
    return [
        piece.with_holes(rings) if rings else piece
        for piece, rings in zip(pieces, homes, strict=True)
    ]


def _overlay(operands: Sequence[Sequence[Profile]], combine: Overlay) -> list[Profile]:
    rings = tuple(ring for operand in operands for profile in operand for ring in profile.rings)
    for tolerance_mm in LADDER_MM:
        sources = Sources(rings, tolerance_mm)
        try:
            return _rebuilt(_combined(operands, sources, combine), sources)
        except (NotRebuiltError, shapely.GEOSException):
            continue
    warnings.warn(
        "a boolean could not be rebuilt exactly; its rings are polylines within "
        f"{LADDER_MM[-1]:g} mm",
        ApproximationWarning,
        stacklevel=4,
    )
    result = _combined(operands, Sources(rings, LADDER_MM[-1]), combine)
    return [
        Profile(polyline_ring(shell), tuple(polyline_ring(hole) for hole in holes))
        for shell, holes in _pieces(result)
    ]


def _combined(
    operands: Sequence[Sequence[Profile]], sources: Sources, combine: Overlay
) -> shapely.Geometry:
    polygons = iter(sources.polygons)
    parts = []
    for operand in operands:
        drawn = [
            shapely.Polygon(next(polygons), [next(polygons) for _ in profile.inners])
            for profile in operand
        ]
        made: list[shapely.Geometry] = [
            p if p.is_valid else shapely.make_valid(p, method="structure") for p in drawn
        ]
        parts.append(made[0] if len(made) == 1 else shapely.union_all(made))
    return combine(parts)


def _pieces(result: shapely.Geometry) -> list[tuple[Floats, list[Floats]]]:
    """Return shell and holes of every polygon of some substance, shells counter-clockwise."""
    found = []
    for part in shapely.get_parts(result):
        if not isinstance(part, shapely.Polygon) or part.is_empty:
            continue  # points and lines where edges only touch
        if part.area < SLIVER_MM * part.length / 2:
            continue
        piece = shapely.orient_polygons(part)
        holes = [
            shapely.get_coordinates(ring)[:-1]
            for ring in piece.interiors
            if shapely.Polygon(ring).area >= SLIVER_MM * ring.length / 2
        ]
        found.append((shapely.get_coordinates(piece.exterior)[:-1], holes))
    return found


def _rebuilt(result: shapely.Geometry, sources: Sources) -> list[Profile]:
    pieces = _pieces(result)
    rings = rebuild_rings([r for shell, holes in pieces for r in (shell, *holes)], sources)
    made, first = [], 0
    for _, holes in pieces:
        outer, *inners = rings[first : first + 1 + len(holes)]
        first += 1 + len(holes)
        if outer is not None:
            made.append(Profile.trusted(outer, [ring for ring in inners if ring is not None]))
    return made


def _groups(profiles: Sequence[Profile]) -> list[list[Profile]]:
    """Return the profiles in groups whose boxes hang together."""
    if len(profiles) < 2:
        return [[profile] for profile in profiles]
    boxes = grown(_boxes(profiles), by_mm=APART_MM)
    one, other = meeting_pairs(boxes, boxes)
    home = np.arange(len(profiles))
    while True:
        before = home.copy()
        np.minimum.at(home, one, home[other])
        if np.array_equal(before, home):
            break
    return [
        [profiles[k] for k in np.flatnonzero(home == first).tolist()] for first in np.unique(home)
    ]


def _ordered(pieces: Iterable[Profile]) -> tuple[Profile, ...]:
    """Return the pieces, and the holes in each, in order of their lower left corners."""

    def place(ring: Contour) -> tuple[float, float, float]:
        return round(ring.bounds.left, 6), round(ring.bounds.bottom, 6), ring.bounds.top

    ordered = sorted(pieces, key=lambda piece: place(piece.outer))
    return tuple(Profile.trusted(piece.outer, sorted(piece.inners, key=place)) for piece in ordered)


def _box(shape: Profile | Contour) -> tuple[float, float, float, float]:
    b = shape.bounds
    return b.left, b.bottom, b.right, b.top


def _boxes(shapes: Sequence[Profile]) -> Floats:
    return np.array([_box(shape) for shape in shapes])
