"""Spans: how far a panel reaches free between the joints round a device."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from platekit.checks.hold.around import rim_mm
from platekit.checks.hold.joint_lines import JointLine
from platekit.checks.hold.seats import Seat
from platekit.checks.subject import Subject

# A joint lies along x or y of its panel when its other share is below this; others carry nothing.
STRAIGHT = 0.02
ON_FACE_MM = 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """A panel between two joints that lie across one way of it.

    Attributes:
        before_mm: From the device's axis to the joint on one side.
        after_mm: To the one on the other.
        breadth_mm: How broad the panel is across the span.
        thickness_mm: Of what reaches the joints.
        name: Names of what lies at both ends.
        rib_mm: Depth and thickness of a panel of the same sheet that is joined under the foot
            along the span; None where none is.
    """

    before_mm: float
    after_mm: float
    breadth_mm: float
    thickness_mm: float
    name: str
    rib_mm: tuple[float, float] | None = None

    @property
    def length_mm(self) -> float:
        """From joint to joint."""
        return self.before_mm + self.after_mm

    @property
    def longer_mm(self) -> float:
        """From the axis to the joint that lies farther."""
        return max(self.before_mm, self.after_mm)


def spans(
    seat: Seat, lines: Sequence[JointLine], subject: Subject, *, foot_mm: float
) -> tuple[Span, ...]:
    """Return the panel's spans over a device, along its x and its y where both ends are joined.

    A joint counts where it passes beside the device's axis, outside its foot.
    """
    found = []
    x, y, _ = seat.panel.frame.coordinates(seat.reaction.device.frame.origin)
    box = seat.panel.bounds
    for way, here, beside, breadth in ((0, x, y, box.height_mm), (1, y, x, box.width_mm)):
        ends = sorted(
            (line.middle[way] - here, line.own_mm, line.mate)
            for line in lines
            if abs(line.way[way]) < STRAIGHT and _covers(line, 1 - way, beside)
        )
        before = [end for end in ends if end[0] < -foot_mm]
        after = [end for end in ends if end[0] > foot_mm]
        if not before or not after:
            continue
        near, far = before[-1], after[0]
        span = Span(
            before_mm=-near[0],
            after_mm=far[0],
            breadth_mm=breadth,
            thickness_mm=min(near[1], far[1]),
            name=f"{near[2]} to {far[2]}",
        )
        ribs = [
            line
            for line in lines
            if abs(line.way[1 - way]) < STRAIGHT
            and abs(line.middle[1 - way] - beside) <= foot_mm
            and line.own.material.name == line.other.material.name
            and _covers(line, way, here - 0.9 * span.before_mm)
            and _covers(line, way, here + 0.9 * span.after_mm)
        ]
        sizes = [_rib_mm(seat, line, subject, ends={near[2], far[2]}) for line in ribs]
        found.append(replace(span, rib_mm=max(sizes, default=None)))
    return tuple(found)


def _rib_mm(
    seat: Seat, line: JointLine, subject: Subject, *, ends: set[str]
) -> tuple[float, float]:
    """Return depth and thickness of a rib; half the depth where another panel halves it midway."""
    if subject.whole is None:
        return 0.0, line.other_mm
    done = subject.whole[1]
    rib = next(panel for panel in done.panels if panel.name == line.mate)
    u, v = (abs(way.dot(seat.panel.frame.n)) for way in (rib.frame.u, rib.frame.v))
    depth = u * rib.bounds.width_mm + v * rib.bounds.height_mm
    halved = any(
        one.kind == "halving" and rib.name in one.between and not ends.intersection(one.between)
        for one in done.joints
    )
    return depth / 2 if halved else depth, line.other_mm


def foot_mm(seat: Seat, lines: Sequence[JointLine]) -> float:
    """Return the radius within which a panel stays flat under a device.

    That of its screws, else of its foot; or that of rings glued on there that do not reach the
    panel's joints, where they make it twice as thick or more.
    """
    ring = _ring_mm(seat, {name for line in lines for name in line.layers})
    if len(seat.points) > 1 and seat.screws:
        return max(ring, *(math.hypot(x, y) for x, y in seat.points))
    blocks = seat.reaction.device.device.blocks
    boxes = [one.profile.bounds for one in blocks if one.low_mm <= ON_FACE_MM < one.high_mm]
    feet = (min(box.width_mm, box.height_mm) / 2 for box in boxes)
    return max(ring, *feet, 0.0)


def _ring_mm(seat: Seat, joined: set[str]) -> float:
    """Return how far layers that reach no joint stiffen the panel about the device's axis."""
    rings = [layer for layer in seat.layers if layer[0].name not in joined]
    thick = sum(part.sheet.thickness_mm for part, _ in rings)
    if not rings or not joined or 2 * thick < seat.panel.thickness_mm:
        return 0.0
    return min(rim_mm(layer[0].profile, seat.on_plate(layer)) for layer in rings)


def _covers(line: JointLine, axis: int, at_mm: float) -> bool:
    low, high = sorted((line.start[axis], line.end[axis]))
    return low <= at_mm <= high
