"""Claims: where two slabs meet, and what each of them has there.

Two panels square to each other share a bar along the line in which their planes cross. In the
plane of either it is a band, as wide as the other is thick; where the material of both spans its
band in full, the bar is real, and a joint deals it out. Where one spans its band only in part, it
cannot have the place: a laser cuts right through, and a pocket half way into the other panel
cannot be cut.

Coordinates: s runs along the line, b across a panel's band; both measured from the origin of
space, so that both panels speak of the same s.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from platekit.assembly.frames import Vector, angle_between_deg
from platekit.assembly.panels import Panel
from platekit.errors import PartError
from platekit.geometry.points import SAME_POINT_MM
from platekit.geometry.strips import Band, Filling, Interval, Ledge, filling, merged

# Planes closer to square or to parallel than this were meant to be so.
SQUARE_WITHIN_DEG = 1e-6
# How far beyond a band one looks to see whether material goes on there: a hair, so that nothing
# else is found, yet far above rounding.
LOOK_BEYOND_MM = 1e-3
# Volumes below this are where faces touch, not where slabs overlap.
TOUCHING_MM3 = 1e-3


@dataclass(frozen=True)
class Claim:
    """What one panel has in the band of another.

    Attributes:
        panel: Whose claim it is.
        band: The band in its plane that the other's slab covers.
        full: Where its material spans the band, in every layer.
        partial: Where it holds some of it only.
        ledges: Edges of its outline that run along the band inside it.
        below: Where its material goes on just outside the band's low side.
        above: Where it goes on just outside the high side.
    """

    panel: Panel
    band: Band
    full: tuple[Interval, ...]
    partial: tuple[Interval, ...]
    ledges: tuple[Ledge, ...]
    below: tuple[Interval, ...]
    above: tuple[Interval, ...]

    @property
    def name(self) -> str:
        """The panel's name."""
        return self.panel.name

    @property
    def held(self) -> tuple[Interval, ...]:
        """Where it has any material in the band."""
        return merged((*self.full, *self.partial))

    def passes_over(self, start_mm: float, end_mm: float) -> bool:
        """Return whether it goes on beyond both sides of the band along most of a stretch."""
        half = (end_mm - start_mm) / 2
        stretch = ((start_mm, end_mm),)
        return all(total(common(side, stretch)) > half for side in (self.below, self.above))


@dataclass(frozen=True)
class Meeting:
    """Two panels square to each other whose slabs overlap.

    Attributes:
        one: Claim of the panel named first in the assembly.
        other: Claim of the other.
        along: Unit vector in which s is measured.
    """

    one: Claim
    other: Claim
    along: Vector

    @cached_property
    def names(self) -> frozenset[str]:
        """Names of both panels."""
        return frozenset((self.one.name, self.other.name))

    @property
    def label(self) -> str:
        """Both names, for findings."""
        return f"{self.one.name} + {self.other.name}"

    @cached_property
    def bars(self) -> tuple[Interval, ...]:
        """Where both span their bands."""
        return common(self.one.full, self.other.full)

    def claim_of(self, name: str) -> Claim:
        """Return the claim of the panel called `name`."""
        return self.one if name == self.one.name else self.other

    def mate_of(self, name: str) -> Claim:
        """Return the claim of the panel not called `name`."""
        return self.other if name == self.one.name else self.one

    def place(self, s_mm: float) -> Vector:
        """Return the middle of the bar at `s_mm`, in space."""
        place = self.along.scaled(s_mm)
        for claim in (self.one, self.other):
            low, high = claim.panel.heights
            place = place.plus(claim.panel.frame.n, times=(low + high) / 2)
        return place

    def where(self, s_mm: float) -> str:
        """Return the place in words: "x 60, y 3, z 30 mm"."""
        x, y, z = (round(value, 2) + 0.0 for value in self.place(s_mm))
        return f"x {x:g}, y {y:g}, z {z:g} mm"


def meeting(one: Panel, other: Panel) -> Meeting | None:
    """Return how two panels meet; None when their slabs do not overlap.

    Raises:
        PartError: They overlap without being square to each other.
    """
    if not boxes_overlap(one, other):
        return None
    angle = angle_between_deg(one.frame, other.frame)
    if angle <= SQUARE_WITHIN_DEG and _one_above_another(one, other):
        return None
    if abs(angle - 90.0) > SQUARE_WITHIN_DEG:
        require_apart(one, other, angle_deg=angle)
        return None
    cross = one.frame.n.cross(other.frame.n)
    # s grows to the right, the back or up, whichever the line follows most.
    forward = max(cross, key=abs)
    along = cross.scaled(1.0 / (cross.length if forward > 0 else -cross.length))
    met = Meeting(_claim(one, other, along), _claim(other, one, along), along)
    shared = common(met.one.held, met.other.held)
    return met if total(shared) > SAME_POINT_MM else None


