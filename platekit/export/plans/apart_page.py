"""The rig taken apart on one page, every plate and device named."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from platekit.assembly.proof.things import ThingKind
from platekit.export.plans.contents import PlansOf
from platekit.export.plans.line_picture import Fitted, fitted, picture
from platekit.export.plans.printing.furniture import Leaf, head, shortened
from platekit.export.plans.printing.lettering import SMALL_MM, broken, width_of
from platekit.export.plans.printing.paper import BAR_MM, HEAD_MM, MARGIN_MM
from platekit.export.plans.printing.pens import FAINT, INK, QUIET, Stroke
from platekit.export.plans.printing.press import Press
from platekit.geometry.tables import Floats
from platekit.views.camera import ISOMETRIC
from platekit.views.hidden import drawn_in, unhidden
from platekit.views.line_drawing import LineDrawing
from platekit.views.scene import Scene
from platekit.views.sight import sight_of
from platekit.views.steps import Guide
from platekit.views.traces import traces

NAMED = frozenset({ThingKind.PLATE, ThingKind.DEVICE, ThingKind.PULLEY, ThingKind.BELT})
LABEL_MM, ROW_MM, LINE_MM, DOT_MM = 34.0, 4.2, 3.0, 0.5
LEADER = Stroke(width_mm=0.13, colour=FAINT)
# A face smaller than this on paper has no room for the end of a leader.
LEAST_MM2 = 1.0


def apart_leaves(plans: PlansOf) -> tuple[Leaf, ...]:
    """Return the page of the rig taken apart; none where there is but one thing."""
    if plans.scene is None or len(plans.scene.things) < 2:
        return ()
    sight = sight_of(plans.scene.apart().things, ISOMETRIC)
    drawing = drawn_in(sight)
    seats = [Guide(points=ends, kind="axis") for _, ends in unhidden(traces(plans.scene), sight)]
    short, long = plans.paper.reading_mm
    level = drawing.width_mm > drawing.height_mm
    width, height = (long, short) if level else (short, long)
    scene = plans.scene

    def draw(press: Press, number: str) -> None:
        head(press, leaf, title=plans.name, says=leaf.called, number=number)
        room = (
            MARGIN_MM + LABEL_MM,
            MARGIN_MM + BAR_MM,
            width - 2 * MARGIN_MM - 2 * LABEL_MM,
            height - 2 * MARGIN_MM - HEAD_MM - BAR_MM,
        )
        picture(press, drawing, room=room, guides=seats)
        _labels(press, scene, drawing, fitted(drawing, room, guides=seats), room)

    leaf = Leaf(width_mm=width, height_mm=height, called="taken apart", draw=draw)
    return (leaf,)


def _labels(
    press: Press,
    scene: Scene,
    drawing: LineDrawing,
    fit: Fitted,
    room: tuple[float, float, float, float],
) -> None:
    """Write names at both sides, a leader from each to the face of what it names."""
    names = [one.name for one in scene.things if one.kind in NAMED]
    spots = _spots(drawing, fit, names)
    middle = room[0] + room[2] / 2
    for side in (-1.0, 1.0):
        mine = sorted(
            (at for at in spots.items() if (at[1][0] > middle) == (side > 0)),
            key=lambda one: -one[1][1],
        )
        said = _said([name for name, _ in mine], room[3])
        row = ROW_MM + LINE_MM * (max(map(len, said), default=1) - 1)
        heights = _spread([one[1][1] for one in mine], room[1], room[1] + room[3], row)
        for lines, (_, (x, y)), level in zip(said, mine, heights, strict=True):
            wide = max(width_of(line, size_mm=SMALL_MM) for line in lines)
            edge = room[0] - LABEL_MM if side < 0 else room[0] + room[2] + LABEL_MM
            inner = edge - side * (wide + 1.0)
            press.line((inner, level), (x, y), stroke=LEADER)
            press.disc(x, y, radius_mm=DOT_MM, fill=QUIET)
            foot = level - 0.3 * SMALL_MM + LINE_MM * (len(lines) - 1) / 2
            for k, line in enumerate(lines):
                press.text(
                    line,
                    edge,
                    foot - LINE_MM * k,
                    size_mm=SMALL_MM,
                    anchor="start" if side < 0 else "end",
                    colour=INK,
                )


def _said(names: list[str], height_mm: float) -> list[tuple[str, ...]]:
    """Return the lines of each label, as many as there is height for, before a name is cut."""
    if not names:
        return []
    room = LABEL_MM - 3.0
    most = max(1, 1 + int((height_mm / len(names) - ROW_MM) // LINE_MM))
    said = []
    for name in names:
        lines = broken(name, width_mm=room, size_mm=SMALL_MM)
        rest = shortened(" ".join(lines[most - 1 :]), width_mm=room, size_mm=SMALL_MM)
        said.append(lines if len(lines) <= most else (*lines[: most - 1], rest))
    return said


def _spots(
    drawing: LineDrawing, fit: Fitted, names: Iterable[str]
) -> dict[str, tuple[float, float]]:
    """Return where leaders end: in the middle of the largest face that is seen of each thing."""
    best: dict[str, tuple[float, Floats]] = {}
    wanted = set(names)
    for face in drawing.faces:
        if face.thing not in wanted:
            continue
        ring = face.rings[0]
        area = _area(ring) - sum(abs(_area(hole)) for hole in face.rings[1:])
        if area * fit.scale**2 >= LEAST_MM2 and area > best.get(face.thing, (0.0, ring))[0]:
            best[face.thing] = area, _inside(face.rings)
    return {name: fit.at(spot[None])[0] for name, (_, spot) in sorted(best.items())}


def _area(ring: Floats) -> float:
    x, y = ring[:, 0], ring[:, 1]
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2


def _inside(rings: tuple[Floats, ...]) -> Floats:
    """Return a spot inside a face: amidst its longest stretch along one of a few level lines."""
    low, high = rings[0][:, 1].min(), rings[0][:, 1].max()
    best = (0.0, rings[0].mean(axis=0))
    for share in (0.5, 0.4, 0.6, 0.25, 0.75):
        y = low + share * (high - low)
        cuts = []
        for ring in rings:
            ends = np.roll(ring, -1, axis=0)
            crosses = (ring[:, 1] > y) != (ends[:, 1] > y)
            a, b = ring[crosses], ends[crosses]
            cuts += list(a[:, 0] + (y - a[:, 1]) / (b[:, 1] - a[:, 1]) * (b[:, 0] - a[:, 0]))
        cuts.sort()
        for left, right in zip(cuts[::2], cuts[1::2], strict=False):
            if right - left > best[0]:
                best = (right - left, np.array([(left + right) / 2, y]))
    return np.asarray(best[1], dtype=float)


def _spread(wished: list[float], low: float, high: float, row: float) -> list[float]:
    """Return heights for labels, from above, each near its wish and clear of the one before."""
    step = min(row, (high - low) / max(1, len(wished)))
    placed: list[float] = []
    for k, wish in enumerate(wished):
        below = low + step * (len(wished) - k - 0.5)
        above = placed[-1] - step if placed else high - step / 2
        placed.append(min(above, max(below, wish)))
    return placed
