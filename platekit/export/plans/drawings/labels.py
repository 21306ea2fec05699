"""Numbers and radii on a drawing: each beside what it names, over no line and no other."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from platekit.export.plans.printing.lettering import CAPITAL, width_of
from platekit.export.plans.printing.pens import FINE
from platekit.export.plans.printing.placing import Ground, around
from platekit.export.plans.printing.press import Press
from platekit.geometry.tables import Floats

Spot = tuple[float, float]
Box = tuple[float, float, float, float]

# Lines that labels keep clear of are felt by points so far apart.
FEEL_MM = 0.6
# Air around a label.
AIR_MM = 0.35
# From what it names to a label, and how much further one may stand that a line leads to.
OFF_MM = 1.0
LEADS_MM = (3.0, 5.0, 7.5, 10.5, 14.0, 18.0)
LEAD_WAYS = 16
# By so much a label is nearer to what it names than to anything else.
NEARER_MM = 0.3
ARROW_MM, ARROW_HALF_MM = 2.4, 0.4


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """What a label names.

    Attributes:
        said: The label.
        at: Its middle, and
        half_mm: how far it reaches from there.
        is_round: Whether it is a hole, or a corner, that labels stand around.
        is_inside: Whether a label without a line has to stand on the part.
    """

    said: str
    at: Spot
    half_mm: tuple[float, float]
    is_round: bool = False
    is_inside: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """A label in its place, and the line that leads to it where it stands away."""

    said: str
    x_mm: float
    y_mm: float
    size_mm: float
    lead: tuple[Spot, ...] = ()
    arrow: bool = False

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top of its letters."""
        wide = width_of(self.said, size_mm=self.size_mm)
        return self.x_mm, self.y_mm, self.x_mm + wide, self.y_mm + self.size_mm * CAPITAL

    def draw(self, press: Press) -> None:
        """Draw it."""
        press.text(self.said, self.x_mm, self.y_mm, size_mm=self.size_mm)
        if not self.lead:
            return
        press.line(*self.lead, stroke=FINE)
        if self.arrow:
            (x, y), (u, v) = self.lead[0], self.lead[1]
            long = math.hypot(u - x, v - y)
            dx, dy = (u - x) / long * ARROW_MM, (v - y) / long * ARROW_MM
            ax, ay = -dy * ARROW_HALF_MM / ARROW_MM, dx * ARROW_HALF_MM / ARROW_MM
            press.area((x, y), (x + dx + ax, y + dy + ay), (x + dx - ax, y + dy - ay))


