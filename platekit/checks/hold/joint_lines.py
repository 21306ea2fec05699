"""Joint lines: where the joints of a panel lie in its plane, and with what they hold."""

from __future__ import annotations

import math
from dataclasses import dataclass

from platekit.assembly.claims import Meeting, meeting, total
from platekit.assembly.layers import taken_apart
from platekit.assembly.made import Made
from platekit.assembly.panels import Panel
from platekit.checks.subject import Subject
from platekit.materials import Sheet

Place = tuple[float, float]
# A tab is so many times as wide as the thicker sheet where nothing is said: as joints are dealt.
USUAL_WIDTH = 3.0


@dataclass(frozen=True, kw_only=True)
class JointLine:
    """A joint of a panel, as a line in the panel's plane.

    Attributes:
        made: What was made of it.
        mate: The other panel.
        start: Where it begins, in the panel's coordinates.
        end: Where it ends.
        length_mm: How much of that is joined.
        layers: Names of the panel's plates that meet the other one.
        own: Sheet of the panel there.
        other: Sheet of the other panel.
        own_mm: Thickness of the panel where they meet.
        other_mm: Thickness of the other one.
        tabbed: Whether the panel's own tabs go into the other one.
        tab_mm: Width of one tab or finger.
        count: How many tabs, or pairs of fingers, press on their neighbours.
    """

    made: Made
    mate: str
    start: Place
    end: Place
    length_mm: float
    layers: tuple[str, ...]
    own: Sheet
    other: Sheet
    own_mm: float
    other_mm: float
    tabbed: bool
    tab_mm: float
    count: int

    @property
    def way(self) -> Place:
        """Unit vector along it."""
        x, y = self.end[0] - self.start[0], self.end[1] - self.start[1]
        length = math.hypot(x, y)
        return x / length, y / length

    @property
    def middle(self) -> Place:
        """Half way along it."""
        return (self.start[0] + self.end[0]) / 2, (self.start[1] + self.end[1]) / 2

    @property
    def what(self) -> str:
        """What one of those that hold is called."""
        return "pair of fingers" if self.made.kind == "fingers" else "tab"

    def spread(self, count: int) -> tuple[Place, ...]:
        """Return so many places evenly along it, as its tabs or screws stand."""
        (ax, ay), (bx, by) = self.start, self.end
        shares = [(k + 0.5) / count for k in range(count)]
        return tuple((ax + share * (bx - ax), ay + share * (by - ay)) for share in shares)

    def halves(self) -> tuple[Place, ...]:
        """Return two places for every tab, by which one tab too holds a moment.

        A single tab is drawn out while its panel's shoulder presses at the end of the line: the
        lever is half the line. Of several, each has the middles of its own halves.
        """
        reach = self.length_mm / 2 if self.tabbed and self.count == 1 else self.tab_mm / 4
        (x, y), spots = self.way, self.spread(self.count)
        return tuple(
            (at[0] + side * reach * x, at[1] + side * reach * y)
            for at in spots
            for side in (-1.0, 1.0)
        )


def joint_lines(subject: Subject, panel: Panel) -> tuple[JointLine, ...]:
    """Return every joint of a panel that is more than a butt, as a line in its plane."""
    if subject.whole is None:
        return ()
    done = subject.whole[1]
    panels = {one.name: one for one in done.panels}
    found: list[JointLine] = []
    for made in done.joints:
        if panel.name not in made.between or made.hold is None:
            continue
        mate = made.between[made.between[0] == panel.name]
        line = _line(subject, panel, panels[mate], made)
        if line is not None:
            found.append(line)
    return tuple(found)


def _line(subject: Subject, panel: Panel, mate: Panel, made: Made) -> JointLine | None:
    owns, others = (taken_apart([one], [])[0] for one in (panel, mate))
    met = [
        (own, other, found)
        for own in owns
        for other in others
        if (found := meeting(own, other)) is not None and found.bars
    ]
    if not met:
        return None
    longest = max((found for _, _, found in met), key=lambda one: total(one.bars))
    low = min(start for start, _ in longest.bars)
    high = max(end for _, end in longest.bars)
    length = total(longest.bars)
    own_layers = {own.name: own for own, _, _ in met}.values()
    other_layers = {other.name: other for _, other, _ in met}.values()
    own_mm, other_mm = (
        sum(one.thickness_mm for one in layers) for layers in (own_layers, other_layers)
    )
    count = _count(made, lines=max(len(own_layers), len(other_layers)))
    return JointLine(
        made=made,
        mate=mate.name,
        start=_seen(panel, longest, low),
        end=_seen(panel, longest, high),
        length_mm=length,
        layers=tuple(plate.name for one in own_layers for plate in one.layers),
        own=next(iter(own_layers)).plate.sheet,
        other=next(iter(other_layers)).plate.sheet,
        own_mm=own_mm,
        other_mm=other_mm,
        tabbed=made.between[0] == panel.name and made.kind not in {"fingers", "halving"},
        tab_mm=_tab_mm(subject, made, length, max(own_mm, other_mm), count),
        count=count,
    )


def _seen(panel: Panel, met: Meeting, s_mm: float) -> Place:
    x, y, _ = panel.frame.coordinates(met.place(s_mm))
    return x, y


def _count(made: Made, *, lines: int) -> int:
    """Return how many tabs press on their neighbours; layers that deal alone count theirs each."""
    tabs = made.tabs // (2 if made.kind == "fingers" else 1)
    return max(1, tabs // max(lines, 1))


def _tab_mm(subject: Subject, made: Made, length: float, thick: float, count: int) -> float:
    """Return how wide a tab is: as asked or as usual, and no wider than there is room for."""
    if made.kind == "fingers":
        return length / max(made.tabs, 1)
    if made.kind == "halving":
        return length / 2
    if made.kind == "passing":
        return length
    if made.kind == "tongue":
        return max(length - 4 * thick, length / 2)
    assembly = None if subject.whole is None else subject.whole[0]
    asked = None
    if assembly is not None:
        names = frozenset(made.between)
        joint = next((one for one in assembly.joints if one.names == names), None)
        asked = getattr(joint, "width_mm", None) or assembly.practice.finger_width_mm
    return float(min(asked or USUAL_WIDTH * thick, length / (count + 1)))
