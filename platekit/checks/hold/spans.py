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
# A joint beneath a foot holds it up beside its axis from this share of the way to the next joint
# on; one nearer bends along itself, and counts as the rib of the other span. Common practice, no
# source.
BESIDE = 0.25


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
        near: The span to the joints that pass beneath the foot; None where none does.
        near_share: How far from the axis these lie, of the foot's radius.
    """

    before_mm: float
    after_mm: float
    breadth_mm: float
    thickness_mm: float
    name: str
    rib_mm: tuple[float, float] | None = None
    near: Span | None = None
    near_share: float = 0.0

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

    A joint counts where it passes beside the device's axis, outside its foot; one that passes
    beneath the foot holds it up, and ends the span within the span.
    """
    found = []
    x, y, _ = seat.panel.frame.coordinates(seat.reaction.device.frame.origin)
    for way, here, beside in ((0, x, y), (1, y, x)):
        across = _Across(seat=seat, lines=lines, subject=subject, foot_mm=foot_mm, way=way)
        ends = sorted(
            (line.middle[way] - here, line.own_mm, line.mate)
            for line in lines
            if abs(line.way[way]) < STRAIGHT and _covers(line, 1 - way, beside)
        )
        before = [end for end in ends if end[0] < -foot_mm]
        after = [end for end in ends if end[0] > foot_mm]
        if not before or not after:
            continue
        under = [
            end
            for end in ends
            if abs(end[0]) <= foot_mm
            and abs(end[0]) >= BESIDE * abs((before[-1] if end[0] < 0.0 else after[0])[0])
        ]
        # Of those beneath the foot the outermost on either side.
        first = next((end for end in under if end[0] < 0.0), before[-1])
        last = next((end for end in reversed(under) if end[0] > 0.0), after[0])
        span = across.span(before[-1], after[0])
        if under:
            span = replace(
                span,
                near=across.span(first, last),
                near_share=max(abs(end[0]) for end in under) / foot_mm,
            )
        found.append(span)
    return tuple(found)


_End = tuple[float, float, str]


@dataclass(frozen=True, kw_only=True)
class _Across:
    """One way of a panel over a device: 0 along its x, 1 along its y."""

    seat: Seat
    lines: Sequence[JointLine]
    subject: Subject
    foot_mm: float
    way: int

    def span(self, near: _End, far: _End) -> Span:
        """Return the span between two joints, each by its distance, thickness and mate."""
        box, way = self.seat.panel.bounds, self.way
        place = self.seat.panel.frame.coordinates(self.seat.reaction.device.frame.origin)
        here, beside = place[way], place[1 - way]
        ribs = [
            line
            for line in self.lines
            if abs(line.way[1 - way]) < STRAIGHT
            and abs(line.middle[1 - way] - beside) <= self.foot_mm
            and line.own.material.name == line.other.material.name
            and _covers(line, way, here + 0.9 * near[0])
            and _covers(line, way, here + 0.9 * far[0])
        ]
        ends = {near[2], far[2]}
        sizes = [_rib_mm(self.seat, line, self.subject, ends=ends) for line in ribs]
        return Span(
            before_mm=-near[0],
            after_mm=far[0],
            breadth_mm=(box.height_mm, box.width_mm)[way],
            thickness_mm=min(near[1], far[1]),
            name=f"{near[2]} to {far[2]}",
            rib_mm=max(sizes, default=None),
        )


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
