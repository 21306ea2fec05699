"""Drawings with hidden lines removed: of things in space, what the eye sees of their edges."""

from __future__ import annotations

from collections.abc import Sequence, Set as AbstractSet

import numpy as np

from platekit.geometry.arrangement import cells_between
from platekit.geometry.tables import Bools, Floats, Ints
from platekit.views.camera import Camera
from platekit.views.chaining import chained, straightened
from platekit.views.line_drawing import Face, LineDrawing, Shade, Stroke
from platekit.views.occlusion import Screen, nearest_at, visible
from platekit.views.scene import Shown
from platekit.views.sides import patches_of, seeable
from platekit.views.sight import Sight, sight_of

# Lines shorter than this are shreds: a speck of ink even where a rig is drawn in full size.
HAIR_MM = 0.2
# A face that looks up by more than this (of 1) is lit from above.
LOOKS_UP = 0.5
# A face that looks to the right by more than this (of 1) lies in the shade.
LOOKS_RIGHT = 0.35
SHADES: tuple[Shade, ...] = ("top", "left", "right")


def drawn(
    things: Sequence[Shown], camera: Camera, *, new: AbstractSet[str] = frozenset()
) -> LineDrawing:
    """Return things as an eye sees them: outlines and sharp edges, what lies behind left out.

    Things are solids; what is turned away from the eye is hidden by the thing itself. Where two
    run through each other, which a rig that goes together never does, no line marks the place.

    Args:
        things: What is there, one at least.
        camera: From where it is seen.
        new: Names of what is to be pointed out.

    Raises:
        GeometryError: There is nothing to draw.
    """
    return drawn_in(sight_of(things, camera), new=new)


def drawn_in(sight: Sight, *, new: AbstractSet[str] = frozenset()) -> LineDrawing:
    """Return what `drawn` does, of things that a camera has already.

    Args:
        sight: What is there, and from where it is seen.
        new: Names of what is to be pointed out.
    """
    things, corners = sight.things, sight.corners
    seen = [sight.corners_of(number) for number in range(len(things))]
    found = [seeable(at, one.triangles, one.edges) for at, one in zip(seen, things, strict=True)]
    ends = np.concatenate(
        [some + start for (some, _), start in zip(found, sight.starts, strict=False)]
    )
    outline = np.concatenate([some for _, some in found])
    owner = np.repeat(np.arange(len(things)), [len(some) for some, _ in found])
    which, spans = visible(corners[ends], sight.screen)
    strokes = _strokes(
        things, corners[:, :2], ends, which=which, spans=spans, outline=outline, owner=owner,
        new=new,
    )  # fmt: skip
    partly = np.unique(which)
    tones = np.concatenate(
        [
            number * len(SHADES) + _shades(one, at, sight.camera)
            for number, (one, at) in enumerate(zip(things, seen, strict=True))
        ]
    )
    faces = _faces(things, corners[ends[partly]][:, :, :2], sight.screen, tones=tones, new=new)
    box = np.array([corners[:, :2].min(axis=0), corners[:, :2].max(axis=0)])
    return LineDrawing(strokes=strokes, faces=faces, box=box)


def unhidden(lines: Floats, sight: Sight) -> tuple[tuple[int, Floats], ...]:
    """Return the stretches of straight lines in space that no thing hides.

    Args:
        lines: Their ends in space, mm, shape (n, 2, 3).
        sight: What may stand before them, and from where they are seen.

    Returns:
        Which line each stretch is of, and its ends on the picture, mm, shape (2, 2).
    """
    if not len(lines):
        return ()
    ends = sight.camera.seen(lines.reshape(-1, 3))
    which, spans = visible(ends.reshape(-1, 2, 3), sight.screen)
    start, way = ends[0::2, :2][which], (ends[1::2] - ends[0::2])[which, :2]
    pieces = np.stack([start + spans[:, k : k + 1] * way for k in (0, 1)], axis=1)
    return tuple(
        (int(line), piece)
        for line, piece in zip(which, pieces, strict=True)
        if np.hypot(*(piece[1] - piece[0])) >= HAIR_MM
    )


def _strokes(
    things: Sequence[Shown],
    corners: Floats,
    ends: Ints,
    *,
    which: Ints,
    spans: Floats,
    outline: Bools,
    owner: Ints,
    new: AbstractSet[str],
) -> tuple[Stroke, ...]:
    """Return visible stretches joined into lines, thing by thing, outlines first."""
    start, way = corners[ends[which, 0]], corners[ends[which, 1]] - corners[ends[which, 0]]
    points = np.stack([start + spans[:, k : k + 1] * way for k in (0, 1)], axis=1)
    # A stretch that reaches its edge's end goes on in the next edge there; else it ends alone.
    alone = len(corners) + np.arange(2 * len(which)).reshape(-1, 2)
    whole = np.stack([spans[:, 0] == 0.0, spans[:, 1] == 1.0], axis=1)
    nodes = np.where(whole, ends[which], alone)
    group = 2 * owner[which] + ~outline[which]
    order = np.argsort(group, kind="stable")
    strokes: list[Stroke] = []
    for some in np.split(order, np.flatnonzero(np.diff(group[order])) + 1):
        if len(some) == 0:
            continue
        number, is_edge = divmod(int(group[some[0]]), 2)
        place = dict(
            zip(nodes[some].reshape(-1).tolist(), points[some].reshape(-1, 2), strict=True)
        )
        name = things[number].name
        for walk in chained(nodes[some]):
            line = np.array([place[node] for node in walk])
            if np.hypot(*np.diff(line, axis=0).T).sum() < HAIR_MM:
                continue
            strokes.append(
                Stroke(
                    points=straightened(line),
                    thing=name,
                    kind="edge" if is_edge else "outline",
                    new=name in new,
                )
            )
    return tuple(strokes)


def _faces(
    things: Sequence[Shown],
    lines: Floats,
    screen: Screen,
    *,
    tones: Ints,
    new: AbstractSet[str],
) -> tuple[Face, ...]:
    """Return the regions between lines with what is seen in them; tones tell thing and shade.

    Edges go in at full length, seen or not: then they cross where one hides the other, and no
    region leaks into the next.
    """
    cells = cells_between(lines)
    triangle = nearest_at(cells.inside, screen)
    labels = np.where(triangle < 0, -1, tones[triangle])
    faces = []
    for label, rings in cells.together(labels):
        number, tone = divmod(label, len(SHADES))
        one = things[number]
        faces.append(
            Face(
                rings=rings,
                thing=one.name,
                kind=one.kind,
                new=one.name in new,
                shade=SHADES[tone],
            )
        )
    return tuple(faces)


def _shades(one: Shown, seen: Floats, camera: Camera) -> Ints:
    """Return which way each triangle of a thing looks, as places in `SHADES`.

    A smooth face has one shade all over: that of what is seen of it, taken together.
    """
    patch = patches_of(one.triangles, one.edges)
    a, b, c = (seen[one.triangles[:, k]] for k in range(3))
    normal = np.cross(b - a, c - a)
    whole = np.zeros((len(patch), 3))
    front = normal[:, 2] > 0.0
    np.add.at(whole, patch[front], normal[front])
    length = np.linalg.norm(whole, axis=1)
    whole /= np.where(length == 0.0, 1.0, length)[:, None]
    up = whole @ camera.axes[:, 2] > LOOKS_UP
    tone = np.where(up, 0, np.where(whole[:, 0] > LOOKS_RIGHT, 2, 1))
    return np.asarray(tone[patch], dtype=np.intp)