def boxes_overlap(one: Panel, other: Panel) -> bool:
    """Return whether the boxes around two slabs overlap, along x, y, z and both normals."""
    (low_a, high_a), (low_b, high_b) = one.reach, other.reach
    return all(
        min(high_a[k], high_b[k]) - max(low_a[k], low_b[k]) > SAME_POINT_MM for k in range(3)
    )


def require_apart(one: Panel, other: Panel, *, angle_deg: float) -> None:
    """Raise when two panels that are not square to each other claim the same volume.

    Raises:
        PartError: They do; names both and the angle between them.
    """
    from platekit.assembly.solids import slab_solid

    shared = slab_solid(one) ^ slab_solid(other)
    if shared.volume() < TOUCHING_MM3:
        return
    box = shared.bounding_box()
    middle = [round((box[k] + box[k + 3]) / 2, 2) for k in range(3)]
    where = "x {:g}, y {:g}, z {:g} mm".format(*middle)
    names = f"{one.name} + {other.name}"
    if angle_deg <= SQUARE_WITHIN_DEG:
        raise PartError(
            f"both lie in the same place around {where} ({shared.volume():.4g} mm3), parallel",
            part=names,
            remedy="move one of them by its thickness, or make them a laminate",
        )
    raise PartError(
        f"they overlap around {where} at {angle_deg:.4g} degrees, and only panels at 90 "
        "degrees can be joined",
        part=names,
        remedy="end one of them short of the other, or set it square",
    )


def _one_above_another(one: Panel, other: Panel) -> bool:
    low, high = one.heights
    foot = other.frame.origin.dot(one.frame.n)
    head = foot + other.thickness_mm * other.frame.n.dot(one.frame.n)
    return min(high, max(foot, head)) - max(low, min(foot, head)) <= SAME_POINT_MM


def _claim(panel: Panel, other: Panel, along: Vector) -> Claim:
    across = other.frame.n
    low, high = other.heights
    frame = panel.frame
    band = Band(
        (along.dot(frame.u), along.dot(frame.v)),
        (across.dot(frame.u), across.dot(frame.v)),
        along.dot(frame.origin),
        across.dot(frame.origin),
        low,
        high,
    )
    layers = [filling(plate.outline, band) for plate in panel.layers]
    full = layers[0].full
    for layer in layers[1:]:
        full = common(full, layer.full)
    partial = less(_held(layers), full)
    ledges = tuple(ledge for layer in layers for ledge in layer.ledges)
    below = replace(band, low_mm=low - LOOK_BEYOND_MM, high_mm=low)
    above = replace(band, low_mm=high, high_mm=high + LOOK_BEYOND_MM)
    beyond = [
        _held([filling(plate.outline, side) for plate in panel.layers]) for side in (below, above)
    ]
    return Claim(panel, band, full, partial, ledges, beyond[0], beyond[1])


def _held(layers: Sequence[Filling]) -> tuple[Interval, ...]:
    return merged(run for layer in layers for run in (*layer.full, *layer.partial))


def common(one: Iterable[Interval], other: Iterable[Interval]) -> tuple[Interval, ...]:
    """Return where both sets of intervals lie, shreds left out."""
    others = tuple(other)
    return tuple(
        (max(a, c), min(b, d))
        for a, b in one
        for c, d in others
        if min(b, d) - max(a, c) > SAME_POINT_MM
    )


def less(one: Iterable[Interval], other: Iterable[Interval]) -> tuple[Interval, ...]:
    """Return `one` without `other`, shreds left out."""
    left = list(one)
    for a, b in other:
        cut = []
        for start, end in left:
            cut += [(start, min(end, a)), (max(start, b), end)]
        left = [(start, end) for start, end in cut if end - start > SAME_POINT_MM]
    return tuple(left)


def total(intervals: Iterable[Interval]) -> float:
    """Return the length of all intervals together, mm."""
    return sum(end - start for start, end in intervals)