class Field:
    """The ground of a drawing: what its lines and letters take of the page.

    Args:
        room: What of the page labels may stand on.
        part: What the part takes of it.
    """

    def __init__(self, room: Box, part: Box) -> None:
        self._ground = Ground()
        self._room, self._part = room, part
        self._named: Floats = np.empty((0, 4))

    @property
    def part(self) -> Box:
        """What the part takes of the page."""
        return self._part

    def copy(self) -> Field:
        """Return the same ground, to be taken by other labels."""
        other = Field(self._room, self._part)
        other._ground, other._named = self._ground.copy(), self._named
        return other

    def take_points(self, points: Floats) -> None:
        """Let points, shape (n, 2), be taken."""
        self._ground.take_points(points)

    def take_lines(self, lines: Iterable[Sequence[Spot]]) -> None:
        """Let straight lines from spot to spot be taken."""
        several = [_felt(a, b) for line in lines for a, b in pairwise(line)]
        if several:
            self.take_points(np.concatenate(several))

    def take(self, box: Sequence[float]) -> None:
        """Let a box be taken."""
        self._ground.take(box)

    def place(self, tries: Iterable[Spot], size: tuple[float, float]) -> Spot | None:
        """Return the first left lower corner at which words are free and on the part; take it."""
        on_part = (
            (x, y) for x, y in tries if _is_within(self._part, (x, y, x + size[0], y + size[1]))
        )
        return self._ground.place(on_part, size)

    def know(self, several: Iterable[Named]) -> None:
        """Know all that will be named: a label without a line stands nearest to what it names."""
        self._named = np.array([(*one.at, *one.half_mm) for one in several]).reshape(-1, 4)

    def label(self, named: Named, size_mm: float, *, may_lead: bool) -> Label | None:
        """Return a label where there is room for it, and take it; None where there is none."""
        wide, high = width_of(named.said, size_mm=size_mm), size_mm * CAPITAL
        size = wide + 2 * AIR_MM, high + 2 * AIR_MM
        room = self._part if named.is_inside else self._room
        tries = (
            spot
            for spot in _beside(named, size)
            if _is_within(room, (*spot, spot[0] + size[0], spot[1] + size[1]))
            and self._is_nearest(named, spot, size)
        )
        found = self._ground.place(tries, size)
        if found is not None:
            return Label(
                said=named.said, x_mm=found[0] + AIR_MM, y_mm=found[1] + AIR_MM, size_mm=size_mm
            )
        return self._led(named, size, size_mm) if may_lead else None

    def _led(self, named: Named, size: tuple[float, float], size_mm: float) -> Label | None:
        x, y = named.at
        edge = min(named.half_mm)
        for far in LEADS_MM:
            for k in range(LEAD_WAYS):
                angle = math.tau * (k + 0.5) / LEAD_WAYS
                way = math.cos(angle), math.sin(angle)
                end = x + (edge + far) * way[0], y + (edge + far) * way[1]
                # The line meets the label's nearest side or corner.
                left = end[0] - size[0] * (1.0 - way[0]) / 2
                bottom = end[1] - size[1] * (1.0 - way[1]) / 2
                box = left, bottom, left + size[0], bottom + size[1]
                if _is_within(self._room, box) and self._ground.is_free(box):
                    self._ground.take(box)
                    start = x + edge * way[0], y + edge * way[1]
                    self.take_lines([(start, end)])
                    return Label(
                        said=named.said,
                        x_mm=left + AIR_MM,
                        y_mm=bottom + AIR_MM,
                        size_mm=size_mm,
                        lead=(start, end),
                    )
        return None

    def radius(
        self, said: str, places: Sequence[tuple[Spot, Spot]], size_mm: float
    ) -> Label | None:
        """Return a label with an arrow onto one of several arcs, and take it.

        Args:
            said: The radius in words.
            places: Middle of each arc, and the direction away from its centre.
            size_mm: Size of the type.
        """
        wide, high = width_of(said, size_mm=size_mm), size_mm * CAPITAL
        for far in (4.0, 6.0, 9.0, 13.0, 18.0, 25.0):
            for (x, y), (ax, ay) in places:
                for sign in (1.0, -1.0):
                    for turn in (0.0, 0.3, -0.3, 0.6, -0.6):
                        c, s = math.cos(turn), math.sin(turn)
                        way = sign * (ax * c - ay * s), sign * (ax * s + ay * c)
                        knee = x + far * way[0], y + far * way[1]
                        # A short level shelf, the figure behind it.
                        right = way[0] >= 0
                        shelf = knee[0] + (1.5 if right else -1.5), knee[1]
                        left = shelf[0] + 0.6 if right else shelf[0] - 0.6 - wide
                        bottom = knee[1] - high / 2
                        box = (
                            left - AIR_MM,
                            bottom - AIR_MM,
                            left + wide + AIR_MM,
                            bottom + high + AIR_MM,
                        )
                        lead = ((x, y), knee, shelf)
                        clear = _felt((x + 1.6 * way[0], y + 1.6 * way[1]), knee)
                        if not (_is_within(self._room, box) and self._ground.is_free(box)):
                            continue
                        if not all(self._is_clear(point) for point in clear):
                            continue
                        self._ground.take(box)
                        self.take_lines([lead])
                        return Label(
                            said=said,
                            x_mm=left,
                            y_mm=bottom,
                            size_mm=size_mm,
                            lead=lead,
                            arrow=True,
                        )
        return None

    def _is_nearest(self, named: Named, spot: Spot, size: tuple[float, float]) -> bool:
        """Return whether nothing else that is named lies as near to a label."""
        middle = np.array(spot) + np.array(size) / 2
        off = np.abs(self._named[:, :2] - middle) - self._named[:, 2:]
        far = np.hypot(*np.maximum(off, 0.0).T)
        own = np.abs(np.array(named.at) - middle) - np.array(named.half_mm)
        mine = math.hypot(*np.maximum(own, 0.0).tolist())
        return int(np.count_nonzero(far <= mine + NEARER_MM)) <= 1

    def _is_clear(self, point: Floats) -> bool:
        x, y = point.tolist()
        return self._ground.is_free((x - 0.4, y - 0.4, x + 0.4, y + 0.4))


def _is_within(room: Box, box: Sequence[float]) -> bool:
    left, bottom, right, top = room
    return box[0] >= left and box[1] >= bottom and box[2] <= right and box[3] <= top


def _beside(named: Named, size: tuple[float, float]) -> list[Spot]:
    """Return left lower corners for a label, the best first: in what it names, else beside it."""
    (x, y), (half_x, half_y) = named.at, named.half_mm
    wide, high = size
    tries: list[Spot] = []
    if named.is_round:
        # In the first quarter, clear of the mark of the centre.
        if math.hypot(wide + 0.3, high + 0.3) < half_x:
            tries.append((x + 0.3, y + 0.3))
    elif wide < 2 * half_x and high < 2 * half_y:
        tries.append((x - wide / 2, y - high / 2))
    if named.is_round or abs(half_x - half_y) < OFF_MM:
        return [*tries, *around((x, y), reach_mm=half_x + OFF_MM, size_mm=size)]
    for off in (OFF_MM, 2.5 * OFF_MM):
        above, below = y + half_y + off, y - half_y - off - high
        right, left = x + half_x + off, x - half_x - off - wide
        tries += [
            (right, y - high / 2),
            (x - wide / 2, above),
            (left, y - high / 2),
            (x - wide / 2, below),
            (right, y + half_y - high / 2),
            (x + half_x - wide, above),
            (x - half_x, above),
            (x + half_x - wide, below),
            (x - half_x, below),
        ]
    return tries


def _felt(a: Spot, b: Spot) -> Floats:
    count = max(2, math.ceil(math.hypot(b[0] - a[0], b[1] - a[1]) / FEEL_MM) + 1)
    return np.linspace(a, b, count)


__all__ = ["Field", "Label", "Named"]
