"""Steps of assembly as pictures: what is there, and what comes next, on its way to its place."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from platekit.assembly.frames import Vector
from platekit.assembly.mounting.bodies import Fastening
from platekit.assembly.proof import Step
from platekit.errors import UnknownNameError
from platekit.geometry.tables import Floats
from platekit.views.apart import Apart
from platekit.views.camera import Camera
from platekit.views.choosing import chosen_sight
from platekit.views.glue import HATCH_SHARE, Contact, contacts, hatching
from platekit.views.hidden import drawn_in, unhidden
from platekit.views.layups import LayUpView, layup_view
from platekit.views.line_drawing import LineDrawing
from platekit.views.scene import Scene, Shown
from platekit.views.sight import sight_of

# Air between a thing on its way and what it goes to, in parts of the size of all that is there.
AIR_SHARE, SCREW_AIR_SHARE = 0.06, 0.03
# Nothing is moved back further than this: a long shaft is shown half in its bore.
FURTHEST_SHARE = 0.6
# Length of the arrow behind what is brought in, and its distance from it.
ARROW_SHARE, ARROW_AIR_SHARE = 0.11, 0.03
# Room that is kept free to both sides of it, in the same parts.
ARROW_ROOM_SHARE = 0.025
# A way that the picture shows shorter than this (of 1) points at the reader: no arrow.
TOWARDS_READER = 0.25
ROUND_MM = 1e-6

GuideKind = Literal["path", "axis", "arrow"]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Guide:
    """A line that shows the way.

    Attributes:
        points: Its two ends, mm on the picture, y up, shape (2, 2); an arrow points to the second.
        kind: ``path`` from a thing to its place, ``axis`` of a screw, ``arrow`` behind what moves.
    """

    points: Floats
    kind: GuideKind


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class StepView:
    """One step as a picture.

    Attributes:
        number: The step's number, from 1.
        drawing: What is there, and what is new on its way.
        guides: Where it goes.
        glue: Hatching where glue goes, as far as it is seen: ends of each line, mm on the picture,
            y up, shape (2, 2).
        camera: From where it is seen.
        new: Names of what is new.
        things: What is there, what is new moved back.
        layup: The layers that what is brought in is glued of before; None for no laminate.
    """

    number: int
    drawing: LineDrawing
    guides: tuple[Guide, ...]
    glue: tuple[Floats, ...]
    camera: Camera
    new: frozenset[str]
    things: tuple[Shown, ...]
    layup: LayUpView | None = None

    @property
    def box(self) -> Floats:
        """Least and greatest x, y of everything, guides as well, mm, shape (2, 2)."""
        points = np.concatenate([self.drawing.box, *(one.points for one in self.guides)])
        return np.array([points.min(axis=0), points.max(axis=0)])


def step_views(scene: Scene | None) -> tuple[StepView, ...]:
    """Return every step of a rig as a picture; none where there is but one, or nothing in space."""
    if scene is None or len(scene.steps) < 2:
        return ()
    return tuple(step_view(scene, number) for number in range(1, len(scene.steps) + 1))


def step_view(scene: Scene, number: int, *, camera: Camera | None = None) -> StepView:
    """Return one step as a picture.

    What is brought in stands a little back along the way it comes, screws along their axes; the
    first thing of a heap just lies there. What belongs to another heap is not shown.

    Args:
        scene: The rig.
        number: Which step, from 1.
        camera: From where; None for the first of a few views that shows enough of what is new.

    Raises:
        UnknownNameError: There is no such step.
    """
    if not 1 <= number <= len(scene.steps):
        raise UnknownNameError.among(
            "step", str(number), [str(k + 1) for k in range(len(scene.steps))]
        )
    there = scene.after(number)
    new = _new(scene, number, there)
    moved = _moved(scene, number, there, new)
    shown = [one.moved(Vector(*moved[one.name])) if one.name in moved else one for one in there]
    step = scene.steps[number - 1]
    if camera is None:
        sight = chosen_sight(shown, frozenset(step.things) & new or new)
    else:
        sight = sight_of(shown, camera)
    camera, drawing = sight.camera, drawn_in(sight, new=new)
    size = float(np.hypot(drawing.width_mm, drawing.height_mm))
    screws = [one for one in scene.fastenings if one.name in step.fasteners]
    kinds, lines = _ways(there, moved, step, screws, camera)
    glue = _hatched(_glued(scene, there, new), moved, camera, apart_mm=HATCH_SHARE * size)
    free = unhidden(np.concatenate([np.array(lines).reshape(-1, 2, 3), glue]), sight)
    guides = [
        *(Guide(points=points, kind=kinds[k]) for k, points in free if k < len(kinds)),
        *_arrow(there, moved, step, camera, size_mm=size),
    ]
    return StepView(
        number=number,
        drawing=drawing,
        guides=tuple(guides),
        glue=tuple(points for k, points in free if k >= len(kinds)),
        camera=camera,
        new=new,
        things=tuple(shown),
        layup=_layup(scene, step),
    )


def _layup(scene: Scene, step: Step) -> LayUpView | None:
    """Return the layers of a laminate that a step brings in by itself."""
    if step.brings:
        return None
    found = [one for one in scene.layups if one.name in step.things]
    return layup_view(found[0]) if found else None


def _glued(scene: Scene, there: Sequence[Shown], new: frozenset[str]) -> list[Contact]:
    """Return the faces that are glued to each other in a step, in their places."""
    known = {one.name: one for one in there}
    pairs = [one for one in scene.glued if len(new.intersection(one.between)) == 1]
    return [contact for pair in pairs for contact in contacts(known, pair)]


def _hatched(
    glued: Sequence[Contact], moved: dict[str, Floats], camera: Camera, *, apart_mm: float
) -> Floats:
    """Return hatching of faces where what is new stands moved back, shape (n, 2, 3)."""
    lines = [np.empty((0, 2, 3))]
    for contact in glued:
        hatched = hatching(contact, camera, apart_mm=apart_mm)
        lines += [
            some + moved.get(name, 0.0) for name, some in zip(contact.names, hatched, strict=True)
        ]
    return np.concatenate(lines)


def _new(scene: Scene, number: int, there: Sequence[Shown]) -> frozenset[str]:
    """Return the names of what a step adds to its heap."""
    heap = scene.steps[number - 1].heap
    earlier = [k for k in range(1, number) if scene.steps[k - 1].heap == heap]
    old = {one.name for one in scene.after(earlier[-1])} if earlier else set()
    return frozenset(one.name for one in there if one.name not in old)


def _moved(
    scene: Scene, number: int, there: Sequence[Shown], new: frozenset[str]
) -> dict[str, Floats]:
    """Return how far what is new is moved back, by name."""
    step = scene.steps[number - 1]
    old = [one.name for one in there if one.name not in new]
    boxes = {one.name: one.box for one in there}
    low = np.min([box[0] for box in boxes.values()], axis=0)
    high = np.max([box[1] for box in boxes.values()], axis=0)
    size = float(np.linalg.norm(high - low))
    plates = {plate: one.name for one in there for plate in one.plates}
    rig = Apart(boxes, plates, {name: np.zeros(3) for name in boxes})
    screws = {one.name: one for one in scene.fastenings}
    driven = [name for name in step.fasteners if name in boxes and name in screws]
    block = [name for name in new if name not in driven]
    back = -np.array(step.way)
    rig.clear(sorted(block), old, back, AIR_SHARE * size)
    if block and old:
        own = np.array([boxes[name] for name in block])
        thick = float(np.abs(back) @ (own[:, 1].max(axis=0) - own[:, 0].min(axis=0)))
        length = max(float(np.linalg.norm(rig.moved[block[0]])), thick + AIR_SHARE * size)
        rig.moved |= dict.fromkeys(block, back * min(length, FURTHEST_SHARE * size))
    for name in driven:
        rig.draw_out(screws[name], air_mm=SCREW_AIR_SHARE * size)
    return {name: rig.moved[name] for name in new if np.abs(rig.moved[name]).max() > ROUND_MM}


def _ways(
    there: Sequence[Shown],
    moved: dict[str, Floats],
    step: Step,
    screws: Sequence[Fastening],
    camera: Camera,
) -> tuple[list[GuideKind], list[Floats]]:
    """Return the ways things take, in space: from the flanks of what is brought in, from tips."""
    kinds: list[GuideKind] = []
    lines: list[Floats] = []
    some = [one for one in there if one.name in step.things and one.name in moved]
    if some:
        by = moved[some[0].name]
        corners = np.concatenate([one.corners for one in some])
        x, y = camera.seen(by[None])[0, :2]
        flank = camera.seen(corners)[:, :2] @ np.array([-y, x])
        for end in corners[[int(flank.argmin()), int(flank.argmax())]]:
            kinds.append("path")
            lines.append(np.array([end + by, end]))
    bodies = {one.name: one for one in there if one.name in moved}
    for one in screws:
        if one.name in bodies:
            kinds.append("axis")
            lines.append(_axis(bodies[one.name], one, moved[one.name]))
    return kinds, lines


def _axis(one: Shown, screw: Fastening, by: Floats) -> Floats:
    way = np.array(screw.way)
    middle = one.box.mean(axis=0)
    tip = middle + way * float(((one.corners - middle) @ way).min())
    # Where what it holds came along from another side, the axis ends where it stands now.
    return np.array([tip + by, tip + by - way * float(by @ way)])


def _arrow(
    there: Sequence[Shown],
    moved: dict[str, Floats],
    step: Step,
    camera: Camera,
    *,
    size_mm: float,
) -> list[Guide]:
    """Return an arrow that comes from behind what is brought in, and from behind its screws."""
    if not any(name in moved for name in step.things):
        return []
    way = np.array(camera.on_picture(step.way))
    length = float(np.hypot(*way))
    if length < TOWARDS_READER:
        return []
    way /= length
    across = np.array([-way[1], way[0]])
    sides = []
    for one in there:
        if one.name in moved:
            spots = camera.seen(one.corners + moved[one.name])[:, :2]
            sides.append(spots[one.triangles[:, [[0, 1], [1, 2], [2, 0]]].reshape(-1, 2)])
    ends = np.concatenate(sides)
    along, beside = ends @ way, ends @ across
    middle = float(beside.min() + beside.max()) / 2
    rear = _rear(along, beside - middle, ARROW_ROOM_SHARE * size_mm)
    tip = way * (rear - ARROW_AIR_SHARE * size_mm) + across * middle
    return [Guide(points=np.array([tip - way * ARROW_SHARE * size_mm, tip]), kind="arrow")]


def _rear(along: Floats, beside: Floats, room_mm: float) -> float:
    """Return where sides of a mesh that come near a line first do so.

    Args:
        along: How far along the line both ends of each side lie, shape (n, 2).
        beside: How far beside it, shape (n, 2).
        room_mm: What comes nearer than this is near.
    """
    (a, b), (x, y) = along.T, beside.T
    across = np.where(x == y, 1.0, y - x)
    ends = np.sort(np.stack([-room_mm - x, room_mm - x]) / across, axis=0)
    low = np.where(x == y, 0.0, np.clip(ends[0], 0.0, 1.0))
    high = np.where(x == y, 1.0, np.clip(ends[1], 0.0, 1.0))
    near = np.where(x == y, np.abs(x) <= room_mm, (ends[0] <= 1.0) & (ends[1] >= 0.0))
    if not near.any():
        return float(along.min())
    at = np.minimum(a + (b - a) * low, a + (b - a) * high)
    return float(at[near].min())
